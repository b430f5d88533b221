//! The figures of cash ahead.

use super::measure::MeasuredIn;
use crate::cash::view::{CashAhead, WeekAhead};
use rust_decimal::Decimal;
use trade::Money;

/// A figure of cash ahead: of one week, but for the lowest, which is of all of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename_all = "kebab-case"))]
pub enum CashFigure {
    /// What is there before the week.
    CashOpening,
    /// What comes in.
    CashIn,
    /// What goes out.
    CashOut,
    /// What is there after it.
    CashClosing,
    /// The lowest that any week ends with.
    CashLowest,
}

trade::closed_list!(CashFigure, "figure of cash ahead", {
    CashOpening => "cash-opening": "Cash before the week",
    CashIn => "cash-in": "Cash in",
    CashOut => "cash-out": "Cash out",
    CashClosing => "cash-closing": "Cash after the week",
    CashLowest => "cash-lowest": "Lowest cash"
});

impl CashFigure {
    /// What it is measured in.
    #[must_use]
    pub const fn measure(self) -> MeasuredIn {
        MeasuredIn::Money
    }

    /// What it is, in a sentence.
    #[must_use]
    pub const fn rule(self) -> &'static str {
        match self {
            CashFigure::CashOpening => {
                "What the week before ends with; the first begins with what was typed, or with the bank's last \
                 statement and what the books moved that it does not show."
            }
            CashFigure::CashIn => {
                "Open invoices on their due days, retainage when work ends, and what is still to be billed on the \
                 planned days of the work, each as many days later as the customer usually pays; less their credits. \
                 What is late already counts in the first week. Sales tax still to be billed is left out: it goes on \
                 to the state."
            }
            CashFigure::CashOut => {
                "Bills on their due days; pay with its burden on the fifth day of the week after the work, by planned \
                 crew-days × people × hours of their day × what an hour of them costs; what is still to be bought for \
                 a job thirty days after its work begins; overhead that comes again on its day, and the rest of a \
                 month's budget on its last."
            }
            CashFigure::CashClosing => {
                "What is there before the week, and what comes in, less what goes out."
            }
            CashFigure::CashLowest => {
                "The lowest that any of the thirteen weeks ends with; of several the earliest."
            }
        }
    }

    /// Where the rule comes from.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            CashFigure::CashIn | CashFigure::CashOut => "company rule",
            _ => "cash budget (OpenStax, Principles of Accounting, volume 2, chapter 7)",
        }
    }

    /// The week that it is of: the one that is asked for, or the one with the lowest cash.
    pub(super) fn week(self, ahead: &CashAhead, week: Option<usize>) -> Option<&WeekAhead> {
        let wanted = match self {
            CashFigure::CashLowest => ahead.lowest?.week,
            _ => week?,
        };
        ahead.weeks.iter().find(|each| each.week == wanted)
    }

    /// Its value in a week.
    #[must_use]
    pub fn value(self, ahead: &CashAhead, week: Option<usize>) -> Option<Decimal> {
        let week = self.week(ahead, week)?;
        let money: Money = match self {
            CashFigure::CashOpening => week.opening,
            CashFigure::CashIn => week.cash_in,
            CashFigure::CashOut => week.cash_out,
            CashFigure::CashClosing | CashFigure::CashLowest => week.closing,
        };
        Some(money.decimal())
    }
}
