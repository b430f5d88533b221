//! An estimate begun, and worked out anew from the draft and the rates of a day.

use super::book::DayBook;
use super::costs::{Ground, calculate_choice};
use super::draft::Estimate;
use super::view::{Calculated, CalculatedChoice, Problem};
use super::{advice, compare, sensitive, unit_price};
use crate::job::roof::measured_roof;
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use jiff::civil::Date;
use ledger::facts::Job;
use trade::Origin;
use trade::roof::{Asked, Measured, Roof, Setting, measure};

/// The estimate with which a job begins: from its last measured roof if there is one, else an empty one; built by the
/// company's recipe of this name, or by its usual one.
///
/// # Errors
/// When there is no such job, or no such recipe on offer.
pub fn begin(desk: &Desk, job: &str, recipe: Option<&str>) -> Result<Estimate, OfficeError> {
    let today = desk.clock.today();
    desk.books().in_one_read(|books| {
        let id = Directory::default().id(books, "job", "job", job)?;
        let book = DayBook::read(books, today)?;
        let mut estimate = super::begin::new_estimate(books, &book, recipe)?;
        if let Some((roof, north_deg)) = measured_roof(books, id)? {
            estimate.roof = roof;
            estimate.north_deg = north_deg;
        }
        Ok(estimate)
    })
}

/// Works an estimate out, as of today.
///
/// # Errors
/// When there is no such job, or the facts cannot be read. What is wrong with the estimate itself stands in its
/// problems.
pub fn calculate(desk: &Desk, job: &str, estimate: &Estimate) -> Result<Calculated, OfficeError> {
    calculate_on(desk, job, estimate, desk.clock.today())
}

/// Works an estimate out with the rates of a day.
pub(crate) fn calculate_on(
    desk: &Desk,
    job: &str,
    estimate: &Estimate,
    day: Date,
) -> Result<Calculated, OfficeError> {
    desk.books().in_one_read(|books| {
        let id = Directory::default().id(books, "job", "job", job)?;
        let crew = books.newest::<Job>(id)?.and_then(|job| job.crew);
        let book = DayBook::read(books, day)?;
        let (measured, problems) = measured(&estimate.roof);
        let advice = advice::advice(books, id, measured.as_ref(), day)?;
        let cancel_by = estimate.terms.sold_at_home.then(|| trade::cancel_by(day));
        let mut calculated = Calculated {
            measured: None,
            problems,
            choices: Vec::new(),
            compared: Vec::new(),
            differences: Vec::new(),
            unit_prices: Vec::new(),
            advice,
            cautions: Vec::new(),
            cancel_by,
        };
        let Some(measured) = measured else { return Ok(calculated) };
        let ground = Ground { book: &book, estimate, measured: &measured, crew };
        let settings = book.settings();
        calculated.choices = priced(&ground, &settings)?;
        for (choice, priced) in estimate.choices.iter().zip(&mut calculated.choices) {
            priced.sensitivity = sensitive::cases(&ground, choice, priced);
        }
        calculated.unit_prices = unit_price::offered(&ground, &calculated.choices);
        calculated.compared = compare::side_by_side(&calculated.choices);
        let company = estimate.choices.iter().find(|choice| choice.standard == Origin::Company);
        if let Some(choice) = company.or(estimate.choices.first()) {
            calculated.differences = compare::differences(&ground, choice, &settings);
            calculated.cautions = ground.takeoff(choice, &Asked::from(&settings, choice.standard)).cautions;
        }
        calculated.measured = Some(measured);
        Ok(calculated)
    })
}

/// The roof's measures and the price of each choice on a day, without what else is told of them.
///
/// # Errors
/// Also when the roof is none.
pub(super) fn priced_on(
    desk: &Desk,
    job: &str,
    estimate: &Estimate,
    day: Date,
) -> Result<(Measured, Vec<CalculatedChoice>), OfficeError> {
    desk.books().in_one_read(|books| {
        let id = Directory::default().id(books, "job", "job", job)?;
        let crew = books.newest::<Job>(id)?.and_then(|job| job.crew);
        let book = DayBook::read(books, day)?;
        let (measured, problems) = measured(&estimate.roof);
        let Some(measured) = measured else {
            let said = problems.first().map(Problem::said).unwrap_or_default();
            return Err(OfficeError::refused("roof", &said, "Correct the roof's measures, then accept"));
        };
        let choices = priced(&Ground { book: &book, estimate, measured: &measured, crew }, &book.settings())?;
        Ok((measured, choices))
    })
}

fn priced(ground: &Ground<'_>, settings: &[Setting]) -> Result<Vec<CalculatedChoice>, OfficeError> {
    let choices = ground.estimate.choices.iter();
    choices.map(|choice| calculate_choice(ground, choice, &Asked::from(settings, choice.standard))).collect()
}

/// The measures of a roof, or why it is none.
fn measured(roof: &Roof) -> (Option<Measured>, Vec<Problem>) {
    match measure(roof) {
        Ok(measured) => (Some(measured), Vec::new()),
        Err(problems) => {
            let problems = problems.into_iter().map(|problem| Problem {
                field: "roof".to_owned(),
                words: problem.fault.to_string(),
                edge: problem.edge,
                section: problem.section,
            });
            (None, problems.collect())
        }
    }
}

/// What code and company standard ask on a day.
pub(crate) fn asked_on(desk: &Desk, day: Date) -> Result<Vec<Setting>, OfficeError> {
    Ok(DayBook::read(desk.books(), day)?.settings())
}
