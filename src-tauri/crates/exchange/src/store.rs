//! A store: anything that keeps files. Only what every such thing can do is asked of it.

use crate::error::ExchangeError;
use opendal::{ErrorKind, Operator, services};
use std::path::Path;

/// What is asked of a store. It may do any of it late, twice, or not at all.
pub trait Store {
    /// Keeps bytes under a name.
    ///
    /// # Errors
    /// When it cannot be reached or refuses.
    fn put(&self, name: &str, bytes: Vec<u8>) -> Result<(), ExchangeError>;
    /// The bytes under a name, if they are there.
    ///
    /// # Errors
    /// When it cannot be reached or refuses.
    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, ExchangeError>;
    /// The names in a folder, with the folder in front.
    ///
    /// # Errors
    /// When it cannot be reached or refuses.
    fn list(&self, folder: &str) -> Result<Vec<String>, ExchangeError>;
    /// Takes a name away.
    ///
    /// # Errors
    /// When it cannot be reached or refuses.
    fn delete(&self, name: &str) -> Result<(), ExchangeError>;
}

/// A store that a library reaches.
#[derive(Debug)]
pub struct Kept {
    place: Operator,
    runtime: tokio::runtime::Runtime,
}

fn failed(error: impl std::fmt::Display) -> ExchangeError {
    ExchangeError::Store(error.to_string())
}

impl Kept {
    /// A folder: on a stick, or one that something else keeps the same on several machines.
    ///
    /// # Errors
    /// When the folder cannot be used.
    pub fn folder(path: &Path) -> Result<Kept, ExchangeError> {
        let root = path.to_str().ok_or_else(|| failed("the folder's name is not UTF-8"))?;
        Kept::around(Operator::new(services::Fs::default().root(root)).map_err(failed)?)
    }

    /// A store in memory, for tests.
    ///
    /// # Errors
    /// When the system gives no room.
    pub fn memory() -> Result<Kept, ExchangeError> {
        Kept::around(Operator::new(services::Memory::default()).map_err(failed)?)
    }

    fn around(place: Operator) -> Result<Kept, ExchangeError> {
        let runtime = tokio::runtime::Builder::new_current_thread().build().map_err(failed)?;
        Ok(Kept { place, runtime })
    }
}

impl Store for Kept {
    fn put(&self, name: &str, bytes: Vec<u8>) -> Result<(), ExchangeError> {
        self.runtime.block_on(self.place.write(name, bytes)).map(|_| ()).map_err(failed)
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, ExchangeError> {
        match self.runtime.block_on(self.place.read(name)) {
            Ok(bytes) => Ok(Some(bytes.to_vec())),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
            Err(error) => Err(failed(error)),
        }
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, ExchangeError> {
        match self.runtime.block_on(self.place.list(folder)) {
            Ok(entries) => Ok(entries
                .into_iter()
                .map(|entry| entry.path().to_owned())
                .filter(|path| !path.ends_with('/'))
                .collect()),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(Vec::new()),
            Err(error) => Err(failed(error)),
        }
    }

    fn delete(&self, name: &str) -> Result<(), ExchangeError> {
        self.runtime.block_on(self.place.delete(name)).map_err(failed)
    }
}
