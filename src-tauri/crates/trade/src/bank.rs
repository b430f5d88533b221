//! A bank's statement held against the books: which line is which payment, and what is left over on either side.

use crate::money::Money;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// How many days after it is recorded a payment may come to the bank and still be taken for the line: a check that was
/// mailed and laid aside. Common practice; a person confirms each.
const LATEST: i32 = 45;

/// How many days before it is recorded: a transfer that was written down when the statement came.
const EARLIEST: i32 = 5;

/// A line of a statement, or a payment of the books.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moved {
    /// Its day.
    pub date: Date,
    /// How much; below zero where money left the bank.
    pub amount: Money,
    /// The number of the check, or whatever the reference is.
    pub number: Option<String>,
}

/// What a line of a statement is taken for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Match {
    /// These payments of the books, by their places: one, or a deposit of several.
    Items(Vec<usize>),
    /// A payment with the same number, and another amount.
    OtherAmount(usize),
    /// Nothing in the books, or several that it might be.
    None,
}

/// The digits at the end of a check's number, without zeros before them: “Check 0231” and “231” are one check.
fn digits(number: Option<&String>) -> Option<&str> {
    let text = number?.trim();
    let from = text
        .rfind(|sign: char| !sign.is_ascii_digit())
        .map_or(0, |at| at + text[at..].chars().next().map_or(0, char::len_utf8));
    Some(text[from..].trim_start_matches('0')).filter(|digits| !digits.is_empty())
}

fn same_number(line: &Moved, item: &Moved) -> Option<bool> {
    Some(digits(line.number.as_ref())? == digits(item.number.as_ref())?)
}

/// Whether the days of both can belong to one payment.
fn near(line: Date, recorded: Date) -> bool {
    let days = (line - recorded).get_days();
    (-EARLIEST..=LATEST).contains(&days)
}

/// What each line is taken for. The same number and amount first; then the same amount near that day, where no other
/// payment and no other line could be meant; then all money that came on one day, as one deposit; at last the same
/// number with another amount. Nothing is taken for two lines, and what could be two things is left to a person.
#[must_use]
pub fn match_up(lines: &[Moved], items: &[Moved]) -> Vec<Match> {
    let mut found: Vec<Match> = vec![Match::None; lines.len()];
    let mut free: Vec<bool> = vec![true; items.len()];
    let by_number =
        |line: &Moved, item: &Moved| item.amount == line.amount && same_number(line, item) == Some(true);
    let by_amount = |line: &Moved, item: &Moved| {
        item.amount == line.amount && near(line.date, item.date) && same_number(line, item) != Some(false)
    };
    for fits in [&by_number as &dyn Fn(&Moved, &Moved) -> bool, &by_amount] {
        let open: Vec<usize> = (0..lines.len()).filter(|at| found[*at] == Match::None).collect();
        let could_be: Vec<Vec<usize>> = open
            .iter()
            .map(|at| {
                (0..items.len()).filter(|item| free[*item] && fits(&lines[*at], &items[*item])).collect()
            })
            .collect();
        let mut wanted: BTreeMap<usize, usize> = BTreeMap::new();
        could_be.iter().flatten().for_each(|item| *wanted.entry(*item).or_default() += 1);
        for (at, items) in open.into_iter().zip(could_be) {
            if let [item] = items.as_slice()
                && wanted.get(item) == Some(&1)
            {
                free[*item] = false;
                found[at] = Match::Items(items);
            }
        }
    }
    deposits(lines, items, &mut free, &mut found);
    for (at, line) in lines.iter().enumerate().filter(|(at, _)| found[*at] == Match::None).collect::<Vec<_>>()
    {
        let same = |item: &usize| {
            free[*item]
                && same_number(line, &items[*item]) == Some(true)
                && items[*item].amount.is_negative() == line.amount.is_negative()
                && near(line.date, items[*item].date)
        };
        let mut same = (0..items.len()).filter(same);
        if let (Some(item), None) = (same.next(), same.next()) {
            found[at] = Match::OtherAmount(item);
        }
    }
    found
}

/// Money that came on one day and was brought to the bank together.
fn deposits(lines: &[Moved], items: &[Moved], free: &mut [bool], found: &mut [Match]) {
    let mut days: BTreeMap<Date, Vec<usize>> = BTreeMap::new();
    for (at, item) in items.iter().enumerate().filter(|(at, item)| free[*at] && item.amount.is_positive()) {
        days.entry(item.date).or_default().push(at);
    }
    for (date, together) in days.into_iter().filter(|(_, together)| together.len() > 1) {
        let amount: Money = together.iter().map(|at| items[*at].amount).sum();
        let fits = |at: &usize| {
            found[*at] == Match::None && lines[*at].amount == amount && near(lines[*at].date, date)
        };
        let mut fitting = (0..lines.len()).filter(fits);
        if let (Some(at), None) = (fitting.next(), fitting.next()) {
            together.iter().for_each(|item| free[*item] = false);
            found[at] = Match::Items(together);
        }
    }
}

