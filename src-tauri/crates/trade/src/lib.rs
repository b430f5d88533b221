//! The trade's arithmetic: what a careful bookkeeper would do with a pencil, as pure functions over exact
//! decimals.
//!
//! Every rule that a person could dispute (rounding, overtime, burden, tax, progress, the margin walk) is one
//! function here, with its reasoning and its source in its doc comment and its published example in `tests/`.
//!
//! **What this crate must never do:** read or write a file, a database or the network; look at a clock; keep
//! state; use a float; depend on another crate of ours. Times, dates and ids come in as arguments. Nothing
//! here panics on what a person can type: what cannot be computed is an error that says what to do next.
//!
//! Money is [`Money`], exact to the cent and rounded once, at the line. Quantities are [`Qty`], unit prices
//! and shares are [`Rate`]. Figures that are only shown (percent complete, margin) stay unrounded decimals.

pub mod currency;
pub mod kind;
pub mod money;
pub mod month;
pub mod split;

pub use currency::{Currency, CurrencyError};
pub use kind::{CostKind, CostKindError};
pub use money::{AmountError, Money, Qty, Rate, line_amount};
pub use month::{Month, MonthError};
pub use split::{SplitError, split};
