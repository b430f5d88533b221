//! Opening a job's figures: for each, the working that leads to it. A figure without an opening does not compile.

use super::figure::{Figure, MeasuredIn, firm_month, firm_year};
use super::gather::{JobFacts, money};
use super::working::{Explanation, FactLine, Term, Working};
use super::{cost, hidden, own_day, steps};
use desk::Desk;
use desk::OfficeError;
use rust_decimal::Decimal;
use trade::{Month, Rounding};

/// A job's figures at the end of a month, ready to be opened.
pub struct Openings {
    job: JobFacts,
}

impl Openings {
    /// Gathers a job.
    ///
    /// # Errors
    /// When there is no such job, or the facts cannot be read.
    pub fn of_job(desk: &Desk, number: &str, month: Month) -> Result<Openings, OfficeError> {
        desk.books().in_one_read(|books| Ok(Openings { job: JobFacts::read(books, number, month)? }))
    }

    /// The words of the job's codes.
    #[must_use]
    pub fn codes(&self) -> Vec<&str> {
        self.job.page.figures.result.codes.iter().map(|code| code.code.as_str()).collect()
    }

    /// Opens a figure.
    #[must_use]
    pub fn open(&self, figure: Figure) -> Explanation {
        let value = figure.of_job(&self.job.page.figures);
        let working = working(&self.job, figure);
        Explanation::of((figure, None), (&self.job.number, self.job.month), value, working)
    }

    /// Opens a figure of one code.
    ///
    /// # Errors
    /// When the job has no such code, or the figure is not worked out by code.
    pub fn open_code(&self, figure: Figure, code: &str) -> Result<Explanation, OfficeError> {
        let job = &self.job;
        let result = &job.page.figures.result;
        let base = job.bases.iter().find(|base| job.names.code(base.id) == code);
        let found = result.codes.iter().find(|found| found.code == code);
        let (Some(base), Some(found)) = (base, found) else {
            return Err(OfficeError::not_found(
                format!("Job {} has no code “{code}”.", job.number),
                format!("Use one of {}.", self.codes().join(", ")),
            ));
        };
        let working = match figure {
            Figure::Cost => Some(cost::cost_of_code(job, base.id)),
            Figure::Committed => Some(cost::committed(job, Some(base.id))),
            Figure::Forecast => Some(cost::forecast_of_code(job, base)),
            Figure::Hours => Some(cost::hours_of_code(job, base.id)),
            Figure::HoursContracted => Some(cost::hours_contracted(job, Some(base.id))),
            Figure::Step(step) if figure.is_by_code() => Some(steps::step_of_code(job, base, step)),
            _ => None,
        };
        let Some(working) = working else {
            return Err(OfficeError::not_found(
                format!("“{figure}” is not worked out by code."),
                "Leave the code out.",
            ));
        };
        let value = figure.of_code(result, found);
        Ok(Explanation::of((figure, Some(code)), (&job.number, job.month), value, working))
    }
}

