//! Who may do or see what: one table of role and act, asked by every face.
//!
//! An act is what a person comes for. A face hands it over with what it asks, so that it cannot forget to; what an
//! answer holds beyond the act (pay, margin) is left out where it is gathered, by the same table.

use crate::code::Code;
use crate::error::OfficeError;
use ledger::closed_lists::Role;

/// What a role sees, for who chooses where to sit.
#[must_use]
pub const fn sees(role: Role) -> &'static str {
    match role {
        Role::Owner => "Sees everything: cost, margin, month end.",
        Role::Crew => "The site view: hidden conditions, decisions, hours. No cost, no margin.",
        Role::Books => {
            "Bills, what is owed, overhead, the bank, the hand-off. No pay; margin where the owner says so."
        }
    }
}

/// What somebody at the desk comes for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Act {
    /// Who works here: asked before anybody has said who they are.
    SeePeople,
    /// The numbers and names of jobs.
    SeeJobNames,
    /// Jobs with their cost.
    SeeJobs,
    /// The month end; without [`Act::SeeMargin`], what is owed.
    SeeMonthEnd,
    /// Cost and margin of what was asked for; the books' too, where the company's settings say so.
    SeeMargin,
    /// Every loose end, and where devices contradict each other.
    SeeQuestions,
    /// What anybody earns or an hour of them costs.
    SeePay,
    /// The history of hidden conditions.
    SeeHistory,
    /// What must be settled before a month is closed.
    SeeLooseEnds,
    /// Closing a month.
    CloseMonth,
    /// How a figure came about.
    OpenFigure,
    /// People, vendors, customers and codes.
    SeeLists,
    /// Jobs at work, without cost.
    SeeSite,
    /// How the work was done.
    SeeWorkmanship,
    /// Parts, prices, production and standards.
    SeeRates,
    /// The lists that a firm begins with.
    BeginRates,
    /// Invoices, bills and payments as they are typed.
    Bill,
    /// What the firm costs beside its jobs, and what it owes its vendors.
    SeeOverhead,
    /// What the bank shows, held against the books.
    SeeBank,
    /// What more of a hidden condition costs the homeowner.
    PriceFurther,
    /// An estimate, and accepting it.
    Estimate,
    /// Counting damage.
    CountDamage,
    /// Drawing up what the homeowner is asked, and what they read.
    AskHomeowner,
    /// Asking the homeowner at another price than the contract's: a lump sum, a markup, a credit.
    PriceChange,
    /// Saying which of two decisions holds.
    SettleDecisions,
    /// What a change order comes to.
    SettleChange,
    /// One's own forms being filled in.
    KeepDrafts,
    /// Keeping a photo.
    KeepPhoto,
    /// Looking at what the work on site is kept by: photos and signatures.
    SeeSitePhoto,
    /// Looking at any other file that a fact names, such as a signed proposal.
    SeePaper,
    /// Printing what the site or the homeowner is given there.
    PrintForSite,
    /// Printing an invoice.
    PrintInvoice,
    /// Printing what holds cost, margin or the whole price.
    PrintForOwner,
    /// Handing the month over.
    HandOff,
    /// Importing CSV.
    Import,
    /// Backing up, and where.
    BackUp,
    /// Verifying the file.
    Verify,
    /// The owner's PIN.
    SetPin,
    /// The firm's devices, and the store through which they exchange.
    SeeDevices,
    /// Adding and dropping devices, and choosing the store.
    KeepDevices,
    /// An exchange: this device sends what the others may see, and takes in what is new.
    Exchange,
    /// Recording and taking back; which kinds, the recorder asks for each.
    RecordFacts,
    /// Recording a fact of a kind.
    Record(&'static str),
    /// Taking a fact of a kind back.
    TakeBack {
        /// Its kind.
        kind: &'static str,
        /// Whether whoever asks recorded it, and today.
        own_of_today: bool,
    },
}

/// What the crew records on the roof.
pub const OF_THE_CREW: &[&str] = &[
    "condition",
    "repair",
    "decision",
    "time-entry",
    "units-done",
    "job-status",
    "work-check",
    "inspection",
    "installed",
    "attachment",
];

/// What the bookkeeper records.
pub const OF_THE_BOOKS: &[&str] = &[
    "bill",
    "invoice",
    "payment",
    "allocation",
    "refund",
    "retainage-release",
    "account",
    "customer",
    "vendor",
    "attachment",
    "overhead-account",
    "overhead-cost",
    "recurring-cost",
    "vendor-payment",
    "vendor-papers",
    "bank-statement",
    "bank-cleared",
];