/// A bank's balance brought to that of the books, and the other way round.
///
/// To the bank's balance is added what the books hold and the bank does not yet: deposits on their way, less payments
/// that nobody has presented; and the bank's own mistakes are taken out. To the books' is added what only the statement
/// tells. The two then are the same. 77,040 + 34,300 + 320 − 19,620 = 92,040 = 32,760 + 61,800 − 2,520 (Principles of
/// Accounting, bank reconciliation).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Reconciliation {
    /// What the statement ends with.
    pub by_bank: Money,
    /// Money in by the books that the bank does not show yet.
    pub in_transit: Money,
    /// Money out by the books that the bank does not show yet.
    pub outstanding: Money,
    /// What the bank has booked by mistake; below zero where it took too much.
    pub bank_errors: Money,
    /// What the books come to.
    pub by_books: Money,
    /// What the statement shows and the books do not hold; below zero where money left the bank.
    pub not_in_books: Money,
}

impl Reconciliation {
    /// The bank's balance with what it does not show yet.
    #[must_use]
    pub fn bank_adjusted(&self) -> Money {
        self.by_bank + self.in_transit - self.outstanding - self.bank_errors
    }

    /// The books' balance with what they do not hold yet.
    #[must_use]
    pub fn books_adjusted(&self) -> Money {
        self.by_books + self.not_in_books
    }

    /// What is left unexplained: nothing, unless a statement between is missing.
    #[must_use]
    pub fn unexplained(&self) -> Money {
        self.bank_adjusted() - self.books_adjusted()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn moved(day: i8, cents: i64, number: &str) -> Moved {
        let number = Some(number.to_owned()).filter(|number| !number.is_empty());
        Moved { date: date(2026, 9, day), amount: Money::from_minor(cents), number }
    }

    #[test]
    fn the_published_reconciliation_comes_to_the_same_from_both_sides() {
        let dollars = |whole: i64| Money::from_minor(whole * 100);
        let both = Reconciliation {
            by_bank: dollars(77_040),
            in_transit: dollars(34_300),
            outstanding: dollars(19_620),
            bank_errors: dollars(-320),
            by_books: dollars(32_760),
            not_in_books: dollars(61_800 - 2_520),
        };
        assert_eq!(both.bank_adjusted(), dollars(92_040));
        assert_eq!(both.books_adjusted(), dollars(92_040));
        assert!(both.unexplained().is_zero());
        // A check of 45.00 that nobody wrote down.
        let short = Reconciliation { not_in_books: both.not_in_books - Money::from_minor(4_500), ..both };
        assert_eq!(short.unexplained(), Money::from_minor(4_500));
    }

    #[test]
    fn a_number_is_read_from_its_end_whatever_stands_before_it() {
        // Three checks of the same amount: only the number can tell which of them the line is.
        let items = [moved(1, -5_000, "Check 0231"), moved(1, -5_000, "№0232"), moved(1, -5_000, "0233")];
        let lines = [moved(29, -5_000, "233"), moved(29, -5_000, "231"), moved(29, -5_000, "232")];
        let each = [2, 0, 1].map(|item| Match::Items(vec![item]));
        assert_eq!(match_up(&lines, &items), each);
    }

    #[test]
    fn a_deposit_is_of_what_is_left_of_its_day() {
        let items =
            [moved(3, 10_000, "2430"), moved(3, 5_000, ""), moved(3, 7_000, ""), moved(3, -900, "1075")];
        // The first is taken by its number, the last leaves the account; a line beside the deposit has another amount.
        let lines = [moved(4, 10_000, "2430"), moved(4, 12_000, ""), moved(4, 3_333, "")];
        let matched = match_up(&lines, &items);
        assert_eq!(matched, [Match::Items(vec![0]), Match::Items(vec![1, 2]), Match::None]);
    }

    #[test]
    fn a_line_that_has_its_payment_is_not_taken_for_a_deposit_as_well() {
        let items = [moved(8, 12_000, "2440"), moved(3, 5_000, ""), moved(3, 7_000, "")];
        let lines = [moved(4, 12_000, "2440"), moved(4, 12_000, "")];
        assert_eq!(match_up(&lines, &items), [Match::Items(vec![0]), Match::Items(vec![1, 2])]);
    }

    #[test]
    fn the_number_goes_before_the_amount_and_what_could_be_two_things_is_left_open() {
        let items = [
            moved(15, -145_000, "Check 1072"),
            moved(15, -145_000, "1073"),
            moved(16, 50_000, ""),
            moved(17, 50_000, ""),
            moved(18, -9_900, "1075"),
        ];
        let lines = [
            moved(20, -145_000, "01073"),
            moved(20, -145_000, ""),
            moved(21, 50_000, ""),
            moved(22, -9_990, "1075"),
            moved(22, -1, ""),
        ];
        let matched = match_up(&lines, &items);
        assert_eq!(matched[0], Match::Items(vec![1]), "by its number");
        assert_eq!(matched[1], Match::Items(vec![0]), "the only one left of that amount");
        assert_eq!(matched[2], Match::None, "either of two payments");
        assert_eq!(matched[3], Match::OtherAmount(4));
        assert_eq!(matched[4], Match::None, "nothing in the books");
    }

    #[test]
    fn what_came_on_one_day_is_one_deposit_and_a_payment_of_long_ago_is_none() {
        let items = [moved(3, 21_900, "2430"), moved(3, 100_000, "2431"), moved(1, -7_000, "")];
        let lines = [moved(4, 121_900, ""), Moved { date: date(2026, 11, 20), ..moved(1, -7_000, "") }];
        assert_eq!(match_up(&lines, &items), vec![Match::Items(vec![0, 1]), Match::None]);
        let two = [moved(4, 121_900, ""), moved(5, 121_900, "")];
        assert_eq!(match_up(&two, &items), vec![Match::None, Match::None], "two lines it might be");
    }
}
