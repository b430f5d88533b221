//! How the figures of hidden conditions come about: what they used, cost and brought.

use super::figure::{Figure, MeasuredIn};
use super::gather::{JobFacts, money, quantity};
use super::working::{FactLine, Term, Working};
use crate::job::page::Spent;
use crate::job::snapshot::{ChangeAtMonth, ChangeState, ConditionAtMonth};
use ledger::Id;
use ledger::closed_lists::{CountedIn, Damaged};
use ledger::totals::ConditionTotals;
use rust_decimal::Decimal;
use std::collections::BTreeSet;
use trade::shown::in_sentence;
use trade::{BilledAs, CostKind, Money, Qty, Rounding};

/// A part of what a condition cost on a code, as the ledger keeps it apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Part {
    Material,
    Labor,
    Subcontract,
    Rest,
    /// Of the material, what is counted in the unit that it is bought in.
    Counted,
}

/// The parts that make up the whole cost.
const WHOLE: [Part; 4] = [Part::Material, Part::Labor, Part::Subcontract, Part::Rest];

impl Part {
    /// The part of a kind of cost.
    fn of_kind(kind: CostKind) -> Part {
        match kind {
            CostKind::Material => Part::Material,
            CostKind::Labor => Part::Labor,
            CostKind::Subcontract => Part::Subcontract,
            CostKind::Equipment | CostKind::Disposal | CostKind::Permit | CostKind::Other => Part::Rest,
        }
    }

    /// Whether a line of cost belongs to it.
    pub(crate) fn holds(self, spent: &Spent) -> bool {
        match self {
            Part::Counted => spent.counted.is_some(),
            part => Part::of_kind(spent.line.cost_kind) == part,
        }
    }

    /// Whether a line of the contract belongs to it, but for what is counted.
    pub(crate) fn holds_kind(self, kind: CostKind) -> bool {
        Part::of_kind(kind) == self
    }

    fn amount(self, totals: &ConditionTotals) -> Money {
        match self {
            Part::Material => totals.material,
            Part::Labor => totals.labor,
            Part::Subcontract => totals.subcontract,
            Part::Rest => totals.rest,
            Part::Counted => totals.counted,
        }
    }

    pub(crate) const fn word(self) -> &'static str {
        match self {
            Part::Material => "material",
            Part::Labor => "labor",
            Part::Subcontract => "subcontract",
            Part::Rest => "equipment, disposal and other",
            Part::Counted => "counted material",
        }
    }
}

fn name(condition: &ConditionAtMonth) -> String {
    format!("condition {}", condition.condition.number)
}

/// The facts that say how much of a condition there is.
fn count_of(job: &JobFacts, at: usize) -> Option<FactLine> {
    let condition = &job.standing.conditions.get(at)?.condition;
    Some(FactLine {
        source: job.page.conditions.get(at).map(|view| view.source.clone()),
        date: Some(condition.date),
        text: format!("condition {}: {}", condition.number, in_sentence(condition.damaged.label())),
        amount: condition.count.decimal(),
    })
}

/// What the contract includes of a kind of damage.
fn included(job: &JobFacts, condition: &ConditionAtMonth) -> Option<Qty> {
    let contract = &job.standing.contract.as_ref()?.fact;
    match (condition.condition.damaged, condition.condition.counted_in) {
        (Damaged::DeckSheet, CountedIn::Sheet) => Some(contract.included_sheets),
        (Damaged::DeckBoard, CountedIn::Foot) => Some(contract.included_feet),
        _ => None,
    }
}

/// How much of a condition the price covers, and how much lies beyond.
fn use_of(job: &JobFacts, at: usize) -> (Term, Term) {
    let count = || Term::facts("counted", MeasuredIn::Count, count_of(job, at).into_iter().collect());
    let own = &job.standing.conditions[at];
    let (Some(included), Some(contract)) = (included(job, own), &job.standing.contract) else {
        return (Term::rule("covered", MeasuredIn::Count, Decimal::ZERO), count().called("beyond"));
    };
    let same_kind = |other: &ConditionAtMonth| {
        (other.condition.damaged, other.condition.counted_in)
            == (own.condition.damaged, own.condition.counted_in)
    };
    let earlier = (0..at).filter(|at| same_kind(&job.standing.conditions[*at]));
    let earlier: Vec<FactLine> = earlier.filter_map(|at| count_of(job, at)).collect();
    let line = job.line(contract, contract.fact.date, "contract: included in the price", included.decimal());
    let mut left = vec![Term::facts("included in the price", MeasuredIn::Count, vec![line])];
    if !earlier.is_empty() {
        left.push(Term::facts("found before it", MeasuredIn::Count, earlier).less());
    }
    let left = Term::working("left", MeasuredIn::Count, Working::above_zero("left", MeasuredIn::Count, left));
    let covered = Term::working("covered", MeasuredIn::Count, Working::smaller(vec![count(), left]));
    let beyond = Working::sum(vec![count(), covered.clone().less()]);
    (covered, Term::working("beyond", MeasuredIn::Count, beyond))
}