/// What a copy for the site holds of the firm: the open part of each.
pub const OF_THE_FIRM_ON_SITE: &[&str] =
    &["firm", "device", "device-left", "crew", "person", "cost-code", "check-point", "month-closed"];

/// What a copy for the site holds of a job at work or planned: facts of a kind that name, in a column, what it already
/// holds; and whatever the open part of any of these names. Nothing else goes there, be it open or not.
pub const OF_A_JOB_ON_SITE: &[(&str, &str)] = &[
    ("job", "revises"),
    ("customer", "revises"),
    ("job-status", "job"),
    ("schedule", "job"),
    ("lead-pamphlet", "job"),
    ("contract", "job"),
    ("roof", "job"),
    ("condition", "job"),
    ("repair", "condition"),
    ("declined-repair", "condition"),
    ("color-choice", "job"),
    ("change-order", "job"),
    ("decision", "change_order"),
    ("time-entry", "job"),
    ("units-done", "job"),
    ("work-check", "job"),
    ("inspection", "job"),
    ("installed", "job"),
    ("warranty", "job"),
    ("reversal", "reverses"),
];

/// What a crew's device may have recorded: what the crew records, what it asks the homeowner, and what it takes back.
#[must_use]
pub fn may_come_from_site(kind: &str) -> bool {
    OF_THE_CREW.contains(&kind) || ["change-order", "reversal", "device-left"].contains(&kind)
}

/// What is recorded by doing it, and never by itself: it would say that something was done which was not.
pub const BY_DOING: &[&str] = &["month-closed", "hand-off", "device", "device-left", "attachment"];

const OWNER: &[Role] = &[Role::Owner];
const OWNER_AND_BOOKS: &[Role] = &[Role::Owner, Role::Books];
const OWNER_AND_CREW: &[Role] = &[Role::Owner, Role::Crew];
const EVERYBODY: &[Role] = &[Role::Owner, Role::Books, Role::Crew];

impl Act {
    /// Whether it is asked before anybody sits at the desk.
    #[must_use]
    pub fn needs_nobody(self) -> bool {
        // A device that has just joined knows of nobody before its first exchange.
        matches!(self, Act::SeePeople | Act::Exchange)
    }

