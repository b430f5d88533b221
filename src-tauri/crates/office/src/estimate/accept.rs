//! A choice taken: the roof and the contract become facts, together or not at all.

use super::book::DayBook;
use super::draft::{Acceptance, Choice, Estimate};
use super::view::{CalculatedChoice, PartLine};
use crate::job::before_work::before_work;
use crate::job::roof;
use crate::rates::recipe_for_job;
use desk::Desk;
use desk::OfficeError;
use desk::names::{Directory, Names};
use jiff::civil::Date;
use ledger::facts::{
    Attachment, Contract, ContractLine, ContractPart, ContractPlace, ContractUnits, Recipe, Schedule,
    ScheduledPayment, UnitPrice,
};
use ledger::{Digest, Id, NewFact};
use serde::Serialize;
use trade::roof::Line;

/// What was recorded.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Accepted {
    /// The roof's id.
    pub roof: String,
    /// The contract's id.
    pub contract: String,
    /// What is to be settled before work begins.
    pub cautions: Vec<String>,
}

/// Records the accepted choice of an estimate.
///
/// # Errors
/// When the choice has problems, or the books refuse it; nothing is recorded then.
pub fn accept(
    desk: &mut Desk,
    job: &str,
    estimate: &Estimate,
    taken: &Acceptance,
) -> Result<Accepted, OfficeError> {
    record(desk, job, estimate, taken, true)
}

/// As [`accept`], for a proposal that was signed on paper and of which no file is kept.
///
/// # Errors
/// As [`accept`].
pub(crate) fn accept_signed_on_paper(
    desk: &mut Desk,
    job: &str,
    estimate: &Estimate,
    taken: &Acceptance,
) -> Result<Accepted, OfficeError> {
    record(desk, job, estimate, taken, false)
}

fn record(
    desk: &mut Desk,
    job: &str,
    estimate: &Estimate,
    taken: &Acceptance,
    keep: bool,
) -> Result<Accepted, OfficeError> {
    let id = Directory::default().id(desk.books(), "job", "job", job)?;
    let (measured, choices) = super::calculation::priced_on(desk, job, estimate, taken.date)?;
    let letter = |letter: &str| letter.eq_ignore_ascii_case(taken.letter.trim());
    let (Some(choice), Some(figures)) = (
        estimate.choices.iter().find(|choice| letter(&choice.letter)),
        choices.iter().find(|choice| letter(&choice.letter)),
    ) else {
        let known: Vec<&str> = estimate.choices.iter().map(|choice| choice.letter.as_str()).collect();
        let problem = format!("there is no choice {}", taken.letter);
        return Err(OfficeError::refused("letter", &problem, format!("Take one of {}", known.join(", "))));
    };
    if let Some(problem) = figures.problems.first() {
        return Err(OfficeError::refused(&problem.field, &problem.words, "Settle it, then accept"));
    }
    let names = Names::read(desk.books())?;
    let (at, roof_id) = desk.clock.tick();
    let (_, contract_id) = desk.clock.tick();
    // A choice that was never finished was not offered either.
    let finished =
        |letter: &str| choices.iter().any(|other| other.letter == letter && other.problems.is_empty());
    let mut offered = estimate.clone();
    offered.choices.retain(|other| finished(&other.letter));
    let (proposal, paper) = if keep {
        let (hash, paper) = kept_proposal(desk, job, &offered, &choice.letter, taken)?;
        (Some(hash), paper)
    } else {
        (None, None)
    };
    let (_, own_recipe) = desk.clock.tick();
    let (recipe_id, recipe) = kept_recipe(desk, id, own_recipe, choice, taken.date)?;
    let built_on = (roof_id, recipe_id);
    let contract = contract(desk, &names, id, built_on, estimate, choice, figures, (taken, proposal))?;
    let person = desk.person()?;
    let roof = roof::to_fact(&estimate.roof, &measured, estimate.north_deg, id, taken.date);
    let mut batch = Vec::new();
    if let Some(paper) = paper {
        let (_, paper_id) = desk.clock.tick();
        batch.push(NewFact { id: paper_id, person, fact: paper.into() });
    }
    batch.push(NewFact { id: roof_id, person, fact: roof.into() });
    if let Some(recipe) = recipe {
        batch.push(NewFact { id: recipe_id, person, fact: recipe.into() });
    }
    batch.push(NewFact { id: contract_id, person, fact: contract.into() });
    if let Some(begins) = taken.begins {
        let (_, plan_id) = desk.clock.tick();
        let plan = Schedule {
            date: taken.date,
            job: id,
            begins,
            ends: None,
            note: None,
            crew: None,
            crew_days: None,
        };
        batch.push(NewFact { id: plan_id, person, fact: plan.into() });
    }
    desk.append(&batch, at, &mut |_| true)?;
    let cautions = before_work(desk.books(), id)?;
    Ok(Accepted { roof: roof_id.to_string(), contract: contract_id.to_string(), cautions })
}

