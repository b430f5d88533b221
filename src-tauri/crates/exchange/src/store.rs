//! The stores there are: a folder, WebDAV, SFTP, an S3-type bucket and a database, each by its address.

use crate::address::Address;
use crate::ciphers::use_one_maker_of_ciphers;
use crate::error::ExchangeError;
use crate::rows::Rows;
use crate::stored::Store;
use opendal::layers::TimeoutLayer;
use opendal::{ErrorKind, Operator, services};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Duration;
use tempfile::NamedTempFile;

/// A store that a library reaches.
#[derive(Debug)]
pub struct Kept {
    place: Operator,
    runtime: tokio::runtime::Runtime,
    /// The folder, where it is one: it must be there, since a stick that is not plugged in would be made anew on the
    /// machine's own disk.
    folder: Option<PathBuf>,
    /// The private key by which the other machine lets us in, as long as it is asked.
    _key: Option<NamedTempFile>,
}

/// Longer than this nothing is waited for: a line that is down is the usual case on a roof.
const PATIENCE: Duration = Duration::from_secs(20);

fn failed(error: impl std::fmt::Display) -> ExchangeError {
    ExchangeError::Store(error.to_string())
}

fn told(error: &opendal::Error) -> ExchangeError {
    // Some libraries say it only in words: that for SSH in those of the program that it runs, that for WebDAV with the
    // number of the answer (RFC 9110, section 15.5).
    let said = format!("{error:?}");
    let is_denied = matches!(error.kind(), ErrorKind::PermissionDenied | ErrorKind::ConfigInvalid)
        || ["ermission denied", "status: 401", "status: 403"].iter().any(|words| said.contains(words));
    let text = error.to_string();
    let first = text.lines().next().unwrap_or_default().to_owned();
    if is_denied { ExchangeError::Denied(first) } else { ExchangeError::Store(first) }
}

/// A store at an address, opened with its secret.
///
/// # Errors
/// When the address cannot be used, or a database does not let us in.
pub fn open_store(address: &Address, secret: Option<&str>) -> Result<Box<dyn Store>, ExchangeError> {
    if address.needs_secret() && secret.is_none_or(str::is_empty) {
        return Err(ExchangeError::Denied("its secret is not known here".to_owned()));
    }
    let secret = secret.unwrap_or_default();
    match address {
        Address::Folder(path) => Ok(Box::new(Kept::folder(path)?)),
        Address::PostgreSql(url) => Ok(Box::new(Rows::open(url, secret)?)),
        Address::WebDav { url, user } => {
            let mut web = services::Webdav::default().endpoint(url.as_str().trim_end_matches('/'));
            if !user.is_empty() {
                web = web.username(user).password(secret);
            }
            Ok(Box::new(Kept::reached(Operator::new(web).map_err(|error| told(&error))?, None)?))
        }
        Address::Sftp { endpoint, user, folder } => {
            let mut key = NamedTempFile::new().map_err(failed)?;
            key.write_all(secret.trim_end().as_bytes()).map_err(failed)?;
            key.write_all(b"\n").and_then(|()| key.flush()).map_err(failed)?;
            let path =
                key.path().to_str().ok_or_else(|| failed("the temporary folder's name is not UTF-8"))?;
            // What lies there is locked and signed, and the key opens nothing elsewhere: a server met for the first
            // time is believed, one that has changed is not.
            let ssh = services::Sftp::default()
                .endpoint(endpoint)
                .user(user)
                .root(folder)
                .key(path)
                .known_hosts_strategy("add");
            Ok(Box::new(Kept::reached(Operator::new(ssh).map_err(|error| told(&error))?, Some(key))?))
        }
        Address::S3 { endpoint, region, bucket, access_key, folder } => {
            let bucket = services::S3::default()
                .endpoint(endpoint)
                .region(region)
                .bucket(bucket)
                .root(folder)
                .access_key_id(access_key)
                .secret_access_key(secret)
                .disable_config_load()
                .disable_ec2_metadata();
            Ok(Box::new(Kept::reached(Operator::new(bucket).map_err(|error| told(&error))?, None)?))
        }
    }
}

impl Kept {
    /// A folder: on a stick, or one that something else keeps the same on several machines.
    ///
    /// # Errors
    /// When the folder cannot be used.
    pub fn folder(path: &Path) -> Result<Kept, ExchangeError> {
        let root = path.to_str().ok_or_else(|| failed("the folder's name is not UTF-8"))?;
        if !path.is_dir() {
            return Err(failed(format!("there is no folder {root} now")));
        }
        let place = Operator::new(services::Fs::default().root(root)).map_err(failed)?;
        Ok(Kept { folder: Some(path.to_owned()), ..Kept::around(place)? })
    }

    /// A store in memory, for tests.
    ///
    /// # Errors
    /// When the system gives no room.
    pub fn memory() -> Result<Kept, ExchangeError> {
        Kept::around(Operator::new(services::Memory::default()).map_err(failed)?)
    }

    /// A store on another machine.
    fn reached(place: Operator, key: Option<NamedTempFile>) -> Result<Kept, ExchangeError> {
        let patient = TimeoutLayer::new().with_timeout(PATIENCE).with_io_timeout(PATIENCE);
        Ok(Kept { _key: key, ..Kept::around(place.layer(patient))? })
    }

    fn around(place: Operator) -> Result<Kept, ExchangeError> {
        use_one_maker_of_ciphers();
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().map_err(failed)?;
        Ok(Kept { place, runtime, folder: None, _key: None })
    }

    fn is_there(&self) -> Result<(), ExchangeError> {
        match &self.folder {
            Some(folder) if !folder.is_dir() => {
                Err(failed(format!("there is no folder {} now", folder.display())))
            }
            _ => Ok(()),
        }
    }
}

impl Store for Kept {
    fn put(&self, name: &str, bytes: Vec<u8>) -> Result<(), ExchangeError> {
        self.is_there()?;
        self.runtime.block_on(self.place.write(name, bytes)).map(|_| ()).map_err(|error| told(&error))
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, ExchangeError> {
        self.is_there()?;
        match self.runtime.block_on(self.place.read(name)) {
            Ok(bytes) => Ok(Some(bytes.to_vec())),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
            Err(error) => Err(told(&error)),
        }
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, ExchangeError> {
        self.is_there()?;
        match self.runtime.block_on(self.place.list(folder)) {
            Ok(entries) => Ok(entries
                .into_iter()
                .map(|entry| entry.path().to_owned())
                .filter(|path| !path.ends_with('/'))
                .collect()),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(Vec::new()),
            Err(error) => Err(told(&error)),
        }
    }

    fn delete(&self, name: &str) -> Result<(), ExchangeError> {
        self.is_there()?;
        self.runtime.block_on(self.place.delete(name)).map_err(|error| told(&error))
    }
}