    /// Whose it is.
    #[must_use]
    pub fn roles(self) -> &'static [Role] {
        match self {
            Act::SeePeople
            | Act::SeeJobNames
            | Act::SeeWorkmanship
            | Act::KeepDrafts
            | Act::KeepPhoto
            | Act::SeeSitePhoto
            | Act::RecordFacts
            | Act::Exchange
            | Act::PrintForSite => EVERYBODY,
            Act::SeeMonthEnd
            | Act::SeeLists
            | Act::SeeRates
            | Act::Bill
            | Act::SeeOverhead
            | Act::SeeBank
            | Act::SeeLooseEnds
            | Act::SettleChange
            | Act::PrintInvoice
            | Act::HandOff
            | Act::Import
            | Act::BackUp
            | Act::Verify => OWNER_AND_BOOKS,
            Act::SeeSite
            | Act::PriceFurther
            | Act::CountDamage
            | Act::AskHomeowner
            | Act::SettleDecisions => OWNER_AND_CREW,
            Act::SeeJobs
            | Act::SeeMargin
            | Act::SeeQuestions
            | Act::SeePay
            | Act::SeeHistory
            | Act::CloseMonth
            | Act::OpenFigure
            | Act::BeginRates
            | Act::Estimate
            | Act::PriceChange
            | Act::SeePaper
            | Act::PrintForOwner
            | Act::SeeDevices
            | Act::KeepDevices
            | Act::SetPin => OWNER,
            Act::Record(kind) => recorders(kind),
            Act::TakeBack { kind, own_of_today } => match recorders(kind) {
                [Role::Owner, Role::Crew] if !own_of_today => OWNER,
                [Role::Owner, Role::Books, Role::Crew] if !own_of_today => OWNER_AND_BOOKS,
                [] => OWNER,
                roles => roles,
            },
        }
    }

    /// What it is, as the beginning of a sentence.
    fn words(self) -> String {
        let words = match self {
            Act::SeePeople => "The list of people",
            Act::SeeJobNames => "The list of jobs",
            Act::SeeJobs => "The jobs with their cost",
            Act::SeeMonthEnd => "The month end",
            Act::SeeMargin => "Cost and margin",
            Act::SeeQuestions => "What devices say against each other",
            Act::SeePay => "What anybody earns",
            Act::SeeHistory => "The history of hidden conditions",
            Act::SeeLooseEnds => "The list of loose ends",
            Act::CloseMonth => "Closing a month",
            Act::OpenFigure => "How a figure came about",
            Act::SeeLists => "The firm's lists",
            Act::SeeSite => "The site view",
            Act::SeeWorkmanship => "How the work was done",
            Act::SeeRates => "The firm's rates",
            Act::BeginRates => "Setting up the firm's rates",
            Act::Bill => "Invoices, bills and payments",
            Act::SeeOverhead => "Overhead and what vendors are owed",
            Act::SeeBank => "What the bank shows",
            Act::PriceFurther => "What more of it costs the homeowner",
            Act::Estimate => "An estimate",
            Act::CountDamage => "Counting damage",
            Act::AskHomeowner => "Asking the homeowner",
            Act::PriceChange => "Asking at a lump sum, at a markup or with a deduct",
            Act::SettleDecisions => "Settling what the homeowner said",
            Act::SettleChange => "What a change order comes to",
            Act::KeepDrafts => "Keeping a draft",
            Act::KeepPhoto => "Keeping a photo",
            Act::SeeSitePhoto => "A photo of the work",
            Act::SeePaper => "This file",
            Act::PrintForSite | Act::PrintInvoice | Act::PrintForOwner => "This paper",
            Act::HandOff => "The hand-off",
            Act::Import => "Importing",
            Act::BackUp => "Backing up",
            Act::Verify => "Verifying the file",
            Act::SetPin => "The PIN",
            Act::SeeDevices => "The list of devices",
            Act::KeepDevices => "Adding and dropping devices",
            Act::Exchange => "An exchange with the other devices",
            Act::RecordFacts => "Recording",
            Act::Record(kind) => return format!("Recording “{}”", kind.replace('-', " ")),
            Act::TakeBack { own_of_today: true, .. } => "Taking this back",
            Act::TakeBack { own_of_today: false, .. } => {
                "Taking back what somebody else or another day recorded"
            }
        };
        words.to_owned()
    }

    /// Whether a setting of the company may leave it to a role that it is else not for.
    #[must_use]
    pub fn is_left_by_setting(self, role: Role) -> bool {
        self == Act::SeeMargin && role == Role::Books
    }

    /// Refuses it to a role that it is not for.
    ///
    /// # Errors
    /// `not-allowed`, with whose it is.
    pub fn admit(self, role: Role) -> Result<(), OfficeError> {
        let roles = self.roles();
        if roles.contains(&role) {
            return Ok(());
        }
        if let (Act::Record(kind), []) = (self, roles) {
            return Err(not_allowed(
                format!("A fact of the kind “{kind}” is not typed: it is recorded when the thing is done."),
                "Do it on its own page.".to_owned(),
            ));
        }
        let message = format!("{} is for {}. Nothing was changed.", self.words(), whose(roles, "and"));
        Err(not_allowed(message, format!("Let {} sit down at the desk.", whose(roles, "or"))))
    }
}

/// Who records a kind of fact.
fn recorders(kind: &str) -> &'static [Role] {
    if BY_DOING.contains(&kind) {
        return &[];
    }
    match (OF_THE_BOOKS.contains(&kind), OF_THE_CREW.contains(&kind)) {
        (true, true) => EVERYBODY,
        (true, false) => OWNER_AND_BOOKS,
        (false, true) => OWNER_AND_CREW,
        (false, false) => OWNER,
    }
}

/// What somebody may do at a device that is of a role itself: never more than the device may hold. On a crew's
/// everybody has the crew's part, since what is sealed is not there; on the bookkeeper's, the owner's pages are left to
/// the owner's own device.
#[must_use]
pub fn at_device(role: Role, device: Option<Role>) -> Role {
    match (role, device) {
        (_, Some(Role::Crew)) => Role::Crew,
        (Role::Owner, Some(Role::Books)) => Role::Books,
        _ => role,
    }
}

/// Refuses to record on a copy for the site what no other device would take from one.
///
/// # Errors
/// `not-allowed`, with where to do it.
pub(crate) fn refuse_on_site(kind: &str) -> Result<(), OfficeError> {
    if may_come_from_site(kind) {
        return Ok(());
    }
    Err(not_allowed(
        format!(
            "Recording “{}” is not done on a crew's device. Nothing was changed.",
            kind.replace('-', " ")
        ),
        "Do it in the office.".to_owned(),
    ))
}

