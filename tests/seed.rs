//! A run that a seed decides: which one it was is said, so that it can be run again.

use std::io::Write;

/// A seed at work. Where something is found, it says which one it was.
pub struct Seed {
    /// The test, in a word.
    pub of: &'static str,
    /// The seed itself.
    pub seed: u64,
}

impl Drop for Seed {
    fn drop(&mut self) {
        if std::thread::panicking() {
            tell(self.of, &format!("this was seed {0}: TEAROFF_SEED={0} replays it", self.seed));
        }
    }
}

/// Says something past the test's own capture, so that it is seen.
pub fn tell(of: &str, words: &str) {
    let _ = std::io::stderr().write_all(format!("{of}: {words}\n").as_bytes());
}

/// The one seed that whoever runs it wants again.
#[must_use]
pub fn wanted() -> Option<u64> {
    std::env::var("TEAROFF_SEED").ok().and_then(|text| text.parse().ok())
}
