//! How long something took, for people.

use std::time::Duration;

/// A length of time for people: `0.4 s`, `12.0 s`, `3 min 05 s`.
pub(crate) fn spell(took: Duration) -> String {
    let seconds = took.as_secs();
    if seconds < 60 {
        format!("{seconds}.{} s", took.subsec_millis() / 100)
    } else {
        format!("{} min {:02} s", seconds / 60, seconds % 60)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_spelled_for_people() {
        assert_eq!(spell(Duration::from_millis(449)), "0.4 s");
        assert_eq!(spell(Duration::from_secs(185)), "3 min 05 s");
    }
}
