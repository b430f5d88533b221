//! A bank's statement: its lines, and the two balances that they lie between.

use crate::planner::{Duplicate, Planner};
use crate::problem::{About, Answer, Note, Problem, Question};
use crate::rows::BankRow;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::facts::{BankLine, BankStatement, Firm};
use trade::Money;
use trade::shown::day;

/// The balances of a file that tells one on each line, and whether they hold.
enum Running {
    Told {
        opening: Money,
        closing: Money,
    },
    NotTold,
    /// After this line the balance is not what the lines make it.
    Broken(u64),
}

/// Files begin with the oldest line or with the newest; the balances themselves say which.
fn running(rows: &[BankRow]) -> Running {
    let told: Option<Vec<(u64, Money, Money)>> =
        rows.iter().map(|row| row.balance.map(|balance| (row.line, row.amount, balance))).collect();
    let Some(told) = told.filter(|told| !told.is_empty()) else { return Running::NotTold };
    let broken = |told: &[(u64, Money, Money)]| {
        told.windows(2).find(|pair| pair[0].2 + pair[1].1 != pair[1].2).map(|pair| pair[1].0)
    };
    let backwards: Vec<_> = told.iter().rev().copied().collect();
    let (Some(oldest), Some(newest)) = (rows.first(), rows.last()) else { return Running::NotTold };
    let newest_first = oldest.date > newest.date;
    let in_order = match (broken(&told), broken(&backwards)) {
        (None, _) if !newest_first => &told,
        (_, None) => &backwards,
        (None, Some(_)) => &told,
        (Some(line), Some(_)) => return Running::Broken(line),
    };
    match (in_order.first(), in_order.last()) {
        (Some(first), Some(last)) => Running::Told { opening: first.2 - first.1, closing: last.2 },
        _ => Running::NotTold,
    }
}

pub(crate) fn plan(planner: &mut Planner<'_>, rows: &[BankRow]) -> Result<(), OfficeError> {
    // A line that could not be read would be missing from the sums: the file has to be whole first.
    if !planner.parsed.problems.is_empty() || !planner.parsed.questions.is_empty() {
        return Ok(());
    }
    let said = planner.parsed.statement.clone();
    check_currency(planner, said.currency.as_deref())?;
    let (Some(begins), Some(ends)) = (
        said.begins.or_else(|| rows.iter().map(|row| row.date).min()),
        said.ends.or_else(|| rows.iter().map(|row| row.date).max()),
    ) else {
        return Ok(());
    };
    for (place, row) in rows.iter().enumerate().filter(|(_, row)| row.amount.is_zero()) {
        planner.refuse(place, row.line, "amount", "Nothing moved on this line.".to_owned(), "Leave it out.");
    }
    let held: Vec<BankStatement> =
        planner.books.all::<BankStatement>()?.into_iter().map(|held| held.fact).collect();
    let before = held.iter().filter(|held| held.date < begins).max_by_key(|held| held.date);
    let moved: Money = rows.iter().map(|row| row.amount).sum();
    let closing = planner.parsed.choices.closing_balance.or(said.closing);
    let (opening, closing) = match (running(rows), closing) {
        (Running::Broken(line), _) => {
            let message =
                "The balance on this line is not the one before it with the line's amount.".to_owned();
            let place = rows.iter().position(|row| row.line == line).unwrap_or_default();
            planner.refuse(place, line, "balance", message, "A line is missing: fetch the file again.");
            return Ok(());
        }
        (Running::Told { opening, closing }, None) => (opening, closing),
        (_, Some(closing)) => (closing - moved, closing),
        (Running::NotTold, None) => {
            ask_closing(planner, rows, ends, before.map(|before| (before.date, before.closing + moved)));
            return Ok(());
        }
    };
    if [opening, closing].into_iter().any(|balance| balance.abs() > Money::MOST) {
        let message = format!("Its lines come to {}, which is more than a ledger keeps.", moved.grouped());
        planner.problem(Problem::of_file(message, "Check the file: no account of a firm holds as much."));
        return Ok(());
    }
    let mut lines: Vec<BankLine> = rows.iter().map(line_of).collect();
    lines.sort_by_key(|line| line.date);
    let account = said.account.or_else(|| held.iter().find_map(|held| held.account.clone()));
    let statement = BankStatement { date: ends, begins, account, opening, closing, lines };
    if let Some(same) = held.iter().find(|held| held.lines == statement.lines && held.date == ends) {
        let places: Vec<usize> = (0..rows.len()).collect();
        let duplicate = Duplicate {
            lines: rows.iter().map(|row| row.line).collect(),
            same_as_line: None,
            same_as: None,
            message: format!("The statement through {} is recorded already.", day(same.date)),
        };
        planner.pass_over(&places, duplicate);
        return Ok(());
    }
    if !fits_beside(planner, &statement, &held) {
        return Ok(());
    }
    if let Some(before) = before.filter(|before| before.closing != opening) {
        let message = format!(
            "It begins with {}, and the statement through {} ended with {}: one between is missing.",
            opening.grouped(),
            day(before.date),
            before.closing.grouped()
        );
        planner.notes.push(Note::new(vec![], message));
    }
    planner.record(statement);
    Ok(())
}

