//! One key, from the moment it is struck to the frame that shows what it did; and many of them as a row of figures.

use std::time::Duration;

use crate::driver::{Outcome, Page};

/// Has to be in the page before a key is timed.
pub(crate) const RECORDER: &str = include_str!("recorder.js");

/// A key that was struck.
pub(crate) struct Stroke {
    /// From the key to the frame after the page had changed.
    pub(crate) took: Duration,
    /// When that frame was there, in milliseconds since 1970.
    pub(crate) at: u64,
}

/// Times a key: `probe` is an expression of the page that is another one once the key has done its work.
pub(crate) fn stroke(page: &Page, probe: &str, strike: impl FnOnce(&Page) -> Outcome<()>) -> Outcome<Stroke> {
    page.run(&format!("{RECORDER}\nbench.expect(() => {probe}); done(true);"))?;
    strike(page)?;
    let told = page.run("bench.answer.then(done);")?;
    let took = told["took"].as_f64().ok_or("The page told no time.")?;
    let at = told["at"].as_u64().ok_or("The page told no hour.")?;
    Ok(Stroke { took: milliseconds(took), at })
}

/// A page tells its times in milliseconds with a fraction.
pub(crate) fn milliseconds(of_page: f64) -> Duration {
    Duration::from_secs_f64(of_page.max(0.0) / 1000.0)
}

/// Times of the same thing, in order of size.
pub(crate) struct Times(Vec<Duration>);

impl Times {
    pub(crate) fn of(mut times: Vec<Duration>) -> Times {
        times.sort_unstable();
        Times(times)
    }

    pub(crate) fn median(&self) -> Duration {
        self.0[self.0.len() / 2]
    }

    /// The time that nineteen of twenty stay within.
    pub(crate) fn most(&self) -> Duration {
        self.0[(self.0.len() * 19).div_ceil(20).saturating_sub(1)]
    }

    pub(crate) fn longest(&self) -> Duration {
        self.0[self.0.len() - 1]
    }

    pub(crate) fn count(&self) -> usize {
        self.0.len()
    }

    /// How many took longer than this.
    pub(crate) fn beyond(&self, limit: Duration) -> usize {
        self.0.iter().filter(|time| **time > limit).count()
    }

    /// How many times the other's median this one's is.
    pub(crate) fn over(&self, other: &Times) -> f64 {
        self.median().as_secs_f64() / other.median().as_secs_f64()
    }
}
