//! What a fact must be by itself, whatever else is in the books. The tables' own CHECKs say the same; here it is said
//! in words, before SQLite would say it in its own.

use crate::error::{LedgerError, refuse};
use crate::facts::{Allocation, Bonus, Contract, Crew, Fact, Payment, Refund};
use crate::id::Id;
use crate::kind::{KindSpec, Record, TableSpec};
use rusqlite::types::Value;
use trade::{Money, Qty};

type Check = Result<(), LedgerError>;

/// Checks one fact.
pub(crate) fn check(fact: &Fact, spec: &KindSpec, record: &Record) -> Check {
    check_texts(&spec.own, &record.own, "")?;
    for ((list, name), lines) in spec.lists.iter().zip(spec.list_names).zip(&record.lists) {
        for (index, line) in lines.iter().enumerate() {
            check_texts(list, line, &format!("{name}[{index}]."))?;
        }
    }
    match fact {
        Fact::Crew(crew) => check_crew(crew),
        Fact::Bonus(bonus) => check_bonus(bonus),
        Fact::Contract(contract) => check_contract(contract),
        Fact::Payment(payment) => check_payment(payment),
        Fact::Allocation(Allocation { payment, credit, .. }) => one_source("applied", *payment, *credit),
        Fact::Refund(refund) => check_refund(refund),
        _ => Ok(()),
    }
}

/// The longest text of a fact, in bytes: twenty pages, closely written.
pub(crate) const LONGEST_TEXT: usize = 64 * 1024;

fn check_texts(spec: &TableSpec, values: &[Value], prefix: &str) -> Check {
    for (column, value) in spec.columns.iter().zip(values) {
        if let Value::Text(text) = value
            && let Some((problem, remedy)) = unfit(text)
        {
            return refuse(format!("{prefix}{column}"), problem, remedy);
        }
    }
    Ok(())
}

/// Why a text is none to keep, and what to do. An empty text says nothing: an unknown telephone number is absent, not
/// blank. What cannot be seen would make two names look alike, or move the cursor of a terminal that shows it.
fn unfit(text: &str) -> Option<(String, &'static str)> {
    const TYPE_SOMETHING: &str = "Type something, or leave it out where it may be left out";
    if text.is_empty() {
        return Some(("it is empty".to_owned(), TYPE_SOMETHING));
    }
    if text.len() > LONGEST_TEXT {
        let kib = text.len().div_ceil(1024);
        let problem = format!("it has {kib} KiB, and {} KiB is the most", LONGEST_TEXT / 1024);
        return Some((problem, "Shorten it, or attach it as a file"));
    }
    let mut letters = text.chars().peekable();
    let mut is_blank = true;
    while let Some(letter) = letters.next() {
        let ends_line = letter == '\n' || letter == '\r' && letters.peek() == Some(&'\n');
        if !ends_line && letter != '\t' && is_hidden(letter) {
            let problem = format!("it holds a character that cannot be seen (U+{:04X})", u32::from(letter));
            return Some((problem, "Type it anew, without what was pasted along"));
        }
        is_blank &= letter.is_whitespace() || is_joiner(letter);
    }
    is_blank.then(|| ("it is blank".to_owned(), TYPE_SOMETHING))
}

/// Control characters, what turns the direction of writing, and what has no width. No fact holds one, and no terminal
/// is to be sent one: the first of them may be the beginning of an order to it.
#[must_use]
pub fn is_hidden(letter: char) -> bool {
    letter.is_control()
        || matches!(letter, '\u{ad}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}')
        || matches!(letter, '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}')
        || matches!(letter, '\u{e0000}'..='\u{e007f}')
}

/// What joins or parts letters of other scripts, and nothing by itself.
fn is_joiner(letter: char) -> bool {
    matches!(letter, '\u{200c}' | '\u{200d}' | '\u{fe00}'..='\u{fe0f}')
}

/// A crew-day is its size times its hours, and something is divided by it.
fn check_crew(crew: &Crew) -> Check {
    if crew.size < 1 {
        return refuse(
            "size",
            format!("{} is not a number of people", crew.size),
            "Type how many people the crew has",
        );
    }
    if crew.hours_a_day <= Qty::ZERO {
        return refuse(
            "hours_a_day",
            format!("{} is not a number of hours above zero", crew.hours_a_day),
            "Type the hours of its usual day",
        );
    }
    Ok(())
}

fn check_bonus(bonus: &Bonus) -> Check {
    if bonus.amount.is_negative() {
        return refuse("amount", format!("{} is below zero", bonus.amount), "Type an amount of zero or more");
    }
    Ok(())
}

fn check_contract(contract: &Contract) -> Check {
    let covered = [("included_sheets", contract.included_sheets), ("included_feet", contract.included_feet)];
    for (field, count) in covered {
        if count.is_negative() {
            return refuse(field, format!("{count} is below zero"), "Type how many the price covers");
        }
    }
    let share = contract.retainage.decimal();
    if share.is_sign_negative() || share > rust_decimal::Decimal::ONE {
        return refuse(
            "retainage",
            format!("{} is not a share of the whole", contract.retainage),
            "For 10 % type 0.1",
        );
    }
    Ok(())
}

fn check_payment(payment: &Payment) -> Check {
    if payment.amount <= Money::ZERO {
        return refuse(
            "amount",
            format!("{} is not an amount above zero", payment.amount),
            "Type what came; money given back is a refund",
        );
    }
    Ok(())
}

/// Money goes to an invoice, or back to the customer, from one payment or from one credit memo.
fn one_source(done: &str, payment: Option<Id>, credit: Option<Id>) -> Check {
    match (payment, credit) {
        (Some(_), None) | (None, Some(_)) => Ok(()),
        (None, None) => refuse(
            "payment",
            format!("it does not say what is {done}"),
            "Name the payment, or in “credit” the credit memo",
        ),
        (Some(_), Some(_)) => refuse(
            "credit",
            format!("a payment and a credit memo are {done} one by one"),
            "Leave out the payment or the credit",
        ),
    }
}

fn check_refund(refund: &Refund) -> Check {
    one_source("given back", refund.payment, refund.credit)?;
    if refund.amount <= Money::ZERO {
        return refuse(
            "amount",
            format!("{} is not an amount above zero", refund.amount),
            "Type what was given back",
        );
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_that_can_be_read_are_kept_as_they_are() {
        let longest = "a".repeat(LONGEST_TEXT);
        for text in
            ["Ada", "12 Mill Lane\nrear house", "one\r\ntwo", "a\tb", "Zoë", "می‌خواهم", "👩‍🔧", &longest]
        {
            assert_eq!(unfit(text), None, "{text:?}");
        }
    }

    #[test]
    fn texts_that_nobody_can_read_are_told_with_their_reason() {
        let long = "a".repeat(LONGEST_TEXT + 1);
        for (text, reason) in [
            ("", "empty"),
            (" \t\n", "blank"),
            ("\u{3000}", "blank"),
            ("\u{200d}", "blank"),
            ("Ada\u{200b}", "U+200B"),
            ("\u{feff}Ada", "U+FEFF"),
            ("Ada\0", "U+0000"),
            ("\u{1b}[2J", "U+001B"),
            ("\u{9b}2J", "U+009B"),
            ("a\rb", "U+000D"),
            ("\u{202e}adA", "U+202E"),
            (&long, "65 KiB"),
        ] {
            let told = unfit(text).map(|(problem, _)| problem).unwrap_or_default();
            assert!(told.contains(reason), "{text:?}: {told}");
        }
    }
}
