//! What came and what was sent, in words a person would say: “3 hidden conditions and 1 time entry from North crew's
//! tablet, 9:42”.

use std::collections::BTreeMap;

/// Kinds of fact that people call something else than their word, or whose word has no plain plural: one, several.
const CALLED: &[(&str, &str, &str)] = &[
    ("answer", "answer to a question", "answers to questions"),
    ("attachment", "photo or paper", "photos or papers"),
    ("change-cost", "cost of a change order", "costs of change orders"),
    ("condition", "hidden condition", "hidden conditions"),
    ("declined-repair", "declined repair", "declined repairs"),
    ("device-left", "dropped device", "dropped devices"),
    ("firm", "version of the firm's settings", "versions of the firm's settings"),
    ("hand-off", "hand-off", "hand-offs"),
    ("installed", "part built in", "parts built in"),
    ("insulation-receipt", "insulation receipt", "insulation receipts"),
    ("month-closed", "closed month", "closed months"),
    ("person", "person", "people"),
    ("reversal", "entry taken back", "entries taken back"),
    ("stored-material", "count of stored material", "counts of stored material"),
    ("units-done", "count of work done", "counts of work done"),
];

/// So many facts of a kind.
fn counted(kind: &str, count: u64) -> String {
    if let Some((_, one, several)) = CALLED.iter().find(|(called, ..)| *called == kind) {
        return format!("{count} {}", if count == 1 { one } else { several });
    }
    let one = kind.replace('-', " ");
    if count == 1 {
        return format!("1 {one}");
    }
    match one.strip_suffix('y') {
        Some(stem) => format!("{count} {stem}ies"),
        None => format!("{count} {one}s"),
    }
}

/// Facts of several kinds, the most frequent first.
#[must_use]
pub(crate) fn listed(kinds: &BTreeMap<String, u64>) -> String {
    let mut sorted: Vec<(&String, &u64)> = kinds.iter().filter(|(_, count)| **count > 0).collect();
    sorted.sort_by(|left, right| right.1.cmp(left.1).then_with(|| left.0.cmp(right.0)));
    let mut words: Vec<String> = sorted.iter().map(|(kind, count)| counted(kind, **count)).collect();
    // A first exchange brings a firm's whole life: the rest is told as a number.
    if words.len() > MOST_KINDS {
        let rest: u64 = sorted[MOST_KINDS..].iter().map(|(_, count)| **count).sum();
        words.truncate(MOST_KINDS);
        words.push(format!("{rest} more {}", if rest == 1 { "entry" } else { "entries" }));
    }
    match words.split_last() {
        None => "nothing".to_owned(),
        Some((last, [])) => last.clone(),
        Some((last, [one])) => format!("{one} and {last}"),
        Some((last, others)) => format!("{}, and {last}", others.join(", ")),
    }
}

const MOST_KINDS: usize = 4;

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(counts: &[(&str, u64)]) -> BTreeMap<String, u64> {
        counts.iter().map(|(kind, count)| ((*kind).to_owned(), *count)).collect()
    }

    #[test]
    fn facts_are_counted_as_people_say_them() {
        assert_eq!(listed(&kinds(&[])), "nothing");
        assert_eq!(listed(&kinds(&[("condition", 3)])), "3 hidden conditions");
        let two = kinds(&[("condition", 3), ("time-entry", 1), ("bill", 0)]);
        assert_eq!(listed(&two), "3 hidden conditions and 1 time entry");
        let three = kinds(&[("time-entry", 2), ("warranty", 5), ("person", 2)]);
        assert_eq!(listed(&three), "5 warranties, 2 people, and 2 time entries");
        let many =
            kinds(&[("bill", 9), ("job", 8), ("payment", 7), ("invoice", 6), ("firm", 1), ("roof", 2)]);
        assert_eq!(listed(&many), "9 bills, 8 jobs, 7 payments, 6 invoices, and 3 more entries");
    }

    #[test]
    fn what_is_called_something_else_is_a_kind_of_fact() {
        for (kind, ..) in CALLED {
            assert!(ledger::kinds::kind_spec(kind).is_some(), "{kind}");
        }
    }
}
