//! One function for each thing a person does. The only API that a face may call.
//!
//! Here facts of several kinds come together: a month end, a job's page, a close, a hand-off. Rules of the trade are
//! in `trade`, SQL is in `ledger`, files that leave the building are in `paperwork`.
//!
//! **It must never** hold SQL, round an amount by itself, or know of windows or command lines.

pub mod billing;
pub mod cash;
pub mod change;
pub mod documents;
pub mod estimate;
pub mod explain;
pub mod file;
pub mod hand_off;
pub mod history;
pub mod job;
mod labels;
pub mod month;
mod paper_error;
mod phrase;
pub mod quality;
pub mod question;
pub mod rates;
pub mod set_up;
pub mod site;

pub use billing::bank::{Bank, bank};
pub use billing::bill_desk::{BillCheck, BillDesk, TypedBill, bill_desk, check_bill};
pub use billing::clearing::{LineIs, MatchedLines, clear_line, match_fitting, take_back_line};
pub use billing::invoice::{self, open_conditions, passed_over};
pub use billing::job_billing::{JobBilling, job_billing};
pub use billing::payables::{Payables, payables};
pub use billing::statement::{Statement, statement};
pub use billing::subcontractors::{Subcontractors, nonemployee_list, subcontractors};
pub use billing::vendor_statement::{VendorStatement, vendor_statement};
pub use cash::ahead::cash;
pub use cash::view::{AsIf, CashAhead, CashFor, CashFrom, HabitOf, JobSlips, PaysLate};
pub use change::allowance::{Further, further};
pub use change::ask::{Asking, ask, ask_for, asking};
pub use change::contradiction::settle_decisions;
pub use change::damage::{Calculation, Damage, SiteRoof, calculate_damage, site_roof};
pub use change::settle::{Settlement, settle};
pub use change::sheet::{ChangeSheet, change_sheet};
pub use documents::{Document, Wanted, print};
pub use estimate::{Acceptance, Accepted, Calculated, Estimate, accept, begin, calculate};
pub use explain::{
    BudgetOpenings, CashFigure, Explanation, Figure, MeasuredIn, Openings, explain_cash, explain_firm,
    explain_job, figure_words,
};
pub use file::lists::{Lists, lists};
pub use file::mark::EntryMark;
pub use file::{keep, read_through, sample};
pub use history::{ConditionHistory, OpenedRecord, Which, condition_history, opened};
pub use job::before_work::left_before_work;
pub use job::order::{PlacedOrder, place_orders};
pub use job::page::{JobPage, job_page};
pub use job::year::{Year, year};
pub use labels::labels;
pub use month::budget::{FirmBudget, firm_budget};
pub use month::close::{Closed, close, drifts};
pub use month::end::{MonthEnd, booked_months, month_end};
pub use month::loose_ends::{LooseEnd, LooseEndKind, loose_ends};
pub use month::overhead::{Overhead, overhead};
pub use month::owed::{CreditFrom, CustomerOwes, OnAccount, OpenInvoice, Owed};
pub use month::result::{FirmYear, firm_year};
pub use quality::workmanship::{Workmanship, workmanship};
pub use question::asked::{Question, Side};
pub use question::questions;
pub use rates::{Rates, rates};
pub use set_up::{NeededFor, SetUp, SetUpStep, UsualFact, UsualLists, set_up as what_is_set_up, usual_lists};
pub use site::day::{SiteDay, site_day};
// What the desk lends, so that a face asks one crate for what it reads and records.
pub use desk::attachments::{Kept, attach, paper};
pub use desk::drafts::{DraftView, delete_draft, drafts, save_draft};
pub use desk::names::person_named;
pub use desk::people::{DeskPerson, JobName, firm_name, job_names, people, recording};
pub use desk::pin;
pub use desk::record::{Recorded, Recorder, fact_shapes, take_back};
pub use desk::{Act, Clock, Code, Desk, NewFirm, OfficeError, keep_ends};
// What answers are made of, so that a face needs no other crate of ours.
pub use ledger::closed_lists::{CountedIn, Damaged, Language, OtherBankLine, PaidBy, PamphletBy, Role};
pub use ledger::facts::{ChangeOrder, Decision};
pub use ledger::{Id, is_hidden};
pub use rust_decimal::Decimal;
pub use trade::roof::Section;
pub use trade::shown::{count_of, day, percent_to_tenth};
pub use trade::{AgeBand, CostKind, Money, Month, Qty, Rate};
