//! One function for each thing a person does. The only API that a face may call.
//!
//! Here facts of several kinds come together: a month end, a job's page, a close, a hand-off. Rules of the trade are
//! in `trade`, SQL is in `ledger`, files that leave the building are in `paperwork`.
//!
//! **It must never** hold SQL, round an amount by itself, or know of windows or command lines.

pub mod ask;
pub mod change_sheet;
pub mod close;
pub mod contradiction;
pub mod damage;
pub mod desk;
pub mod documents;
pub mod drafts;
pub mod error;
pub mod estimate;
pub mod explain;
pub mod hand_off;
pub mod history;
pub mod import;
pub mod invoice;
pub mod job_page;
pub mod keep;
pub mod lists;
pub mod loose_ends;
pub mod month_end;
pub mod names;
pub mod papers;
pub mod rates;
pub mod record;
pub mod result;
pub mod sample;
pub mod seats;
pub mod settle;
pub mod site;
pub mod standing;
mod words;
pub mod workmanship;
pub mod year;

pub use ask::{Asking, ask, asking};
pub use change_sheet::{ChangeSheet, change_sheet};
pub use close::{Closed, close, drifts};
pub use contradiction::settle_decisions;
pub use damage::{Calculation, Damage, SiteRoof, calculate_damage, site_roof};
pub use desk::{Clock, Desk, NewFirm};
pub use documents::{Document, Wanted, print};
pub use drafts::{DraftView, delete_draft, drafts, save_draft};
pub use error::OfficeError;
pub use estimate::{Acceptance, Accepted, Calculated, Estimate, accept, begin, calculate};
pub use explain::{Explanation, Figure, MeasuredIn, Openings, explain_firm, explain_job, figure_words};
pub use history::{ConditionHistory, OpenedRecord, Which, condition_history, opened};
pub use invoice::{open_conditions, passed_over};
pub use job_page::{JobPage, job_page};
pub use lists::{Lists, lists};
pub use loose_ends::{LooseEnd, LooseEndKind, loose_ends};
pub use month_end::{MonthEnd, booked_months, month_end};
pub use names::person_named;
pub use papers::{Kept, attach, paper};
pub use rates::{Rates, rates};
pub use record::{Recorded, Recorder, fact_shapes};
pub use seats::{JobName, Seat, firm_name, job_names, recording, seats};
pub use settle::{Settlement, settle};
pub use site::{Further, SiteDay, ask_for, further, site_day};
pub use workmanship::{Workmanship, workmanship};
pub use year::{Year, year};
// What answers are made of, so that a face needs no other crate of ours.
pub use ledger::Id;
pub use ledger::facts::{ChangeOrder, Decision};
pub use ledger::words::{CountedIn, Damaged, Role};
pub use rust_decimal::Decimal;
pub use trade::roof::Section;
pub use trade::{CostKind, Money, Month, Qty, Rate};
