//! What goes by the settings of each day that was worked: crew-days by the crew of the day, overhead by its rate. Both
//! are gathered in spells in which one setting held, for the figure and for its working alike.

use crate::job::snapshot::JobSnapshot;
use desk::settings::Settings;
use ledger::closed_lists::OverheadBy;
use ledger::facts::{Crew, Firm};
use ledger::totals::{LaborTotals, WorkedDay};
use ledger::{Entered, Id};
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use trade::{Money, Month, OverheadBase, Qty};

/// Hours with one version of one crew.
#[derive(Clone, Debug)]
pub(crate) struct CrewSpell<'a> {
    /// Whether the hours name the crew; else it is the job's own.
    pub(crate) named: bool,
    /// The crew as it was; none where neither the hours nor the job name one.
    pub(crate) crew: Option<&'a Entered<Crew>>,
    /// The days.
    pub(crate) days: Vec<&'a WorkedDay>,
}

impl CrewSpell<'_> {
    fn hours(&self) -> Qty {
        hours_of(&self.days)
    }

    /// Their crew-days.
    pub(crate) fn crew_days(&self) -> Decimal {
        crew_days_of(self.crew.map(|held| &held.fact), self.hours())
    }
}

/// The crew-days that hours with a crew are. Without any crew, a crew-day is one person's eight hours (company rule).
pub(crate) fn crew_days_of(crew: Option<&Crew>, hours: Qty) -> Decimal {
    match crew {
        Some(crew) => trade::crew_days(hours, u32::try_from(crew.size).unwrap_or(1), crew.hours_a_day),
        None => trade::crew_days(hours, 1, Qty::from_e4(80_000)),
    }
}

fn hours_of(days: &[&WorkedDay]) -> Qty {
    days.iter().map(|day| day.hours).sum()
}

/// Days by the crew of each day.
pub(crate) fn crew_spells<'a>(
    standing: &'a JobSnapshot,
    settings: &'a Settings,
    days: impl IntoIterator<Item = &'a WorkedDay>,
) -> Vec<CrewSpell<'a>> {
    let mut spells: BTreeMap<(Option<Id>, Option<Id>), CrewSpell<'a>> = BTreeMap::new();
    for day in days {
        let own = || standing.versions.on(day.day).and_then(|job| job.fact.crew);
        let crew = day.crew.or_else(own).and_then(|crew| settings.crew(crew, day.day));
        let spell = spells.entry((day.crew, crew.map(|held| held.entry.id))).or_insert_with(|| CrewSpell {
            named: day.crew.is_some(),
            crew,
            days: Vec::new(),
        });
        spell.days.push(day);
    }
    spells.into_values().collect()
}

/// The crew-days of a job: each day's hours by the crew of that day.
pub(crate) fn crew_days(standing: &JobSnapshot, settings: &Settings) -> Decimal {
    crew_spells(standing, settings, &standing.worked).iter().map(CrewSpell::crew_days).sum()
}

/// Labor cost of one month, and how many of its hours bear it.
#[derive(Clone, Debug)]
pub(crate) struct LaborShare<'a> {
    /// The month in which it is booked.
    pub(crate) month: Month,
    /// The month's labor cost.
    pub(crate) cost: Money,
    /// The hours of the spell.
    pub(crate) days: Vec<&'a WorkedDay>,
    /// All hours of the month.
    pub(crate) of: Vec<&'a WorkedDay>,
}

impl LaborShare<'_> {
    /// Whether the month's labor cost is borne whole.
    pub(crate) fn is_whole(&self) -> bool {
        self.days.len() == self.of.len()
    }

    fn cost(&self) -> Decimal {
        if self.is_whole() {
            return self.cost.decimal();
        }
        trade::labor_of_hours(self.cost, hours_of(&self.days), hours_of(&self.of))
    }
}

