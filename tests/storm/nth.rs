//! The n-th call fails: of a disk, of a store, of a clock. One helper tries each call in its turn.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

/// Counts calls, and says which of them is to fail.
#[derive(Debug, Default)]
pub(crate) struct Nth {
    /// The number of the call that fails, from 1; none where it is 0.
    which: u64,
    made: AtomicU64,
}

impl Nth {
    /// No call fails.
    pub(crate) fn never() -> Arc<Nth> {
        Nth::at(0)
    }

    /// The n-th fails, and those after it do not.
    pub(crate) fn at(which: u64) -> Arc<Nth> {
        Arc::new(Nth { which, made: AtomicU64::new(0) })
    }

    /// Counts a call; whether it is the one.
    pub(crate) fn fails_now(&self) -> bool {
        self.made.fetch_add(1, Ordering::Relaxed) + 1 == self.which
    }

    /// Calls so far.
    pub(crate) fn made(&self) -> u64 {
        self.made.load(Ordering::Relaxed)
    }

    /// Whether the one that fails has come.
    pub(crate) fn has_failed(&self) -> bool {
        self.which > 0 && self.made() >= self.which
    }
}

/// Does a thing once undisturbed, and then again and again with another call of it failing each time: about so many of
/// them, spread over all, or every one in a soak. Answers how many were tried.
pub(crate) fn each_call_fails(about: u64, is_soak: bool, mut does: impl FnMut(&Arc<Nth>)) -> u64 {
    let whole = Nth::never();
    does(&whole);
    let calls = whole.made();
    assert!(calls > 0, "no call was made");
    let stride = usize::try_from(if is_soak { 1 } else { calls.div_ceil(about) }).expect("a stride");
    let (mut tried, mut never) = (0, 0);
    for which in (1..=calls).step_by(stride) {
        let nth = Nth::at(which);
        does(&nth);
        // Threads that read side by side, and names that are drawn anew, make a call more or less.
        if nth.has_failed() { tried += 1 } else { never += 1 }
    }
    assert!(never * 20 <= tried, "of {calls} calls {never} never came");
    tried
}
