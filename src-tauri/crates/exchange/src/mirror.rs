//! What is seen of a store from a distance, so that whoever writes to the ledger never waits for a line: one thread
//! looks and fetches, the writer exchanges with what was seen, and the first thread carries away what is to be put.

use crate::error::ExchangeError;
use crate::index::{FIRMS, HEADS, HeadName, PARCELS};
use crate::stored::Store;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// What the writer does to the store, in the order in which it is to be done.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Deed {
    Put(String, Vec<u8>),
    Delete(String),
}

/// A store as it was seen.
#[derive(Debug, Default)]
pub struct Mirror {
    listed: BTreeMap<&'static str, BTreeSet<String>>,
    seen: HashMap<String, Vec<u8>>,
    gone: BTreeSet<String>,
    wanted: RefCell<BTreeSet<String>>,
    deeds: RefCell<Vec<Deed>>,
}

impl Mirror {
    /// Looks: what is listed, and what each device's head points at.
    ///
    /// # Errors
    /// When the store cannot be reached.
    pub fn look(store: &dyn Store) -> Result<Mirror, ExchangeError> {
        let mut mirror = Mirror::default();
        for folder in [FIRMS, PARCELS, HEADS] {
            mirror.listed.insert(folder, store.list(folder)?.into_iter().collect());
        }
        let heads = mirror.listed.get(HEADS).into_iter().flatten();
        let pointed: Vec<String> = heads
            .filter_map(|path| HeadName::read(path))
            .map(|head| format!("{PARCELS}{}", head.parcel))
            .collect();
        mirror.wanted.borrow_mut().extend(pointed);
        mirror.fetch(store)?;
        Ok(mirror)
    }

    /// Fetches what was asked for and not seen yet. Answers whether there was anything.
    ///
    /// # Errors
    /// When the store cannot be reached.
    pub fn fetch(&mut self, store: &dyn Store) -> Result<bool, ExchangeError> {
        let wanted = std::mem::take(&mut *self.wanted.borrow_mut());
        let mut is_any = false;
        for name in wanted {
            if self.seen.contains_key(&name) || self.gone.contains(&name) {
                continue;
            }
            match store.get(&name)? {
                Some(bytes) => self.seen.insert(name, bytes).is_none(),
                None => self.gone.insert(name),
            };
            is_any = true;
        }
        Ok(is_any)
    }

    /// Does to the store what was done to this. What a line that breaks has not carried, the next exchange finds
    /// missing and sends again.
    ///
    /// # Errors
    /// When the store cannot be reached.
    pub fn carry(&self, store: &dyn Store) -> Result<(), ExchangeError> {
        let deeds = std::mem::take(&mut *self.deeds.borrow_mut());
        // What was put and taken away again, such as the head of a first look, need not travel.
        let deleted: BTreeSet<String> = deeds
            .iter()
            .filter_map(|deed| match deed {
                Deed::Delete(name) => Some(name.clone()),
                Deed::Put(..) => None,
            })
            .collect();
        for deed in deeds {
            match deed {
                Deed::Put(name, _) if deleted.contains(&name) => {}
                Deed::Put(name, bytes) => store.put(&name, bytes)?,
                Deed::Delete(name) => store.delete(&name)?,
            }
        }
        Ok(())
    }

    fn folder_of(name: &str) -> Option<&'static str> {
        [FIRMS, PARCELS, HEADS].into_iter().find(|folder| name.starts_with(folder))
    }
}

impl Store for Mirror {
    fn put(&self, name: &str, bytes: Vec<u8>) -> Result<(), ExchangeError> {
        self.deeds.borrow_mut().push(Deed::Put(name.to_owned(), bytes));
        Ok(())
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, ExchangeError> {
        let put = self.deeds.borrow().iter().rev().find_map(|deed| match deed {
            Deed::Put(put, bytes) if put == name => Some(Some(bytes.clone())),
            Deed::Delete(gone) if gone == name => Some(None),
            _ => None,
        });
        if let Some(answer) = put {
            return Ok(answer);
        }
        if let Some(bytes) = self.seen.get(name) {
            return Ok(Some(bytes.clone()));
        }
        self.wanted.borrow_mut().insert(name.to_owned());
        Ok(None)
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, ExchangeError> {
        let mut names = self.listed.get(folder).cloned().unwrap_or_default();
        for deed in self.deeds.borrow().iter() {
            match deed {
                Deed::Put(name, _) if Mirror::folder_of(name) == Some(folder) => names.insert(name.clone()),
                Deed::Delete(name) => names.remove(name),
                Deed::Put(..) => false,
            };
        }
        Ok(names.into_iter().collect())
    }

    fn delete(&self, name: &str) -> Result<(), ExchangeError> {
        self.deeds.borrow_mut().push(Deed::Delete(name.to_owned()));
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::Kept;

    #[test]
    fn what_is_asked_of_it_is_fetched_and_what_is_done_to_it_is_carried() {
        let store = Kept::memory().unwrap();
        store.put("parcels/one", b"1".to_vec()).unwrap();
        store.put("heads/A-1-x", b"x".to_vec()).unwrap();
        let mut mirror = Mirror::look(&store).unwrap();
        assert_eq!(mirror.list(PARCELS).unwrap(), ["parcels/one"]);
        assert_eq!(mirror.get("parcels/one").unwrap(), None, "it was not asked for yet");
        assert!(mirror.fetch(&store).unwrap());
        assert_eq!(mirror.get("parcels/one").unwrap(), Some(b"1".to_vec()));
        assert!(!mirror.fetch(&store).unwrap());
        mirror.put("parcels/two", b"2".to_vec()).unwrap();
        mirror.put("heads/passing", b"p".to_vec()).unwrap();
        for name in ["parcels/one", "heads/passing"] {
            mirror.delete(name).unwrap();
        }
        assert_eq!(mirror.list(PARCELS).unwrap(), ["parcels/two"]);
        assert_eq!(mirror.get("parcels/one").unwrap(), None);
        assert_eq!(store.get("parcels/two").unwrap(), None, "it went there by itself");
        mirror.carry(&store).unwrap();
        assert_eq!(store.list(PARCELS).unwrap(), ["parcels/two"]);
        assert_eq!(store.get("parcels/two").unwrap(), Some(b"2".to_vec()));
        assert_eq!(store.list(HEADS).unwrap(), ["heads/A-1-x"]);
    }
}
