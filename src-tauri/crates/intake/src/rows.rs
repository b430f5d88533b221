//! The rows of each kind, and how cells become them. A row is made whole or not at all.

use crate::amounts::{self, NumberStyle};
use crate::columns::{Field, Kind, Reads};
use crate::dates::{self, DateOrder};
use crate::problem::{Problem, Problems};
use crate::table::Record;
use jiff::civil::Date;
use ledger::closed_lists::PaidBy;
use serde::Serialize;
use std::collections::BTreeMap;
use trade::{CostKind, Money, Qty, Rate};

/// A customer of the file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CustomerRow {
    /// Line of the file.
    pub line: u64,
    /// Name.
    pub name: String,
    /// Address for post.
    pub address: Option<String>,
    /// Telephone.
    pub phone: Option<String>,
    /// E-mail.
    pub email: Option<String>,
}

/// A job of the file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct JobRow {
    /// Line of the file.
    pub line: u64,
    /// The firm's number for it.
    pub number: String,
    /// What is done.
    pub title: String,
    /// The customer's name, or name and address with a comma between.
    pub customer: String,
    /// Where.
    pub site: String,
    /// From this day.
    pub date: Date,
    /// The crew's name.
    pub crew: Option<String>,
    /// The first day of work, where it is planned.
    pub begins: Option<Date>,
    /// How many days of a crew it takes.
    pub crew_days: Option<Qty>,
}

/// A line of a bill. Lines with the same vendor, reference and date form one bill.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BillRow {
    /// Line of the file.
    pub line: u64,
    /// Date on the bill.
    pub date: Date,
    /// The vendor's name.
    pub vendor: String,
    /// The number on the bill.
    pub reference: String,
    /// The job's number.
    pub job: String,
    /// The code's word.
    pub code: String,
    /// Kind of cost.
    pub cost_kind: CostKind,
    /// What.
    pub description: Option<String>,
    /// How many.
    pub quantity: Option<Qty>,
    /// Unit.
    pub unit: Option<String>,
    /// Price of one.
    pub unit_price: Option<Rate>,
    /// Amount before tax.
    pub amount: Money,
    /// Tax on it.
    pub tax: Money,
    /// Whether the file says that it is a credit; absent when the file has no such column.
    pub credit: Option<bool>,
}

/// Hours of the file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct HoursRow {
    /// Line of the file.
    pub line: u64,
    /// Day.
    pub date: Date,
    /// The person's name.
    pub person: String,
    /// The job's number.
    pub job: String,
    /// The code's word.
    pub code: String,
    /// Hours.
    pub hours: Qty,
    /// The crew's name.
    pub crew: Option<String>,
}

/// A payment of the file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PaymentRow {
    /// Line of the file.
    pub line: u64,
    /// The day it came.
    pub date: Date,
    /// The customer's name, or name and address with a comma between.
    pub customer: String,
    /// How much.
    pub amount: Money,
    /// How.
    pub method: PaidBy,
    /// Check number or the like.
    pub reference: Option<String>,
    /// The number of the invoice it is applied to.
    pub invoice: Option<String>,
}

/// A line of a supplier's price list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PriceListRow {
    /// Line of the file.
    pub line: u64,
    /// The part's word or title.
    pub part: String,
    /// The vendor's name.
    pub vendor: String,
    /// Dollars a package.
    pub price: Rate,
    /// From this day.
    pub date: Date,
    /// What it is bought in, where the file says so.
    pub package: Option<String>,
    /// How much a package covers, where the file says so.
    pub covers: Option<Qty>,
}

/// A line of a bank's statement.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BankRow {
    /// Line of the file.
    pub line: u64,
    /// The day on which the bank booked it.
    pub date: Date,
    /// How much; below zero where money left.
    pub amount: Money,
    /// What the bank says of it.
    pub words: String,
    /// The check's number.
    pub number: Option<String>,
    /// The bank's own mark.
    pub bank_id: Option<String>,
    /// What stood there after it, where the file says so.
    pub balance: Option<Money>,
}

/// The rows of a file, typed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Rows {
    /// Customers.
    Customers(Vec<CustomerRow>),
    /// Jobs.
    Jobs(Vec<JobRow>),
    /// Lines of bills.
    Bills(Vec<BillRow>),
    /// Hours.
    Hours(Vec<HoursRow>),
    /// Payments.
    Payments(Vec<PaymentRow>),
    /// Prices.
    Prices(Vec<PriceListRow>),
    /// Lines of a bank's statement.
    Bank(Vec<BankRow>),
}

