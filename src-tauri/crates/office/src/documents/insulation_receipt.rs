//! The insulation receipt: what was put in, part of the house by part, to be signed by the installer (16 CFR 460.17).

use super::document::Document;
use super::shared::Heading;
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use ledger::Id;
use ledger::facts::{Contract, InsulatedPart, InsulationReceipt};
use paperwork::papers::{self, Insulated};
use trade::{Item, Qty};

/// The newest insulation receipt of a job.
///
/// # Errors
/// When there is no such job, or none is recorded: the message says what to record, where insulation is part of the
/// job.
pub fn insulation_receipt(desk: &Desk, job: &str) -> Result<Document, OfficeError> {
    let id = Directory::default().id(desk.books(), "job", "job", job)?;
    let heading = Heading::of(desk, id)?;
    let recorded = desk.books().by(InsulationReceipt::job, id)?.into_iter().map(|held| held.fact);
    let Some(receipt) = recorded.max_by_key(|receipt| receipt.date) else {
        return Err(not_recorded(insulates(desk, id)?));
    };
    let paper = papers::InsulationReceipt {
        firm: heading.firm.clone(),
        customer: heading.customer.clone(),
        site: heading.job.site.clone(),
        job: heading.job.title.clone(),
        number: heading.job.number.clone(),
        date: receipt.date,
        installer: receipt.installer,
        parts: receipt.parts.iter().map(insulated).collect(),
        note: receipt.note.unwrap_or_default(),
    };
    heading.document("insulation receipt", paper.render())
}

/// Whether insulation is part of a job's contract.
fn insulates(desk: &Desk, job: Id) -> Result<bool, OfficeError> {
    let contracts = desk.books().by(Contract::job, job)?;
    Ok(contracts.iter().any(|held| held.fact.parts.iter().any(|part| part.item == Item::Insulation)))
}

fn not_recorded(insulates: bool) -> OfficeError {
    if insulates {
        OfficeError::not_found(
            "What was insulated is not recorded yet.",
            "Record the coverage area, thickness and R-value of each part of the house, and of loose fill its settled \
             thickness and bags.",
        )
    } else {
        OfficeError::not_found(
            "No insulation is part of this job's contract, and none is recorded.",
            "Where some was put in all the same, record it part by part.",
        )
    }
}

fn insulated(part: &InsulatedPart) -> Insulated {
    Insulated {
        place: part.place.clone(),
        material: part.material.clone(),
        coverage: part.coverage_sqft,
        thickness: part.thickness_in,
        settled: part.settled_in,
        r_value: part.r_value,
        bags: part.bags.map(Qty::whole),
    }
}
