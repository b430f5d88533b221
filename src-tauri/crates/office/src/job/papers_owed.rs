//! Papers that the law asks for and that the record of a job does not hold.

use crate::job::before_work::pamphlet_missing;
use crate::job::snapshot::JobSnapshot;
use desk::OfficeError;
use ledger::Books;
use ledger::closed_lists::JobStatusWord;
use ledger::facts::InsulationReceipt;
use trade::Item;

/// A paper that is not on record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum PaperOwed {
    /// The pamphlet on lead, with what is wrong with it.
    LeadPamphlet(String),
    /// The receipt for insulation.
    InsulationReceipt,
}

/// What a job owes: the pamphlet once work has begun, the receipt once it is finished.
pub(crate) fn papers_owed(books: Books<'_>, standing: &JobSnapshot) -> Result<Vec<PaperOwed>, OfficeError> {
    let mut owed = Vec::new();
    if standing.begun.is_some()
        && let Some(missing) = pamphlet_missing(books, standing.job)?
    {
        owed.push(PaperOwed::LeadPamphlet(missing));
    }
    let finished = matches!(standing.ended, Some((JobStatusWord::Finished, _)));
    let contract = standing.contract.iter();
    let insulates = contract.flat_map(|held| &held.fact.parts).any(|part| part.item == Item::Insulation);
    if finished && insulates && books.by(InsulationReceipt::job, standing.job)?.is_empty() {
        owed.push(PaperOwed::InsulationReceipt);
    }
    Ok(owed)
}
