//! A store: anything that keeps files. Only what every such thing can do is asked of it.

use crate::error::ExchangeError;

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
