//! The bank held against the books: taking in a statement, and saying what its lines are.

use super::asker::Asker;
use super::failure::Failure;
use super::import;
use crate::bank::shown;
use clap::{Args, Subcommand};
use jiff::civil::Date;
use office::{Act, LineIs, OfficeError, OtherBankLine};
use serde::Serialize;
use std::path::PathBuf;

const HELP: &str = "\
Without a word behind the file it shows the last statement: what is to be settled first, then how both balances come \
to the same. Nothing is sent to a bank.

With --json: `Bank`; `MatchedLines` with match; {\"id\"} with clear and take-back; with read as `tearoff import`.";

/// The bank held against the books.
#[derive(Debug, Args)]
#[command(after_help = HELP)]
pub(crate) struct Bank {
    /// The ledger file.
    file: PathBuf,
    /// The statement that ends on this day; the last one when left out.
    #[arg(long, value_name = "DATE")]
    through: Option<Date>,
    #[command(subcommand)]
    what: Option<What>,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Take in a statement, as OFX or CSV.
    Read {
        /// The file from the bank.
        statement: PathBuf,
        #[command(flatten)]
        how: import::How,
    },
    /// Match every line that fits one payment, or one deposit, and no other.
    Match,
    /// Say what one line is: what it is taken for, the payments named, or what the books hold no payment of.
    Clear {
        /// Which line, counted from 1.
        line: i64,
        /// A payment of the books, by its number, such as A-123; may be given more than once.
        #[arg(long, value_name = "NUMBER")]
        payment: Vec<String>,
        /// What else it is: wages, taxes, owner, own-account, loan, bank-error or something-else.
        #[arg(long = "as", value_name = "WORD", value_parser = other, conflicts_with = "payment")]
        other: Option<OtherBankLine>,
        /// More of it; something-else needs it.
        #[arg(long, requires = "other")]
        note: Option<String>,
    },
    /// Take back what was said of one line, by a reversal.
    TakeBack {
        /// Which line, counted from 1.
        line: i64,
        /// Why.
        #[arg(long)]
        reason: String,
    },
}

fn other(text: &str) -> Result<OtherBankLine, String> {
    OtherBankLine::ALL.iter().copied().find(|word| word.as_str() == text).ok_or_else(|| {
        let words: Vec<&str> = OtherBankLine::ALL.iter().map(|word| word.as_str()).collect();
        format!("choose one of {}", words.join(", "))
    })
}

#[derive(Serialize)]
struct Said {
    id: String,
}

pub(super) fn run(asked: &Bank, asker: Asker<'_>) -> Result<Vec<String>, Failure> {
    if let Some(What::Read { statement, how }) = &asked.what {
        return import::statement(&asked.file, statement, how, asker);
    }
    Ok(of_lines(asked, asker)?)
}

fn of_lines(asked: &Bank, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let through = asked.through;
    let said = match &asked.what {
        None | Some(What::Read { .. }) => {
            let desk = asker.reading(&asked.file, Act::SeeBank)?;
            return asker.answer(&office::bank(&desk, through)?, shown);
        }
        Some(What::Match) => {
            let mut desk = asker.writing(&asked.file, Act::SeeBank)?;
            return asker.answer(&office::match_fitting(&mut desk, through)?, |done| {
                vec![format!("{} matched; {} left.", done.matched, done.left)]
            });
        }
        Some(What::Clear { line, payment, other, note }) => {
            let is = match other {
                Some(other) => LineIs::Other(*other, note.clone()),
                None if payment.is_empty() => LineIs::AsProposed,
                None => LineIs::Payments(payment.clone()),
            };
            let mut desk = asker.writing(&asked.file, Act::SeeBank)?;
            office::clear_line(&mut desk, through, *line, &is)?
        }
        Some(What::TakeBack { line, reason }) => {
            let mut desk = asker.writing(&asked.file, Act::SeeBank)?;
            Some(office::take_back_line(&mut desk, through, *line, reason)?)
        }
    };
    let said = Said { id: said.map(|id| id.to_string()).unwrap_or_default() };
    asker.answer(&said, |said| vec![said.id.clone()])
}
