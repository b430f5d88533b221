//! A working: how a figure comes of its terms, as an expression that can be worked out again, down to the facts.

use super::figure::{Figure, MeasuredIn};
use crate::job::page::Source;
use jiff::civil::Date;
use rust_decimal::Decimal;
use serde::Serialize;
use trade::{Join, Money, Month, Rounding};

/// A fact behind a term.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct FactLine {
    /// Where it comes from; absent for what a close carries over.
    pub source: Option<Source>,
    /// Its date.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub date: Option<Date>,
    /// What it says.
    pub text: String,
    /// What it adds, in the measure of its term.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub amount: Decimal,
}

/// A figure that a term is, to be opened in its turn.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Opens {
    /// Whose it is: a job's number, or `firm`.
    pub of: String,
    /// The month.
    pub month: Month,
    /// Which figure.
    pub figure: Figure,
    /// Of which code.
    pub code: Option<String>,
}

/// What stands behind a term.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "Working.ts"))]
#[serde(tag = "is", rename_all = "kebab-case")]
pub enum Behind {
    /// Facts, which sum to it.
    Facts {
        /// The facts.
        facts: Vec<FactLine>,
    },
    /// Another figure.
    Figure {
        /// Which.
        opens: Opens,
    },
    /// A working of its own.
    Working {
        /// It.
        working: Working,
    },
    /// The rule itself: a bound such as zero.
    Rule,
}

/// A term of a working.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "Working.ts"))]
pub struct Term {
    /// What it is.
    pub label: String,
    /// Whether it is taken off.
    pub minus: bool,
    /// What it is measured in.
    pub measure: MeasuredIn,
    /// Its value, before its sign.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub value: Decimal,
    /// What stands behind it.
    pub behind: Behind,
}

/// How a figure comes of its terms.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "Working.ts"))]
pub struct Working {
    /// How they join.
    pub join: Join,
    /// How the result is rounded.
    pub rounding: Rounding,
    /// Of a share, which part, counted from 1.
    pub part: usize,
    /// The terms. Of a share the first is what is split, the others are what it is split by.
    pub terms: Vec<Term>,
}

impl Working {
    fn joined(join: Join, rounding: Rounding, terms: Vec<Term>) -> Working {
        Working { join, rounding, part: 0, terms }
    }

    pub(crate) fn sum(terms: Vec<Term>) -> Working {
        Working::joined(Join::Sum, Rounding::None, terms)
    }

    pub(crate) fn product(terms: Vec<Term>) -> Working {
        Working::joined(Join::Product, Rounding::None, terms)
    }

    pub(crate) fn quotient(terms: Vec<Term>) -> Working {
        Working::joined(Join::Quotient, Rounding::None, terms)
    }

    /// `amount` × `of` ÷ `whole`, rounded once.
    pub(crate) fn proportion(amount: Term, of: Term, whole: Term, rounding: Rounding) -> Working {
        Working::joined(Join::Proportion, rounding, vec![amount, of, whole])
    }

    pub(crate) fn larger(terms: Vec<Term>) -> Working {
        Working::joined(Join::Larger, Rounding::None, terms)
    }

    pub(crate) fn smaller(terms: Vec<Term>) -> Working {
        Working::joined(Join::Smaller, Rounding::None, terms)
    }

    /// One part, counted from 1, of the first term, split by the others.
    pub(crate) fn share(part: usize, terms: Vec<Term>) -> Working {
        Working { part, ..Working::joined(Join::Share, Rounding::None, terms) }
    }

    /// A difference that counts only above zero.
    pub(crate) fn above_zero(label: &str, measure: MeasuredIn, terms: Vec<Term>) -> Working {
        let difference = Term::working(label, measure, Working::sum(terms));
        Working::larger(vec![difference, Term::rule("nothing", measure, Decimal::ZERO)])
    }

    pub(crate) fn nearest(self, rounding: Rounding) -> Working {
        Working { rounding, ..self }
    }

    /// What it comes to; `None` where something is divided by nothing.
    #[must_use]
    pub fn value(&self) -> Option<Decimal> {
        let terms: Vec<Decimal> = self.terms.iter().map(Term::signed).collect();
        trade::join_terms(self.join, self.rounding, self.part, &terms)
    }