/// What the choice is built with: the company's recipe that it was begun from, where nothing of it was changed, else
/// one of the job's own, which is recorded with the contract.
fn kept_recipe(
    desk: &Desk,
    job: Id,
    own: Id,
    choice: &Choice,
    date: Date,
) -> Result<(Id, Option<Recipe>), OfficeError> {
    let name = choice.recipe_name.as_deref();
    if let Some(id) = DayBook::read(desk.books(), date)?.recipe_built(name, &choice.recipe) {
        return Ok((id, None));
    }
    let title = name.map_or_else(|| choice.title.clone(), |name| format!("{name}, changed for this job"));
    Ok((own, Some(recipe_for_job(&choice.recipe, &title, job, date))))
}

/// The proposal as it was taken, beside the ledger, and the fact that names it where none does yet: what was signed can
/// be read again when prices and standards have long been others.
fn kept_proposal(
    desk: &Desk,
    job: &str,
    estimate: &Estimate,
    letter: &str,
    taken: &Acceptance,
) -> Result<(Digest, Option<Attachment>), OfficeError> {
    if let Some(hash) = &taken.proposal {
        let hash = Digest::parse(hash);
        return Ok((
            hash.map_err(|problem| OfficeError::refused("proposal", &problem, "Leave it out"))?,
            None,
        ));
    }
    let paper = crate::documents::signed_on(desk, job, estimate, letter, taken.date)?;
    let fact = ledger::attachment::store(
        &desk.path(),
        &paper.bytes,
        "application/pdf",
        Some(&paper.name),
        taken.date,
    )?;
    let known = desk.books().attachment(fact.hash)?.is_some();
    Ok((fact.hash, (!known).then_some(fact)))
}

#[allow(clippy::too_many_arguments)]
fn contract(
    desk: &Desk,
    names: &Names,
    job: Id,
    (roof, recipe): (Id, Id),
    estimate: &Estimate,
    choice: &Choice,
    figures: &CalculatedChoice,
    (taken, proposal): (&Acceptance, Option<Digest>),
) -> Result<Contract, OfficeError> {
    let code = |word: &str| {
        let found = names.codes.iter().find(|(_, code)| code.code == word).map(|(id, _)| *id);
        found.ok_or_else(|| {
            OfficeError::refused("code", &format!("there is no code “{word}”"), "Choose one of the list")
        })
    };
    let mut lines = Vec::new();
    for line in &figures.budget {
        lines.push(ContractLine {
            code: code(&line.code)?,
            cost_kind: line.cost_kind,
            description: None,
            amount: line.amount,
            quantity: line.quantity,
            unit: line.unit.clone(),
            hours: line.hours,
        });
    }
    let mut units = Vec::new();
    for unit in &figures.units {
        units.push(ContractUnits { code: code(&unit.code)?, quantity: unit.quantity });
    }
    let mut directory = Directory::default();
    let mut parts = Vec::new();
    for line in figures.parts.iter().filter(|line| !line.packages.is_zero() || line.part.is_none()) {
        let part =
            line.part.as_deref().map(|name| directory.id(desk.books(), "part", "part", name)).transpose()?;
        parts.push(contracted_part(line, part));
    }
    Ok(Contract {
        date: taken.date,
        job,
        price: figures.price,
        included_sheets: figures.included_sheets,
        included_feet: figures.included_feet,
        retainage: estimate.terms.retainage,
        note: taken.note.clone(),
        choice: Some(choice.letter.clone()),
        choice_title: Some(choice.title.clone()),
        roof: Some(roof),
        sold_at_home: Some(estimate.terms.sold_at_home),
        recipe: Some(recipe),
        proposal,
        lines,
        units,
        unit_prices: estimate
            .terms
            .unit_prices
            .iter()
            .map(|unit| UnitPrice { damaged: unit.damaged, counted_in: unit.counted_in, price: unit.price })
            .collect(),
        payments: figures
            .payments
            .iter()
            .map(|payment| ScheduledPayment { title: payment.title.clone(), amount: payment.amount })
            .collect(),
        parts,
        places: figures.parts.iter().flat_map(|line| &line.places).map(contracted_place).collect(),
    })
}

fn contracted_place(line: &Line) -> ContractPlace {
    ContractPlace { item: line.item, edge: line.place, feature: line.feature, net: line.net }
}

fn contracted_part(line: &PartLine, part: Option<Id>) -> ContractPart {
    let working: Vec<String> = line
        .places
        .iter()
        .flat_map(|place| &place.steps)
        .chain(&line.steps)
        .map(|step| format!("{}: {}", step.words, step.figure))
        .collect();
    let title = if line.title.is_empty() { line.item.label().to_owned() } else { line.title.clone() };
    ContractPart {
        item: line.item,
        part,
        description: title,
        product_line: line.product_line.clone(),
        color: line.color.clone(),
        net: line.net,
        waste: line.waste,
        packages: line.packages,
        cost: line.cost,
        working: (!working.is_empty()).then(|| working.join("; ")),
    }
}
