//! Importing what another program wrote: CSV of customers, jobs, bills, hours, payments and prices, and the bank's
//! statements, as CSV or OFX.
//!
//! Three steps, each a function: [`read`] turns bytes into typed rows, [`preview()`] holds them against the ledger and
//! shows what they would become, [`apply()`] records them in one transaction. A file with a problem or an open question
//! is not applied at all. What a file does not say (which number is the month, which mark stands before the decimals,
//! whether a line that stands twice is meant) is asked and never guessed; what the file itself decides is said.
//!
//! **It must never** read an encoding, an order of dates or a style of numbers by likelihood, or take part of a file.

mod amounts;
mod apply;
mod bank;
mod bills;
mod choices;
mod columns;
mod customers;
mod dates;
mod hours;
mod jobs;
mod known;
mod ofx;
mod payments;
mod plan;
mod planner;
mod preview;
mod prices;
mod problem;
mod reading;
mod remember;
mod roof;
mod rows;
pub mod table;
mod vendor_statement;

pub use amounts::NumberStyle;
pub use apply::{Applied, apply};
pub use choices::{Choices, OtherHours, RepeatedLines};
pub use columns::{Field, Kind, Mapping, Reads};
pub use dates::DateOrder;
pub use ofx::StatementSaid;
pub use planner::{Duplicate, PriceChange, Progress, RowOutcome, Stage, Totals};
pub use preview::{Column, Preview, RowShown, SHOWN, preview};
pub use problem::{About, Answer, Note, Problem, Question};
pub use reading::{Parsed, read};
pub use remember::recall;
pub use roof::{RoofFile, roof};
pub use rows::{BankRow, BillRow, CustomerRow, HoursRow, JobRow, PaymentRow, PriceListRow, Rows};
pub use table::Separator;
pub use vendor_statement::vendor_statement;
