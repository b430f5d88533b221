//! What is left before a company's first price, its first proposal and its first month end.

use desk::{Desk, OfficeError};
use ledger::closed_lists::Role;
use serde::Serialize;
use std::fmt::Write as _;
use trade::shown::{count_of, in_sentence};
use trade::{BOUGHT_FOR_EVERY_ROOF, Item, Steepness, WORKED_ON_EVERY_ROOF, closed_list};

use crate::file::lists::{Lists, lists};
use crate::rates::{Rates, rates};

/// A thing that a company sets up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum SetUpStep {
    /// The firm's own words for the work.
    Codes,
    /// Who works, and what they are paid.
    People,
    /// Employer's taxes and insurance.
    Burden,
    /// What a roof is built of, and what it costs.
    Parts,
    /// How long the work takes.
    Production,
    /// What code and company ask.
    Standards,
    /// How the company builds.
    Recipe,
    /// Address, telephone and license.
    Letterhead,
    /// What is looked at on every job.
    Checklist,
    /// The names of its accounts.
    Accounts,
}

closed_list!(SetUpStep, "thing to set up", {
    Codes => "codes": "Cost codes",
    People => "people": "People and pay",
    Burden => "burden": "Labor burden",
    Parts => "parts": "Parts and prices",
    Production => "production": "Production rates",
    Standards => "standards": "Code and company standard",
    Recipe => "recipe": "How we build",
    Letterhead => "letterhead": "Letterhead",
    Checklist => "checklist": "Workmanship checklist",
    Accounts => "accounts": "Account names",
});

/// What cannot be right without it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum NeededFor {
    /// The first price of a roof.
    FirstPrice,
    /// The first proposal on paper.
    FirstProposal,
    /// The first job on site.
    FirstJob,
    /// The first month handed over.
    FirstMonth,
}

closed_list!(NeededFor, "what it is needed for", {
    FirstPrice => "first-price": "the first price",
    FirstProposal => "first-proposal": "the first proposal",
    FirstJob => "first-job": "the first job on site",
    FirstMonth => "first-month": "the first hand-off",
});

/// A line of the list.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SetUpLine {
    /// Which.
    pub step: SetUpStep,
    /// In words.
    pub title: String,
    /// What it is needed for.
    pub needed_for: NeededFor,
    /// That in words.
    pub needed: String,
    /// Whether enough of it is there.
    pub done: bool,
    /// What is there, and what is not: a sentence or two.
    pub says: String,
}

/// What a company has set up, and what is left.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SetUp {
    /// Each thing, in the order in which they rest on each other.
    pub lines: Vec<SetUpLine>,
    /// How many are left before the first price.
    pub before_price: usize,
    /// How many are left in all.
    pub left: usize,
}

/// What is left before the first price, and after it.
///
/// # Errors
/// When the facts cannot be read.
pub fn set_up(desk: &Desk) -> Result<SetUp, OfficeError> {
    let (lists, rates) = (lists(desk)?, rates(desk, desk.clock.today())?);
    let lines: Vec<SetUpLine> = SetUpStep::ALL.iter().map(|step| line(*step, &lists, &rates)).collect();
    let left = |first_price: bool| {
        let wanted =
            |line: &&SetUpLine| !line.done && (!first_price || line.needed_for == NeededFor::FirstPrice);
        lines.iter().filter(wanted).count()
    };
    Ok(SetUp { before_price: left(true), left: left(false), lines })
}

fn line(step: SetUpStep, lists: &Lists, rates: &Rates) -> SetUpLine {
    let (needed_for, (done, says)) = match step {
        SetUpStep::Codes => (NeededFor::FirstPrice, codes(lists)),
        SetUpStep::People => (NeededFor::FirstPrice, people(lists)),
        SetUpStep::Burden => (NeededFor::FirstPrice, burden(lists)),
        SetUpStep::Parts => (NeededFor::FirstPrice, parts(rates)),
        SetUpStep::Production => (NeededFor::FirstPrice, production(rates)),
        SetUpStep::Standards => (NeededFor::FirstPrice, standards(rates)),
        SetUpStep::Recipe => (NeededFor::FirstProposal, recipe(rates)),
        SetUpStep::Letterhead => (NeededFor::FirstProposal, letterhead(lists)),
        SetUpStep::Checklist => (NeededFor::FirstJob, checklist(rates)),
        SetUpStep::Accounts => (NeededFor::FirstMonth, accounts(lists)),
    };
    let (title, needed) = (step.label().to_owned(), needed_for.label().to_owned());
    SetUpLine { step, title, needed_for, needed, done, says }
}

/// Whether enough is there, and what to say of it.
type Filled = (bool, String);

fn codes(lists: &Lists) -> Filled {
    match lists.codes.len() {
        0 => (false, "No code yet: hours, parts and bills are charged to them.".to_owned()),
        count => (true, format!("{}.", count_of(count, "code"))),
    }
}

