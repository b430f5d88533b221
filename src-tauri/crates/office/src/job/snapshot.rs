//! How one job stands at the end of a month: everything known of it, gathered once, before any figure is shown.

use jiff::civil::Date;
use ledger::closed_lists::{CountedIn, Course, Damaged, JobStatusWord, Pricing, RepairStage, Verdict};
use ledger::facts::{ChangeCost, ChangeOrder, Condition, Contract, Decision, Job};
use ledger::totals::{CodeTotals, ConditionTotals, JobTotals, LaborTotals, PartTotals, WorkedDay};
use ledger::{Entered, Id, InForce};
use std::collections::{BTreeMap, BTreeSet};
use trade::{IncludedUse, Money, Month, Qty};

/// The state of a change order, as words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum ChangeState {
    /// Put to the homeowner, no decision yet.
    Waiting,
    /// All of it approved.
    Approved,
    /// Some lines approved, some declined.
    PartlyApproved,
    /// Declined.
    Declined,
    /// Taken back.
    Withdrawn,
}
trade::closed_list!(ChangeState, "state of a change order", {
    Waiting => "waiting": "Waiting",
    Approved => "approved": "Approved",
    PartlyApproved => "partly-approved": "Partly approved",
    Declined => "declined": "Declined",
    Withdrawn => "withdrawn": "Withdrawn",
});

/// The state of the work on a condition, as words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum WorkState {
    /// Nobody has begun.
    NotBegun,
    /// Begun, or done, beyond what the price covers and before a decision.
    AtRisk,
    /// Begun with the homeowner's yes, or within the included sheets.
    Begun,
    /// Repaired.
    Done,
}
trade::closed_list!(WorkState, "state of the work", {
    NotBegun => "not-begun": "Not begun",
    AtRisk => "at-risk": "At risk",
    Begun => "begun": "Begun",
    Done => "done": "Done",
});

/// A change order with its decision.
#[derive(Clone, Debug)]
pub struct ChangeAtMonth {
    /// Its id.
    pub id: Id,
    /// The fact, with what was filled in of its cost.
    pub order: ChangeOrder,
    /// Where its cost was filled in.
    pub filled_in: Option<Entered<ChangeCost>>,
    /// The decision that stands.
    pub decision: Option<Decision>,
    /// Whether decisions contradict each other from two devices.
    pub contradicted: bool,
    /// Which lines are approved.
    pub approved: Vec<bool>,
    /// Billed of it, before tax.
    pub invoiced: Money,
    /// Where it is by time and material and approved: what the work comes to so far.
    pub accrued: Option<Accrued>,
}

/// What work by time and material comes to so far.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Accrued {
    /// What its conditions cost beyond the included sheets.
    pub cost: Money,
    /// That cost with the markup on it.
    pub marked_up: Money,
    /// What the homeowner owes for it: marked up, held to the agreed most, with the lines whose price is fixed.
    pub price: Money,
    /// Whether the agreed most held it down.
    pub capped: bool,
    /// Beyond the agreed most: not billed.
    pub unrecovered: Money,
    /// Whether all of its conditions are repaired, so that nothing more is to come.
    pub done: bool,
}

impl ChangeAtMonth {
    /// Whether nobody has said yet what work costs that was asked for, and may be or is approved.
    #[must_use]
    pub fn lacks_cost(&self) -> bool {
        let is_alive = !matches!(self.state(), ChangeState::Declined | ChangeState::Withdrawn);
        is_alive && self.order.lines.iter().any(|line| line.cost.is_none())
    }

    /// The price approved in all.
    #[must_use]
    pub fn approved_price(&self) -> Money {
        let lines = self.order.lines.iter().zip(&self.approved).filter(|(_, approved)| **approved);
        lines.map(|(line, _)| line.price).sum()
    }

    /// What the homeowner owes for it in all. By time and material: what the work came to, once it is done; until then
    /// what was expected, or what it has come to where that is more.
    #[must_use]
    pub fn owed(&self) -> Money {
        match self.accrued {
            None => self.approved_price(),
            Some(accrued) => trade::owed_so_far(accrued.price, self.approved_price(), accrued.done),
        }
    }

    /// What is to be billed of it now; below zero, to be credited. By time and material only what is done is billed.
    #[must_use]
    pub fn to_bill(&self) -> Money {
        self.accrued.map_or_else(|| self.approved_price(), |accrued| accrued.price) - self.invoiced
    }

    /// What a line of an invoice says of it.
    #[must_use]
    pub fn billed_as(&self) -> String {
        let by = match self.order.pricing {
            Pricing::TimeAndMaterial => " (time and material)",
            Pricing::UnitPrice | Pricing::LumpSum => "",
        };
        format!("Change order {}: {}{by}", self.order.number, self.order.title)
    }

