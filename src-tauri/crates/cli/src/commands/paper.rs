//! Printing papers.

use super::asker::Asker;
use super::estimate;
use clap::{Args, ValueEnum};
use jiff::civil::Date;
use office::{Act, Desk, Month, OfficeError, Wanted};
use serde::Serialize;
use std::path::PathBuf;

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
    /// What a customer owes, by their name.
    Statement,
    /// What the homeowner gets at the end.
    Completion,
    /// What the homeowner is told of the insulation that was put in.
    InsulationReceipt,
    /// The receipt for the pamphlet on lead, for a house built before 1978.
    LeadReceipt,
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
    /// What it is about: a job's or invoice's number, JOB/NUMBER of a change order, a customer's name, or a month.
    about: String,
    /// The folder to write into, or the PDF's own name.
    #[arg(long)]
    to: PathBuf,
    /// Write over a file of that name; a ledger is never written over.
    #[arg(long)]
    replace: bool,
    /// The estimate of a proposal, as JSON, from a file or from standard input (-); the one that `estimate` begins
    /// with when left out.
    #[arg(long, value_name = "FILE|-")]
    draft: Option<PathBuf>,
    /// The day of a statement; today when left out.
    #[arg(long, value_name = "DATE")]
    on: Option<Date>,
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
pub(crate) fn print(paper: &Paper, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let desk = asker.reading(&paper.file, Act::SeeJobNames)?;
    let document = office::print(&desk, &wanted(&desk, paper)?)?;
    let place = if paper.to.is_dir() { paper.to.join(&document.name) } else { paper.to.clone() };
    document.save(&paper.file, &place, paper.replace)?;
    let printed = Printed { file: place.display().to_string(), bytes: document.bytes.len() };
    asker.answer(&printed, |printed| vec![printed.file.clone()])
}

fn wanted(desk: &Desk, paper: &Paper) -> Result<Wanted, OfficeError> {
    let about = paper.about.clone();
    Ok(match paper.kind {
        Kind::Proposal => {
            let estimate = match &paper.draft {
                Some(draft) => estimate::read(draft)?,
                None => {
                    desk.check(Act::Estimate)?;
                    office::begin(desk, &about, None)?
                }
            };
            Wanted::Proposal { job: about, estimate: Box::new(estimate), chosen: None }
        }
        Kind::SignedProposal => Wanted::SignedProposal { job: about },
        Kind::SiteSheet => Wanted::SiteSheet { job: about },
        Kind::OrderList => Wanted::OrderList { job: about, with_prices: paper.with_prices },
        Kind::ChangeOrder => Wanted::ChangeOrder { id: about },
        Kind::Invoice => Wanted::Invoice { id: about },
        Kind::Statement => Wanted::Statement { customer: about, on: paper.on },
        Kind::Completion => Wanted::Completion { job: about, listing_open: paper.list_open },
        Kind::InsulationReceipt => Wanted::InsulationReceipt { job: about },
        Kind::LeadReceipt => Wanted::LeadReceipt { job: about },
        Kind::MonthPack => {
            let month = Month::parse(&about).map_err(|error| {
                OfficeError::refused("about", &error.to_string(), "Name a month as 2026-10")
            })?;
            Wanted::MonthPack { month }
        }
    })
}