fn people(lists: &Lists) -> Filled {
    let working = || lists.people.iter().filter(|person| person.left_on.is_none());
    let paid = working().filter(|person| person.crew.is_some() && person.hourly.is_some()).count();
    let unpaid: Vec<&str> = working()
        .filter(|person| person.role == Role::Crew && person.hourly.is_none())
        .map(|person| person.name.as_str())
        .collect();
    if !unpaid.is_empty() {
        return (false, format!("No pay yet for {}: their hours cost nothing.", unpaid.join(", ")));
    }
    match paid {
        0 => (false, "Nobody on a crew has pay yet: an hour of work costs nothing.".to_owned()),
        count => (true, format!("Pay for {count} on {}.", count_of(lists.crews.len(), "crew"))),
    }
}

fn burden(lists: &Lists) -> Filled {
    match lists.burden.len() {
        0 => (false, "No tax or insurance on pay yet: an hour costs more than its pay.".to_owned()),
        count => (true, format!("{}.", count_of(count, "rate"))),
    }
}

fn parts(rates: &Rates) -> Filled {
    let offered = || rates.parts.iter().filter(|part| !part.retired);
    let has = |item: &Item, priced: bool| {
        offered().any(|part| part.item == *item && (!priced || part.best.is_some()))
    };
    let without: Vec<&Item> = BOUGHT_FOR_EVERY_ROOF.iter().filter(|item| !has(item, false)).collect();
    if !without.is_empty() {
        return (false, format!("No part yet for {}.", items(&without)));
    }
    let unpriced: Vec<&Item> = BOUGHT_FOR_EVERY_ROOF.iter().filter(|item| !has(item, true)).collect();
    if !unpriced.is_empty() {
        return (false, format!("No price yet for {}.", items(&unpriced)));
    }
    let (count, open) = (offered().count(), offered().filter(|part| part.best.is_none()).count());
    let mut says = format!("{}.", count_of(count, "part"));
    if open > 0 {
        let _ = write!(says, " {open} of them without a price.");
    }
    (
        true,
        says + &still_usual(
            offered().filter(|part| part.usual).count(),
            "covers what is usual",
            "cover what is usual",
        ),
    )
}

fn production(rates: &Rates) -> Filled {
    let has = |item: &Item| {
        rates.production.iter().any(|row| row.item == *item && row.steepness == Steepness::Walkable)
    };
    let without: Vec<&Item> = WORKED_ON_EVERY_ROOF.iter().filter(|item| !has(item)).collect();
    if !without.is_empty() {
        return (false, format!("No hours yet for {}.", items(&without)));
    }
    let usual = rates.production.iter().filter(|row| row.usual).count();
    let says = format!("{}.", count_of(rates.production.len(), "rate"));
    (true, says + &still_usual(usual, "is a usual value", "are usual values"))
}

/// What most firms begin with, and nobody has said yet that it is so here.
fn still_usual(count: usize, one: &str, several: &str) -> String {
    match count {
        0 => String::new(),
        1 => format!(" 1 of them {one}, to be checked."),
        _ => format!(" {count} of them {several}, to be checked against your own."),
    }
}

fn standards(rates: &Rates) -> Filled {
    let code = rates.standards.iter().filter(|row| row.code.is_some()).count();
    let company = rates.standards.iter().filter(|row| row.company.is_some()).count();
    if code == 0 {
        return (false, "Nothing is asked by code or company yet: no membrane is taken off.".to_owned());
    }
    (true, format!("{} by the code, {company} by the company.", count_of(code, "point")))
}

fn recipe(rates: &Rates) -> Filled {
    match rates.recipes.iter().find(|recipe| recipe.usual) {
        Some(recipe) => (true, format!("Estimates begin from “{}”.", recipe.name)),
        None => (false, "Estimates begin from common practice until you say how you build.".to_owned()),
    }
}

fn letterhead(lists: &Lists) -> Filled {
    let firm = &lists.firm;
    let missing: Vec<&str> = [("street", &firm.street), ("ZIP code", &firm.zip), ("telephone", &firm.phone)]
        .into_iter()
        .filter(|(_, has)| has.is_none())
        .map(|(word, _)| word)
        .collect();
    if missing.is_empty() {
        return (true, "Every paper has the address and the telephone.".to_owned());
    }
    (false, format!("Not entered: {}. A sale at home needs the street (16 CFR 429.1).", missing.join(", ")))
}

fn checklist(rates: &Rates) -> Filled {
    match rates.check_points.iter().filter(|point| !point.retired).count() {
        0 => (false, "No point is looked at yet.".to_owned()),
        count => (true, format!("{}.", count_of(count, "point"))),
    }
}

fn accounts(lists: &Lists) -> Filled {
    let unnamed = lists.accounts.iter().filter(|account| account.name.is_none()).count();
    if lists.overhead.is_empty() {
        return (false, "No account for what the firm costs beside its jobs.".to_owned());
    }
    match unnamed {
        0 => (true, "Every line of the journal has a name of yours.".to_owned()),
        count => (false, format!("{} of the journal without a name of yours.", count_of(count, "line"))),
    }
}

fn items(items: &[&Item]) -> String {
    items.iter().map(|item| in_sentence(item.label())).collect::<Vec<_>>().join(", ")
}