    /// The conditions that its approved lines are for, each once.
    pub(crate) fn conditions(&self) -> BTreeSet<Id> {
        let lines = self.order.lines.iter().zip(&self.approved).filter(|(_, approved)| **approved);
        lines.filter_map(|(line, _)| line.repairs()).collect()
    }

    /// What is credited for deducts.
    pub(crate) fn credits(&self) -> Money {
        let lines = self.order.lines.iter().zip(&self.approved).filter(|(_, approved)| **approved);
        lines.map(|(line, _)| line.price.min(Money::ZERO)).sum()
    }

    /// The price of its approved work: condition by condition in the order of the lines, and of its other work
    /// together. Deducts are left out.
    pub(crate) fn work(&self) -> Vec<(Option<Id>, Money)> {
        let mut work: Vec<(Option<Id>, Money)> = Vec::new();
        let lines = self.order.lines.iter().zip(&self.approved).filter(|(_, approved)| **approved);
        for (line, _) in lines.filter(|(line, _)| !line.price.is_negative()) {
            match work.iter_mut().find(|(condition, _)| *condition == line.repairs()) {
                Some((_, price)) => *price += line.price,
                None => work.push((line.repairs(), line.price)),
            }
        }
        work
    }

    /// Of an amount that is owed or billed of it, what is for a condition.
    fn for_condition(&self, amount: Money, condition: Id) -> Money {
        let work = self.work();
        let prices: Vec<Money> = work.iter().map(|(_, price)| *price).collect();
        let amount = trade::part_for_work(amount, self.owed(), self.credits());
        let dealt = work.iter().zip(trade::deal_to_work(amount, &prices));
        dealt.filter(|((of, _), _)| *of == Some(condition)).map(|(_, part)| part).sum()
    }

    /// What the conditions of its approved lines cost beyond the included sheets.
    pub(crate) fn cost(&self, conditions: &[ConditionAtMonth]) -> Money {
        let own = self.conditions();
        conditions
            .iter()
            .filter(|condition| own.contains(&condition.id))
            .map(|condition| condition.spent)
            .sum()
    }

    fn accrue(&mut self, cost: Money, done: bool) {
        let lines = self.order.lines.iter().zip(&self.approved).filter(|(_, approved)| **approved);
        let fixed: Money =
            lines.filter(|(line, _)| line.repairs().is_none()).map(|(line, _)| line.price).sum();
        let markup = self.order.markup.unwrap_or_default();
        let priced = trade::time_and_material(cost, markup, self.order.not_to_exceed);
        self.accrued = Some(Accrued {
            cost,
            marked_up: trade::price_at_markup(cost, markup),
            price: priced.price + fixed,
            capped: priced.capped,
            unrecovered: priced.unrecovered,
            done,
        });
    }

    /// Its state.
    #[must_use]
    pub fn state(&self) -> ChangeState {
        let some = self.approved.iter().any(|approved| *approved);
        let all = self.approved.iter().all(|approved| *approved);
        match self.decision.as_ref().map(|decision| decision.verdict) {
            None => ChangeState::Waiting,
            Some(Verdict::Withdrawn) => ChangeState::Withdrawn,
            Some(_) if all => ChangeState::Approved,
            Some(_) if some => ChangeState::PartlyApproved,
            Some(_) => ChangeState::Declined,
        }
    }
}

/// A hidden condition with what it used, cost and brought.
#[derive(Clone, Debug)]
pub struct ConditionAtMonth {
    /// Its id.
    pub id: Id,
    /// The fact.
    pub condition: Condition,
    /// How much of it the included sheets (or feet) cover, and how much is beyond.
    pub used: IncludedUse,
    /// Cost tied to it by code.
    pub totals: BTreeMap<Id, ConditionTotals>,
    /// Of that, what is beyond the included sheets.
    pub beyond: BTreeMap<Id, ConditionTotals>,
    /// The cost beyond.
    pub spent: Money,
    /// The price approved for it.
    pub approved: Money,
    /// Billed for it.
    pub billed: Money,
    /// Unrecovered cost.
    pub unrecovered: Money,
    /// Whether more of it may still be billed, so that nothing counts as unrecovered yet.
    pub still_to_bill: bool,
    /// Whether a change order for it waits for its decision.
    pub waiting: bool,
    /// Whether any change order was ever made for it that was not withdrawn.
    pub asked: bool,
    /// Whether the homeowner declined its repair: it was asked for, and no line of what was asked is approved or waits.
    pub declined: bool,
    /// What the firm's owner decided then.
    pub course: Option<Course>,
    /// Whether work stops there: nothing is laid over it as it is.
    pub stops: bool,
    /// The work on it.
    pub work: WorkState,
}

