//! A store in a PostgreSQL database: one table of names and bytes. The database keeps parcels and reads none of them.

use crate::ciphers::use_one_maker_of_ciphers;
use crate::error::ExchangeError;
use crate::stored::Store;
use postgres::error::SqlState;
use postgres::{Client, Config};
use rustls::ClientConfig;
use rustls_platform_verifier::ConfigVerifierExt;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;
use tokio_postgres_rustls::MakeRustlsConnect;
use url::Url;

/// A table of parcels.
pub(crate) struct Rows {
    client: Mutex<Client>,
}

const PATIENCE: Duration = Duration::from_secs(20);

fn failed(error: &postgres::Error) -> ExchangeError {
    let denied = [
        SqlState::INVALID_PASSWORD,
        SqlState::INVALID_AUTHORIZATION_SPECIFICATION,
        SqlState::INVALID_CATALOG_NAME,
        SqlState::INSUFFICIENT_PRIVILEGE,
    ];
    let text = error.as_db_error().map_or_else(|| error.to_string(), |said| said.message().to_owned());
    let is_denied = error.code().is_some_and(|code| denied.contains(code));
    if is_denied { ExchangeError::Denied(text) } else { ExchangeError::Store(text) }
}

impl Rows {
    /// Connects, and makes the table where there is none.
    pub(crate) fn open(url: &Url, secret: &str) -> Result<Rows, ExchangeError> {
        use_one_maker_of_ciphers();
        let mut config: Config =
            url.as_str().parse().map_err(|error| ExchangeError::Address(format!("“{url}”: {error}")))?;
        config.password(secret).connect_timeout(PATIENCE).application_name("tearoff");
        let tls = ClientConfig::with_platform_verifier()
            .map_err(|error| ExchangeError::Store(format!("no certificates are known: {error}")))?;
        let mut client = config.connect(MakeRustlsConnect::new(tls)).map_err(|error| failed(&error))?;
        let is_there = client
            .query_one("SELECT to_regclass('parcel') IS NOT NULL", &[])
            .and_then(|row| row.try_get::<_, bool>(0))
            .map_err(|error| failed(&error))?;
        if !is_there {
            client
                .batch_execute(
                    "CREATE TABLE IF NOT EXISTS parcel (name text PRIMARY KEY, bytes bytea NOT NULL)",
                )
                .map_err(|error| failed(&error))?;
        }
        Ok(Rows { client: Mutex::new(client) })
    }

    fn client(&self) -> MutexGuard<'_, Client> {
        self.client.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Store for Rows {
    fn put(&self, name: &str, bytes: Vec<u8>) -> Result<(), ExchangeError> {
        let put = "INSERT INTO parcel (name, bytes) VALUES ($1, $2)
            ON CONFLICT (name) DO UPDATE SET bytes = excluded.bytes";
        self.client().execute(put, &[&name, &bytes]).map(|_| ()).map_err(|error| failed(&error))
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, ExchangeError> {
        let row = self.client().query_opt("SELECT bytes FROM parcel WHERE name = $1", &[&name]);
        let bytes = row.and_then(|row| row.map(|row| row.try_get(0)).transpose());
        bytes.map_err(|error| failed(&error))
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, ExchangeError> {
        let listed = "SELECT name FROM parcel WHERE starts_with(name, $1)";
        let rows = self.client().query(listed, &[&folder]).map_err(|error| failed(&error))?;
        let names = rows.iter().map(|row| row.try_get(0)).collect::<Result<_, _>>();
        names.map_err(|error| failed(&error))
    }

    fn delete(&self, name: &str) -> Result<(), ExchangeError> {
        let gone = self.client().execute("DELETE FROM parcel WHERE name = $1", &[&name]);
        gone.map(|_| ()).map_err(|error| failed(&error))
    }
}
