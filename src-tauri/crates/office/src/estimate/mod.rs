//! The estimate: from the roof's measures to a price, and from a price to the contract.
//!
//! While it is worked on it is a draft ([`Estimate`]); [`calculate`] works every figure out anew from the draft and the
//! firm's rates, and [`accept()`] turns a choice into facts.

mod accept;
mod advice;
mod begin;
mod book;
mod calculation;
mod compare;
mod costs;
mod draft;
mod sensitive;
mod unit_price;
mod view;

pub(crate) use accept::accept_signed_on_paper;
pub use accept::{Accepted, accept};
pub(crate) use calculation::{asked_on, calculate_on};
pub use calculation::{begin, calculate};
pub use draft::{Acceptance, Choice, ChosenPart, Estimate, Extra, PriceBy, TermPayment, TermPrice, Terms};
pub use view::{
    AdviceJob, BudgetLine, BudgetUnits, Calculated, CalculatedChoice, ComparedCell, ComparedRow, ExtraLine,
    LaborLine, MoreOf, PartLine, PricedDifference, Problem, Scheduled, Sensitive, SheetAdvice,
};