/// Does the same with the rows of any kind.
macro_rules! each {
    ($rows:expr, $list:ident => $what:expr) => {
        match $rows {
            Rows::Customers($list) => $what,
            Rows::Jobs($list) => $what,
            Rows::Bills($list) => $what,
            Rows::Hours($list) => $what,
            Rows::Payments($list) => $what,
            Rows::Prices($list) => $what,
            Rows::Bank($list) => $what,
        }
    };
}

impl Rows {
    /// No rows of a kind.
    #[must_use]
    pub fn none(kind: Kind) -> Rows {
        match kind {
            Kind::Customers => Rows::Customers(vec![]),
            Kind::Jobs => Rows::Jobs(vec![]),
            Kind::Bills => Rows::Bills(vec![]),
            Kind::Hours => Rows::Hours(vec![]),
            Kind::Payments => Rows::Payments(vec![]),
            Kind::Prices => Rows::Prices(vec![]),
            Kind::Bank => Rows::Bank(vec![]),
        }
    }

    /// How many.
    #[must_use]
    pub fn len(&self) -> usize {
        each!(self, list => list.len())
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The line of the file of each row.
    #[must_use]
    pub fn lines(&self) -> Vec<u64> {
        each!(self, list => list.iter().map(|row| row.line).collect())
    }

    /// A row as text, in the order of the kind's fields; empty where nothing stands.
    #[must_use]
    pub fn texts(&self, place: usize) -> Vec<String> {
        match self {
            Rows::Customers(rows) => rows.get(place).map(customer_texts),
            Rows::Jobs(rows) => rows.get(place).map(job_texts),
            Rows::Bills(rows) => rows.get(place).map(bill_texts),
            Rows::Hours(rows) => rows.get(place).map(hours_texts),
            Rows::Payments(rows) => rows.get(place).map(payment_texts),
            Rows::Prices(rows) => rows.get(place).map(price_texts),
            Rows::Bank(rows) => rows.get(place).map(bank_texts),
        }
        .unwrap_or_default()
    }
}

fn shown<T: ToString>(value: Option<&T>) -> String {
    value.map(T::to_string).unwrap_or_default()
}

fn customer_texts(row: &CustomerRow) -> Vec<String> {
    vec![row.name.clone(), shown(row.address.as_ref()), shown(row.phone.as_ref()), shown(row.email.as_ref())]
}

fn job_texts(row: &JobRow) -> Vec<String> {
    vec![
        row.number.clone(),
        row.title.clone(),
        row.customer.clone(),
        row.site.clone(),
        row.date.to_string(),
        shown(row.crew.as_ref()),
        shown(row.begins.as_ref()),
        shown(row.crew_days.as_ref()),
    ]
}

fn bill_texts(row: &BillRow) -> Vec<String> {
    vec![
        row.date.to_string(),
        row.vendor.clone(),
        row.reference.clone(),
        row.job.clone(),
        row.code.clone(),
        row.cost_kind.to_string(),
        shown(row.description.as_ref()),
        shown(row.quantity.as_ref()),
        shown(row.unit.as_ref()),
        shown(row.unit_price.as_ref()),
        row.amount.to_string(),
        row.tax.to_string(),
        row.credit.map(|is| if is { "yes" } else { "no" }).unwrap_or_default().to_owned(),
    ]
}

fn hours_texts(row: &HoursRow) -> Vec<String> {
    vec![
        row.date.to_string(),
        row.person.clone(),
        row.job.clone(),
        row.code.clone(),
        row.hours.to_string(),
        shown(row.crew.as_ref()),
    ]
}

fn payment_texts(row: &PaymentRow) -> Vec<String> {
    vec![
        row.date.to_string(),
        row.customer.clone(),
        row.amount.to_string(),
        row.method.to_string(),
        shown(row.reference.as_ref()),
        shown(row.invoice.as_ref()),
    ]
}

fn price_texts(row: &PriceListRow) -> Vec<String> {
    vec![
        row.part.clone(),
        row.vendor.clone(),
        row.price.to_string(),
        row.date.to_string(),
        shown(row.package.as_ref()),
        shown(row.covers.as_ref()),
    ]
}

fn bank_texts(row: &BankRow) -> Vec<String> {
    vec![
        row.date.to_string(),
        row.words.clone(),
        row.amount.to_string(),
        String::new(),
        String::new(),
        shown(row.number.as_ref()),
        shown(row.bank_id.as_ref()),
        shown(row.balance.as_ref()),
    ]
}

/// How the cells of a file are to be read: which column holds what, and in which order and style.
#[derive(Debug)]
pub(crate) struct Reading<'a> {
    pub(crate) kind: Kind,
    pub(crate) places: &'a BTreeMap<&'static str, usize>,
    pub(crate) headers: &'a [String],
    pub(crate) order: Option<DateOrder>,
    pub(crate) style: Option<NumberStyle>,
}