impl ConditionAtMonth {
    /// Whether the homeowner is to be asked for it: it goes beyond what the price covers, and nobody has.
    #[must_use]
    pub fn is_to_ask(&self) -> bool {
        self.used.beyond.is_positive() && !self.asked
    }

    /// Whether the firm's owner has to say what becomes of it.
    #[must_use]
    pub fn awaits_owner(&self) -> bool {
        self.stops && self.course.is_none()
    }
}

/// A job at the end of a month.
#[derive(Clone, Debug)]
pub struct JobSnapshot {
    /// The job.
    pub job: Id,
    /// The month.
    pub month: Month,
    /// Its contract, if it has one.
    pub contract: Option<Entered<Contract>>,
    /// Price and money.
    pub money: JobTotals,
    /// Sums by code.
    pub codes: BTreeMap<Id, CodeTotals>,
    /// Counted material by code and part.
    pub parts: BTreeMap<Id, BTreeMap<Option<Id>, PartTotals>>,
    /// Labor by the month in which it is booked.
    pub labor: BTreeMap<Month, LaborTotals>,
    /// Hours by day and crew.
    pub worked: Vec<WorkedDay>,
    /// The job's own versions: the crew that is to do it may be another from a day on.
    pub versions: InForce<Job>,
    /// Work began on.
    pub begun: Option<Date>,
    /// Work ended on, finished or canceled.
    pub ended: Option<(JobStatusWord, Date)>,
    /// The owner's forecasts that stand, by code.
    pub forecasts: BTreeMap<Id, Money>,
    /// Material on site and not installed, by code.
    pub stored: BTreeMap<Id, Money>,
    /// Change orders.
    pub changes: Vec<ChangeAtMonth>,
    /// Hidden conditions, in the order in which they were found.
    pub conditions: Vec<ConditionAtMonth>,
}

impl JobSnapshot {
    /// Whether the new roof rests on any of these conditions.
    pub(crate) fn bears_the_roof(&self, mut of: impl Iterator<Item = Id>) -> bool {
        let bears = |id: Id| {
            let condition = self.conditions.iter().find(|condition| condition.id == id);
            condition.is_some_and(|condition| condition.condition.damaged.bears_the_roof())
        };
        of.any(bears)
    }

    /// Material on site and not installed, by code: what was counted, within what its material cost. An ended job has
    /// nothing stacked on site any more, whatever the last count said.
    #[must_use]
    pub fn uninstalled(&self) -> Money {
        if self.is_ended() {
            return Money::ZERO;
        }
        let material = |code: &Id| self.codes.get(code).map_or(Money::ZERO, |totals| totals.material);
        self.stored.iter().map(|(code, counted)| trade::stored_material(*counted, material(code))).sum()
    }

    /// Whether nothing more is to come.
    #[must_use]
    pub fn is_ended(&self) -> bool {
        self.ended.is_some()
    }
}

/// Works out what approved changes by time and material come to, and moves the job's price by the difference from what
/// was expected. A condition that two of them name counts for the first.
pub(super) fn accrue(standing: &mut JobSnapshot, conditions: &[(ConditionAtMonth, Vec<RepairStage>)]) {
    let ended = standing.is_ended();
    let mut taken: BTreeSet<Id> = BTreeSet::new();
    for change in &mut standing.changes {
        let own: BTreeSet<Id> = change.conditions().difference(&taken).copied().collect();
        if change.order.pricing != Pricing::TimeAndMaterial || own.is_empty() {
            continue;
        }
        let of_change = || conditions.iter().filter(|(condition, _)| own.contains(&condition.id));
        let cost = of_change().map(|(condition, _)| condition.spent).sum();
        let done = ended || of_change().all(|(_, stages)| stages.contains(&RepairStage::Done));
        change.accrue(cost, done);
        standing.money.hidden_price += change.owed() - change.approved_price();
        taken.extend(own);
    }
}

pub(super) fn settle_condition(
    condition: &mut ConditionAtMonth,
    stages: &[RepairStage],
    standing: &JobSnapshot,
) {
    let owed_more = settle_money(condition, &standing.changes);
    condition.declined = is_declined(condition, &standing.changes);
    let unasked_and_open = !condition.asked && !standing.is_ended();
    condition.still_to_bill = owed_more || condition.waiting || unasked_and_open;
    condition.unrecovered = trade::unrecovered(condition.spent, condition.billed, condition.still_to_bill);
    condition.work = work_state(condition, stages);
    condition.stops = trade::work_stops(
        condition.condition.damaged.bears_the_roof(),
        condition.declined,
        condition.course == Some(Course::OwnCost),
        stages.contains(&RepairStage::Done),
    );
}

