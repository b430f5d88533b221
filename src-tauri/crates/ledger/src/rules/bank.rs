//! What the books refuse of the bank's statements, and of what their lines are said to be.

use super::ask::Check;
use crate::closed_lists::OtherBankLine;
use crate::error::{LedgerError, refuse};
use crate::facts::{BankCleared, BankLine, BankStatement, Fact};
use crate::id::Id;
use crate::live::any_live;
use crate::read::Books;
use rusqlite::Connection;
use std::collections::BTreeSet;
use trade::Money;
use trade::shown::day;

/// A statement says of itself whether it is whole: what stood there before, and its lines, come to what stands after.
pub(super) fn check_statement(statement: &BankStatement) -> Check {
    if statement.begins > statement.date {
        return refuse("begins", "it begins after its last day", "Check both days");
    }
    let mut ids = BTreeSet::new();
    for (index, line) in statement.lines.iter().enumerate() {
        let field = |name: &str| format!("lines[{index}].{name}");
        if line.date < statement.begins || line.date > statement.date {
            return refuse(
                field("date"),
                format!(
                    "{} is not in the days of the statement, {} to {}",
                    day(line.date),
                    day(statement.begins),
                    day(statement.date)
                ),
                "Check the day of the line, and the days of the statement",
            );
        }
        if line.amount.is_zero() {
            return refuse(field("amount"), "nothing moved", "Leave the line out");
        }
        if line.bank_id.as_ref().is_some_and(|id| !ids.insert(id)) {
            return refuse(field("bank_id"), "the bank's mark stands on two lines", "Take each line once");
        }
    }
    let moved: Money = statement.lines.iter().map(|line| line.amount).sum();
    let comes_to = statement.opening + moved;
    if comes_to != statement.closing {
        return refuse(
            "closing",
            format!(
                "the lines make {} of the {} before them, and the statement ends with {}",
                comes_to.grouped(),
                statement.opening.grouped(),
                statement.closing.grouped()
            ),
            "Check both balances, and whether a line is missing",
        );
    }
    Ok(())
}

/// A ledger keeps one account at the bank, and each of its days comes once.
pub(super) fn statement_beside(conn: &Connection, statement: &BankStatement) -> Check {
    for held in Books::over(conn).all::<BankStatement>()? {
        let held = held.fact;
        if let (Some(own), Some(other)) = (&statement.account, &held.account)
            && own != other
        {
            return refuse(
                "account",
                "it is another account than that of the statements before",
                "Take the statement of the account that customers' payments come to",
            );
        }
        if statement.begins <= held.date && held.begins <= statement.date {
            return refuse(
                "begins",
                format!(
                    "the statement from {} to {} is here already, and the days of both overlap",
                    day(held.begins),
                    day(held.date)
                ),
                "Take the file for the other days alone, or reverse that statement first",
            );
        }
    }
    Ok(())
}

pub(super) fn check_cleared(conn: &Connection, cleared: &BankCleared) -> Check {
    let line = line_of(conn, cleared)?;
    if line.date != cleared.date {
        return refuse(
            "date",
            format!("the bank booked that line on {}", day(line.date)),
            "Give the line's own day",
        );
    }
    match (cleared.other, cleared.items.is_empty()) {
        (None, true) => refuse(
            "items",
            "it does not say what the line is",
            "Name the payments, or say what it is that the books hold no payment of",
        ),
        (Some(_), false) => {
            refuse("other", "it names payments and says that there is none", "Say one of the two")
        }
        (Some(OtherBankLine::SomethingElse), true) if cleared.note.is_none() => {
            refuse("note", "it does not say what it is", "Type what the line is")
        }
        (Some(_), true) => Ok(()),
        (None, false) => check_items(conn, cleared, &line),
    }
}

fn check_items(conn: &Connection, cleared: &BankCleared, line: &BankLine) -> Check {
    let (mut total, mut seen) = (Money::ZERO, BTreeSet::new());
    for (index, item) in cleared.items.iter().enumerate() {
        let field = format!("items[{index}]");
        let Some(id) = item.id() else {
            return refuse(field, "it names none, or more than one", "Name one payment on each line");
        };
        if !seen.insert(id) {
            return refuse(field, "this payment is named twice", "Name each once");
        }
        let Some(amount) = at_the_bank(conn, id)? else {
            return refuse(field, "it did not leave the bank", "Name what went through the bank");
        };
        total += amount;
    }
    if total != line.amount {
        return refuse(
            "items",
            format!("they come to {}, and the bank's line is {}", total.grouped(), line.amount.grouped()),
            "Name what the line holds; what was recorded with another amount is reversed and recorded again",
        );
    }
    Ok(())
}

/// No line and no payment clears twice.
pub(super) fn cleared_beside(conn: &Connection, cleared: &BankCleared) -> Check {
    let with: &[&dyn rusqlite::ToSql] = &[cleared.statement.bytes(), &cleared.place];
    if any_live(conn, "bank_cleared", "statement = ?1 AND place = ?2", with)? {
        return refuse("place", "this line is matched already", "Take that back first, if it was wrong");
    }
    for (index, item) in cleared.items.iter().enumerate() {
        let Some(id) = item.id() else { continue };
        let wanted = "EXISTS (SELECT 1 FROM bank_cleared_item i WHERE i.fact = f.id
            AND ?1 IN (i.payment, i.refund, i.vendor_payment, i.overhead_cost))";
        if any_live(conn, "bank_cleared", wanted, &[id.bytes()])? {
            return refuse(
                format!("items[{index}]"),
                "this payment has cleared already",
                "Choose another one, or take that match back first",
            );
        }
    }
    Ok(())
}

fn line_of(conn: &Connection, cleared: &BankCleared) -> Result<BankLine, LedgerError> {
    let place = usize::try_from(cleared.place).ok().and_then(|place| place.checked_sub(1));
    let held = Books::over(conn).fact(cleared.statement)?.map(|held| held.fact);
    let (Some(Fact::BankStatement(statement)), Some(place)) = (held, place) else {
        return no_line(cleared);
    };
    match statement.lines.into_iter().nth(place) {
        Some(line) => Ok(line),
        None => no_line(cleared),
    }
}

fn no_line(cleared: &BankCleared) -> Result<BankLine, LedgerError> {
    let problem = format!("the statement has no line {}", cleared.place);
    refuse("place", problem, "Count the lines of the statement from 1")
}

/// What a payment moves at the bank; nothing where it does not go through it.
fn at_the_bank(conn: &Connection, id: Id) -> Result<Option<Money>, LedgerError> {
    Ok(Books::over(conn).fact(id)?.and_then(|held| held.fact.at_the_bank()))
}
