//! Where parcels lie: chosen once for each device. The address is a setting of the file; what opens the store lies with
//! the device's keys, never in the file.

use crate::address::Address;
use crate::error::ExchangeError;
use crate::index::{FIRMS, MEMORY};
use crate::own::{founder_key, keys_of, own_keys};
use crate::secrets::DeviceSecrets;
use crate::store::open_store;
use crate::stored::Store;
use desk::{Act, Desk};

/// The setting that holds the store's address, as it was typed.
pub(crate) const STORE: &str = "store";

/// Chooses the store, after trying it.
///
/// # Errors
/// When it is not for whoever asks, the address is none, the store cannot be reached or does not let us in, or another
/// firm's parcels lie there. The old choice holds then.
pub fn choose_store(desk: &mut Desk, address: &str, secret: Option<&str>) -> Result<(), ExchangeError> {
    let is_joined = desk::device::role(desk.books())?.is_some();
    // Whoever has a device that joined may say where its own parcels lie now: a stick has another name on each machine.
    desk.check(if is_joined { Act::Exchange } else { Act::KeepDevices })?;
    let address = address.trim();
    let parsed = Address::parse(address)?;
    let keys = own_keys(desk)?;
    let secret = secret.map(str::trim_end).filter(|secret| !secret.is_empty()).map(str::to_owned);
    let secret =
        if parsed.needs_secret() { secret.or_else(|| keys.store().map(str::to_owned)) } else { None };
    let store = open_store(&parsed, secret.as_deref())?;
    refuse_another_firms(desk, &*store)?;
    keys.with_store(secret).keep(&desk.path())?;
    let ledger = desk.ledger()?;
    ledger.set_setting(STORE, address)?;
    // What is remembered was of another store.
    ledger.set_setting(MEMORY, "{}")?;
    Ok(())
}

/// The store that was chosen, with what opens it: for whoever reaches it elsewhere than where the ledger is written.
#[derive(Clone, Debug)]
pub struct Chosen {
    address: Address,
    keys: std::sync::Arc<DeviceSecrets>,
}

impl Chosen {
    /// Reaches it.
    ///
    /// # Errors
    /// When it cannot be reached, or does not let us in.
    pub fn open(&self) -> Result<Box<dyn Store>, ExchangeError> {
        open_store(&self.address, self.keys.store())
    }
}

/// The store that was chosen for this file, if one was and the device has its keys.
///
/// # Errors
/// When it cannot be read.
pub fn chosen_store(desk: &Desk) -> Result<Option<Chosen>, ExchangeError> {
    let Some(address) = desk.books().setting(STORE)? else { return Ok(None) };
    Ok(Some(Chosen { address: Address::parse(&address)?, keys: keys_of(desk)?.into() }))
}

/// Two firms in one store would take each other's heads away. Each leaves its founder's key there as a name.
pub(crate) fn refuse_another_firms(desk: &Desk, store: &dyn Store) -> Result<(), ExchangeError> {
    let Some(founder) = founder_key(desk)? else { return Ok(()) };
    let own = format!("{FIRMS}{founder}");
    let there = store.list(FIRMS)?;
    if there.iter().any(|name| *name != own) {
        return Err(ExchangeError::AnotherFirms);
    }
    if there.is_empty() {
        store.put(&own, founder.to_string().into_bytes())?;
    }
    Ok(())
}