/// Whether what was asked for a condition beyond the included sheets was declined, all of it.
fn is_declined(condition: &ConditionAtMonth, changes: &[ChangeAtMonth]) -> bool {
    let mut lines = changes
        .iter()
        .filter(|change| change.state() != ChangeState::Withdrawn)
        .flat_map(|change| change.order.lines.iter().zip(&change.approved))
        .filter(|(line, _)| line.condition == Some(condition.id));
    let approved = lines.any(|(_, approved)| *approved);
    condition.used.beyond.is_positive() && condition.asked && !condition.waiting && !approved
}

/// The order of use: conditions take from the included sheets (or feet of board) as they are found.
pub(super) fn uses<'a>(
    contract: Option<&Contract>,
    conditions: impl Iterator<Item = &'a Condition>,
) -> Vec<IncludedUse> {
    let conditions: Vec<&Condition> = conditions.collect();
    let mut used = vec![IncludedUse { covered: Qty::ZERO, beyond: Qty::ZERO }; conditions.len()];
    let included = [
        (
            Damaged::DeckSheet,
            CountedIn::Sheet,
            contract.map_or(Qty::ZERO, |contract| contract.included_sheets),
        ),
        (Damaged::DeckBoard, CountedIn::Foot, contract.map_or(Qty::ZERO, |contract| contract.included_feet)),
    ];
    for (condition, place) in conditions.iter().zip(&mut used) {
        place.beyond = condition.count;
    }
    for (damaged, counted_in, amount) in included {
        let of_kind: Vec<usize> = (0..conditions.len())
            .filter(|index| {
                conditions[*index].damaged == damaged && conditions[*index].counted_in == counted_in
            })
            .collect();
        let counts: Vec<Qty> = of_kind.iter().map(|index| conditions[*index].count).collect();
        for (index, taken) in of_kind.into_iter().zip(trade::use_included(amount, &counts)) {
            used[index] = taken;
        }
    }
    used
}

/// Everything a condition cost on a code.
pub(crate) fn spent(totals: &ConditionTotals) -> Money {
    totals.material + totals.labor + totals.subcontract + totals.rest
}

/// The part of a condition's cost beyond the included sheets, split by count.
pub(super) fn beyond(totals: &ConditionTotals, used: IncludedUse) -> ConditionTotals {
    let money = |cost: Money| trade::beyond_share(cost, used).beyond;
    let quantity = |quantity: Qty| trade::beyond_quantity(quantity, used);
    ConditionTotals {
        material: money(totals.material),
        labor: money(totals.labor),
        subcontract: money(totals.subcontract),
        rest: money(totals.rest),
        counted: money(totals.counted),
        quantity: quantity(totals.quantity),
        hours: quantity(totals.hours),
    }
}

/// What was approved and billed for a condition; decides whether more of it is still to be billed. What is owed and
/// billed of a change order is dealt to its approved work by price, deducts apart.
fn settle_money(condition: &mut ConditionAtMonth, changes: &[ChangeAtMonth]) -> bool {
    let mut still_to_bill = false;
    for change in changes
        .iter()
        .filter(|change| change.order.lines.iter().any(|line| line.condition == Some(condition.id)))
    {
        match change.state() {
            ChangeState::Withdrawn => continue,
            ChangeState::Waiting => condition.waiting = true,
            _ => {}
        }
        condition.asked = true;
        let owed = change.for_condition(change.owed(), condition.id);
        let billed = change.for_condition(change.invoiced, condition.id);
        condition.approved += owed;
        condition.billed += billed;
        still_to_bill |= billed < owed;
    }
    still_to_bill
}

fn work_state(condition: &ConditionAtMonth, steps: &[RepairStage]) -> WorkState {
    // Where the firm bears the cost, its owner has decided: it is a loss, and no longer a risk.
    let is_borne = condition.declined && condition.course == Some(Course::OwnCost);
    let has_decision_or_is_covered =
        condition.used.beyond.is_zero() || !condition.approved.is_zero() || is_borne;
    match (
        steps.contains(&RepairStage::Done),
        steps.contains(&RepairStage::Begun) || !condition.totals.is_empty(),
    ) {
        (false, false) => WorkState::NotBegun,
        _ if !has_decision_or_is_covered => WorkState::AtRisk,
        (true, _) => WorkState::Done,
        (false, true) => WorkState::Begun,
    }
}
