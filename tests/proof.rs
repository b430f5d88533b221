//! Whether figures open true: every working comes to its figure, and the facts behind a term come to the term.
//!
//! The workings are worked out here anew, by arithmetic of this file's own.

use crate::tongue::machine_words;
use office::explain::{Behind, BudgetFigure, Explanation, Opens, Term, Working};
use office::month::end::FirmMonth;
use office::{
    BudgetOpenings, Decimal, Desk, Figure, Month, OfficeError, Openings, booked_months, explain_firm,
    firm_year, month_end,
};
use std::collections::BTreeMap;
use trade::{Join, Money, Rounding};

/// What was opened, and what did not add up.
#[derive(Debug, Default)]
pub struct Proof {
    /// What did not add up, each with its place.
    pub faults: Vec<String>,
    /// What each figure showed when it was opened.
    pub shown: BTreeMap<Opens, Option<Decimal>>,
    /// How many terms were held against what stands behind them.
    pub terms: usize,
    /// How many facts stood behind them.
    pub facts: usize,
    /// How many figures of a budget that is not there were not opened.
    pub refused: usize,
    named: Vec<(Opens, Decimal, String)>,
}

/// Opens every figure of every job and of the firm in every month with anything booked.
///
/// # Errors
/// When the facts cannot be read.
pub fn prove(desk: &Desk) -> Result<Proof, OfficeError> {
    let mut proof = Proof::default();
    let mut backlog = Money::ZERO;
    for month in months(desk)? {
        let report = month_end(desk, month)?;
        proof.rolls_on(month, &mut backlog, &report.firm);
        for job in &report.jobs {
            proof.open_job(desk, &job.result.number, month)?;
            for figure in Figure::all_of_jobs() {
                let at = named(&job.result.number, month, figure, None);
                let opened = proof.shown.get(&at).copied().flatten();
                if opened != figure.of_job(job) {
                    proof.faults.push(format!("{at:?}: the month end has {:?}", figure.of_job(job)));
                }
            }
        }
        for figure in Figure::all_of_firm() {
            let open = explain_firm(desk, month, figure.as_str())?;
            proof.opened(&format!("firm {month} {figure}"), &open);
            if Some(open.value) != figure.of_firm(&report.firm) {
                proof.faults.push(format!("firm {month} {figure}: {:?} is shown", open.value));
            }
            proof.shown.insert(named("firm", month, figure, None), open.value);
        }
    }
    for month in months(desk)? {
        let year = firm_year(desk, month)?;
        for figure in Figure::all_of_year() {
            let open = explain_firm(desk, month, figure.as_str())?;
            proof.opened(&format!("firm {month} {figure}"), &open);
            if Some(open.value) != figure.of_year(&year) {
                proof.faults.push(format!("firm {month} {figure}: {:?} is shown", open.value));
            }
            proof.shown.insert(named("firm", month, figure, None), open.value);
        }
    }
    for month in months(desk)? {
        proof.open_budget(&BudgetOpenings::of(desk, month)?)?;
    }
    for (opens, value, at) in std::mem::take(&mut proof.named) {
        // A job that is not in the report of the month before opens there all the same.
        if !proof.shown.contains_key(&opens) && opens.of == "firm" {
            let open = explain_firm(desk, opens.month, opens.figure.as_str())?;
            proof.opened(&at, &open);
            proof.shown.insert(opens.clone(), open.value);
        } else if !proof.shown.contains_key(&opens) {
            proof.open_job(desk, &opens.of, opens.month)?;
        }
        let opened = proof.shown.get(&opens).copied().flatten().unwrap_or_default();
        if opened != value {
            proof.faults.push(format!("{at}: {value} stands there, {opened} when it is opened"));
        }
    }
    Ok(proof)
}

fn named(of: &str, month: Month, figure: Figure, code: Option<&str>) -> Opens {
    Opens { of: of.to_owned(), month, figure, code: code.map(str::to_owned) }
}

fn months(desk: &Desk) -> Result<Vec<Month>, OfficeError> {
    let Some((mut month, last)) = booked_months(desk)? else { return Ok(Vec::new()) };
    let mut months = vec![month];
    while month < last {
        month = month.next();
        months.push(month);
    }
    Ok(months)
}

impl Proof {
    /// The backlog of a month begins where the one before ended, and rolls on to its own end.
    fn rolls_on(&mut self, month: Month, last: &mut Money, firm: &FirmMonth) {
        if firm.backlog_before != *last {
            self.faults
                .push(format!("{month}: the backlog begins at {}, not at {last}", firm.backlog_before));
        }
        let moved = firm.month.signed + firm.month.changed - firm.month.earned;
        if *last + moved != firm.backlog {
            self.faults
                .push(format!("{month}: the backlog {last} moves by {moved} and ends at {}", firm.backlog));
        }
        *last = firm.backlog;
    }

    fn open_job(&mut self, desk: &Desk, number: &str, month: Month) -> Result<(), OfficeError> {
        let openings = Openings::of_job(desk, number, month)?;
        for figure in Figure::all_of_jobs() {
            let open = openings.open(figure);
            self.opened(&format!("{number} {month} {figure}"), &open);
            self.shown.insert(named(number, month, figure, None), open.value);
            for code in openings.codes().into_iter().filter(|_| figure.is_by_code()) {
                let open = openings.open_code(figure, code)?;
                self.opened(&format!("{number} {month} {figure}/{code}"), &open);
                self.shown.insert(named(number, month, figure, Some(code)), open.value);
            }
        }
        Ok(())
    }

