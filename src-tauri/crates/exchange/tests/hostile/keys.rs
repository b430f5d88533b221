//! Keys that are no device's: they lie here for everybody to see.

use exchange::DeviceSecrets;

const KEYS: &str = include_str!("keys.json");

pub(crate) fn keys() -> DeviceSecrets {
    DeviceSecrets::read(&serde_json::from_str(KEYS).expect("JSON")).expect("keys")
}