fn whose(roles: &[Role], joined_by: &str) -> String {
    match (roles.contains(&Role::Books), roles.contains(&Role::Crew)) {
        (false, false) => "the owner".to_owned(),
        (true, false) => format!("the owner {joined_by} the bookkeeper"),
        (false, true) => format!("the owner {joined_by} the crew"),
        (true, true) => "everybody".to_owned(),
    }
}

fn not_allowed(message: String, remedy: String) -> OfficeError {
    OfficeError { code: Code::NotAllowed, field: None, message, remedy }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_records_what_is_theirs_and_nobody_types_a_close() {
        for (role, may, may_not) in [
            (Role::Owner, "contract", "month-closed"),
            (Role::Crew, "condition", "bill"),
            (Role::Crew, "time-entry", "change-order"),
            (Role::Crew, "work-check", "warranty"),
            (Role::Crew, "inspection", "check-point"),
            (Role::Crew, "installed", "contract"),
            (Role::Books, "payment", "forecast"),
            (Role::Books, "refund", "pay-rate"),
            (Role::Owner, "refund", "hand-off"),
            (Role::Crew, "repair", "refund"),
            (Role::Books, "bill", "pay-rate"),
        ] {
            assert_eq!(Act::Record(may).admit(role), Ok(()), "{role} {may}");
            assert_eq!(
                Act::Record(may_not).admit(role).unwrap_err().code,
                Code::NotAllowed,
                "{role} {may_not}"
            );
        }
        for role in EVERYBODY {
            for kind in BY_DOING {
                assert!(Act::Record(kind).admit(*role).is_err(), "{role} {kind}");
            }
        }
    }

    #[test]
    fn every_kind_named_here_is_a_kind_of_fact() {
        let on_site = OF_A_JOB_ON_SITE.iter().map(|(kind, _)| kind).chain(OF_THE_FIRM_ON_SITE);
        for kind in OF_THE_CREW.iter().chain(OF_THE_BOOKS).chain(BY_DOING).chain(on_site) {
            assert!(ledger::kinds::kind_spec(kind).is_some(), "{kind} is no kind");
        }
    }

    #[test]
    fn a_crew_takes_back_its_own_of_today_and_the_books_what_they_record() {
        let back = |kind, own_of_today| Act::TakeBack { kind, own_of_today };
        assert_eq!(back("time-entry", true).admit(Role::Crew), Ok(()));
        assert!(back("time-entry", false).admit(Role::Crew).is_err());
        assert!(back("bill", true).admit(Role::Crew).is_err());
        assert_eq!(back("bill", false).admit(Role::Books), Ok(()));
        assert!(back("contract", true).admit(Role::Books).is_err());
        assert_eq!(
            back("month-closed", false).admit(Role::Owner),
            Ok(()),
            "the ledger has its own word there"
        );
    }

    #[test]
    fn nobody_may_do_more_at_a_device_than_the_device_may_hold() {
        for role in EVERYBODY {
            assert_eq!(at_device(*role, Some(Role::Crew)), Role::Crew);
            assert_eq!(at_device(*role, Some(Role::Owner)), *role);
            assert_eq!(at_device(*role, None), *role);
        }
        assert_eq!(at_device(Role::Owner, Some(Role::Books)), Role::Books);
        assert_eq!(at_device(Role::Crew, Some(Role::Books)), Role::Crew);
        assert_eq!(refuse_on_site("condition"), Ok(()));
        assert_eq!(refuse_on_site("job").unwrap_err().code, Code::NotAllowed);
    }

    #[test]
    fn a_refusal_says_whose_it_is() {
        let refused = Act::HandOff.admit(Role::Crew).unwrap_err();
        assert_eq!(refused.message, "The hand-off is for the owner and the bookkeeper. Nothing was changed.");
        assert_eq!(refused.remedy, "Let the owner or the bookkeeper sit down at the desk.");
    }

    #[test]
    fn cost_margin_and_pay_are_the_owners_alone() {
        for act in [Act::SeeJobs, Act::SeeMargin, Act::SeePay, Act::Estimate, Act::OpenFigure, Act::SeePaper]
        {
            assert_eq!(act.roles(), OWNER, "{act:?}");
            // Of these the owner may leave one to the books, and none to the crew.
            assert_eq!(act.is_left_by_setting(Role::Books), act == Act::SeeMargin, "{act:?}");
            assert!(!act.is_left_by_setting(Role::Crew), "{act:?}");
        }
    }
}