/// How a figure of a job comes about.
fn working(job: &JobFacts, figure: Figure) -> Working {
    let terms = |figures: &[Figure]| figures.iter().map(|figure| job.term(*figure)).collect::<Vec<_>>();
    let less = |from: Figure, figure: Figure| vec![job.term(from), job.term(figure).less()];
    match figure {
        Figure::Price => price(job),
        Figure::Changes => changes(job),
        Figure::HiddenPrice => hidden::price(job),
        Figure::Contract => Working::sum(terms(&[Figure::Price, Figure::Changes, Figure::HiddenPrice])),
        Figure::Cost => cost::cost(job),
        Figure::LaborCost => Working::sum(vec![own_day::labor_cost(job, |_| true)]),
        Figure::Committed => cost::committed(job, None),
        Figure::Forecast => cost::forecast(job),
        Figure::Uninstalled => cost::uninstalled(job),
        Figure::Complete => complete(job),
        Figure::Earned => earned(job),
        Figure::Backlog => Working::sum(less(Figure::Contract, Figure::Earned)),
        Figure::BacklogProfit => backlog_profit(job),
        Figure::BacklogBefore => {
            let before = Figure::BacklogBefore.of_job(&job.page.figures);
            Working::sum(vec![job.term_in(Figure::Backlog, job.month.prev(), before)])
        }
        Figure::Billed => billed(job),
        Figure::OverBilled => above_zero("billed less earned", less(Figure::Billed, Figure::Earned)),
        Figure::UnderBilled => above_zero("earned less billed", less(Figure::Earned, Figure::Billed)),
        Figure::LossProvision => loss_provision(job),
        Figure::RetainageHeld => retainage_held(job),
        Figure::Received => received(job),
        Figure::MarginSold => {
            let sold = job.contract_facts(|line| money(line.amount));
            let sold = Term::facts("cost in the contract", MeasuredIn::Money, sold);
            Working::sum(vec![job.term(Figure::Price), sold.less()])
        }
        Figure::MarginSoldRatio => Working::quotient(terms(&[Figure::MarginSold, Figure::Price])),
        Figure::Margin => Working::sum(less(Figure::Contract, Figure::Forecast)),
        Figure::MarginRatio => Working::quotient(terms(&[Figure::Margin, Figure::Contract])),
        Figure::Hours => cost::hours(job),
        Figure::HoursContracted => cost::hours_contracted(job, None),
        Figure::CrewDays => own_day::crew_days(job),
        Figure::MarginPerCrewDay => margin_per_crew_day(job),
        Figure::Overhead => own_day::overhead(job),
        Figure::MarginAfterOverhead => Working::sum(less(Figure::Margin, Figure::Overhead)),
        Figure::HiddenSpent => hidden::spent(job),
        Figure::HiddenBilled => hidden::billed(job),
        Figure::Recovery => {
            Working::quotient(vec![job.term(Figure::HiddenBilled), divisor(job, Figure::HiddenSpent)])
        }
        Figure::Unrecovered => hidden::unrecovered(job),
        Figure::Step(step) => steps::step(job, figure, step),
        Figure::MonthEarned => moved(job, figure, Figure::Earned),
        Figure::MonthSigned => moved(job, figure, Figure::Price),
        Figure::MonthChanged => month_changed(job),
        Figure::MonthCost => moved(job, figure, Figure::Cost),
        Figure::MonthProfit => Working::sum(vec![
            job.term(Figure::MonthEarned),
            job.term(Figure::MonthCost).less(),
            job.term(Figure::MonthLossProvision).less(),
        ]),
        Figure::MonthBilled => moved(job, figure, Figure::Billed),
        Figure::MonthOverBilled => moved(job, figure, Figure::OverBilled),
        Figure::MonthUnderBilled => moved(job, figure, Figure::UnderBilled),
        Figure::MonthLossProvision => moved(job, figure, Figure::LossProvision),
        Figure::MonthOverhead => moved(job, figure, Figure::Overhead),
        Figure::MonthCrewDays => moved(job, figure, Figure::CrewDays),
        // No job has these: whoever asks is told so before.
        firm_month!() | firm_year!() | Figure::Budget(_) | Figure::Cash(_) => Working::sum(Vec::new()),
    }
}

fn above_zero(label: &str, terms: Vec<Term>) -> Working {
    Working::above_zero(label, MeasuredIn::Money, terms)
}

/// A figure to divide by; what is not above zero divides nothing.
fn divisor(job: &JobFacts, figure: Figure) -> Term {
    let term = job.term(figure);
    if term.value >= Decimal::ZERO {
        return term;
    }
    let zero = Term::rule("nothing", figure.measure(), Decimal::ZERO);
    Term::working(figure.label(), figure.measure(), Working::larger(vec![term, zero]))
}

fn price(job: &JobFacts) -> Working {
    let contract = job.standing.contract.iter();
    let facts = contract.map(|held| job.line(held, held.fact.date, "contract", held.fact.price.decimal()));
    Working::sum(vec![Term::facts("price in the contract", MeasuredIn::Money, facts.collect())])
}

