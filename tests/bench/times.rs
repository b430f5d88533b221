//! What several runs took, as one figure.

use std::time::Duration;

/// The one in the middle.
pub(crate) fn median(mut times: Vec<Duration>) -> Duration {
    times.sort_unstable();
    times[times.len() / 2]
}

/// How fast ours is where the reference is 1.
pub(crate) fn ratio(ours: Duration, reference: Duration) -> f64 {
    reference.as_secs_f64() / ours.as_secs_f64()
}