/// What a condition cost on a code beyond the included sheets, of one part.
fn part_beyond(job: &JobFacts, at: usize, code: Id, part: Part) -> Term {
    let condition = &job.standing.conditions[at];
    let facts = job.spent_facts(|spent| {
        spent.condition == Some(condition.id) && spent.code == code && part.holds(spent)
    });
    let cost = Term::facts("cost", MeasuredIn::Money, facts);
    let label = format!("{}, {}", job.names.code(code), part.word());
    if !condition.used.covered.is_positive() {
        return cost.called(&label);
    }
    let (covered, beyond) = use_of(job, at);
    Term::working(&label, MeasuredIn::Money, Working::share(2, vec![cost, covered, beyond]))
}

/// What a condition cost beyond the included sheets.
fn spent_of(job: &JobFacts, at: usize) -> Term {
    let condition = &job.standing.conditions[at];
    let mut parts = Vec::new();
    for (code, totals) in &condition.totals {
        let whole = WHOLE.into_iter().filter(|part| !part.amount(totals).is_zero());
        parts.extend(whole.map(|part| part_beyond(job, at, *code, part)));
    }
    Term::working(&name(condition), MeasuredIn::Money, Working::sum(parts))
}

/// What hidden conditions cost beyond the included sheets.
pub(crate) fn spent(job: &JobFacts) -> Working {
    Working::sum((0..job.standing.conditions.len()).map(|at| spent_of(job, at)).collect())
}

/// The same of one code and part, condition by condition.
pub(crate) fn beyond(job: &JobFacts, code: Id, part: Part) -> Vec<Term> {
    let conditions = job.standing.conditions.iter().enumerate();
    conditions
        .filter(|(_, condition)| {
            condition.totals.get(&code).is_some_and(|totals| !part.amount(totals).is_zero())
        })
        .map(|(at, condition)| part_beyond(job, at, code, part).called(&name(condition)))
        .collect()
}

/// The hours on a code, or the material counted on it, that went to conditions beyond the included sheets.
fn amount_beyond(
    job: &JobFacts,
    measure: MeasuredIn,
    has: impl Fn(&ConditionAtMonth) -> bool,
    facts: impl Fn(Id) -> Vec<FactLine>,
) -> Vec<Term> {
    let conditions = job.standing.conditions.iter().enumerate().filter(|(_, condition)| has(condition));
    conditions
        .map(|(at, condition)| {
            let whole = Term::facts("for it", measure, facts(condition.id));
            let used = condition.used;
            if used.covered.is_zero() || (used.covered + used.beyond).is_zero() {
                return whole.called(&name(condition));
            }
            let (covered, beyond) = use_of(job, at);
            let count =
                Term::working("counted", MeasuredIn::Count, Working::sum(vec![covered, beyond.clone()]));
            let share = Working::proportion(whole, beyond, count, Rounding::TenThousandth);
            Term::working(&name(condition), measure, share)
        })
        .collect()
}

/// The hours on a code that went to conditions beyond the included sheets.
pub(crate) fn hours_beyond(job: &JobFacts, code: Id) -> Vec<Term> {
    amount_beyond(
        job,
        MeasuredIn::Hours,
        |condition| condition.totals.get(&code).is_some_and(|totals| !totals.hours.is_zero()),
        |condition| job.hour_facts(|time| time.condition == Some(condition) && time.code == code),
    )
}

/// The material counted on a code that went to conditions beyond the included sheets.
pub(crate) fn quantity_beyond(job: &JobFacts, code: Id) -> Vec<Term> {
    amount_beyond(
        job,
        MeasuredIn::Count,
        |condition| condition.totals.get(&code).is_some_and(|totals| !totals.quantity.is_zero()),
        |condition| counted_facts(job, |spent| spent.condition == Some(condition) && spent.code == code),
    )
}

/// How much material was bought in the unit that is counted, of the lines that are picked.
pub(crate) fn counted_facts(job: &JobFacts, picks: impl Fn(&Spent) -> bool) -> Vec<FactLine> {
    let counted = job.spent.iter().filter(|spent| picks(spent));
    counted
        .filter_map(|spent| {
            Some(FactLine {
                source: spent.line.source.clone(),
                date: spent.line.date,
                text: format!("{}, {}", spent.line.who, spent.line.text),
                amount: spent.counted?.decimal(),
            })
        })
        .collect()
}