/// Approved changes of the customer's own, order by order, and what a cancellation took away.
fn changes(job: &JobFacts) -> Working {
    let approved = || {
        let facts = job.change_facts(|line| money(line.price).filter(|_| line.repairs().is_none()));
        Term::facts("approved changes", MeasuredIn::Money, facts)
    };
    let mut terms = vec![approved()];
    if job.is_canceled() {
        let rest = Working::sum(vec![
            job.term(Figure::Billed),
            job.term(Figure::Price).less(),
            approved().less(),
            job.term(Figure::HiddenPrice).less(),
        ]);
        let label = "the cancellation: what was billed is all that the job will bring";
        terms.push(Term::working(label, MeasuredIn::Money, rest));
    }
    Working::sum(terms)
}

/// The work done and the whole of it, at cost, without what is stacked on site.
fn done_of_whole(job: &JobFacts) -> Option<(Term, Term)> {
    let without = |label: &str, figure: Figure| {
        let terms = vec![job.term(figure), job.term(Figure::Uninstalled).less()];
        Term::working(label, MeasuredIn::Money, Working::sum(terms))
    };
    let (done, whole) = (without("cost of the work done", Figure::Cost), without("of all", Figure::Forecast));
    if whole.value <= Decimal::ZERO {
        return None;
    }
    let zero = || Term::rule("nothing", MeasuredIn::Money, Decimal::ZERO);
    let done = if done.value < Decimal::ZERO {
        Term::working("cost of the work done", MeasuredIn::Money, Working::larger(vec![done, zero()]))
    } else if done.value > whole.value {
        let within = Working::smaller(vec![done, whole.clone()]);
        Term::working("cost of the work done, not above all", MeasuredIn::Money, within)
    } else {
        done
    };
    Some((done, whole))
}

/// Where only uninstalled material is forecast: all or nothing, by the rule.
fn all_or_nothing(job: &JobFacts) -> Term {
    let label = if job.standing.is_ended() {
        "nothing was spent, and nothing more is to come: all"
    } else {
        "only what is stacked on site is forecast: all where all of it is spent, else nothing"
    };
    Term::rule(label, MeasuredIn::Share, job.page.figures.result.complete)
}

fn complete(job: &JobFacts) -> Working {
    match done_of_whole(job) {
        Some((done, whole)) => Working::quotient(vec![done, whole]),
        None => Working::sum(vec![all_or_nothing(job)]),
    }
}

/// What is stacked on site, as far as the contract holds it: no customer pays more.
fn revenue_at_cost(job: &JobFacts) -> Term {
    let (uninstalled, contract) = (job.term(Figure::Uninstalled), job.term(Figure::Contract));
    if uninstalled.value <= contract.value {
        return uninstalled;
    }
    let within = if contract.value < Decimal::ZERO {
        let above = Working::larger(vec![contract, cost::nothing("nothing")]);
        Term::working("contract, not below zero", MeasuredIn::Money, above)
    } else {
        contract
    };
    let label = "more is stacked on site than the contract holds: no more of it is revenue";
    Term::working(label, MeasuredIn::Money, Working::smaller(vec![uninstalled, within]))
}

fn earned(job: &JobFacts) -> Working {
    let at_cost = revenue_at_cost(job);
    let work = if at_cost.value.is_zero() {
        job.term(Figure::Contract)
    } else {
        let terms = vec![job.term(Figure::Contract), at_cost.clone().less()];
        Term::working("contract without what is stacked on site", MeasuredIn::Money, Working::sum(terms))
    };
    // Divided last: a share cut off at any number of places can move the result by a cent.
    let part = match done_of_whole(job) {
        Some((done, whole)) => Working::proportion(work, done, whole, Rounding::Cent),
        None => Working::product(vec![work, all_or_nothing(job)]).nearest(Rounding::Cent),
    };
    if job.term(Figure::Uninstalled).value.is_zero() {
        return part;
    }
    let part = Term::working("contract × percent complete", MeasuredIn::Money, part);
    Working::sum(vec![part, at_cost])
}

fn billed(job: &JobFacts) -> Working {
    let facts = job.invoices.iter().flat_map(|held| {
        held.fact.lines.iter().map(|line| {
            let text = format!("invoice {} ({}): {}", held.fact.number, held.fact.purpose, line.description);
            job.line(held, held.fact.date, text, line.amount.decimal())
        })
    });
    Working::sum(vec![Term::facts("invoices and credit memos", MeasuredIn::Money, facts.collect())])
}

