//! Labor to be handed off. Overtime and burden are calculated by the week, so hours typed later can change what earlier
//! hours cost: each part gives new hours in full, and of hours given before only the difference. Whatever the way
//! there, the parts of a month add up to the labor that the ledger booked in it, to the cent.

use super::month_facts::{CostPlace, MonthFacts};
use super::parts::{History, Window};
use desk::OfficeError;
use jiff::civil::Date;
use ledger::facts::{Fact, HandedLabor, TimeEntry};
use ledger::totals::CostedTime;
use ledger::totals::LaborTotals;
use ledger::{Books, Id};
use std::collections::{BTreeMap, BTreeSet};
use trade::Money;

/// Straight pay and bonus, overtime premium, burden.
pub(super) type Pay = [Money; 3];

fn plus(left: Pay, right: Pay) -> Pay {
    [left[0] + right[0], left[1] + right[1], left[2] + right[2]]
}

fn minus(left: Pay, right: Pay) -> Pay {
    [left[0] - right[0], left[1] - right[1], left[2] - right[2]]
}

fn is_nothing(pay: Pay) -> bool {
    pay.iter().all(|amount| amount.is_zero())
}

fn booked(totals: &LaborTotals) -> Pay {
    [totals.straight, totals.premium, totals.burden]
}

fn costed(time: &CostedTime) -> Pay {
    [time.straight, time.premium, time.burden]
}

/// The pay of a line.
pub(super) fn pay(line: &HandedLabor) -> Pay {
    [line.straight, line.premium, line.burden]
}

fn place(line: &HandedLabor) -> CostPlace {
    (line.job, line.code, line.condition)
}

/// The lines being gathered, and what is still to be given by place.
struct Gathered {
    lines: Vec<HandedLabor>,
    left: BTreeMap<CostPlace, Pay>,
}

impl Gathered {
    /// Where something is still to be given.
    fn open(&self) -> BTreeMap<CostPlace, Pay> {
        self.left.iter().filter(|(_, pay)| !is_nothing(**pay)).map(|(place, pay)| (*place, *pay)).collect()
    }

    fn give(&mut self, source: Option<Id>, (job, code, condition): CostPlace, pay: Pay) {
        let left = self.left.entry((job, code, condition)).or_default();
        *left = minus(*left, pay);
        let [straight, premium, burden] = pay;
        self.lines.push(HandedLabor { source, job, code, condition, straight, premium, burden });
    }
}

/// Works out the labor of the part that is due.
pub(super) fn calculate(
    books: Books<'_>,
    month: &MonthFacts,
    history: &History,
    window: &Window,
    given_this_month: &[HandedLabor],
) -> Result<Vec<HandedLabor>, OfficeError> {
    let mut given: BTreeMap<Id, Pay> = BTreeMap::new();
    for (_, line) in history.all_labor() {
        if let Some(source) = line.source {
            let sum = given.entry(source).or_default();
            *sum = plus(*sum, pay(line));
        }
    }
    let mut left: BTreeMap<CostPlace, Pay> =
        month.labor.iter().map(|(place, totals)| (*place, booked(totals))).collect();
    for line in given_this_month {
        let sum = left.entry(place(line)).or_default();
        *sum = minus(*sum, pay(line));
    }
    let mut gathered = Gathered { lines: Vec::new(), left };
    let mut changes = this_month(books, month, window, &given, &mut gathered)?;
    if month.takes_late {
        changes.extend(closed_months(books, month, history, &given, &gathered)?);
    }
    for (place, changes) in changes {
        // A difference is given person by person where that comes out to the cent, else as a whole for the place.
        let all = changes.iter().map(|(_, change)| *change).fold(Pay::default(), plus);
        if all == gathered.left.get(&place).copied().unwrap_or_default() {
            for (source, change) in changes {
                gathered.give(Some(source), place, change);
            }
        }
    }
    for (place, pay) in gathered.open() {
        gathered.give(None, place, pay);
    }
    Ok(gathered.lines)
}

/// By place, the hours that were given before and now cost something else, with the difference.
type Changes = BTreeMap<CostPlace, Vec<(Id, Pay)>>;

/// Gives new hours and reversals, and conditions hours of this month that were given before and now cost something
/// else.
fn this_month(
    books: Books<'_>,
    month: &MonthFacts,
    window: &Window,
    given: &BTreeMap<Id, Pay>,
    gathered: &mut Gathered,
) -> Result<Changes, OfficeError> {
    let times = || month.facts.times.iter();
    let weeks = times().filter(|time| time.sign > 0).map(|time| (time.fact.person, time.fact.date)).collect();
    let now = costs(books, &weeks)?;
    for time in times().filter(|time| window.holds(&time.entry)) {
        let pay = if time.sign > 0 {
            // Hours that were reversed cost nothing any more; should they have been given, the reversal takes it back.
            now.get(&time.id).copied().unwrap_or_default()
        } else {
            minus(Pay::default(), given.get(&time.id).copied().unwrap_or_default())
        };
        gathered.give(Some(time.entry.id), cost_place(&time.fact), pay);
    }
    let open = gathered.open();
    let mut changes = Changes::new();
    for time in times().filter(|time| time.sign > 0 && window.from.hold(&time.entry)) {
        let place = cost_place(&time.fact);
        // What changed after the close is booked in the open month; here only what changed before it is still due.
        if !month.report.closed || open.contains_key(&place) {
            note(&mut changes, time.id, place, now.get(&time.id), given.get(&time.id));
        }
    }
    Ok(changes)
}

fn note(changes: &mut Changes, source: Id, place: CostPlace, now: Option<&Pay>, before: Option<&Pay>) {
    let (Some(now), Some(before)) = (now, before) else { return };
    let change = minus(*now, *before);
    if !is_nothing(change) {
        changes.entry(place).or_default().push((source, change));
    }
}

/// Hours of closed months that were given then and now cost something else: the difference is booked here.
fn closed_months(
    books: Books<'_>,
    month: &MonthFacts,
    history: &History,
    given: &BTreeMap<Id, Pay>,
    gathered: &Gathered,
) -> Result<Changes, OfficeError> {
    let open = gathered.open();
    let mut times: BTreeMap<Id, TimeEntry> = BTreeMap::new();
    for (_, line) in
        history.all_labor().filter(|(at, line)| *at < month.month && open.contains_key(&place(line)))
    {
        let Some(source) = line.source.filter(|source| !times.contains_key(source)) else { continue };
        if let Some(held) = books.fact(source)?
            && let Fact::TimeEntry(time) = held.fact
            && held.reversed_by.is_none()
        {
            times.insert(source, time);
        }
    }
    let weeks = times.values().map(|time| (time.person, time.date)).collect();
    let now = costs(books, &weeks)?;
    let mut changes = Changes::new();
    for (source, time) in &times {
        note(&mut changes, *source, cost_place(time), now.get(source), given.get(source));
    }
    Ok(changes)
}

fn cost_place(time: &TimeEntry) -> CostPlace {
    (time.job, time.code, time.condition)
}

fn costs(books: Books<'_>, weeks: &BTreeSet<(Id, Date)>) -> Result<BTreeMap<Id, Pay>, OfficeError> {
    Ok(books.costed_time(weeks)?.iter().map(|time| (time.id, costed(time))).collect())
}