/// What hidden conditions will have cost beyond the included sheets.
pub(crate) fn forecast(job: &JobFacts) -> Term {
    let spent = job.term(Figure::HiddenSpent);
    if job.standing.is_ended() {
        return spent;
    }
    let approved = job.change_costs(|line| line.repairs().is_some());
    let approved = Term::facts("approved cost", MeasuredIn::Money, approved);
    Term::working("hidden conditions", MeasuredIn::Money, Working::larger(vec![spent, approved]))
}

/// What was approved for hidden conditions: the lines, and by time and material what the work came to instead.
pub(crate) fn price(job: &JobFacts) -> Working {
    let mut terms = Vec::new();
    for (at, change) in job.standing.changes.iter().enumerate() {
        let label = format!("change order {}", change.order.number);
        let lines = job.change_lines(at, |line| line.repairs().and_then(|_| money(line.price)));
        if !lines.is_empty() {
            terms.push(Term::facts(&label, MeasuredIn::Money, lines));
        }
        if change.accrued.is_some() {
            terms.push(came_to(job, at));
        }
    }
    Working::sum(terms)
}

/// The conditions that a change order by time and material is for: one that two of them name counts for the first.
fn own_conditions(job: &JobFacts, at: usize) -> BTreeSet<Id> {
    let (before, from) = job.standing.changes.split_at(at);
    let mut own: BTreeSet<Id> = from.first().map(ChangeAtMonth::conditions).unwrap_or_default();
    for earlier in before.iter().filter(|change| change.accrued.is_some()) {
        own = own.difference(&earlier.conditions()).copied().collect();
    }
    own
}

/// By how much what a change order by time and material came to differs from what was expected.
fn came_to(job: &JobFacts, at: usize) -> Term {
    let difference = Working::sum(vec![owed(job, at), approved(job, at).less()]);
    let number = &job.standing.changes[at].order.number;
    let label =
        format!("change order {number} by time and material: what the work came to, less what was expected");
    Term::working(&label, MeasuredIn::Money, difference)
}

/// The approved lines of a change order.
fn approved(job: &JobFacts, at: usize) -> Term {
    Term::facts("approved", MeasuredIn::Money, job.change_lines(at, |line| money(line.price)))
}

/// What is owed for a change order.
fn owed(job: &JobFacts, at: usize) -> Term {
    let Some(accrued) = job.standing.changes[at].accrued else { return approved(job, at).called("owed") };
    let owed = owed_for_work(job, at, &own_conditions(job, at));
    let owed = if accrued.done {
        owed
    } else {
        let so_far = Term::working("what it comes to so far", MeasuredIn::Money, owed);
        Working::larger(vec![so_far, approved(job, at)])
    };
    Term::working("owed", MeasuredIn::Money, owed)
}

/// Cost and markup of the conditions of a change order by time and material, held to the agreed most, with the lines
/// whose price is fixed.
fn owed_for_work(job: &JobFacts, at: usize, own: &BTreeSet<Id>) -> Working {
    let (change, view) = (&job.standing.changes[at], &job.page.changes[at]);
    let fact = |text: &str, amount: Decimal| FactLine {
        source: Some(view.source.clone()),
        date: Some(change.order.date),
        text: format!("change order {}: {text}", change.order.number),
        amount,
    };
    let conditions = job.standing.conditions.iter().enumerate();
    let cost = conditions.filter(|(_, condition)| own.contains(&condition.id));
    let cost = Working::sum(cost.map(|(at, _)| spent_of(job, at)).collect());
    let markup = change.order.markup.unwrap_or_default().decimal();
    let with_markup = Working::sum(vec![
        Term::rule("one", MeasuredIn::Count, Decimal::ONE),
        Term::facts("markup", MeasuredIn::Share, vec![fact("markup", markup)]),
    ]);
    let marked_up = Working::product(vec![
        Term::working("cost", MeasuredIn::Money, cost),
        Term::working("one and the markup", MeasuredIn::Count, with_markup),
    ])
    .nearest(Rounding::Cent);
    let marked_up = Term::working("cost and markup", MeasuredIn::Money, marked_up);
    let price = match change.order.not_to_exceed {
        None => marked_up,
        Some(most) => {
            let most =
                Term::facts("not to exceed", MeasuredIn::Money, vec![fact("not to exceed", most.decimal())]);
            let most = Working::larger(vec![most, Term::rule("nothing", MeasuredIn::Money, Decimal::ZERO)]);
            let most = Term::working("not to exceed", MeasuredIn::Money, most);
            Term::working("cost and markup", MeasuredIn::Money, Working::smaller(vec![marked_up, most]))
        }
    };
    let fixed = job.change_lines(at, |line| if line.repairs().is_none() { money(line.price) } else { None });
    let mut terms = vec![price];
    if !fixed.is_empty() {
        terms.push(Term::facts("lines at a fixed price", MeasuredIn::Money, fixed));
    }
    Working::sum(terms)
}

