//! The workings of what goes by the settings of each day: crew-days and overhead, spell by spell.

use super::figure::{Figure, MeasuredIn};
use super::gather::JobFacts;
use super::working::{FactLine, Term, Working};
use crate::job::own_day::{CrewSpell, LaborShare, OverheadSpell, cost_of, crew_spells, overhead_spells};
use crate::job::page::{Source, Spent};
use jiff::civil::Date;
use ledger::facts::Crew;
use ledger::totals::WorkedDay;
use ledger::{Entered, Id};
use rust_decimal::Decimal;
use std::collections::BTreeSet;
use trade::{CostKind, Month, OverheadBase, Rounding};

/// Crew-days: each day's hours by the size and the day that its crew had then.
pub(crate) fn crew_days(job: &JobFacts) -> Working {
    let spells = crew_spells(&job.standing, &job.settings, &job.standing.worked);
    Working::sum(spells.iter().map(|spell| crew_term(job, spell)).collect())
}

fn crew_term(job: &JobFacts, spell: &CrewSpell<'_>) -> Term {
    let worked = worked(job, &spell.days);
    let (label, divisor) = match spell.crew {
        None => {
            let eight = Decimal::from(8);
            ("no crew".to_owned(), Term::rule("one person's eight hours", MeasuredIn::Hours, eight))
        }
        Some(held) => (held.fact.name.clone(), crew_day(job, held)),
    };
    let label = if spell.named { label } else { format!("hours without a crew, as {label}") };
    Term::working(&label, MeasuredIn::CrewDays, Working::quotient(vec![worked, divisor]))
}

/// The hours of some days, from the time entries behind them.
fn worked(job: &JobFacts, days: &[&WorkedDay]) -> Term {
    let those: BTreeSet<(Date, Option<Id>)> = days.iter().map(|day| (day.day, day.crew)).collect();
    let facts = job.hour_facts(|time| those.contains(&(time.date, time.crew)));
    Term::facts("hours", MeasuredIn::Hours, facts)
}

/// The hours in a day of a crew: its people × their hours.
fn crew_day(job: &JobFacts, held: &Entered<Crew>) -> Term {
    let crew = &held.fact;
    let line = |text: &str, amount: Decimal| {
        let source = Some(Source::of(&held.entry, &job.names));
        vec![FactLine { source, date: crew.date, text: text.to_owned(), amount }]
    };
    let people = line(&format!("crew {}: people", crew.name), Decimal::from(crew.size));
    let hours = line(&format!("crew {}: hours in its day", crew.name), crew.hours_a_day.decimal());
    Term::working(
        "a day of the crew",
        MeasuredIn::Hours,
        Working::product(vec![
            Term::facts("people", MeasuredIn::Count, people),
            Term::facts("hours in its day", MeasuredIn::Hours, hours),
        ]),
    )
}

/// The firm's overhead rate on its chosen base; where they changed, each on the days on which it held.
pub(crate) fn overhead(job: &JobFacts) -> Working {
    let spells = overhead_spells(&job.standing, &job.settings);
    if let [only] = spells.as_slice() {
        let base = match only.base() {
            OverheadBase::LaborHours => job.term(Figure::Hours),
            OverheadBase::CrewDays => job.term(Figure::CrewDays),
            OverheadBase::LaborCost => labor_cost(job, |_| true),
        };
        return Working::product(vec![rate(job, only), base]).nearest(Rounding::Cent);
    }
    let term = |spell: &OverheadSpell<'_>| {
        let since = format!("by the settings of {}", trade::shown::day(spell.firm.fact.date));
        Term::working(&since, MeasuredIn::Count, Working::product(vec![rate(job, spell), base(job, spell)]))
    };
    Working::sum(spells.iter().map(term).collect()).nearest(Rounding::Cent)
}

/// The setting of what overhead costs.
fn rate(job: &JobFacts, spell: &OverheadSpell<'_>) -> Term {
    let firm = &spell.firm.fact;
    let text = format!("the firm's settings, by {}", trade::shown::in_sentence(firm.overhead_by.label()));
    let line = job.line(spell.firm, firm.date, text, firm.overhead_rate.decimal());
    Term::facts("overhead rate", MeasuredIn::Count, vec![line])
}

/// What of the base lies in the days of one setting.
fn base(job: &JobFacts, spell: &OverheadSpell<'_>) -> Term {
    match spell.base() {
        OverheadBase::LaborHours => worked(job, &spell.days),
        OverheadBase::CrewDays => {
            let crews = crew_spells(&job.standing, &job.settings, spell.days.iter().copied());
            let terms = crews.iter().map(|crew| crew_term(job, crew)).collect();
            Term::working("crew-days", MeasuredIn::CrewDays, Working::sum(terms))
        }
        OverheadBase::LaborCost => {
            let terms = spell.labor.iter().map(|share| month_labor(job, share)).collect();
            Term::working("labor cost", MeasuredIn::Money, Working::sum(terms))
        }
    }
}

/// The labor cost of one month, or the part of it that the hours of some days bear.
fn month_labor(job: &JobFacts, share: &LaborShare<'_>) -> Term {
    let cost = labor_cost(job, |month| month == share.month)
        .called(&format!("labor cost of {}", trade::shown::month(share.month)));
    if share.is_whole() {
        return cost;
    }
    let hours = |label: &str, days: &[&WorkedDay]| {
        let line = |day: &&WorkedDay| FactLine {
            source: None,
            date: Some(day.day),
            text: "hours of the day".to_owned(),
            amount: day.hours.decimal(),
        };
        Term::facts(label, MeasuredIn::Hours, days.iter().map(line).collect())
    };
    let (of, whole) = (hours("hours of these days", &share.days), hours("hours of the month", &share.of));
    let part = Working::proportion(cost, of, whole, Rounding::None);
    Term::working(
        &format!("part of the labor cost of {}", trade::shown::month(share.month)),
        MeasuredIn::Money,
        part,
    )
}

/// Labor as it is booked in some months: hours with what they cost, and what the months keep beside it.
pub(crate) fn labor_cost(job: &JobFacts, picks: impl Fn(Month) -> bool) -> Term {
    let is_labor = |spent: &Spent| spent.line.cost_kind == CostKind::Labor && spent.line.source.is_some();
    let mut facts = job.spent_facts(|spent| is_labor(spent) && picks(spent.line.month));
    let booked = job.standing.labor.iter().filter(|(month, _)| picks(**month));
    let booked: Decimal = booked.map(|(_, totals)| cost_of(totals).decimal()).sum();
    let beside = booked - facts.iter().map(|line| line.amount).sum::<Decimal>();
    if !beside.is_zero() {
        let text = "labor of weeks across a closed month, as booked".to_owned();
        facts.push(FactLine { source: None, date: None, text, amount: beside });
    }
    Term::facts("labor cost", MeasuredIn::Money, facts)
}
