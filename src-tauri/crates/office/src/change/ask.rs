//! Drawing up what is put before the homeowner: how it is priced, what is deducted, what it does to the end date, and
//! what happens if it is left.

use crate::change::allowance::further_price;
use crate::change::damage::unit_price;
use crate::job::snapshot::{ConditionAtMonth, JobSnapshot};
use crate::phrase::damage;
use desk::Act;
use desk::Desk;
use desk::OfficeError;
use desk::numbering::Numbering;
use desk::working_month::working_month;
use ledger::closed_lists::{Cause, Damaged, Pricing, Role};
use ledger::facts::{ChangeLine, ChangeOrder, CostCode, Part};
use ledger::{Books, Fact, Id};
use serde::{Deserialize, Serialize};
use trade::roof::Item;
use trade::shown::in_sentence;
use trade::{CostKind, Money, Rate};

/// Work that is deducted, and is credited.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Deduct {
    /// What is deducted.
    pub description: String,
    /// What the homeowner is credited, typed above zero.
    pub credit: Money,
}

/// How a condition is to be put before the homeowner.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Asking {
    /// How it is priced.
    pub pricing: Pricing,
    /// Lump sum: the price. Time and material: what it is expected to come to; the most where it is left out.
    #[serde(default)]
    pub price: Option<Money>,
    /// Time and material: the markup, as a fraction.
    #[serde(default)]
    pub markup: Option<Rate>,
    /// Time and material: the most that it may come to.
    #[serde(default)]
    pub not_to_exceed: Option<Money>,
    /// What is deducted with it.
    #[serde(default)]
    pub deducts: Vec<Deduct>,
    /// Days by which the end moves.
    #[serde(default)]
    #[cfg_attr(feature = "ts", ts(type = "number | null"))]
    pub days: Option<i64>,
    /// What happens if it is left.
    #[serde(default)]
    pub if_left: Option<String>,
}

/// How a condition would usually be put: at the contract's unit price where it has one, else by time and material,
/// with the usual words of what happens if it is left.
///
/// # Errors
/// When there is no such condition.
pub fn asking(desk: &Desk, condition: Id) -> Result<Asking, OfficeError> {
    with_condition(desk, condition, |standing, found| {
        let contract = standing.contract.as_ref().map(|held| &held.fact);
        let named = unit_price(contract, found.condition.damaged, found.condition.counted_in);
        Ok(Asking {
            pricing: if named.is_some() { Pricing::UnitPrice } else { Pricing::TimeAndMaterial },
            price: None,
            markup: None,
            not_to_exceed: None,
            deducts: Vec::new(),
            days: None,
            if_left: Some(if_left(found.condition.cause, found.condition.damaged)),
        })
    })
}

/// The change order for a condition, ready to be recorded and put before the homeowner.
///
/// # Errors
/// Names the field: the condition of which nothing is beyond, a price that is missing, the most that is below the
/// price.
pub fn ask(desk: &Desk, condition: Id, asking: &Asking) -> Result<ChangeOrder, OfficeError> {
    if asking.pricing != Pricing::UnitPrice || !asking.deducts.is_empty() {
        desk.check(Act::PriceChange)?;
    }
    let usual = usual_repair_code(desk.books())?;
    with_condition(desk, condition, |standing, found| {
        if !found.used.beyond.is_positive() {
            return Err(OfficeError::refused(
                "condition",
                "the included sheets cover all of it",
                "Repair it; the homeowner owes nothing more",
            ));
        }
        if asking.days.is_some_and(|days| !(-365..=365).contains(&days)) {
            return Err(OfficeError::refused("days", "it is over a year", "Type working days, such as 1"));
        }
        let Some(code) = code_of_repair(standing, found.id, usual) else {
            return Err(OfficeError::not_found("There are no cost codes yet.", "Make them under Rates."));
        };
        let mut lines = vec![line_of(standing, found, code, asking)?];
        for (index, deduct) in asking.deducts.iter().enumerate() {
            lines.push(deduct_line(standing, found, code, deduct, index)?);
        }
        // A copy for the site holds neither cost nor margin: the office fills it in when the order comes.
        if desk::device::role(desk.books())? == Some(Role::Crew) {
            lines.iter_mut().for_each(|line| line.cost = None);
        }
        let numbering = Numbering::read(desk.books())?;
        let is_by_time = asking.pricing == Pricing::TimeAndMaterial;
        let side = found.condition.side.as_ref().map(|side| format!(", {side}")).unwrap_or_default();
        let place = in_sentence(found.condition.place.label());
        Ok(ChangeOrder {
            date: desk.clock.today(),
            job: found.condition.job,
            number: numbering.next(standing.changes.iter().map(|change| change.order.number.as_str())),
            title: format!("Condition {}: {place}{side}", found.condition.number),
            pricing: asking.pricing,
            markup: asking.markup.filter(|_| is_by_time),
            not_to_exceed: asking.not_to_exceed.filter(|_| is_by_time),
            days: asking.days,
            if_left: asking
                .if_left
                .as_deref()
                .map(str::trim)
                .filter(|text| !text.is_empty())
                .map(str::to_owned),
            lines,
        })
    })
}