/// The days on which one setting of the firm held.
#[derive(Clone, Debug)]
pub(crate) struct OverheadSpell<'a> {
    /// The setting.
    pub(crate) firm: &'a Entered<Firm>,
    /// The days.
    pub(crate) days: Vec<&'a WorkedDay>,
    /// Their labor cost, where overhead goes by that.
    pub(crate) labor: Vec<LaborShare<'a>>,
}

impl<'a> OverheadSpell<'a> {
    fn of(firm: &'a Entered<Firm>) -> OverheadSpell<'a> {
        OverheadSpell { firm, days: Vec::new(), labor: Vec::new() }
    }

    /// What overhead goes by.
    pub(crate) fn base(&self) -> OverheadBase {
        overhead_base(self.firm.fact.overhead_by)
    }

    fn measure(&self, standing: &'a JobSnapshot, settings: &'a Settings) -> Decimal {
        let days = || crew_spells(standing, settings, self.days.iter().copied());
        let crew_days = match self.base() {
            OverheadBase::CrewDays => days().iter().map(CrewSpell::crew_days).sum(),
            OverheadBase::LaborHours | OverheadBase::LaborCost => Decimal::ZERO,
        };
        let labor = self.labor.iter().map(LaborShare::cost).sum();
        trade::measure_of(self.base(), hours_of(&self.days), labor, crew_days)
    }
}

pub(crate) fn overhead_base(by: OverheadBy) -> OverheadBase {
    match by {
        OverheadBy::LaborHours => OverheadBase::LaborHours,
        OverheadBy::LaborCost => OverheadBase::LaborCost,
        OverheadBy::CrewDays => OverheadBase::CrewDays,
    }
}

/// A job's days by the setting of each day, in the order of the settings' days; without those that bear nothing.
pub(crate) fn overhead_spells<'a>(
    standing: &'a JobSnapshot,
    settings: &'a Settings,
) -> Vec<OverheadSpell<'a>> {
    let mut spells: BTreeMap<(jiff::civil::Date, Id), OverheadSpell<'a>> = BTreeMap::new();
    let key = |firm: &Entered<Firm>| (firm.fact.date, firm.entry.id);
    for day in &standing.worked {
        let firm = settings.firm(day.day);
        spells.entry(key(firm)).or_insert_with(|| OverheadSpell::of(firm)).days.push(day);
    }
    for (month, totals) in &standing.labor {
        let cost = cost_of(totals);
        let of: Vec<&WorkedDay> = standing.worked.iter().filter(|day| day.month == *month).collect();
        if hours_of(&of).is_zero() {
            // Labor that is booked without hours goes by the first day of its month.
            let firm = settings.firm(month.first_day());
            let spell = spells.entry(key(firm)).or_insert_with(|| OverheadSpell::of(firm));
            spell.labor.push(LaborShare { month: *month, cost, days: Vec::new(), of: Vec::new() });
            continue;
        }
        for spell in spells.values_mut() {
            let days: Vec<&WorkedDay> =
                spell.days.iter().copied().filter(|day| day.month == *month).collect();
            if !days.is_empty() {
                spell.labor.push(LaborShare { month: *month, cost, days, of: of.clone() });
            }
        }
    }
    let bears = |spell: &OverheadSpell<'_>| match spell.base() {
        OverheadBase::LaborCost => !spell.labor.is_empty(),
        OverheadBase::LaborHours | OverheadBase::CrewDays => !spell.days.is_empty(),
    };
    spells.into_values().filter(bears).collect()
}

pub(crate) fn cost_of(totals: &LaborTotals) -> Money {
    totals.straight + totals.premium + totals.burden
}

/// The overhead that a job bears to date: each day by the setting of that day.
pub(crate) fn overhead(standing: &JobSnapshot, settings: &Settings) -> Money {
    let spells = overhead_spells(standing, settings);
    trade::absorbed(
        spells.iter().map(|spell| (spell.firm.fact.overhead_rate, spell.measure(standing, settings))),
    )
}