/// Reads the records that can be read; what cannot is a problem, or waits for a question.
pub(crate) fn read<'a>(
    reading: &Reading<'_>,
    records: impl Iterator<Item = &'a Record>,
    problems: &mut Problems,
) -> Rows {
    let mut rows = Rows::none(reading.kind);
    for record in records {
        let mut cells = Cells { reading, record, problems: &mut *problems, is_sound: true };
        match &mut rows {
            Rows::Customers(list) => list.extend(cells.customer()),
            Rows::Jobs(list) => list.extend(cells.job()),
            Rows::Bills(list) => list.extend(cells.bill()),
            Rows::Hours(list) => list.extend(cells.hours()),
            Rows::Payments(list) => list.extend(cells.payment()),
            Rows::Prices(list) => list.extend(cells.price()),
            Rows::Bank(list) => list.extend(cells.bank()),
        }
    }
    rows
}

/// The cells of one record, as fields.
struct Cells<'a, 'p> {
    reading: &'a Reading<'a>,
    record: &'a Record,
    problems: &'p mut Problems,
    /// Whether every field asked for so far could be read.
    is_sound: bool,
}

impl<'a> Cells<'a, '_> {
    /// The header and the text of a field's cell; nothing when the field has no column or the cell is empty.
    fn cell(&self, field: &str) -> Option<(&'a str, &'a str)> {
        let place = *self.reading.places.get(field)?;
        let text = self.record.cell(place)?.trim();
        let header = self.reading.headers.get(place)?.trim();
        (!text.is_empty()).then_some((header, text))
    }

    fn has(&self, field: &str) -> bool {
        self.reading.places.contains_key(field)
    }

    fn wrong(&mut self, header: &str, message: String, remedy: &str) {
        self.is_sound = false;
        self.problems.push(Problem::at(self.record.line, Some(header), message, remedy));
    }

    fn text(&self, field: &str) -> Option<String> {
        self.cell(field).map(|(_, text)| text.to_owned())
    }

    /// Says that a required cell is empty. A field without any column is the file's problem, not the line's.
    fn need<T>(&mut self, field: &str, value: Option<T>) -> Option<T> {
        if value.is_some() || self.cell(field).is_some() {
            return value;
        }
        self.is_sound = false;
        if let Some(place) = self.reading.places.get(field)
            && let Some(header) = self.reading.headers.get(*place)
        {
            let what = self.field(field).map_or(field, |field| field.what);
            let message = format!("The {what} is missing.");
            self.problems.push(Problem::at(self.record.line, Some(header.trim()), message, "Fill it in."));
        }
        value
    }

    fn field(&self, name: &str) -> Option<&'static Field> {
        self.reading.kind.fields().iter().find(|field| field.name == name)
    }

    fn need_text(&mut self, field: &str) -> Option<String> {
        let text = self.text(field);
        self.need(field, text)
    }

    fn need_date(&mut self) -> Option<Date> {
        let date = self.date("date");
        self.need("date", date)
    }

    fn date(&mut self, field: &str) -> Option<Date> {
        self.cell(field).and_then(|(header, text)| match dates::read(text, self.reading.order) {
            Ok(date) => Some(date),
            Err(dates::NoDate::Open) => {
                self.is_sound = false;
                None
            }
            Err(dates::NoDate::Wrong(message, remedy)) => {
                self.wrong(header, message, remedy);
                None
            }
        })
    }

    /// A number of one of the exact types of `trade`.
    fn number<T, E: std::fmt::Display>(
        &mut self,
        field: &str,
        parse: impl FnOnce(&str) -> Result<T, E>,
    ) -> Option<T> {
        let (header, text) = self.cell(field)?;
        match amounts::read(text, self.reading.style) {
            Ok(plain) => match parse(&plain) {
                Ok(value) => Some(value),
                Err(error) => {
                    self.wrong(header, error.to_string(), "");
                    None
                }
            },
            Err(amounts::NoNumber::Open) => {
                self.is_sound = false;
                None
            }
            Err(amounts::NoNumber::Wrong(message, remedy)) => {
                self.wrong(header, message, remedy);
                None
            }
        }
    }

    fn need_money(&mut self, field: &str) -> Option<Money> {
        let amount = self.number(field, Money::parse);
        self.need(field, amount)
    }

    fn word<T>(&mut self, field: &str, known: &[(&str, T)]) -> Option<T>
    where
        T: Copy,
    {
        let (header, text) = self.cell(field)?;
        let folded = crate::known::fold(text);
        let found = known.iter().find(|(word, _)| *word == folded).map(|(_, value)| *value);
        if found.is_none() {
            let words: Vec<&str> = known.iter().map(|(word, _)| *word).collect();
            let what = self.field(field).map_or(field, |field| field.what);
            let message = format!("“{text}” cannot stand for the {what}.");
            self.wrong(header, message, &format!("Use one of {}.", words.join(", ")));
        }
        found
    }

    /// A line of the bank has one amount with its sign, or one column for what came in and one for what left.
    fn bank(&mut self) -> Option<BankRow> {
        let (date, words) = (self.need_date(), self.need_text("words"));
        let amount = self.number("amount", Money::parse);
        let (came, left) = (self.number("money_in", Money::parse), self.number("money_out", Money::parse));
        let amount = match (amount, came, left) {
            (Some(amount), None, None) => Some(amount),
            (None, Some(came), None) => Some(came),
            (None, None, Some(left)) => Some(-left.abs()),
            (None, Some(came), Some(left)) if came.is_zero() || left.is_zero() => Some(came - left.abs()),
            _ if !self.is_sound => None,
            _ => {
                let place =
                    ["amount", "money_in", "money_out"].iter().find_map(|name| self.reading.places.get(name));
                let header = place
                    .and_then(|place| self.reading.headers.get(*place))
                    .map_or("amount", |text| text.trim());
                let message = "The line has no amount, or more than one.".to_owned();
                self.wrong(header, message, "Give one amount, or one of what came in and what left.");
                None
            }
        };
        let (number, bank_id) = (self.text("number"), self.text("bank_id"));
        let balance = self.number("balance", Money::parse);
        let row = BankRow {
            line: self.record.line,
            date: date?,
            amount: amount?,
            words: words?,
            number,
            bank_id,
            balance,
        };
        self.is_sound.then_some(row)
    }

    fn customer(&mut self) -> Option<CustomerRow> {
        let name = self.need_text("name");
        let (address, phone, email) = (self.text("address"), self.text("phone"), self.text("email"));
        Some(CustomerRow { line: self.record.line, name: name?, address, phone, email })
            .filter(|_| self.is_sound)
    }

    fn job(&mut self) -> Option<JobRow> {
        let (number, title) = (self.need_text("number"), self.need_text("title"));
        let (customer, site) = (self.need_text("customer"), self.need_text("site"));
        let (date, crew) = (self.need_date(), self.text("crew"));
        let (begins, crew_days) = (self.date("begins"), self.number("crew_days", Qty::parse));
        if begins.is_none()
            && let Some((header, _)) = self.cell("crew_days")
            && self.cell("begins").is_none()
        {
            let message = "The days of work stand without the day on which it begins.".to_owned();
            self.wrong(header, message, "Fill in when work begins, or leave the days out.");
        }
        let row = JobRow {
            line: self.record.line,
            number: number?,
            title: title?,
            customer: customer?,
            site: site?,
            date: date?,
            crew,
            begins,
            crew_days,
        };
        self.is_sound.then_some(row)
    }

    fn bill(&mut self) -> Option<BillRow> {
        let date = self.need_date();
        let (vendor, reference) = (self.need_text("vendor"), self.need_text("reference"));
        let (job, code) = (self.need_text("job"), self.need_text("code"));
        let cost_kind = self.word("cost_kind", COST_KINDS).unwrap_or(CostKind::Material);
        if cost_kind == CostKind::Labor
            && let Some((header, _)) = self.cell("cost_kind")
        {
            let message = "Labor cost comes from hours and pay, not from bills.".to_owned();
            self.wrong(header, message, "Import the hours, or call work by another firm subcontract.");
        }
        let (description, unit) = (self.text("description"), self.text("unit"));
        let quantity = self.number("quantity", Qty::parse);
        let unit_price = self.number("unit_price", Rate::parse);
        let amount = self.need_money("amount");
        let tax = self.number("tax", Money::parse).unwrap_or(Money::ZERO);
        let says_credit = self.word("credit", YES_AND_NO);
        let credit = self.has("credit").then(|| says_credit.unwrap_or(false));
        let row = BillRow {
            line: self.record.line,
            date: date?,
            vendor: vendor?,
            reference: reference?,
            job: job?,
            code: code?,
            cost_kind,
            description,
            quantity,
            unit,
            unit_price,
            amount: amount?,
            tax,
            credit,
        };
        self.is_sound.then_some(row)
    }

    fn hours(&mut self) -> Option<HoursRow> {
        let (date, person) = (self.need_date(), self.need_text("person"));
        let (job, code) = (self.need_text("job"), self.need_text("code"));
        let (hours, crew) = (self.number("hours", Qty::parse), self.text("crew"));
        let hours = self.need("hours", hours);
        if let (Some(hours), Some((header, _))) = (hours, self.cell("hours"))
            && !(hours.is_positive() && hours <= DAY)
        {
            let message = format!("{hours} is not a number of hours that a person can work in a day.");
            self.wrong(header, message, "Type more than 0 and no more than 24.");
        }
        let row = HoursRow {
            line: self.record.line,
            date: date?,
            person: person?,
            job: job?,
            code: code?,
            hours: hours?,
            crew,
        };
        self.is_sound.then_some(row)
    }

    fn payment(&mut self) -> Option<PaymentRow> {
        let (date, customer) = (self.need_date(), self.need_text("customer"));
        let amount = self.need_money("amount");
        if let (Some(amount), Some((header, _))) = (amount, self.cell("amount"))
            && amount <= Money::ZERO
        {
            let message = format!("{} is not an amount that came in.", amount.grouped());
            self.wrong(header, message, "Leave the line out; record money paid back as a credit memo.");
        }
        let method = self.word("method", METHODS);
        let method = self.need("method", method);
        let (reference, invoice) = (self.text("reference"), self.text("invoice"));
        let row = PaymentRow {
            line: self.record.line,
            date: date?,
            customer: customer?,
            amount: amount?,
            method: method?,
            reference,
            invoice,
        };
        self.is_sound.then_some(row)
    }

    fn price(&mut self) -> Option<PriceListRow> {
        let (part, vendor) = (self.need_text("part"), self.need_text("vendor"));
        let price = self.number("price", Rate::parse);
        let price = self.need("price", price);
        if let (Some(price), Some((header, _))) = (price, self.cell("price"))
            && !price.is_positive()
        {
            let message = format!("{price} is no price.");
            self.wrong(header, message, "Leave the line out where a part is no longer sold.");
        }
        let (date, package) = (self.need_date(), self.text("package"));
        let covers = self.number("covers", Qty::parse);
        let row = PriceListRow {
            line: self.record.line,
            part: part?,
            vendor: vendor?,
            price: price?,
            date: date?,
            package,
            covers,
        };
        self.is_sound.then_some(row)
    }
}

