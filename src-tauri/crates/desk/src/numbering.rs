//! Numbers that people read: a job's change orders, invoices and orders, each counted on from the last. Numbers from a
//! device other than the first carry its letters, so that two devices that know nothing of each other never give the
//! same one.

use crate::error::OfficeError;
use ledger::Books;
use ledger::draft::DEVICE;
use ledger::facts::Device;
use ledger::roster::FOUNDER;
use std::collections::BTreeSet;

/// How this device numbers.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Numbering {
    /// Its letters; none on the first device.
    own: Option<String>,
    /// The letters of all the others but the first.
    others: BTreeSet<String>,
}

impl Numbering {
    /// How the device that these books lie on numbers.
    ///
    /// # Errors
    /// When it cannot be read which device it is.
    pub fn read(books: Books<'_>) -> Result<Numbering, OfficeError> {
        let own = books.setting(DEVICE)?.filter(|letter| letter != FOUNDER);
        let written = books.device_ends()?.into_iter().map(|(letter, _)| letter);
        let known = books.all::<Device>()?.into_iter().map(|held| held.fact.letter);
        let others = written.chain(known).filter(|letter| letter != FOUNDER && Some(letter) != own.as_ref());
        Ok(Numbering { others: others.collect(), own })
    }

    /// The number after the last that this device gave.
    #[must_use]
    pub fn next<'a>(&self, used: impl Iterator<Item = &'a str>) -> String {
        let Some(own) = &self.own else {
            return next_number(used.filter(|number| !self.is_anothers(number)));
        };
        let counted =
            used.filter_map(|number| number.strip_prefix(own.as_str())).filter(|rest| is_count(rest));
        format!("{own}{}", next_number(counted))
    }

    fn is_anothers(&self, number: &str) -> bool {
        let digits = number.trim_start_matches(|sign: char| sign.is_ascii_uppercase());
        let letters = &number[..number.len() - digits.len()];
        is_count(digits) && self.others.contains(letters)
    }
}

fn is_count(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|sign| sign.is_ascii_digit())
}

/// The number after the last: its letters and its leading zeros are kept. Without any in use, 1 (company rule).
fn next_number<'a>(used: impl Iterator<Item = &'a str>) -> String {
    let parts = |number: &'a str| {
        let digits = number.trim_end_matches(|sign: char| sign.is_ascii_digit()).len();
        let (before, counted) = number.split_at(digits);
        counted.parse::<u64>().ok().map(|count| (before, count, counted.len()))
    };
    let numbered: Vec<(&str, u64, usize)> = used.filter_map(parts).collect();
    let Some((before, _, _)) = numbered.last().copied() else { return "1".to_owned() };
    let highest = numbered.iter().filter(|(other, ..)| *other == before).max_by_key(|(_, count, _)| *count);
    let (count, width) = highest.map_or((0, 1), |(_, count, width)| (*count, *width));
    format!("{before}{:0width$}", count.saturating_add(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn next(own: Option<&str>, others: &[&str], used: &[&str]) -> String {
        let others = others.iter().map(|letter| (*letter).to_owned()).collect();
        Numbering { own: own.map(str::to_owned), others }.next(used.iter().copied())
    }

    #[test]
    fn the_next_number_keeps_letters_and_leading_zeros() {
        assert_eq!(next(None, &[], &[]), "1");
        assert_eq!(next(None, &[], &["1033", "1062", "1041"]), "1063");
        assert_eq!(next(None, &[], &["A-009"]), "A-010");
        assert_eq!(next(None, &[], &["draft"]), "1");
        assert_eq!(next(None, &[], &["7", "R10", "R2"]), "R11");
    }

    #[test]
    fn another_devices_numbers_carry_its_letters_and_leave_the_first_devices_alone() {
        assert_eq!(next(None, &["B", "AA"], &["7", "B2", "AA41"]), "8");
        assert_eq!(next(Some("B"), &["AA"], &["7", "AA9"]), "B1");
        assert_eq!(next(Some("B"), &["AA"], &["7", "B2", "B10", "B-3", "AA41"]), "B11");
        assert_eq!(next(Some("AA"), &["B"], &["AA41", "B2"]), "AA42");
    }
}