/// The code that a condition's repair goes to: the one that it was asked for under, else the usual one.
pub(crate) fn code_of_repair(standing: &JobSnapshot, condition: Id, usual: Option<Id>) -> Option<Id> {
    let mut lines = standing.changes.iter().flat_map(|change| &change.order.lines);
    lines.find(|line| line.condition == Some(condition)).map(|line| line.code).or(usual)
}

/// The code that repairs usually go to: that of the firm's deck sheets, else its first one.
pub(crate) fn usual_repair_code(books: Books<'_>) -> Result<Option<Id>, OfficeError> {
    let parts = books.current(|part: &Part| part.revises)?;
    let sheets = parts.into_values().filter(|part| part.item == Item::DeckSheet);
    let Some(deck) = sheets.min_by_key(|part| part.retired) else {
        return Ok(books.current(|code: &CostCode| code.revises)?.into_keys().next());
    };
    Ok(Some(deck.code))
}

fn with_condition<T>(
    desk: &Desk,
    condition: Id,
    work: impl FnOnce(&JobSnapshot, &ConditionAtMonth) -> Result<T, OfficeError>,
) -> Result<T, OfficeError> {
    desk.books().in_one_read(|books| {
        let missing =
            || OfficeError::not_found("There is no such condition.", "Choose one of the job's conditions.");
        let Some(Fact::Condition(fact)) = books.fact(condition)?.map(|held| held.fact) else {
            return Err(missing());
        };
        let calendar = books.calendar()?;
        let standing = JobSnapshot::gather(books, &calendar, fact.job, working_month(desk, &calendar))?;
        let found = standing.conditions.iter().find(|other| other.id == condition).ok_or_else(missing)?;
        work(&standing, found)
    })
}

/// The line that repairs the condition.
fn line_of(
    standing: &JobSnapshot,
    found: &ConditionAtMonth,
    code: Id,
    asking: &Asking,
) -> Result<ChangeLine, OfficeError> {
    let condition = &found.condition;
    let (price, cost) = match asking.pricing {
        Pricing::UnitPrice => {
            let contract = standing.contract.as_ref().map(|held| &held.fact);
            let Some(named) = unit_price(contract, condition.damaged, condition.counted_in) else {
                return Err(OfficeError::refused(
                    "pricing",
                    &format!(
                        "the contract has no unit price for {} by the {}",
                        condition.damaged, condition.counted_in
                    ),
                    "Ask at a lump sum or by time and material",
                ));
            };
            let price = further_price(named, found.used.beyond)?;
            (price, expected_cost(standing, price))
        }
        Pricing::LumpSum => {
            let price = positive("price", asking.price, "Type the sum that the homeowner is asked for")?;
            (price, expected_cost(standing, price))
        }
        Pricing::TimeAndMaterial => by_time(asking)?,
    };
    let side = condition.side.as_ref().map(|side| format!(", {side}")).unwrap_or_default();
    let what = damage(found.used.beyond, condition.damaged, condition.counted_in);
    Ok(ChangeLine {
        code,
        cost_kind: CostKind::Other,
        condition: Some(found.id),
        description: format!("{what} at the {}{side}", in_sentence(condition.place.label())),
        quantity: Some(found.used.beyond),
        unit: Some(condition.counted_in.to_string()),
        price,
        cost: Some(cost),
        hours: None,
    })
}

/// By time and material: what it is expected to come to, and the cost that this price is the markup on.
fn by_time(asking: &Asking) -> Result<(Money, Money), OfficeError> {
    let Some(markup) = asking.markup else {
        return Err(OfficeError::refused(
            "markup",
            "it is missing",
            "Type the markup: for 20 % type 0.2, for none 0",
        ));
    };
    if markup.is_negative() {
        return Err(OfficeError::refused("markup", "it is below zero", "Type 0 or more"));
    }
    let expected = asking.price.or(asking.not_to_exceed);
    let price =
        positive("not_to_exceed", expected, "Type the most that it may come to, or what is expected")?;
    if let Some(most) = asking.not_to_exceed
        && price > most
    {
        return Err(OfficeError::refused(
            "not_to_exceed",
            &format!("{} is below the {} that is expected", most.grouped(), price.grouped()),
            "Raise the most, or lower what is expected",
        ));
    }
    let cost = trade::cost_at_markup(price, markup)
        .map_err(|error| OfficeError::refused("markup", &error.to_string(), "Type 0 or more"))?;
    Ok((price, cost))
}

