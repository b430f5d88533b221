//! How the steps of the margin walk come about, code by code.

use super::cost;
use super::figure::{Figure, MeasuredIn};
use super::gather::{JobFacts, money, quantity};
use super::hidden::{self, Part};
use super::working::{Term, Working};
use crate::job::result::Base;
use rust_decimal::Decimal;
use trade::{Rounding, StepKind, WalkCode};

/// The cells of a code, in the order in which the walk has them.
const PARTS: [Part; 5] = [Part::Counted, Part::Material, Part::Labor, Part::Subcontract, Part::Rest];

/// A cell of a code: one kind of its cost.
struct Cell<'a> {
    job: &'a JobFacts,
    base: &'a Base,
    at: usize,
    cell: WalkCode,
}

/// What the rest of a code's forecast is shared by: what is left of each cell's budget, else the budget, else what was
/// spent, else all alike.
fn weights(cells: &[Cell<'_>]) -> Vec<Term> {
    let walk: Vec<WalkCode> = cells.iter().map(|cell| cell.cell.clone()).collect();
    let given = trade::forecast_weights(&walk);
    let above = |label: &str, terms: Vec<Term>| {
        Term::working(label, MeasuredIn::Money, Working::above_zero(label, MeasuredIn::Money, terms))
    };
    let candidates: [&dyn Fn(&Cell<'_>) -> Term; 3] = [
        &|cell| above(PARTS[cell.at].word(), vec![cell.budget(), cell.actual().less()]),
        &|cell| above(PARTS[cell.at].word(), vec![cell.budget()]),
        &|cell| above(PARTS[cell.at].word(), vec![cell.actual()]),
    ];
    let terms = candidates.into_iter().map(|term| cells.iter().map(term).collect::<Vec<_>>());
    let matching =
        terms.into_iter().find(|terms| terms.iter().map(|term| term.value).eq(given.iter().copied()));
    matching.unwrap_or_else(|| {
        let alike = |cell: &Cell<'_>| Term::rule(PARTS[cell.at].word(), MeasuredIn::Count, Decimal::ONE);
        cells.iter().map(alike).collect()
    })
}

/// A step of the walk, over all codes.
pub(crate) fn step(job: &JobFacts, figure: Figure, step: StepKind) -> Working {
    match step {
        StepKind::Changes => margin_on_changes(job),
        StepKind::HiddenConditions => {
            let forecast = hidden::forecast(job).called("spent on them, or approved cost");
            Working::sum(vec![job.term(Figure::HiddenPrice), forecast.less()])
        }
        _ => {
            let codes = job.codes().into_iter().map(|base| job.code_term(figure, base.id));
            Working::sum(codes.filter(|term| !term.value.is_zero()).collect())
        }
    }
}

/// Approved changes of the customer's own: their price less their contracted cost. A canceled job's are what the
/// cancellation left of contract and cost.
fn margin_on_changes(job: &JobFacts) -> Working {
    let price = job.term(Figure::Changes);
    if !job.is_canceled() {
        let cost = job.change_costs(|line| line.repairs().is_none());
        return Working::sum(vec![
            price,
            Term::facts("their contracted cost", MeasuredIn::Money, cost).less(),
        ]);
    }
    let sold =
        Term::facts("cost in the contract", MeasuredIn::Money, job.contract_facts(|line| money(line.amount)));
    let cost = Working::sum(vec![job.term(Figure::Forecast), hidden::forecast(job).less(), sold.less()]);
    Working::sum(vec![
        price,
        Term::working("cost of the job beyond the contract's", MeasuredIn::Money, cost).less(),
    ])
}

/// A step of the walk on one code: over the kinds of its cost.
pub(crate) fn step_of_code(job: &JobFacts, base: &Base, step: StepKind) -> Working {
    let cells = job.cells(base);
    let terms = cells.into_iter().enumerate().filter_map(|(at, cell)| {
        let cell = if job.is_canceled() {
            WalkCode {
                contracted: cell.forecast,
                contracted_quantity: None,
                contracted_hours: trade::Qty::ZERO,
                used_by_part: None,
                ..cell
            }
        } else {
            cell
        };
        if cell.contracted.is_zero() && cell.actual.is_zero() && cell.forecast.is_zero() {
            return None;
        }
        let working = Cell { job, base, at, cell }.step(step)?;
        Some(Term::working(PARTS[at].word(), MeasuredIn::Money, working))
    });
    Working::sum(terms.collect())
}

impl Cell<'_> {
    /// The cell's part in a step; `None` where it has none.
    fn step(&self, step: StepKind) -> Option<Working> {
        if step == StepKind::StillToCome {
            return Some(Working::sum(vec![
                self.contracted(),
                self.forecast().less(),
                self.standard().less(),
                self.actual(),
            ]));
        }
        let so_far = || Working::sum(vec![self.standard(), self.actual().less()]);
        let first = |used: Term| Working::sum(vec![used, self.actual().less()]);
        let second = |used: Term| Working::sum(vec![self.standard(), used.less()]);
        match (PARTS[self.at], self.used_at_standard(), step) {
            (Part::Counted | Part::Material, Some(used), StepKind::MaterialPrice)
            | (Part::Labor, Some(used), StepKind::LaborRate) => Some(first(used)),
            (Part::Counted | Part::Material, Some(used), StepKind::MaterialQuantity)
            | (Part::Labor, Some(used), StepKind::LaborHours) => Some(second(used)),
            (Part::Counted | Part::Material, None, StepKind::MaterialUnsplit)
            | (Part::Labor, None, StepKind::LaborHours)
            | (Part::Subcontract, None, StepKind::Subcontract)
            | (Part::Rest, None, StepKind::EquipmentAndOther) => Some(so_far()),
            _ => None,
        }
    }

    /// The cost in the contract and in approved changes.
    fn contracted(&self) -> Term {
        if self.job.is_canceled() {
            return self.forecast().called("as far as it was done");
        }
        self.budget()
    }

    /// The cell's budget, whatever became of the job.
    fn budget(&self) -> Term {
        let mut terms = vec![Term::facts("in the contract", MeasuredIn::Money, self.contract_facts())];
        let changes = self.job.change_costs(|line| {
            line.repairs().is_none()
                && line.code == self.base.id
                && self.holds(line.cost_kind, self.counts(line.quantity, line.unit.as_ref()))
        });
        if !changes.is_empty() {
            terms.push(Term::facts("in approved changes", MeasuredIn::Money, changes));
        }
        Term::working("contracted", MeasuredIn::Money, Working::sum(terms))
    }

    fn contract_facts(&self) -> Vec<super::working::FactLine> {
        self.job.contract_facts(|line| {
            let here = line.code == self.base.id
                && self.holds(line.cost_kind, self.counts(line.quantity, line.unit.as_ref()));
            money(line.amount).filter(|_| here)
        })
    }

    /// Whether a line with this quantity counts in the unit that the code's material is bought in.
    fn counts(&self, quantity: Option<trade::Qty>, unit: Option<&String>) -> bool {
        quantity.is_some() && unit.is_some() && self.job.bought_in(self.base.id) == unit
    }

    /// Whether a line of this kind, counted or not, belongs to the cell.
    fn holds(&self, kind: trade::CostKind, counts: bool) -> bool {
        match PARTS[self.at] {
            Part::Counted => Part::Material.holds_kind(kind) && counts,
            Part::Material => Part::Material.holds_kind(kind) && !counts,
            part => part.holds_kind(kind),
        }
    }

    /// What was spent to date, without hidden conditions and without what is stacked on site.
    fn actual(&self) -> Term {
        let (job, code) = (self.job, self.base.id);
        let facts = job.spent_facts(|spent| {
            spent.code == code && self.holds(spent.line.cost_kind, spent.counted.is_some())
        });
        let mut terms = vec![Term::facts("bills, direct costs and hours", MeasuredIn::Money, facts)];
        match PARTS[self.at] {
            Part::Material => {
                terms.extend(hidden::beyond(job, code, Part::Material).into_iter().map(Term::less));
                terms.extend(hidden::beyond(job, code, Part::Counted));
            }
            part => terms.extend(hidden::beyond(job, code, part).into_iter().map(Term::less)),
        }
        if let Some(stored) = self.stored() {
            terms.push(stored.less());
        }
        Term::working("spent to date", MeasuredIn::Money, Working::sum(terms))
    }

    /// Of the cell, what is on site and not installed.
    fn stored(&self) -> Option<Term> {
        if self.base.stored.is_zero() {
            return None;
        }
        let whole = || cost::stored_of_code(self.job, self.base);
        let counted = || {
            let counted = Working::larger(vec![self.counted(), cost::nothing("nothing")]);
            let counted = Term::working("counted material", MeasuredIn::Money, counted);
            let working = Working::smaller(vec![whole(), counted]);
            Term::working("on site, counted", MeasuredIn::Money, working)
        };
        match PARTS[self.at] {
            Part::Counted => Some(counted()),
            Part::Material => {
                let rest = Working::sum(vec![whole(), counted().less()]);
                Some(Term::working("on site, not counted", MeasuredIn::Money, rest))
            }
            Part::Labor | Part::Subcontract | Part::Rest => None,
        }
    }

    /// What the counted material of the code cost, without hidden conditions.
    fn counted(&self) -> Term {
        let (job, code) = (self.job, self.base.id);
        let facts = job.spent_facts(|spent| spent.code == code && Part::Counted.holds(spent));
        let mut terms = vec![Term::facts("bills", MeasuredIn::Money, facts)];
        terms.extend(hidden::beyond(job, code, Part::Counted).into_iter().map(Term::less));
        Term::working("counted material", MeasuredIn::Money, Working::sum(terms))
    }

    /// What the cell will have cost: spent, and its share of what the code's forecast still expects.
    fn forecast(&self) -> Term {
        let (job, base) = (self.job, self.base);
        let cells = job.cells(base).into_iter().enumerate();
        let cells: Vec<Cell<'_>> = cells.map(|(at, cell)| Cell { job, base, at, cell }).collect();
        let mut left = vec![job.code_term(Figure::Forecast, base.id)];
        let spent = cells.iter().filter(|cell| !cell.cell.actual.is_zero());
        left.extend(spent.map(|cell| cell.actual().called(PARTS[cell.at].word()).less()));
        let mut shares =
            vec![Term::working("still to come of the code", MeasuredIn::Money, Working::sum(left))];
        // A cell without weight gets nothing and takes nothing from the others.
        let weights = weights(&cells).into_iter().enumerate();
        let weights = weights.filter(|(at, term)| *at == self.at || !term.value.is_zero());
        let mut part = 0;
        for (at, weight) in weights {
            shares.push(weight);
            if at == self.at {
                part = shares.len() - 1;
            }
        }
        let share = Working::share(part, shares);
        let share = Term::working("its share of what is still to come", MeasuredIn::Money, share);
        Term::working("forecast", MeasuredIn::Money, Working::sum(vec![self.actual(), share]))
    }

    /// The contracted cost of the work really done.
    fn standard(&self) -> Term {
        let (done, whole) = self.cell.done_of_whole();
        let label = "contracted cost of the work done";
        if done == whole {
            return self.contracted().called(label);
        }
        if done.is_zero() {
            return cost::nothing(label);
        }
        let (done, whole) = match self.cell.units_contracted {
            Some(units) if units.is_positive() => {
                let (whole, done) = cost::units(self.job, self.base);
                (done, whole)
            }
            _ => (self.actual(), self.forecast()),
        };
        let working = Working::proportion(self.contracted(), done, whole, Rounding::Cent);
        Term::working(label, MeasuredIn::Money, working)
    }

    /// What the quantity or hours used would have cost at the contracted price or pay; `None` where the walk doesn't
    /// tell the two apart.
    fn used_at_standard(&self) -> Option<Term> {
        if self.cell.used_by_part.is_some() {
            let parts = self.base.parts.iter().filter(|(_, part)| !part.used.is_zero());
            let terms = parts.map(|(part, _)| self.part_at_contract(*part)).collect();
            let label = "what these parts cost at the contract’s prices";
            return Some(Term::working(label, MeasuredIn::Money, Working::sum(terms)));
        }
        let (label, used, whole) = match PARTS[self.at] {
            Part::Labor if self.cell.contracted_hours.is_positive() => {
                let code = Some(self.base.id);
                let hours = cost::hours_of_code(self.job, self.base.id);
                (
                    "what these hours cost at the contracted pay",
                    Term::working("hours worked", MeasuredIn::Hours, hours),
                    Term::working(
                        "hours contracted",
                        MeasuredIn::Hours,
                        cost::hours_contracted(self.job, code),
                    ),
                )
            }
            Part::Counted | Part::Material
                if self.cell.actual_quantity.is_some()
                    && self.cell.contracted_quantity.is_some_and(trade::Qty::is_positive) =>
            {
                (
                    "what this quantity costs at the contracted price",
                    self.quantity_used(),
                    self.quantity_contracted(),
                )
            }
            _ => return None,
        };
        let working = Working::proportion(self.contracted(), used, whole, Rounding::Cent);
        Some(Term::working(label, MeasuredIn::Money, working))
    }

    /// What the used quantity of one part costs at the contract's price of it.
    fn part_at_contract(&self, part: ledger::Id) -> Term {
        let (job, code) = (self.job, self.base.id);
        let cost = job.contract_part_facts(part, |line| line.cost.decimal());
        let whole = job.contract_part_facts(part, |line| line.packages.decimal());
        let title = cost.first().map_or_else(|| "part".to_owned(), |line| line.text.clone());
        let bought =
            hidden::counted_facts(job, |spent| spent.code == code && job.is_of_part(spent.part, part));
        let bought = Term::facts("quantity bought", MeasuredIn::Count, bought);
        let used = if self.stored().is_some_and(|stored| !stored.value.is_zero()) {
            let working = Working::proportion(bought, self.actual(), self.counted(), Rounding::TenThousandth);
            Term::working("quantity used", MeasuredIn::Count, working)
        } else {
            bought.called("quantity used")
        };
        let working = Working::proportion(
            Term::facts("in the contract", MeasuredIn::Money, cost),
            used,
            Term::facts("quantity contracted", MeasuredIn::Count, whole),
            Rounding::Cent,
        );
        Term::working(&title, MeasuredIn::Money, working)
    }

    fn quantity_contracted(&self) -> Term {
        let here = |code: ledger::Id, kind, counted: Option<trade::Qty>, unit: Option<&String>| {
            code == self.base.id && self.holds(kind, self.counts(counted, unit))
        };
        let mut facts = self.job.contract_facts(|line| {
            let here = here(line.code, line.cost_kind, line.quantity, line.unit.as_ref());
            line.quantity.filter(|_| here).and_then(quantity)
        });
        facts.extend(self.job.change_facts(|line| {
            let here = line.repairs().is_none()
                && here(line.code, line.cost_kind, line.quantity, line.unit.as_ref());
            line.quantity.filter(|_| here).and_then(quantity)
        }));
        Term::facts("quantity contracted", MeasuredIn::Count, facts)
    }

    /// The quantity installed: bought, less hidden conditions, less what is stacked on site by its share of the cost.
    fn quantity_used(&self) -> Term {
        let (job, code) = (self.job, self.base.id);
        let mut terms = vec![Term::facts(
            "quantity bought",
            MeasuredIn::Count,
            hidden::counted_facts(job, |spent| spent.code == code),
        )];
        terms.extend(hidden::quantity_beyond(job, code).into_iter().map(Term::less));
        let bought = Term::working("quantity bought", MeasuredIn::Count, Working::sum(terms));
        let on_site = self.stored().filter(|stored| !stored.value.is_zero());
        if on_site.is_none() {
            return bought.called("quantity used");
        }
        let working = Working::proportion(bought, self.actual(), self.counted(), Rounding::TenThousandth);
        Term::working("quantity used", MeasuredIn::Count, working)
    }
}
