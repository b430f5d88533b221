//! The firm's own lists, as its pages Rates and Firm show them.

use desk::OfficeError;
use desk::names::Names;
use desk::numbering::Numbering;
use desk::settings::{firm_on, notices_on};
use desk::{Act, Desk};
use jiff::civil::Date;
use ledger::closed_lists::{BurdenOn, JournalLine, Language, NoticeOf, Role};
use ledger::facts::{Account, BurdenRate, Firm, HandOff, Job, OverheadAccount, PayRate, Vendor};
use serde::Serialize;
use trade::{Money, Month, Qty, Rate};

/// A person.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct PersonRow {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Role.
    pub role: Role,
    /// Crew.
    pub crew: Option<String>,
    /// Workers' compensation class.
    pub class: Option<String>,
    /// Left on.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub left_on: Option<Date>,
    /// In what they read the site view.
    pub language: Language,
    /// Hourly pay now.
    pub hourly: Option<Rate>,
}

/// A crew.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CrewRow {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// People.
    pub size: i64,
    /// Hours in its day.
    pub hours_a_day: Qty,
    /// From this day on; absent where it has always been so.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub date: Option<Date>,
}

/// A cost code.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CodeRow {
    /// Id.
    pub id: String,
    /// Word.
    pub code: String,
    /// Title.
    pub title: String,
    /// Measured in.
    pub unit: Option<String>,
    /// Bought in.
    pub bought_in: Option<String>,
    /// Place in the list.
    pub position: i64,
}

/// A vendor.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct PartyRow {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Whether the year's total is wanted for the subcontractors' return.
    pub subcontractor: bool,
    /// In how many days its bills are due.
    pub due_days: Option<i64>,
}

/// A customer.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CustomerRow {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Address for post.
    pub address: Option<String>,
    /// Telephone.
    pub phone: Option<String>,
    /// E-mail.
    pub email: Option<String>,
}

/// A burden rate.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BurdenRow {
    /// Id.
    pub id: String,
    /// From.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// Name.
    pub name: String,
    /// Calculated on.
    pub calculated_on: BurdenOn,
    /// Rate.
    pub rate: Rate,
    /// Wage base.
    pub wage_base: Option<Money>,
    /// Class.
    pub class: Option<String>,
    /// Whether the overtime premium counts as pay.
    pub on_premium: bool,
    /// Where rate and wage base are written.
    pub source: Option<String>,
}

/// An account of the firm's overhead.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OverheadRow {
    /// Id.
    pub id: String,
    /// Its number.
    pub number: Option<String>,
    /// Its name.
    pub name: String,
}

/// The firm's account for a line of the journal.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct AccountRow {
    /// The line.
    pub line: JournalLine,
    /// The firm's number for it.
    pub number: Option<String>,
    /// The firm's name for it; absent when none is given yet.
    pub name: Option<String>,
}

/// An earlier hand-off.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct HandOffRow {
    /// When.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// The month.
    pub month: Month,
    /// Part.
    pub part: i64,
    /// Debits, equal to its credits.
    pub debits: Money,
}

/// A state's own notice, as it stands today.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct NoticeRow {
    /// Since when.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// The state.
    pub state: String,
    /// What it is about.
    pub about: NoticeOf,
    /// Its heading.
    pub heading: String,
    /// Its text.
    pub text: String,
    /// How many copies.
    pub copies: i64,
    /// The least size of its type.
    pub least_points: i64,
    /// Whether it stands in bold.
    pub bold: bool,
}

/// Everything on the pages Rates and Firm.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Lists {
    /// The firm.
    pub firm: Firm,
    /// People.
    pub people: Vec<PersonRow>,
    /// Crews.
    pub crews: Vec<CrewRow>,
    /// Codes.
    pub codes: Vec<CodeRow>,
    /// Vendors.
    pub vendors: Vec<PartyRow>,
    /// Customers.
    pub customers: Vec<CustomerRow>,
    /// Burden rates, newest first.
    pub burden: Vec<BurdenRow>,
    /// Overhead accounts, by number and name.
    pub overhead: Vec<OverheadRow>,
    /// Accounts, one row for each line of the journal.
    pub accounts: Vec<AccountRow>,
    /// Closed months, newest first.
    pub closed: Vec<Month>,
    /// Hand-offs, newest first.
    pub hand_offs: Vec<HandOffRow>,
    /// The notices of states that hold today.
    pub notices: Vec<NoticeRow>,
    /// The first and last months in which anything is booked.
    pub months: Option<(Month, Month)>,
    /// The number that the next job gets.
    pub next_job: String,
}

