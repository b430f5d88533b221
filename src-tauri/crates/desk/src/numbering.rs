//! Numbers that people read: a job's change orders, invoices and orders, each counted on from the last.

/// The number after the last: its letters and its leading zeros are kept, so that a device's letter stays in front.
/// Without any in use, 1 (company rule).
#[must_use]
pub fn next_number<'a>(used: impl Iterator<Item = &'a str>) -> String {
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
