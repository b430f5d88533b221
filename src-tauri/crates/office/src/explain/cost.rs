//! How cost, hours, orders and forecast come about, for a job and code by code.

use super::figure::{Figure, MeasuredIn};
use super::gather::{JobFacts, money, quantity};
use super::hidden::{self, Part};
use super::working::{FactLine, Term, Working};
use crate::job::result::Base;
use ledger::facts::{Bill, PurchaseOrder};
use ledger::{Entered, Id};
use rust_decimal::Decimal;
use std::collections::BTreeSet;
use trade::shown::in_sentence;
use trade::{ForecastRule, Money, Rounding};

/// Everything spent, code by code, hidden conditions included.
pub(crate) fn cost(job: &JobFacts) -> Working {
    let terms = job.codes().into_iter().map(|base| {
        let facts = job.spent_facts(|spent| spent.code == base.id);
        Term::facts(&job.names.code(base.id), MeasuredIn::Money, facts)
    });
    Working::sum(terms.filter(is_there).collect())
}

/// What is left out where nothing stands behind it.
fn is_there(term: &Term) -> bool {
    !term.value.is_zero()
        || !matches!(&term.behind, super::working::Behind::Facts { facts } if facts.is_empty())
}

/// What a code cost without hidden conditions beyond the included sheets.
pub(crate) fn cost_of_code(job: &JobFacts, code: Id) -> Working {
    let facts = job.spent_facts(|spent| spent.code == code);
    let mut terms = vec![Term::facts("bills, direct costs and hours", MeasuredIn::Money, facts)];
    for part in [Part::Material, Part::Labor, Part::Subcontract, Part::Rest] {
        let beyond = hidden::beyond(job, code, part);
        terms.extend(beyond.into_iter().map(|term| {
            let label = format!("{}, {}", term.label, part.word());
            term.called(&label).less()
        }));
    }
    Working::sum(terms)
}

/// Hours worked, code by code, hidden conditions included.
pub(crate) fn hours(job: &JobFacts) -> Working {
    let terms = job.codes().into_iter().map(|base| {
        let facts = job.hour_facts(|time| time.code == base.id);
        Term::facts(&job.names.code(base.id), MeasuredIn::Hours, facts)
    });
    Working::sum(terms.filter(is_there).collect())
}

/// Hours worked on a code without hidden conditions beyond the included sheets.
pub(crate) fn hours_of_code(job: &JobFacts, code: Id) -> Working {
    let mut terms =
        vec![Term::facts("hours worked", MeasuredIn::Hours, job.hour_facts(|time| time.code == code))];
    terms.extend(hidden::hours_beyond(job, code).into_iter().map(Term::less));
    Working::sum(terms)
}

/// Hours in the contract and in approved changes, of one code or all.
pub(crate) fn hours_contracted(job: &JobFacts, code: Option<Id>) -> Working {
    let contract = job.contract_facts(|line| {
        line.hours.filter(|_| code.is_none_or(|code| code == line.code)).and_then(quantity)
    });
    let terms = vec![
        Term::facts("in the contract", MeasuredIn::Hours, contract),
        Term::facts("in approved changes", MeasuredIn::Hours, hidden::hours_changed(job, code)),
    ];
    Working::sum(terms.into_iter().filter(is_there).collect())
}

/// What was ordered and is still to come, of one code or all: order by order.
pub(crate) fn committed(job: &JobFacts, code: Option<Id>) -> Working {
    let mut terms = Vec::new();
    for (order, bills) in &job.orders {
        let codes: BTreeSet<Id> = order.fact.lines.iter().map(|line| line.code).collect();
        if bills.iter().any(|bill| bill.fact.completes_order) {
            continue;
        }
        for of in codes.into_iter().filter(|of| code.is_none_or(|code| code == *of)) {
            terms.push(still_to_come(job, order, bills, of));
        }
    }
    Working::sum(terms)
}

fn still_to_come(job: &JobFacts, order: &Entered<PurchaseOrder>, bills: &[Entered<Bill>], code: Id) -> Term {
    let number = &order.fact.number;
    let ordered = order.fact.lines.iter().filter(|line| line.code == code).map(|line| {
        let what = line.description.clone().unwrap_or_else(|| in_sentence(line.cost_kind.label()));
        job.line(order, order.fact.date, format!("order {number}: {what}"), line.amount.decimal())
    });
    let mut terms = vec![Term::facts("ordered", MeasuredIn::Money, ordered.collect())];
    let received = bills.iter().flat_map(|bill| {
        let lines = bill.fact.lines.iter();
        let here = lines.filter(|line| line.code == code && line.job == job.standing.job);
        here.map(|line| {
            let text = format!("bill {}, before tax", bill.fact.reference);
            job.line(bill, bill.fact.date, text, line.amount.decimal())
        })
    });
    let received: Vec<FactLine> = received.collect();
    if !received.is_empty() {
        terms.push(Term::facts("received", MeasuredIn::Money, received).less());
    }
    let label = format!("order {number}, {}", job.names.code(code));
    Term::working(
        &label,
        MeasuredIn::Money,
        Working::above_zero("ordered less received", MeasuredIn::Money, terms),
    )
}

/// The forecast of a job: code by code, and hidden conditions apart.
pub(crate) fn forecast(job: &JobFacts) -> Working {
    let mut terms: Vec<Term> =
        job.codes().into_iter().map(|base| job.code_term(Figure::Forecast, base.id)).collect();
    terms.push(hidden::forecast(job));
    Working::sum(terms)
}

