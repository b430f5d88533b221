//! How this device stands with the firm's others: what the last exchange brought, and when there is something to tell.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use exchange::Exchanged;

use crate::refusal::Refusal;

/// Without anything to tell, it looks so often.
const EVERY: Duration = Duration::from_mins(1);

/// After something was recorded it waits so long for what comes next: soon, not at once.
const SOON: Duration = Duration::from_secs(2);

/// Whole values, each set in one step: a holder that panicked has broken none.
fn held<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

/// How things stand with the other devices.
#[derive(Debug, Default)]
pub(crate) struct InTouch {
    wake: Mutex<bool>,
    woken: Condvar,
    told: Mutex<Told>,
    /// Held by whoever exchanges.
    pub(crate) busy: Mutex<()>,
}

/// What is known of the last try.
#[derive(Clone, Debug, Default)]
pub(crate) struct Told {
    /// Goes up with everything that came.
    pub(crate) came: u32,
    /// The last exchange, whether or not the store was reached.
    pub(crate) last: Option<Exchanged>,
    /// Why it could not be done, where it is not only off line.
    pub(crate) refused: Option<Refusal>,
}

impl InTouch {
    /// There is something to tell.
    pub(crate) fn wake(&self) {
        *held(&self.wake) = true;
        self.woken.notify_one();
    }

    /// What is known of the last try.
    pub(crate) fn told(&self) -> Told {
        held(&self.told).clone()
    }

    /// Another file lies on the desk.
    pub(crate) fn forget(&self) {
        let mut told = held(&self.told);
        *told = Told { came: told.came, ..Told::default() };
    }

    /// Remembers what came of a try.
    pub(crate) fn remember(&self, outcome: Result<Exchanged, Refusal>) {
        let mut told = held(&self.told);
        match outcome {
            Ok(done) => {
                told.came = told.came.wrapping_add(u32::from(!done.came.is_empty() || done.files.came > 0));
                (told.refused, told.last) = (None, Some(done));
            }
            Err(refusal) => told.refused = Some(refusal),
        }
    }

    /// Waits until there is something to tell, or for a minute.
    pub(crate) fn rest(&self) {
        let awake = held(&self.wake);
        let woken = self.woken.wait_timeout_while(awake, EVERY, |awake| !*awake);
        let (mut awake, _) = woken.unwrap_or_else(PoisonError::into_inner);
        let was_woken = std::mem::take(&mut *awake);
        drop(awake);
        if was_woken {
            std::thread::sleep(SOON);
            *held(&self.wake) = false;
        }
    }
}