    /// The working in a sentence: what is joined, and how it is rounded.
    #[must_use]
    pub fn sentence(&self) -> String {
        let named = |term: &Term| format!("{} {}", term.label, shown(term.measure, term.value));
        let joined = |word: &str| self.terms.iter().map(named).collect::<Vec<_>>().join(word);
        let text = match self.join {
            _ if self.terms.is_empty() => "nothing counts".to_owned(),
            Join::Sum => self
                .terms
                .iter()
                .enumerate()
                .map(|(at, term)| match (at, term.minus) {
                    (0, false) => named(term),
                    (_, false) => format!(" + {}", named(term)),
                    (0, true) => format!("− {}", named(term)),
                    (_, true) => format!(" − {}", named(term)),
                })
                .collect(),
            Join::Product => joined(" × "),
            Join::Quotient => joined(" ÷ "),
            Join::Proportion => {
                let mut signs = ["", " × ", " ÷ "].into_iter();
                let part = |term: &Term| format!("{}{}", signs.next().unwrap_or_default(), named(term));
                self.terms.iter().map(part).collect()
            }
            Join::Larger => format!("the larger of {}", joined(" and ")),
            Join::Smaller => format!("the smaller of {}", joined(" and ")),
            Join::Share => {
                let own = self.terms.get(self.part).map(|term| term.label.as_str()).unwrap_or_default();
                format!("the share of {own}: {}", joined(", by "))
            }
        };
        let rounding = match self.rounding {
            Rounding::None => "",
            Rounding::Cent => ", rounded to the cent",
            Rounding::TenThousandth => ", rounded to the ten-thousandth",
            Rounding::Millionth => ", rounded to the millionth",
        };
        format!("{}{rounding}.", headed(&text))
    }
}

/// A sentence begins with a capital letter.
fn headed(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + letters.as_str())
}

/// A value as people read it.
#[must_use]
pub fn shown(measure: MeasuredIn, value: Decimal) -> String {
    let few = || trade::shown::four_places(value);
    match measure {
        MeasuredIn::Money => Money::exact(value).map_or_else(|_| few(), Money::grouped),
        MeasuredIn::Hours => format!("{} h", few()),
        MeasuredIn::CrewDays => format!("{} crew-days", few()),
        MeasuredIn::Share => trade::shown::percent_to_tenth(value),
        MeasuredIn::Count => few(),
    }
}

/// The same figure always has the same digits: money two places, the rest no idle zero.
pub(crate) fn tidy(measure: MeasuredIn, value: Decimal) -> Decimal {
    match measure {
        MeasuredIn::Money => Money::exact(value).map_or(value.normalize(), Money::decimal),
        _ => value.normalize(),
    }
}

impl Term {
    fn new(label: &str, measure: MeasuredIn, value: Decimal, behind: Behind) -> Term {
        Term { label: label.to_owned(), minus: false, measure, value: tidy(measure, value), behind }
    }

    /// A term that is a sum of facts.
    pub(crate) fn facts(label: &str, measure: MeasuredIn, facts: Vec<FactLine>) -> Term {
        let value = facts.iter().map(|fact| fact.amount).sum();
        Term::new(label, measure, value, Behind::Facts { facts })
    }

    /// A term that is another figure.
    pub(crate) fn figure(label: &str, value: Decimal, opens: Opens) -> Term {
        Term::new(label, opens.figure.measure(), value, Behind::Figure { opens })
    }

    /// A term with a working of its own; one that comes to nothing at all counts as zero.
    pub(crate) fn working(label: &str, measure: MeasuredIn, working: Working) -> Term {
        let value = working.value().unwrap_or_default();
        // A sum of one term is that term.
        match working.terms.as_slice() {
            [only] if working.join == Join::Sum && !only.minus && working.rounding == Rounding::None => {
                Term { label: label.to_owned(), ..only.clone() }
            }
            _ => Term::new(label, measure, value, Behind::Working { working }),
        }
    }

    /// A term that the rule gives.
    pub(crate) fn rule(label: &str, measure: MeasuredIn, value: Decimal) -> Term {
        Term::new(label, measure, value, Behind::Rule)
    }

    /// The same, taken off.
    pub(crate) fn less(self) -> Term {
        Term { minus: !self.minus, ..self }
    }

    /// The same under another label.
    pub(crate) fn called(self, label: &str) -> Term {
        Term { label: label.to_owned(), ..self }
    }

    /// Its value with its sign.
    #[must_use]
    pub fn signed(&self) -> Decimal {
        if self.minus { -self.value } else { self.value }
    }
}

/// A figure, opened.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Explanation {
    /// Which figure.
    pub figure: Figure,
    /// Of which code.
    pub code: Option<String>,
    /// What it is called.
    pub label: String,
    /// Whose it is: a job's number, or the firm's name.
    pub of: String,
    /// The month.
    pub month: Month,
    /// What it is measured in.
    pub measure: MeasuredIn,
    /// Its value; absent where there is nothing to divide by.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub value: Option<Decimal>,
    /// The rule, in a sentence.
    pub rule: String,
    /// Where the rule comes from.
    pub source: String,
    /// The working in a sentence, written from it.
    pub sentence: String,
    /// The working.
    pub working: Working,
}

impl Explanation {
    pub(crate) fn of(
        (figure, code): (Figure, Option<&str>),
        (of, month): (&str, Month),
        value: Option<Decimal>,
        working: Working,
    ) -> Explanation {
        let label = figure.label();
        Explanation {
            figure,
            code: code.map(str::to_owned),
            label: code.map_or_else(|| label.to_owned(), |code| format!("{label}, {code}")),
            of: of.to_owned(),
            month,
            measure: figure.measure(),
            value: value.map(|value| tidy(figure.measure(), value)),
            rule: figure.rule().to_owned(),
            source: figure.source().to_owned(),
            sentence: working.sentence(),
            working,
        }
    }
}
