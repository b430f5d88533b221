//! The colors of a job's parts: as contracted, as chosen since, and which are open. What is open cannot be ordered.

use desk::OfficeError;
use ledger::facts::{ColorChoice, Contract, Part};
use ledger::{Books, Id};
use std::collections::BTreeMap;

/// A part of the contract that comes in colors.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct ColoredPart {
    pub(crate) part: Id,
    pub(crate) title: String,
    pub(crate) product_line: Option<String>,
    /// The color that holds.
    pub(crate) color: Option<String>,
    /// The colors it comes in.
    pub(crate) offered: Vec<String>,
}

impl ColoredPart {
    /// Whether it cannot be ordered yet.
    pub(crate) fn is_open(&self) -> bool {
        self.color.is_none() && !self.offered.is_empty()
    }
}

/// The parts of a contract that have a color, or a choice of them. The choices stand in the order in which they were
/// made.
pub(crate) fn colored_parts(
    books: Books<'_>,
    contract: &Contract,
    choices: &[ColorChoice],
) -> Result<Vec<ColoredPart>, OfficeError> {
    if contract.parts.iter().all(|part| part.part.is_none()) {
        return Ok(Vec::new());
    }
    let parts: BTreeMap<Id, Part> = books.current(|part: &Part| part.revises)?;
    let colored = contract.parts.iter().filter_map(|contracted| {
        let part = contracted.part?;
        let offered = parts.get(&part).map(|part| &part.colors).into_iter().flatten();
        let chosen = choices.iter().rev().find(|chosen| chosen.part == part);
        Some(ColoredPart {
            part,
            title: contracted.description.clone(),
            product_line: contracted.product_line.clone(),
            color: chosen.map(|chosen| chosen.color.clone()).or_else(|| contracted.color.clone()),
            offered: offered.map(|color| color.color.clone()).collect(),
        })
    });
    Ok(colored.filter(|part| part.color.is_some() || !part.offered.is_empty()).collect())
}