/// What was billed of a change order for its work, deducts apart.
fn billed_for_work(job: &JobFacts, at: usize) -> Term {
    let change = &job.standing.changes[at];
    let invoiced = job.invoices.iter().flat_map(|held| {
        let lines = held.fact.lines.iter().filter(|line| line.change_order == Some(change.id));
        lines.map(|line| {
            let text = format!("invoice {}: {}", held.fact.number, line.description);
            job.line(held, held.fact.date, text, line.amount.decimal())
        })
    });
    let invoiced = Term::facts("billed of it", MeasuredIn::Money, invoiced.collect());
    let work = || {
        let deducts = job.change_lines(at, |line| money(line.price).filter(|_| line.price.is_negative()));
        let deducts = Term::facts("deducts", MeasuredIn::Money, deducts);
        let work = Working::sum(vec![owed(job, at), deducts.less()]);
        Term::working("the work, without deducts", MeasuredIn::Money, work)
    };
    let working = match trade::billed_as(change.invoiced, change.owed(), change.credits()) {
        BilledAs::Work => return invoiced,
        BilledAs::PartOfWhole => Working::proportion(work(), invoiced, owed(job, at), Rounding::Cent),
        BilledAs::Beyond => {
            let beyond = vec![invoiced, owed(job, at).less()];
            let beyond = Working::above_zero("billed less owed", MeasuredIn::Money, beyond);
            Working::sum(vec![work(), Term::working("billed beyond it", MeasuredIn::Money, beyond)])
        }
    };
    Term::working("billed for the work", MeasuredIn::Money, working)
}

/// What was billed for a condition: of each change order, by the price of its lines for it.
fn billed_of(job: &JobFacts, at: usize) -> Term {
    let condition = &job.standing.conditions[at];
    let mut terms = Vec::new();
    for (place, change) in job.standing.changes.iter().enumerate() {
        let work = change.work();
        let part = work.iter().position(|(of, _)| *of == Some(condition.id));
        let Some(part) = part.filter(|_| change.state() != ChangeState::Withdrawn) else { continue };
        let label = format!("change order {}", change.order.number);
        let billed = billed_for_work(job, place);
        if work.len() == 1 {
            terms.push(billed.called(&label));
            continue;
        }
        let mut shares = vec![billed];
        let unpriced = work.iter().all(|(_, price)| price.is_zero());
        shares.extend(work.iter().map(|(of, _)| {
            let label = work_label(job, *of);
            if unpriced {
                return Term::rule(&format!("{label}, one part"), MeasuredIn::Count, Decimal::ONE);
            }
            let lines = job.change_lines(place, |line| {
                let here = line.repairs() == *of && !line.price.is_negative();
                money(line.price).filter(|_| here)
            });
            Term::facts(&label, MeasuredIn::Money, lines)
        }));
        terms.push(Term::working(&label, MeasuredIn::Money, Working::share(part + 1, shares)));
    }
    Term::working(&name(condition), MeasuredIn::Money, Working::sum(terms))
}

fn work_label(job: &JobFacts, condition: Option<Id>) -> String {
    let found = job.standing.conditions.iter().find(|known| Some(known.id) == condition);
    found.map_or_else(
        || "the price of its other work".to_owned(),
        |known| format!("the price of {}", name(known)),
    )
}

/// What was billed for hidden conditions.
pub(crate) fn billed(job: &JobFacts) -> Working {
    Working::sum((0..job.standing.conditions.len()).map(|at| billed_of(job, at)).collect())
}

/// What was spent and will never be billed, condition by condition.
pub(crate) fn unrecovered(job: &JobFacts) -> Working {
    let conditions = job.standing.conditions.iter().enumerate();
    let terms = conditions.filter(|(_, condition)| !condition.still_to_bill).map(|(at, condition)| {
        let terms = vec![spent_of(job, at).called("spent"), billed_of(job, at).called("billed").less()];
        let working = Working::above_zero("spent less billed", MeasuredIn::Money, terms);
        Term::working(&name(condition), MeasuredIn::Money, working)
    });
    Working::sum(terms.collect())
}

/// The hours in approved changes of the customer's own, on one code or all.
pub(crate) fn hours_changed(job: &JobFacts, code: Option<Id>) -> Vec<FactLine> {
    job.change_facts(|line| {
        let own = line.repairs().is_none() && code.is_none_or(|code| code == line.code);
        line.hours.filter(|_| own).and_then(quantity)
    })
}
