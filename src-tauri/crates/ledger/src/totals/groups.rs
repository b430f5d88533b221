//! Sums that depend on several facts together: what is still committed on an order, and what a decided change
//! order adds. A group is looked at before and after a batch, and the difference is what the batch did.

use super::effects::{Known, budget_column};
use super::sums::{TotalTable, code, job};
use crate::calendar::{Calendar, Span};
use crate::closed_lists::Verdict;
use crate::column::Column;
use crate::error::{LedgerError, damaged};
use crate::facts::{Bill, ChangeCost, ChangeOrder, Decision, Fact, PurchaseOrder};
use crate::id::Id;
use crate::kind::FactRow;
use crate::read::{Books, Entered, Which};
use jiff::civil::Date;
use rusqlite::Connection;
use std::collections::{BTreeMap, BTreeSet};
use trade::{CostKind, Money, Month};

/// A purchase order with its bills, or a change order with its decisions and what it should cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Group {
    Order(Id),
    Change(Id),
}

/// A sum in a table of totals: table, ids, month, column.
pub(crate) type Place = (usize, [Option<Id>; 2], Month, usize);

/// What a group adds, by place.
pub(crate) type Share = BTreeMap<Place, i64>;

/// The tables that groups add to, by the number in [`Place`].
pub(crate) static GROUP_TABLES: [&TotalTable; 2] = [&code::TABLE, &job::TABLE];
const CODE: usize = 0;
const JOB: usize = 1;

/// The group that a fact belongs to.
pub(crate) fn group_of(id: Id, fact: &Fact) -> Option<Group> {
    match fact {
        Fact::PurchaseOrder(_) => Some(Group::Order(id)),
        Fact::Bill(bill) => bill.purchase_order.map(Group::Order),
        Fact::ChangeOrder(_) => Some(Group::Change(id)),
        Fact::ChangeCost(cost) => Some(Group::Change(cost.change_order)),
        Fact::Decision(decision) => Some(Group::Change(decision.change_order)),
        _ => None,
    }
}

/// The one reversal of a fact that counts, and the first month open to it. A reversal takes the month of the fact it
/// cancels, while that month is open to it. Where several devices have taken the same fact back, the one that was in
/// first counts, told by the closes and not by any clock; so a later one never moves a closed month.
pub(crate) fn counting_reversal(
    conn: &Connection,
    calendar: &Calendar,
    target: Id,
) -> Result<Option<(Id, Option<Month>)>, LedgerError> {
    let mut statement = conn.prepare_cached(
        "SELECT r.id, e.device, e.device_seq FROM reversal r CROSS JOIN entry e ON e.id = r.id WHERE r.reverses = ?1",
    )?;
    let mut rows = statement.query([target.bytes()])?;
    let mut first: Option<(Option<Month>, Id)> = None;
    while let Some(row) = rows.next()? {
        let id = Id::load(row.get_ref(0)?).map_err(damaged("reversal.id"))?;
        let device: String = row.get(1)?;
        let here = (calendar.floor(&device, row.get(2)?), id);
        first = Some(first.map_or(here, |first| first.min(here)));
    }
    Ok(first.map(|(floor, id)| (id, floor)))
}

pub(crate) fn span<T>(
    conn: &Connection,
    calendar: &Calendar,
    entered: &Entered<T>,
    date: Date,
) -> Result<Span, LedgerError> {
    let from = calendar.booked(date, &entered.entry.device, entered.entry.device_seq);
    let until = match entered.reversed_by {
        None => None,
        Some(_) => counting_reversal(conn, calendar, entered.entry.id)?
            .map(|(_, floor)| floor.map_or(from, |floor| from.max(floor))),
    };
    Ok(Span { from, until })
}

fn turns_of(span: Span) -> impl Iterator<Item = Month> {
    [Some(span.from), span.until].into_iter().flatten()
}

/// What a group adds to the totals as the facts stand now.
pub(crate) fn share(
    conn: &Connection,
    calendar: &Calendar,
    known: &mut Known,
    group: Group,
) -> Result<Share, LedgerError> {
    match group {
        Group::Order(id) => order_share(conn, calendar, id),
        Group::Change(id) => change_share(conn, calendar, known, id),
    }
}

