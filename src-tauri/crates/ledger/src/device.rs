//! The letters of a device: A, B, … Z, then AA, AB and so on.

/// The order of devices, as SQL over an entry called `e`: a shorter name before a longer one.
pub(crate) const IN_ORDER: &str = "length(e.device), e.device, e.device_seq";

/// Whether a text can be a device's letters.
#[must_use]
pub(crate) fn are_letters(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_uppercase())
}

/// What a device, or an entry of it, is ordered by.
#[must_use]
pub(crate) fn order(device: &str, device_seq: i64) -> (usize, &str, i64) {
    (device.len(), device, device_seq)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_are_capitals_and_a_longer_name_comes_later() {
        assert!(["A", "Z", "AA", "BZ"].iter().all(|text| are_letters(text)));
        assert!(!["", "a", "A1", "Ä", " A"].iter().any(|text| are_letters(text)));
        let mut devices = ["AB", "B", "AA", "Z", "A"];
        devices.sort_by_key(|device| (device.len(), *device));
        assert_eq!(devices, ["A", "B", "Z", "AA", "AB"]);
        assert!(order("Z", 9) < order("AA", 1) && order("A", 9) < order("A", 10));
    }
}
