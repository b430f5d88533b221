//! An entry by its place and the beginning of its hash, as it is printed: whoever has the paper can tell years later
//! whether a ledger still holds the books that it was printed from. Each hash goes over the one before it, so that one
//! entry stands for every entry before it.

use desk::OfficeError;
use ledger::{Books, Digest};
use std::fmt;
use std::str::FromStr;
use trade::Month;

/// How many signs of the hash are printed: 64 of its 256 bits, which nobody meets by chance.
const PRINTED: usize = 16;

/// How many have to be typed.
const LEAST: usize = 8;

/// An entry by its place and the beginning of its hash: `A-1802:3fa491c2ab017d55`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntryMark {
    /// The device's letters.
    pub device: String,
    /// The entry's number there.
    pub number: i64,
    /// The beginning of its hash, in small hexadecimal signs.
    pub hash: String,
}

impl EntryMark {
    /// The mark of an entry.
    #[must_use]
    pub fn new(device: &str, number: i64, hash: Digest) -> EntryMark {
        let hash = hash.to_string().chars().take(PRINTED).collect();
        EntryMark { device: device.to_owned(), number, hash }
    }

    /// What is wrong where books do not hold this entry.
    pub(crate) fn problem(&self, books: Books<'_>) -> Result<Option<String>, OfficeError> {
        Ok(match books.hash_of(&self.device, self.number)? {
            Some(hash) if hash.to_string().starts_with(&self.hash) => None,
            Some(hash) => {
                let here = EntryMark::new(&self.device, self.number, hash);
                Some(format!("another entry stands in its place, {here}"))
            }
            None => Some("there is no such entry here: the books end before it, or are others".to_owned()),
        })
    }
}

impl fmt::Display for EntryMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}:{}", self.device, self.number, self.hash)
    }
}

impl FromStr for EntryMark {
    type Err = OfficeError;

    fn from_str(text: &str) -> Result<EntryMark, OfficeError> {
        let parts = text.trim().split_once(':').and_then(|(place, hash)| {
            let (device, number) = place.split_once('-')?;
            let hash = hash.to_ascii_lowercase();
            let is_device = !device.is_empty() && device.bytes().all(|sign| sign.is_ascii_uppercase());
            let is_hash = hash.len() >= LEAST && hash.bytes().all(|sign| sign.is_ascii_hexdigit());
            (is_device && is_hash).then_some(())?;
            Some(EntryMark { device: device.to_owned(), number: number.parse().ok()?, hash })
        });
        parts.ok_or_else(|| {
            OfficeError::refused(
                "holds",
                &format!("“{text}” is not an entry with the beginning of its hash"),
                "Type it as a month pack or a hand-off prints it, such as A-1802:3fa491c2ab017d55.",
            )
        })
    }
}

/// The entry that closed a month, where it is closed.
pub(crate) fn closed_by(books: Books<'_>, month: Month) -> Result<Option<EntryMark>, OfficeError> {
    let close = books.closes()?.into_iter().find(|close| close.fact.month == month);
    Ok(close.map(|close| EntryMark::new(&close.entry.device, close.entry.device_seq, close.entry.hash)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_printed_can_be_typed() {
        let mark: EntryMark = " A-1802:3FA491C2AB017D55 ".parse().unwrap();
        assert_eq!((mark.device.as_str(), mark.number), ("A", 1802));
        assert_eq!(mark.to_string(), "A-1802:3fa491c2ab017d55");
        for bad in
            ["", "A-1802", "A1802:3fa491c2", "a-1802:3fa491c2", "A-x:3fa491c2", "A-1802:3fa", "A-1:zzzzzzzz"]
        {
            assert_eq!(bad.parse::<EntryMark>().unwrap_err().field.as_deref(), Some("holds"), "{bad}");
        }
    }
}