/// What a group comes to at the end of one month: table, ids, column.
type GroupState = BTreeMap<(usize, [Option<Id>; 2], usize), i64>;

/// Turns what a group comes to at the end of each month into what each month adds.
fn steps(turns: &BTreeSet<Month>, state: impl Fn(Month) -> GroupState) -> Share {
    let mut share = Share::new();
    let mut before = GroupState::new();
    for month in turns {
        let now = state(*month);
        for (place, sum) in &now {
            *share.entry((place.0, place.1, *month, place.2)).or_insert(0) += sum;
        }
        for (place, sum) in &before {
            *share.entry((place.0, place.1, *month, place.2)).or_insert(0) -= sum;
        }
        before = now;
    }
    share.retain(|_, sum| *sum != 0);
    share
}

fn fact_of<T: FactRow>(conn: &Connection, id: Id) -> Result<Option<Entered<T>>, LedgerError> {
    Ok(Books::over(conn).select::<T>(Which::All, "f.id = ?1", &[&id.bytes().as_slice()])?.pop())
}

/// Committed on an order, by code: ordered less received before tax, never below zero; nothing once a bill says
/// that the order is complete.
fn order_share(conn: &Connection, calendar: &Calendar, id: Id) -> Result<Share, LedgerError> {
    let Some(order) = fact_of::<PurchaseOrder>(conn, id)? else { return Ok(Share::new()) };
    let whole = span(conn, calendar, &order, order.fact.date)?;
    let mut ordered: BTreeMap<Id, Money> = BTreeMap::new();
    for line in &order.fact.lines {
        *ordered.entry(line.code).or_default() += line.amount;
    }
    let mut bills = Vec::new();
    let mut turns: BTreeSet<Month> = turns_of(whole).collect();
    let found = Books::over(conn).by_with_reversed(Bill::purchase_order, id)?;
    for bill in found {
        let span = span(conn, calendar, &bill, bill.fact.date)?;
        turns.extend(turns_of(span));
        bills.push((span, bill.fact));
    }
    Ok(steps(&turns, |month| {
        let mut state = GroupState::new();
        let here: Vec<_> =
            bills.iter().filter(|(span, _)| span.is_live(month)).map(|(_, bill)| bill).collect();
        if !whole.is_live(month) || here.iter().any(|bill| bill.completes_order) {
            return state;
        }
        for (code_id, amount) in &ordered {
            let received: Money = here
                .iter()
                .flat_map(|bill| &bill.lines)
                .filter(|line| line.code == *code_id && line.job == order.fact.job)
                .map(|line| line.amount)
                .sum();
            let open = *amount - received;
            if open > Money::ZERO {
                state.insert((CODE, [Some(order.fact.job), Some(*code_id)], code::COMMITTED), open.minor());
            }
        }
        state
    }))
}

/// The lines of a change order that a decision approves.
#[must_use]
pub fn approved_lines(lines: usize, decision: Option<&Decision>) -> Vec<bool> {
    let Some(decision) = decision else { return vec![false; lines] };
    let mut approved = vec![decision.verdict == Verdict::Approved; lines];
    for line in &decision.lines {
        let index = usize::try_from(line.change_line - 1).unwrap_or(usize::MAX);
        if let Some(place) = approved.get_mut(index) {
            *place = line.verdict == Verdict::Approved;
        }
    }
    approved
}

/// A change order with what was filled in of its cost.
#[must_use]
pub fn with_cost(order: ChangeOrder, filled_in: Option<&ChangeCost>) -> ChangeOrder {
    let mut order = order;
    for filled in filled_in.iter().flat_map(|cost| &cost.lines) {
        let index = usize::try_from(filled.change_line - 1).unwrap_or(usize::MAX);
        if let Some(line) = order.lines.get_mut(index) {
            line.cost = line.cost.or(Some(filled.cost));
        }
    }
    order
}