/// The ledger refuses the same; here it is said before anything is recorded.
fn fits_beside(planner: &mut Planner<'_>, statement: &BankStatement, held: &[BankStatement]) -> bool {
    let account = statement.account.as_ref();
    if held
        .iter()
        .filter_map(|held| held.account.as_ref())
        .any(|known| account.is_some_and(|own| own != known))
    {
        planner.problem(Problem::of_file(
            "It is another account than that of the statements before.",
            "Take the statement of the account that customers' payments come to.",
        ));
        return false;
    }
    let shares = |held: &&BankStatement| statement.begins <= held.date && held.begins <= statement.date;
    if let Some(known) = held.iter().find(shares) {
        let message = format!(
            "The statement from {} to {} is here already, and the days of both overlap.",
            day(known.begins),
            day(known.date)
        );
        let remedy = "Fetch the file for the other days alone, or take that statement back first.";
        planner.problem(Problem::of_file(message, remedy));
        return false;
    }
    true
}

fn line_of(row: &BankRow) -> BankLine {
    BankLine {
        date: row.date,
        amount: row.amount,
        words: row.words.clone(),
        number: row.number.clone(),
        bank_id: row.bank_id.clone(),
    }
}

/// A file that tells no balance is asked for the last one; where a statement before it is known, what follows from that
/// is offered, and is the person's to hold against the bank's own.
fn ask_closing(planner: &mut Planner<'_>, rows: &[BankRow], ends: Date, follows: Option<(Date, Money)>) {
    let answers = follows.map(|(date, closing)| {
        let meaning = format!("{}, as follows from the statement through {}", closing.grouped(), day(date));
        Answer::new(closing.to_string(), meaning)
    });
    for place in 0..rows.len() {
        planner.hold(place);
    }
    planner.ask(Question {
        about: About::ClosingBalance,
        field: None,
        column: None,
        message: format!("What stood at the bank after {}? The file does not say.", day(ends)),
        answers: answers.into_iter().collect(),
        lines: rows.iter().map(|row| row.line).collect(),
    });
}

fn check_currency(planner: &mut Planner<'_>, currency: Option<&str>) -> Result<(), OfficeError> {
    let firms = planner.books.all::<Firm>()?;
    if let (Some(currency), Some(firm)) = (currency, firms.last())
        && currency != firm.fact.currency
    {
        let message = format!("The account is in {currency}, and the books are in {}.", firm.fact.currency);
        planner
            .problem(Problem::of_file(message, "Take the statement of an account in the books' currency."));
    }
    Ok(())
}