fn positive(field: &str, amount: Option<Money>, remedy: &str) -> Result<Money, OfficeError> {
    match amount {
        Some(amount) if amount.is_positive() => Ok(amount),
        Some(amount) => {
            Err(OfficeError::refused(field, &format!("{} is not above zero", amount.grouped()), remedy))
        }
        None => Err(OfficeError::refused(field, "it is missing", remedy)),
    }
}

/// A line that credits work that is deducted, with the cost that is saved by it.
fn deduct_line(
    standing: &JobSnapshot,
    found: &ConditionAtMonth,
    code: Id,
    deduct: &Deduct,
    index: usize,
) -> Result<ChangeLine, OfficeError> {
    let field = |name: &str| format!("deducts[{index}].{name}");
    if deduct.description.trim().is_empty() {
        return Err(OfficeError::refused(field("description"), "it is empty", "Say what is deducted"));
    }
    let credit = positive(&field("credit"), Some(deduct.credit), "Type what the homeowner is credited")?;
    Ok(ChangeLine {
        code,
        cost_kind: CostKind::Other,
        condition: Some(found.id),
        description: deduct.description.trim().to_owned(),
        quantity: None,
        unit: None,
        price: -credit,
        cost: Some(-expected_cost(standing, credit)),
        hours: None,
    })
}

/// What the work should cost, by the margin that the job was sold at.
pub(crate) fn expected_cost(standing: &JobSnapshot, price: Money) -> Money {
    let sold: Money = standing.codes.values().map(|code| code.budget() - code.changed).sum();
    trade::cost_at_margin_sold(price, standing.money.price, sold)
}

/// What happens if damage is left, by its cause and by what it has got at. The usual words; they may be typed over.
#[must_use]
pub fn if_left(cause: Cause, damaged: Damaged) -> String {
    let cause = match cause {
        Cause::MissingKickOut => "Water may still run down behind the wall’s cladding where the eave ends.",
        Cause::FailedFlashing => "Water may still get in at the flashing when it rains.",
        Cause::IceDam => "Water that stands behind ice at the eave may get in at the same place.",
        Cause::Condensation => "Damp air from the house may go on wetting the wood from below.",
        Cause::Puncture => "Water may get in through the hole when it rains.",
        Cause::OldLeak => "The wood stays weak where the old leak was, whether or not more water comes.",
        Cause::Other | Cause::NotSaid => "What was found stays as it is.",
    };
    let damaged = match damaged {
        Damaged::DeckSheet | Damaged::DeckBoard => {
            "Nails hold badly in rotted deck: shingles on it may lift in wind, and a foot may go through."
        }
        Damaged::Rafter => {
            "A rotted rafter carries less than a sound one: the roof may sag there, and snow may be too much."
        }
        Damaged::WallSheathing => "The rot may go on in the wall and reach the framing and the rooms.",
        Damaged::Framing => {
            "Rotted framing carries less than sound framing, and what is repaired above it may move again."
        }
        Damaged::Insulation => "Wet insulation may keep the wood around it wet, and keeps less heat in.",
        Damaged::Fascia | Damaged::Soffit | Damaged::Trim => {
            "Rotted boards hold gutters and drip edge badly, and let water and animals in behind them."
        }
        Damaged::HiddenLayer => {
            "Shingles over an old layer lie unevenly, nails hold less, and nobody sees the deck under it."
        }
    };
    format!("{cause} {damaged}")
}

/// What follows when the repair is declined: nothing is laid over a deck that is not sound, nor over what cannot carry
/// one ([`trade::work_stops`]).
#[must_use]
pub fn if_declined(bears_the_roof: bool) -> String {
    let words = if bears_the_roof {
        "Shingles go on a solid, sound deck alone (IRC R908.3; check your local code), so nothing is laid over this as \
         it is: work stops at this place until it is repaired."
    } else {
        "It stays as it is, and the firm cannot answer for what fails because of it."
    };
    words.to_owned()
}

/// How a change order is priced, for the homeowner.
#[must_use]
pub(crate) fn pricing_in_words(order: &ChangeOrder) -> String {
    match order.pricing {
        Pricing::UnitPrice => "At the price of one that your contract names.".to_owned(),
        Pricing::LumpSum => "Lump sum, whatever it takes.".to_owned(),
        Pricing::TimeAndMaterial => {
            let markup = trade::shown::percent(order.markup.unwrap_or_default().decimal());
            let most = order
                .not_to_exceed
                .map_or_else(String::new, |most| format!(", not to exceed {}", most.grouped()));
            format!("By time and material: what it really costs and {markup} % on it{most}.")
        }
    }
}

/// A change order drawn up for a condition at the contract's unit price, ready to be put to the homeowner.
///
/// # Errors
/// When there is no such condition, nothing of it is beyond the included sheets, or the contract has no unit price
/// for it.
pub fn ask_for(desk: &Desk, condition: Id) -> Result<ChangeOrder, OfficeError> {
    ask(desk, condition, &Asking { pricing: Pricing::UnitPrice, ..asking(desk, condition)? })
}
