//! Opening a figure: the rule it follows, its source, its working and the facts behind it.

mod budget;
mod budget_figure;
mod cash;
mod cash_figure;
mod cost;
mod figure;
mod firm;
mod gather;
mod hidden;
mod measure;
mod opened;
mod own_day;
mod steps;
mod working;

pub use budget::BudgetOpenings;
pub use budget_figure::BudgetFigure;
pub use cash::explain_cash;
pub use cash_figure::CashFigure;
pub use figure::{Figure, MeasuredIn, figure_words};
pub use firm::{explain_firm, explain_job};
pub use opened::Openings;
pub use working::{Behind, Explanation, FactLine, Opens, Term, Working, shown};

pub(crate) use working::tidy;
