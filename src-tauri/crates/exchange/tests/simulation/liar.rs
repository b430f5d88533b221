//! A store in memory that lies, with a seed: every run of a seed tells the same lies.

use exchange::{ExchangeError, Store};
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;

/// Shared, so that the states it remembers cost little.
type Bytes = Rc<Vec<u8>>;
type Files = BTreeMap<String, Bytes>;

#[derive(Default)]
struct Inside {
    files: RefCell<Files>,
    /// Earlier states, to show or to fall back to.
    before: RefCell<Vec<Files>>,
    /// What was put and is not to be seen yet.
    late: RefCell<Vec<(u32, String, Bytes)>>,
    dice: Cell<u64>,
    lies: Cell<u64>,
}

/// The store.
#[derive(Clone)]
pub(crate) struct Liar {
    inside: Rc<Inside>,
    is_honest: bool,
}

impl Liar {
    pub(crate) fn new(seed: u64) -> Liar {
        let inside = Rc::new(Inside::default());
        inside.dice.set(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
        Liar { inside, is_honest: false }
    }

    /// The same files, from now on without a lie: what was late has come.
    pub(crate) fn honest(&self) -> Liar {
        for (_, name, bytes) in self.inside.late.take() {
            self.inside.files.borrow_mut().insert(name, bytes);
        }
        Liar { inside: Rc::clone(&self.inside), is_honest: true }
    }

    /// A throw of the dice: xorshift, so that a seed is all there is to know.
    pub(crate) fn chance(&self, of: u64) -> u64 {
        let mut state = self.inside.dice.get();
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        self.inside.dice.set(state);
        (state >> 11) % of
    }

    pub(crate) fn lies(&self) -> u64 {
        self.inside.lies.get()
    }

    pub(crate) fn everything(&self) -> Vec<u8> {
        let files = self.inside.files.borrow();
        files.iter().flat_map(|(name, bytes)| [name.as_bytes(), bytes.as_slice()].concat()).collect()
    }

    /// Whether it lies now, once in so many times.
    fn lies_now(&self, of: u64) -> bool {
        let lies = !self.is_honest && self.chance(of) == 0;
        self.inside.lies.set(self.inside.lies.get() + u64::from(lies));
        lies
    }

    fn time_passes(&self) {
        let mut late = self.inside.late.take();
        for (left, ..) in &mut late {
            *left = left.saturating_sub(1);
        }
        let (come, still): (Vec<_>, Vec<_>) = late.into_iter().partition(|(left, ..)| *left == 0);
        *self.inside.late.borrow_mut() = still;
        for (_, name, bytes) in come {
            self.inside.files.borrow_mut().insert(name, bytes);
        }
        if self.lies_now(150) {
            let before = self.inside.before.borrow();
            if !before.is_empty() {
                let which = usize::try_from(self.chance(before.len() as u64)).expect("a state");
                *self.inside.files.borrow_mut() = before[which].clone();
            }
        }
    }

    fn remember(&self) {
        let mut before = self.inside.before.borrow_mut();
        before.push(self.inside.files.borrow().clone());
        if before.len() > 12 {
            before.remove(0);
        }
    }
}

impl Store for Liar {
    fn put(&self, name: &str, bytes: Vec<u8>) -> Result<(), ExchangeError> {
        self.time_passes();
        if self.lies_now(25) {
            return Err(ExchangeError::Store("the line was cut".to_owned()));
        }
        if self.lies_now(20) {
            return Ok(());
        }
        if self.lies_now(12) {
            let after = u32::try_from(self.chance(40)).expect("a number") + 1;
            self.inside.late.borrow_mut().push((after, name.to_owned(), Rc::new(bytes)));
            return Ok(());
        }
        let kept = if self.lies_now(25) { bytes[..bytes.len() / 2].to_vec() } else { bytes };
        self.inside.files.borrow_mut().insert(name.to_owned(), Rc::new(kept));
        self.remember();
        Ok(())
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, ExchangeError> {
        self.time_passes();
        if self.lies_now(30) {
            return Err(ExchangeError::Store("the line was cut".to_owned()));
        }
        if self.lies_now(25) {
            return Ok(None);
        }
        let bytes = self.inside.files.borrow().get(name).cloned();
        Ok(bytes
            .map(|bytes| if self.lies_now(40) { bytes[..bytes.len() / 3].to_vec() } else { bytes.to_vec() }))
    }

    fn list(&self, folder: &str) -> Result<Vec<String>, ExchangeError> {
        self.time_passes();
        let before = self.inside.before.borrow();
        let old = if !before.is_empty() && self.lies_now(8) {
            before.get(usize::try_from(self.chance(before.len() as u64)).expect("a state")).cloned()
        } else {
            None
        };
        let files = old.unwrap_or_else(|| self.inside.files.borrow().clone());
        Ok(files.into_keys().filter(|name| name.starts_with(folder)).collect())
    }

    fn delete(&self, name: &str) -> Result<(), ExchangeError> {
        self.time_passes();
        if !self.lies_now(6) {
            self.inside.files.borrow_mut().remove(name);
        }
        Ok(())
    }
}