    /// Opens every figure of the firm's budget. What has no budget has nothing to open, and says so.
    fn open_budget(&mut self, openings: &BudgetOpenings) -> Result<(), OfficeError> {
        let month = openings.budget.month;
        for figure in BudgetFigure::ALL.iter().copied() {
            let value = Figure::Budget(figure).of_budget(&openings.budget);
            if value.is_none() {
                self.refused += usize::from(openings.open(figure).is_err());
                continue;
            }
            let open = openings.open(figure)?;
            let at = format!("firm {month} {figure}");
            self.opened(&at, &open);
            if open.value != value {
                self.faults.push(format!("{at}: {:?} is shown, the budget has {value:?}", open.value));
            }
            self.shown.insert(named("firm", month, Figure::Budget(figure), None), open.value);
        }
        Ok(())
    }

    fn opened(&mut self, at: &str, open: &Explanation) {
        let found = worked_out(&open.working);
        if found != open.value {
            self.faults.push(format!("{at}: {:?} is shown, its working comes to {found:?}", open.value));
        }
        self.working(at, &open.working);
        if open.sentence.is_empty() || open.rule.is_empty() || open.source.is_empty() {
            self.faults.push(format!("{at}: says too little"));
        }
        self.said(at, &open.sentence);
    }

    fn said(&mut self, at: &str, words: &str) {
        if let Some(word) = machine_words(words) {
            self.faults.push(format!("{at}: {word} is a machine's word in “{words}”"));
        }
    }

    fn working(&mut self, at: &str, working: &Working) {
        for term in &working.terms {
            self.said(at, &term.label);
            self.term(&format!("{at} › {}", term.label), term);
        }
    }

    fn term(&mut self, at: &str, term: &Term) {
        self.terms += 1;
        let behind = match &term.behind {
            Behind::Facts { facts } => {
                self.facts += facts.len();
                Some(facts.iter().map(|fact| fact.amount).sum())
            }
            Behind::Working { working } => {
                self.working(at, working);
                Some(worked_out(working).unwrap_or_default())
            }
            Behind::Figure { opens } => {
                self.named.push((opens.clone(), term.value, at.to_owned()));
                Some(term.value)
            }
            // A bound, a whole, or one person's eight hours: a rule gives no other number.
            Behind::Rule => [0, 1, 8].into_iter().map(Decimal::from).find(|rule| *rule == term.value),
        };
        if behind != Some(term.value) {
            self.faults.push(format!("{at}: {} stands there, {behind:?} stands behind it", term.value));
        }
    }
}

/// What a working comes to, worked out from its terms' values alone; `None` where something is divided by nothing.
fn worked_out(working: &Working) -> Option<Decimal> {
    let terms: Vec<Decimal> =
        working.terms.iter().map(|term| if term.minus { -term.value } else { term.value }).collect();
    let joined = match working.join {
        Join::Sum => terms.iter().sum(),
        Join::Product => terms.iter().product(),
        Join::Quotient => {
            let (first, divisors) = terms.split_first()?;
            divisors.iter().try_fold(*first, |dividend, divisor| dividend.checked_div(*divisor))?
        }
        Join::Proportion => match terms.as_slice() {
            [amount, of, whole] => (amount * of).checked_div(*whole)?,
            _ => return None,
        },
        Join::Larger => terms.iter().copied().max()?,
        Join::Smaller => terms.iter().copied().min()?,
        Join::Share => {
            let (amount, weights) = terms.split_first()?;
            part_of(*amount, weights, working.part)?
        }
    };
    Some(match working.rounding {
        Rounding::None => joined,
        Rounding::Cent => rounded(joined, 2),
        Rounding::TenThousandth => rounded(joined, 4),
        Rounding::Millionth => rounded(joined, 6),
    })
}

/// To a number of places, half away from zero, by nothing but whole numbers.
fn rounded(value: Decimal, places: u32) -> Decimal {
    let unit = Decimal::new(1, places);
    let whole = (value.abs() / unit + Decimal::new(5, 1)).floor() * unit;
    if value.is_sign_negative() { -whole } else { whole }
}

/// The part of an amount that goes to one weight, counted from 1, when no cent is lost: whole cents first, then one
/// each to the largest remainders, ties to the earlier.
fn part_of(amount: Decimal, weights: &[Decimal], part: usize) -> Option<Decimal> {
    let cents = amount.abs() * Decimal::ONE_HUNDRED;
    let sum: Decimal = weights.iter().sum();
    let exact = |weight: &Decimal| (cents * weight).checked_div(sum);
    let exact: Vec<Decimal> = weights.iter().map(exact).collect::<Option<_>>()?;
    let mut parts: Vec<Decimal> = exact.iter().map(Decimal::floor).collect();
    let mut remainders: Vec<(Decimal, usize)> =
        exact.iter().zip(&parts).map(|(exact, whole)| exact - whole).zip(0..).collect();
    remainders.sort_by(|left, right| right.0.cmp(&left.0).then(left.1.cmp(&right.1)));
    let mut left = cents - parts.iter().sum::<Decimal>();
    for (_, at) in remainders {
        if left >= Decimal::ONE
            && let Some(part) = parts.get_mut(at)
        {
            *part += Decimal::ONE;
            left -= Decimal::ONE;
        }
    }
    let part = parts.get(part.checked_sub(1)?)? / Decimal::ONE_HUNDRED;
    Some(if amount.is_sign_negative() { -part } else { part })
}