/// The firm's lists.
///
/// # Errors
/// When they cannot be read.
pub fn lists(desk: &Desk) -> Result<Lists, OfficeError> {
    let sees_pay = desk.may(Act::SeePay)?;
    desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let mut pay: Vec<PayRate> = books.all::<PayRate>()?.into_iter().map(|held| held.fact).collect();
        pay.sort_by_key(|rate| rate.date);
        let hourly = |person| pay.iter().rev().find(|rate| rate.person == person).map(|rate| rate.hourly);
        let firm = firm_on(books, desk.clock.today())?;
        let burden_of_all: Vec<BurdenRow> = books
            .all::<BurdenRate>()?
            .into_iter()
            .map(|held| BurdenRow {
                id: held.entry.id.to_string(),
                date: held.fact.date,
                name: held.fact.name,
                calculated_on: held.fact.calculated_on,
                rate: held.fact.rate,
                wage_base: held.fact.wage_base,
                source: held.fact.source.clone(),
                class: held.fact.class,
                on_premium: held.fact.on_premium,
            })
            .collect();
        let mut burden = if sees_pay { burden_of_all } else { Vec::new() };
        burden.sort_by(|left, right| {
            (right.date, &left.name, &left.class).cmp(&(left.date, &right.name, &right.class))
        });
        let named: Vec<Account> = books.all::<Account>()?.into_iter().map(|held| held.fact).collect();
        let account = |line: JournalLine| {
            let own = named.iter().rev().find(|account| account.line == line);
            AccountRow {
                line,
                number: own.and_then(|account| account.number.clone()),
                name: own.map(|account| account.name.clone()),
            }
        };
        let mut codes: Vec<CodeRow> = names.codes.iter().map(|(id, code)| code_row(*id, code)).collect();
        codes.sort_by_key(|code| code.position);
        let mut closed: Vec<Month> = books.closes()?.into_iter().map(|held| held.fact.month).collect();
        closed.sort_unstable_by(|left, right| right.cmp(left));
        let mut hand_offs: Vec<HandOffRow> =
            books.all::<HandOff>()?.into_iter().map(|held| hand_off_row(&held.fact)).collect();
        hand_offs.reverse();
        Ok(Lists {
            people: names
                .people
                .iter()
                .map(|(id, person)| PersonRow {
                    id: id.to_string(),
                    name: person.name.clone(),
                    role: person.role,
                    crew: person.crew.map(|crew| names.crew(crew)),
                    class: person.class.clone(),
                    left_on: person.left_on,
                    language: person.language.unwrap_or(Language::English),
                    hourly: if sees_pay { hourly(*id) } else { None },
                })
                .collect(),
            crews: names
                .crews
                .iter()
                .map(|(id, crew)| CrewRow {
                    id: id.to_string(),
                    name: crew.name.clone(),
                    size: crew.size,
                    hours_a_day: crew.hours_a_day,
                    date: crew.date,
                })
                .collect(),
            codes,
            vendors: names.vendors.iter().map(|(id, vendor)| party(*id, vendor)).collect(),
            customers: names.customers.iter().map(|(id, customer)| customer_row(*id, customer)).collect(),
            burden,
            overhead: overhead_rows(&names),
            accounts: JournalLine::ALL.iter().copied().map(account).collect(),
            closed,
            hand_offs,
            months: books.months()?,
            next_job: Numbering::read(books)?
                .next(books.all_with_reversed::<Job>()?.iter().map(|held| held.fact.number.as_str())),
            notices: notices_on(books, desk.clock.today())?.into_iter().map(notice_row).collect(),
            firm,
        })
    })
}

fn overhead_rows(names: &Names) -> Vec<OverheadRow> {
    let row = |(id, account): (&ledger::Id, &OverheadAccount)| OverheadRow {
        id: id.to_string(),
        number: account.number.clone(),
        name: account.name.clone(),
    };
    let mut rows: Vec<OverheadRow> = names.overhead.iter().map(row).collect();
    rows.sort_by(|left, right| (&left.number, &left.name).cmp(&(&right.number, &right.name)));
    rows
}

fn party(id: ledger::Id, vendor: &Vendor) -> PartyRow {
    PartyRow {
        id: id.to_string(),
        name: vendor.name.clone(),
        subcontractor: vendor.subcontractor,
        due_days: vendor.due_days,
    }
}

fn customer_row(id: ledger::Id, customer: &ledger::facts::Customer) -> CustomerRow {
    CustomerRow {
        id: id.to_string(),
        name: customer.name.clone(),
        address: customer.address.clone(),
        phone: customer.phone.clone(),
        email: customer.email.clone(),
    }
}

fn code_row(id: ledger::Id, code: &ledger::facts::CostCode) -> CodeRow {
    CodeRow {
        id: id.to_string(),
        code: code.code.clone(),
        title: code.title.clone(),
        unit: code.unit.clone(),
        bought_in: code.bought_in.clone(),
        position: code.position,
    }
}

fn notice_row(notice: ledger::facts::Notice) -> NoticeRow {
    NoticeRow {
        date: notice.date,
        state: notice.state,
        about: notice.about,
        heading: notice.heading,
        text: notice.text,
        copies: notice.copies,
        least_points: notice.least_points,
        bold: notice.bold,
    }
}

fn hand_off_row(hand_off: &HandOff) -> HandOffRow {
    HandOffRow {
        date: hand_off.date,
        month: hand_off.month,
        part: hand_off.part,
        debits: hand_off.journal_debits,
    }
}
