//! The line to a store, on which the program may end at any call: before it, or when it is done and nobody was told.

use exchange::{ExchangeError, Store};
use std::cell::Cell;

/// How the program ended. Whoever holds the ledger is unwound past all that it would have done next.
pub(crate) struct Ended;

/// A line to a store.
pub(crate) struct Line<'a> {
    store: &'a dyn Store,
    /// So many calls go well; without a number all do.
    left: Cell<Option<u64>>,
    is_done_first: bool,
    has_ended: Cell<bool>,
}

impl<'a> Line<'a> {
    pub(crate) fn whole(store: &'a dyn Store) -> Line<'a> {
        Line { store, left: Cell::new(None), is_done_first: false, has_ended: Cell::new(false) }
    }

    pub(crate) fn that_ends(store: &'a dyn Store, after: u64, is_done_first: bool) -> Line<'a> {
        Line { store, left: Cell::new(Some(after)), is_done_first, has_ended: Cell::new(false) }
    }

    /// Whether the program ended on it.
    pub(crate) fn has_ended(&self) -> bool {
        self.has_ended.get()
    }

    fn call<T>(&self, call: impl FnOnce() -> T) -> T {
        match self.left.get() {
            Some(0) => {
                self.has_ended.set(true);
                if self.is_done_first {
                    call();
                }
                // Past the hook that tells of a panic: this one is meant.
                std::panic::resume_unwind(Box::new(Ended))
            }
            Some(left) => self.left.set(Some(left - 1)),
            None => {}
        }
        call()
    }
}

impl Store for Line<'_> {
    fn put(&self, name: &str, bytes: Vec<u8>) -> Result<(), ExchangeError> {
        self.call(|| self.store.put(name, bytes))
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, ExchangeError> {
        self.call(|| self.store.get(name))
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, ExchangeError> {
        self.call(|| self.store.list(folder))
    }

    fn delete(&self, name: &str) -> Result<(), ExchangeError> {
        self.call(|| self.store.delete(name))
    }
}