/// The forecast of a code, by the rule that gave it.
pub(crate) fn forecast_of_code(job: &JobFacts, base: &Base) -> Working {
    let cost = || job.code_term(Figure::Cost, base.id);
    let spent = || vec![cost(), job.code_term(Figure::Committed, base.id)];
    let spent_term = || Term::working("spent and committed", MeasuredIn::Money, Working::sum(spent()));
    match base.rule {
        ForecastRule::Spent => Working::sum(spent()),
        ForecastRule::Own => {
            let own = job.forecasts.get(&base.id).map(|held| {
                let text = format!("the owner's forecast for {}", job.names.code(base.id));
                job.line(held, held.fact.date, text, held.fact.amount.decimal())
            });
            let own = Term::facts("the owner's own forecast", MeasuredIn::Money, own.into_iter().collect());
            Working::larger(vec![own, cost()])
        }
        ForecastRule::Units => {
            let mut installed = vec![cost()];
            if !base.stored.is_zero() {
                installed.push(stored_of_code(job, base).less());
            }
            let (units, done) = units(job, base);
            let installed = Term::working("installed", MeasuredIn::Money, Working::sum(installed));
            let pace = Working::proportion(installed, units, done, Rounding::Cent);
            Working::larger(vec![Term::working("at this pace", MeasuredIn::Money, pace), spent_term()])
        }
        ForecastRule::LargerOf => Working::larger(vec![spent_term(), budget(job, base.id)]),
    }
}

/// Measured work of a code: contracted, and done.
pub(crate) fn units(job: &JobFacts, base: &Base) -> (Term, Term) {
    let code = job.names.code(base.id);
    let contracted = job.standing.contract.iter().flat_map(|held| {
        let units = held.fact.units.iter().filter(|units| units.code == base.id);
        units.map(|units| {
            let text = format!("contract: units of {code}");
            job.line(held, held.fact.date, text, units.quantity.decimal())
        })
    });
    let contracted = Term::facts("units contracted", MeasuredIn::Count, contracted.collect());
    let done = job.page.units.iter().filter(|fact| fact.code == code).filter_map(|fact| {
        Some(FactLine {
            source: Some(fact.source.clone()),
            date: Some(fact.date),
            text: format!("units of {code} done"),
            amount: fact.quantity?.decimal(),
        })
    });
    (contracted, Term::facts("units done", MeasuredIn::Count, done.collect()))
}

/// A code's budget: in the contract and in approved changes of the customer's own.
fn budget(job: &JobFacts, code: Id) -> Term {
    let contract = job.contract_facts(|line| money(line.amount).filter(|_| line.code == code));
    let changes = job.change_costs(|line| line.repairs().is_none() && line.code == code);
    let mut terms = vec![Term::facts("in the contract", MeasuredIn::Money, contract)];
    if !changes.is_empty() {
        terms.push(Term::facts("in approved changes", MeasuredIn::Money, changes));
    }
    Term::working("budget", MeasuredIn::Money, Working::sum(terms))
}

/// What was last counted on site of a code.
fn counted_on_site(job: &JobFacts, code: Id) -> Option<Term> {
    let held = job.stored.get(&code)?;
    let text = format!("counted on site, {}", job.names.code(code));
    let line = job.line(held, held.fact.date, text, held.fact.amount.decimal());
    Some(Term::facts(&job.names.code(code), MeasuredIn::Money, vec![line]))
}

/// Material of a code that is on site and not installed: what was counted, within what its material cost.
pub(crate) fn stored_of_code(job: &JobFacts, base: &Base) -> Term {
    let label = "on site, not installed";
    let zero = || Term::rule("nothing", MeasuredIn::Money, Decimal::ZERO);
    let counted = match counted_on_site(job, base.id) {
        Some(counted) if !job.standing.is_ended() => counted,
        _ => return zero().called(label),
    };
    if base.stored.decimal() == counted.value {
        return counted.called(label);
    }
    let facts = job.spent_facts(|spent| spent.code == base.id && Part::Material.holds(spent));
    let mut material = vec![Term::facts("material", MeasuredIn::Money, facts)];
    material.extend(hidden::beyond(job, base.id, Part::Material).into_iter().map(Term::less));
    let material = Term::working("material", MeasuredIn::Money, Working::sum(material));
    let within = Working::smaller(vec![counted, material]);
    let within = Term::working("counted, within what was bought", MeasuredIn::Money, within);
    Term::working(label, MeasuredIn::Money, Working::larger(vec![within, zero()]))
}

/// Material on site and not installed, code by code, never more than was bought and not returned; nothing once the job
/// has ended.
pub(crate) fn uninstalled(job: &JobFacts) -> Working {
    if job.standing.is_ended() {
        return Working::sum(Vec::new());
    }
    Working::sum(job.stored.keys().filter_map(|code| on_site_of(job, *code)).collect())
}

/// What is on site of a code: as counted, or where more was counted than bought, what was bought.
fn on_site_of(job: &JobFacts, code: Id) -> Option<Term> {
    let counted = counted_on_site(job, code)?;
    let bought = job.standing.codes.get(&code).map_or(Money::ZERO, |totals| totals.material);
    if counted.value <= bought.decimal() {
        return Some(counted);
    }
    let facts = job.spent_facts(|spent| spent.code == code && Part::Material.holds(spent));
    let bought = Term::facts("material bought and not returned", MeasuredIn::Money, facts);
    let within = if bought.value < Decimal::ZERO {
        let label = "material bought and not returned, not below zero";
        Term::working(label, MeasuredIn::Money, Working::larger(vec![bought, nothing("nothing")]))
    } else {
        bought
    };
    let label = format!("{}: more counted than bought, so what was bought", job.names.code(code));
    Some(Term::working(
        &label,
        MeasuredIn::Money,
        Working::smaller(vec![counted.called("counted on site"), within]),
    ))
}

/// Nothing, as money.
pub(crate) fn nothing(label: &str) -> Term {
    Term::rule(label, MeasuredIn::Money, Money::ZERO.decimal())
}