/// Of facts that each say the same of a change order, the newest counts: by its day, then by when it was recorded.
type Newest<T> = Vec<(Span, (Date, String, Id), T)>;

fn newest<T>(facts: &Newest<T>, month: Month) -> Option<&T> {
    let here = facts.iter().filter(|(span, _, _)| span.is_live(month));
    here.max_by(|left, right| left.1.cmp(&right.1)).map(|(_, _, fact)| fact)
}

/// What an approved change order adds: price, and budget by code; for hidden conditions both stand apart.
fn change_share(
    conn: &Connection,
    calendar: &Calendar,
    known: &mut Known,
    id: Id,
) -> Result<Share, LedgerError> {
    let Some(order) = fact_of::<ChangeOrder>(conn, id)? else { return Ok(Share::new()) };
    let found = Books::over(conn).by_with_reversed(Decision::change_order, id)?;
    let (mut decisions, mut costs): (Newest<Decision>, Newest<ChangeCost>) = (Vec::new(), Vec::new());
    let mut turns = BTreeSet::new();
    for decision in found {
        let span = span(conn, calendar, &decision, decision.fact.date)?;
        turns.extend(turns_of(span));
        decisions.push((
            span,
            (decision.fact.date, decision.entry.recorded_at.clone(), decision.entry.id),
            decision.fact,
        ));
    }
    for cost in Books::over(conn).by_with_reversed(ChangeCost::change_order, id)? {
        let span = span(conn, calendar, &cost, cost.fact.date)?;
        turns.extend(turns_of(span));
        costs.push((span, (cost.fact.date, cost.entry.recorded_at.clone(), cost.entry.id), cost.fact));
    }
    let mut counted = Vec::new();
    for line in &order.fact.lines {
        counted.push(
            line.cost_kind == CostKind::Material
                && line.quantity.is_some()
                && known.counts(conn, line.code, line.unit.as_deref())?,
        );
    }
    Ok(steps(&turns, |month| {
        let approved = approved_lines(order.fact.lines.len(), newest(&decisions, month));
        change_state(&with_cost(order.fact.clone(), newest(&costs, month)), &counted, &approved)
    }))
}

fn change_state(order: &ChangeOrder, counted: &[bool], approved: &[bool]) -> GroupState {
    let mut state = GroupState::new();
    let mut add = |table: usize, ids: [Option<Id>; 2], column: usize, by: i64| {
        *state.entry((table, ids, column)).or_insert(0) += by;
    };
    for (index, line) in
        order.lines.iter().enumerate().filter(|(index, _)| approved.get(*index) == Some(&true))
    {
        let (at, cost) = ([Some(order.job), Some(line.code)], line.expected_cost().minor());
        if line.repairs().is_some() {
            add(JOB, [Some(order.job), None], job::HIDDEN_PRICE, line.price.minor());
            add(CODE, at, code::HIDDEN_BUDGET, cost);
            continue;
        }
        add(JOB, [Some(order.job), None], job::CHANGE_PRICE, line.price.minor());
        add(CODE, at, code::CHANGED, cost);
        add(CODE, at, budget_column(line.cost_kind), cost);
        if let Some(hours) = line.hours {
            add(CODE, at, code::BUDGET_HOURS, hours.e4());
        }
        if let Some(quantity) = line.quantity.filter(|_| counted.get(index) == Some(&true)) {
            add(CODE, at, code::BUDGET_COUNTED, cost);
            add(CODE, at, code::BUDGET_QUANTITY, quantity.e4());
        }
    }
    state
}

/// Every group there is, for a rebuild.
pub(crate) fn all(conn: &Connection) -> Result<Vec<Group>, LedgerError> {
    let mut groups = Vec::new();
    for (table, make) in
        [("purchase_order", Group::Order as fn(Id) -> Group), ("change_order", Group::Change)]
    {
        let mut statement = conn.prepare_cached(&format!("SELECT id FROM {table}"))?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            groups.push(make(Id::load(row.get_ref(0)?).map_err(damaged(table))?));
        }
    }
    Ok(groups)
}