fn loss_provision(job: &JobFacts) -> Working {
    let loss = vec![job.term(Figure::Forecast), job.term(Figure::Contract).less()];
    let loss = Term::working("forecast less contract", MeasuredIn::Money, Working::sum(loss));
    if loss.value <= Decimal::ZERO {
        return Working::larger(vec![loss, cost::nothing("nothing")]);
    }
    above_zero(
        "the loss less what is booked",
        vec![loss, job.term(Figure::Earned), job.term(Figure::Cost).less()],
    )
}

fn retainage_held(job: &JobFacts) -> Working {
    let held = job.invoices.iter().filter(|held| !held.fact.retainage.is_zero()).map(|held| {
        let lowers = held.fact.retainage.is_negative();
        let what = if lowers { "taken off what is held" } else { "held" };
        let text = format!("invoice {}: {what}", held.fact.number);
        job.line(held, held.fact.date, text, held.fact.retainage.decimal())
    });
    let released = job.releases.iter().map(|(number, held)| {
        job.line(held, held.fact.date, format!("invoice {number}: released"), held.fact.amount.decimal())
    });
    Working::sum(vec![
        Term::facts("held on invoices", MeasuredIn::Money, held.collect()),
        Term::facts("released", MeasuredIn::Money, released.collect()).less(),
    ])
}

fn received(job: &JobFacts) -> Working {
    let facts = job.page.payments.iter().map(|paid| FactLine {
        source: Some(paid.source.clone()),
        date: Some(paid.date),
        text: match &paid.reference {
            Some(reference) => format!("{} {reference}: {}", paid.how, paid.invoice),
            None => format!("{}: {}", paid.how, paid.invoice),
        },
        amount: paid.amount.decimal(),
    });
    Working::sum(vec![Term::facts(
        "payments and credits applied, less refunds",
        MeasuredIn::Money,
        facts.collect(),
    )])
}

/// The margin made, or what an open job has earned less what it cost, over its crew-days.
fn margin_per_crew_day(job: &JobFacts) -> Working {
    let made = if job.standing.is_ended() {
        job.term(Figure::Margin)
    } else {
        let so_far = vec![job.term(Figure::Earned), job.term(Figure::Cost).less()];
        Term::working("earned less cost so far", MeasuredIn::Money, Working::sum(so_far))
    };
    Working::quotient(vec![made, divisor(job, Figure::CrewDays)]).nearest(Rounding::Cent)
}

/// The gross profit that the backlog will bring.
fn backlog_profit(job: &JobFacts) -> Working {
    let to_come = Working::sum(vec![job.term(Figure::Forecast), job.term(Figure::Cost).less()]);
    let to_come = Term::working("cost still to come", MeasuredIn::Money, to_come);
    let mut terms = vec![job.term(Figure::Backlog), to_come.less()];
    let booked = job.term(Figure::LossProvision);
    if !booked.value.is_zero() {
        terms.push(booked.called("the loss that is already booked"));
    }
    Working::sum(terms)
}

/// What a month's changes added to the contract.
fn month_changed(job: &JobFacts) -> Working {
    let of_job = |figure: Figure| figure.of_job(&job.page.figures).unwrap_or_default();
    let added = of_job(Figure::MonthChanged) + of_job(Figure::MonthSigned);
    let before = job.term_in(Figure::Contract, job.month.prev(), Some(of_job(Figure::Contract) - added));
    let grown = vec![
        job.term(Figure::Contract).called("contract by the month's end"),
        before.called("contract by the end of the month before").less(),
    ];
    let grown = Term::working("what the contract grew by", MeasuredIn::Money, Working::sum(grown));
    Working::sum(vec![grown, job.term(Figure::MonthSigned).less()])
}

/// What a month added to a figure.
fn moved(job: &JobFacts, figure: Figure, of: Figure) -> Working {
    let now = of.of_job(&job.page.figures).unwrap_or_default();
    let added = figure.of_job(&job.page.figures).unwrap_or_default();
    let before = job.term_in(of, job.month.prev(), Some(now - added));
    Working::sum(vec![
        job.term(of).called("by the month's end"),
        before.called("by the end of the month before").less(),
    ])
}