/// The hours of a day.
pub(crate) const DAY: Qty = Qty::from_e4(240_000);

const COST_KINDS: &[(&str, CostKind)] = &[
    ("material", CostKind::Material),
    ("labor", CostKind::Labor),
    ("subcontract", CostKind::Subcontract),
    ("equipment", CostKind::Equipment),
    ("disposal", CostKind::Disposal),
    ("permit", CostKind::Permit),
    ("other", CostKind::Other),
    ("materials", CostKind::Material),
    ("labor", CostKind::Labor),
    ("subcontractor", CostKind::Subcontract),
    ("permits", CostKind::Permit),
];

const YES_AND_NO: &[(&str, bool)] = &[
    ("yes", true),
    ("no", false),
    ("y", true),
    ("n", false),
    ("true", true),
    ("false", false),
    ("1", true),
    ("0", false),
];

const METHODS: &[(&str, PaidBy)] = &[
    ("check", PaidBy::Check),
    ("card", PaidBy::Card),
    ("transfer", PaidBy::Transfer),
    ("cash", PaidBy::Cash),
    ("check", PaidBy::Check),
    ("credit card", PaidBy::Card),
    ("debit card", PaidBy::Card),
    ("bank transfer", PaidBy::Transfer),
    ("wire", PaidBy::Transfer),
    ("ach", PaidBy::Transfer),
];

/// The fields of a kind that are read in one of some ways and have a column, with its place.
pub(crate) fn columns_read_as<'a>(
    kind: Kind,
    places: &'a BTreeMap<&'static str, usize>,
    ways: &'a [Reads],
) -> impl Iterator<Item = usize> + 'a {
    let fields = kind.fields().iter().filter(move |field| ways.contains(&field.reads));
    fields.filter_map(|field| places.get(field.name).copied())
}
