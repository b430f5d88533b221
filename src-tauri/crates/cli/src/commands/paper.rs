//! Printing papers, and working out an estimate.

use super::answer;
use clap::{Args, ValueEnum};
use office::estimate::Estimate as Draft;
use office::{Acceptance, Clock, Desk, Month, OfficeError, Wanted};
use serde::Serialize;
use std::path::{Path, PathBuf};

/// The papers there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Kind {
    /// What the homeowner may choose from.
    Proposal,
    /// The proposal as it was signed, kept since.
    SignedProposal,
    /// What the crew takes to the roof.
    SiteSheet,
    /// What is bought, vendor by vendor.
    OrderList,
    /// A change order, as JOB/NUMBER.
    ChangeOrder,
    /// An invoice, by its number.
    Invoice,
    /// What the homeowner gets at the end.
    Completion,
    /// The owner's month, as 2026-10.
    MonthPack,
}

/// Which paper to print, and where to.
#[derive(Debug, Args)]
pub(crate) struct Paper {
    /// The ledger file.
    file: PathBuf,
    /// Which paper.
    #[arg(value_enum)]
    kind: Kind,
    /// What it is about: a job's or invoice's number, JOB/NUMBER of a change order, or a month.
    about: String,
    /// The folder to write into, or the PDF's own name.
    #[arg(long)]
    to: PathBuf,
    /// The estimate of a proposal, as JSON; the one that the program would begin with when left out.
    #[arg(long)]
    draft: Option<PathBuf>,
    /// Put prices on an order list.
    #[arg(long)]
    with_prices: bool,
    /// Let open points stand in a completion packet.
    #[arg(long)]
    list_open: bool,
}

#[derive(Serialize)]
struct Printed {
    file: String,
    bytes: usize,
}

/// Prints a paper.
pub(crate) fn print(paper: &Paper, json: bool) -> Result<Vec<String>, OfficeError> {
    let desk = Desk::read(&paper.file, Clock::System)?;
    let document = office::print(&desk, &wanted(&desk, paper)?)?;
    let place = if paper.to.is_dir() { paper.to.join(&document.name) } else { paper.to.clone() };
    document.save(&place)?;
    let printed = Printed { file: place.display().to_string(), bytes: document.bytes.len() };
    answer(json, &printed, |printed| vec![printed.file.clone()])
}

fn wanted(desk: &Desk, paper: &Paper) -> Result<Wanted, OfficeError> {
    let about = paper.about.clone();
    Ok(match paper.kind {
        Kind::Proposal => {
            let estimate = match &paper.draft {
                Some(draft) => read(draft)?,
                None => office::begin(desk, &about)?,
            };
            Wanted::Proposal { job: about, estimate: Box::new(estimate), chosen: None }
        }
        Kind::SignedProposal => Wanted::SignedProposal { job: about },
        Kind::SiteSheet => Wanted::SiteSheet { job: about },
        Kind::OrderList => Wanted::OrderList { job: about, with_prices: paper.with_prices },
        Kind::ChangeOrder => Wanted::ChangeOrder { id: about },
        Kind::Invoice => Wanted::Invoice { id: about },
        Kind::Completion => Wanted::Completion { job: about, listing_open: paper.list_open },
        Kind::MonthPack => {
            let month = Month::parse(&about).map_err(|error| {
                OfficeError::refused("about", &error.to_string(), "Name a month as 2026-10")
            })?;
            Wanted::MonthPack { month }
        }
    })
}

/// A job's estimate: begun, calculated, or taken.
#[derive(Debug, Args)]
pub(crate) struct Estimate {
    /// The ledger file.
    file: PathBuf,
    /// The job's number.
    job: String,
    /// The estimate as JSON, to be calculated; without it, the one to begin with is shown.
    draft: Option<PathBuf>,
    /// Accept this choice of it.
    #[arg(long, value_name = "LETTER", requires = "draft")]
    accept: Option<String>,
}

/// Begins, calculates or accepts.
pub(crate) fn estimate(asked: &Estimate, json: bool) -> Result<Vec<String>, OfficeError> {
    let Some(draft) = &asked.draft else {
        let desk = Desk::read(&asked.file, Clock::System)?;
        // There is no shorter text of an estimate than itself.
        return answer(true, &office::begin(&desk, &asked.job)?, |_| Vec::new());
    };
    let draft = read(draft)?;
    if let Some(letter) = &asked.accept {
        let mut desk = Desk::open(&asked.file, Clock::System)?;
        let date = desk.clock.today();
        let taken = Acceptance { letter: letter.clone(), date, note: None, proposal: None };
        let accepted = office::accept(&mut desk, &asked.job, &draft, &taken)?;
        return answer(json, &accepted, |accepted| vec![accepted.contract.clone()]);
    }
    let desk = Desk::read(&asked.file, Clock::System)?;
    answer(json, &office::calculate(&desk, &asked.job, &draft)?, |calculated| {
        let mut lines: Vec<String> =
            calculated.problems.iter().map(|problem| problem.words.clone()).collect();
        for choice in &calculated.choices {
            lines.push(format!(
                "{} {}: cost {}, overhead {}, price {}, margin {}",
                choice.letter, choice.title, choice.cost, choice.overhead, choice.price, choice.margin
            ));
            lines.extend(
                choice.problems.iter().map(|problem| format!("  {}: {}", problem.field, problem.words)),
            );
            lines.extend(
                choice.warnings.iter().map(|warning| format!("  {} {}", warning.words, warning.remedy)),
            );
        }
        lines
    })
}

fn read(draft: &Path) -> Result<Draft, OfficeError> {
    let text = std::fs::read_to_string(draft)
        .map_err(|error| OfficeError::io(format!("{} could not be read", draft.display()), &error))?;
    serde_json::from_str(&text).map_err(|error| {
        OfficeError::refused("draft", &error.to_string(), "Begin with what `tearoff estimate FILE JOB` shows")
    })
}
