//! The fields of each kind of import, the headers by which they are known, and which column holds which field.

use crate::problem::{About, Answer, Problem, Problems, Question};
use crate::table::Table;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// What is imported.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// Homeowners.
    Customers,
    /// Jobs.
    Jobs,
    /// Vendors' bills and credits; lines of one bill share vendor, reference and date.
    Bills,
    /// Hours by person, day, job and code.
    Hours,
    /// Money that came.
    Payments,
    /// A supplier's prices of parts.
    Prices,
    /// A statement of the bank, as CSV or OFX.
    Bank,
}

/// How the text of a field is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reads {
    /// As text.
    Text,
    /// As a date.
    Date,
    /// As money, to the cent.
    Amount,
    /// As a count or hours, at most four decimals.
    Quantity,
    /// As the price of one, at most six decimals.
    UnitPrice,
    /// As yes or no.
    YesNo,
}

/// A field of a kind of import.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Field {
    /// Its name.
    pub name: &'static str,
    /// Whether every line needs it.
    pub required: bool,
    /// What it is, for people.
    pub what: &'static str,
    /// How its text is read.
    pub reads: Reads,
    /// The headers by which it is known, the likeliest first; capitals, blanks and signs do not matter.
    pub headers: &'static [&'static str],
}

const fn field(
    name: &'static str,
    required: bool,
    reads: Reads,
    what: &'static str,
    headers: &'static [&'static str],
) -> Field {
    Field { name, required, what, reads, headers }
}

const CUSTOMERS: &[Field] = &[
    field(
        "name",
        true,
        Reads::Text,
        "customer's name",
        &["name", "customer", "customer name", "homeowner", "client"],
    ),
    field(
        "address",
        false,
        Reads::Text,
        "address for post",
        &["address", "mailing address", "street address", "street"],
    ),
    field(
        "phone",
        false,
        Reads::Text,
        "telephone",
        &["phone", "telephone", "phone number", "mobile", "cell"],
    ),
    field("email", false, Reads::Text, "e-mail", &["email", "e-mail address", "mail"]),
];

const JOBS: &[Field] = &[
    field("number", true, Reads::Text, "job's number", &["number", "job", "job number", "job no", "no"]),
    field(
        "title",
        true,
        Reads::Text,
        "title of the work",
        &["title", "job title", "job name", "description", "work", "scope"],
    ),
    field("customer", true, Reads::Text, "customer", &["customer", "customer name", "homeowner", "client"]),
    field(
        "site",
        true,
        Reads::Text,
        "place of work",
        &["site", "site address", "job address", "job site", "address"],
    ),
    field(
        "date",
        true,
        Reads::Date,
        "day from which it counts",
        &["date", "job date", "start", "start date", "opened"],
    ),
    field("crew", false, Reads::Text, "crew", &["crew", "crew name", "team"]),
    field(
        "begins",
        false,
        Reads::Date,
        "first day of work, as planned",
        &["begins", "planned start", "work begins", "planned for", "first day"],
    ),
    field(
        "crew_days",
        false,
        Reads::Quantity,
        "days of a crew that it takes",
        &["crew days", "days", "planned days", "days of work"],
    ),
];

const BILLS: &[Field] = &[
    field(
        "date",
        true,
        Reads::Date,
        "date on the bill",
        &["date", "bill date", "invoice date", "receipt date"],
    ),
    field(
        "vendor",
        true,
        Reads::Text,
        "vendor",
        &["vendor", "vendor name", "supplier", "supplier name", "from", "payee"],
    ),
    field(
        "reference",
        true,
        Reads::Text,
        "number on the bill",
        &[
            "reference",
            "ref",
            "bill number",
            "bill no",
            "invoice number",
            "invoice no",
            "invoice",
            "receipt number",
            "bill",
            "receipt",
            "number",
        ],
    ),
    field("job", true, Reads::Text, "job's number", &["job", "job number", "job no"]),
    field("code", true, Reads::Text, "cost code", &["code", "cost code"]),
    field(
        "cost_kind",
        false,
        Reads::Text,
        "kind of cost",
        &["cost kind", "kind", "kind of cost", "cost type", "type"],
    ),
    field(
        "description",
        false,
        Reads::Text,
        "description",
        &["description", "item", "material", "what", "memo"],
    ),
    field("quantity", false, Reads::Quantity, "quantity", &["quantity", "qty", "count"]),
    field("unit", false, Reads::Text, "unit", &["unit", "units", "unit of measure", "uom"]),
    field(
        "unit_price",
        false,
        Reads::UnitPrice,
        "price of one",
        &["unit price", "price", "unit cost", "price each", "each"],
    ),
    field(
        "amount",
        true,
        Reads::Amount,
        "amount before tax",
        &["amount", "net", "net amount", "line amount", "subtotal", "amount before tax"],
    ),
    field("tax", false, Reads::Amount, "tax", &["tax", "sales tax", "tax amount"]),
    field(
        "credit",
        false,
        Reads::YesNo,
        "mark of a vendor's credit",
        &["credit", "is credit", "credit memo", "return"],
    ),
];

const HOURS: &[Field] = &[
    field("date", true, Reads::Date, "day", &["date", "day", "work date"]),
    field("person", true, Reads::Text, "person", &["person", "name", "employee", "worker", "employee name"]),
    field("job", true, Reads::Text, "job's number", &["job", "job number", "job no"]),
    field("code", true, Reads::Text, "cost code", &["code", "cost code", "task"]),
    field("hours", true, Reads::Quantity, "hours", &["hours", "hrs", "hours worked", "time"]),
    field("crew", false, Reads::Text, "crew", &["crew", "crew name", "team"]),
];

const PAYMENTS: &[Field] = &[
    field(
        "date",
        true,
        Reads::Date,
        "day it came",
        &["date", "payment date", "received", "date received", "deposit date"],
    ),
    field(
        "customer",
        true,
        Reads::Text,
        "customer",
        &["customer", "customer name", "homeowner", "client", "payer", "from", "name"],
    ),
    field(
        "amount",
        true,
        Reads::Amount,
        "amount",
        &["amount", "payment", "payment amount", "paid", "amount received"],
    ),
    field(
        "method",
        true,
        Reads::Text,
        "way it came",
        &["method", "means", "payment method", "paid by", "how"],
    ),
    field(
        "reference",
        false,
        Reads::Text,
        "check number or the like",
        &["reference", "ref", "check number", "check no", "check"],
    ),
    field(
        "invoice",
        false,
        Reads::Text,
        "invoice it is applied to",
        &["invoice", "invoice number", "invoice no", "apply to", "applied to"],
    ),
];

const PRICES: &[Field] = &[
    field(
        "part",
        true,
        Reads::Text,
        "part, by its word or its title",
        &["part", "part name", "item", "title", "description", "product", "name"],
    ),
    field("vendor", true, Reads::Text, "vendor", &["vendor", "vendor name", "supplier", "supplier name"]),
    field(
        "price",
        true,
        Reads::UnitPrice,
        "price of a package",
        &["price", "unit price", "net price", "price each", "cost", "unit cost"],
    ),
    field(
        "date",
        true,
        Reads::Date,
        "day from which the price counts",
        &["date", "since", "from", "price date", "effective", "effective date", "valid from"],
    ),
    field("package", false, Reads::Text, "package", &["package", "unit", "sold by", "uom", "pack"]),
    field(
        "covers",
        false,
        Reads::Quantity,
        "amount that a package covers",
        &["covers", "coverage", "covers each"],
    ),
];

const BANK: &[Field] = &[
    field(
        "date",
        true,
        Reads::Date,
        "day on which the bank booked it",
        &["date", "posting date", "posted date", "post date", "booking date", "transaction date"],
    ),
    field(
        "words",
        true,
        Reads::Text,
        "words of the bank",
        &["words", "description", "details", "payee", "name", "memo", "transaction"],
    ),
    field(
        "amount",
        false,
        Reads::Amount,
        "amount, below zero where money left",
        &["amount", "transaction amount"],
    ),
    field(
        "money_in",
        false,
        Reads::Amount,
        "money that came in, where it has a column of its own",
        &["money in", "credit", "credits", "deposit", "deposits", "paid in", "credit amount"],
    ),
    field(
        "money_out",
        false,
        Reads::Amount,
        "money that left, where it has a column of its own",
        &["money out", "debit", "debits", "withdrawal", "withdrawals", "paid out", "debit amount"],
    ),
    field(
        "number",
        false,
        Reads::Text,
        "number of the check",
        &["number", "check number", "check no", "check", "check or slip"],
    ),
    field(
        "bank_id",
        false,
        Reads::Text,
        "bank's own mark",
        &["bank id", "transaction id", "reference", "id", "ref"],
    ),
    field(
        "balance",
        false,
        Reads::Amount,
        "balance after the line",
        &["balance", "running balance", "account balance", "ledger balance"],
    ),
];

impl Kind {
    /// Every kind, in the order in which a new firm imports them.
    pub const ALL: [Kind; 7] =
        [Kind::Customers, Kind::Jobs, Kind::Bills, Kind::Hours, Kind::Payments, Kind::Prices, Kind::Bank];

    /// The word, as it is typed.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Kind::Customers => "customers",
            Kind::Jobs => "jobs",
            Kind::Bills => "bills",
            Kind::Hours => "hours",
            Kind::Payments => "payments",
            Kind::Prices => "prices",
            Kind::Bank => "bank",
        }
    }

    /// Reads the word.
    ///
    /// # Errors
    /// Lists the kinds there are.
    pub fn parse(text: &str) -> Result<Kind, String> {
        let found = Kind::ALL.into_iter().find(|kind| kind.as_str().eq_ignore_ascii_case(text.trim()));
        found.ok_or_else(|| {
            let all: Vec<&str> = Kind::ALL.iter().map(|kind| kind.as_str()).collect();
            format!("“{text}” cannot be imported: use one of {}", all.join(", "))
        })
    }

    /// Its fields, in the order in which they are shown.
    #[must_use]
    pub const fn fields(self) -> &'static [Field] {
        match self {
            Kind::Customers => CUSTOMERS,
            Kind::Jobs => JOBS,
            Kind::Bills => BILLS,
            Kind::Hours => HOURS,
            Kind::Payments => PAYMENTS,
            Kind::Prices => PRICES,
            Kind::Bank => BANK,
        }
    }
}

/// Which column holds which field: from a field's name to the header of its column, as it stands in the file. A field
/// that is left out is not read.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/", type = "Record<string, string>"))]
#[serde(transparent)]
pub struct Mapping {
    /// Field to header.
    pub columns: BTreeMap<String, String>,
}

impl Mapping {
    /// The header of a field's column.
    #[must_use]
    pub fn header(&self, field: &str) -> Option<&str> {
        self.columns.get(field).map(String::as_str)
    }
}

/// A header without capitals, blanks and signs: “Invoice No.” and “invoice_no” are the same.
pub(crate) fn plain(header: &str) -> String {
    header.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// A header line as one text, by which its mapping is remembered.
pub(crate) fn header_key(table: &Table) -> String {
    let cells: Vec<String> = table.header.iter().map(|cell| plain(cell)).collect();
    cells.join("|")
}

/// The columns of a file as matched to the fields of its kind.
#[derive(Debug, Default)]
pub(crate) struct Matched {
    /// Field to header, for showing, editing and remembering.
    pub(crate) mapping: Mapping,
    /// Field to place of its column.
    pub(crate) places: BTreeMap<&'static str, usize>,
    /// Headers that no field reads.
    pub(crate) unused: Vec<String>,
    /// Which column is meant, where several could be.
    pub(crate) questions: Vec<Question>,
    /// The fields for which a question or a problem about their column stands already.
    open: Vec<&'static str>,
}

/// Matches the columns of a file of something: by a person's mapping, or by the headers the fields are known by.
pub(crate) fn match_up(
    fields: &'static [Field],
    of: &str,
    table: &Table,
    given: Option<&Mapping>,
    problems: &mut Problems,
) -> Matched {
    let headers: Vec<&str> = table.header.iter().map(|cell| cell.trim()).collect();
    let mut matched = match given {
        Some(mapping) => by_mapping(fields, of, table, &headers, mapping, problems),
        None => by_words(fields, table, &headers, problems),
    };
    for field in fields.iter().filter(|field| field.required) {
        if !matched.places.contains_key(field.name) && !matched.open.contains(&field.name) {
            problems.push(Problem {
                lines: vec![table.header_line],
                column: None,
                message: format!("No column was found for the {}.", field.what),
                remedy: format!(
                    "The file has the columns {}. Choose one of them, or head the right one “{}”.",
                    list(&headers),
                    field.name.replace('_', " ")
                ),
                near: vec![],
            });
        }
    }
    let used: Vec<usize> = matched.places.values().copied().collect();
    let unused =
        headers.iter().enumerate().filter(|(place, header)| !used.contains(place) && !header.is_empty());
    matched.unused = unused.map(|(_, header)| (*header).to_owned()).collect();
    matched
}

fn list(headers: &[&str]) -> String {
    let quoted: Vec<String> = headers.iter().map(|header| format!("“{header}”")).collect();
    quoted.join(", ")
}

fn by_words(fields: &'static [Field], table: &Table, headers: &[&str], problems: &mut Problems) -> Matched {
    let mut matched = Matched::default();
    let plain_headers: Vec<String> = headers.iter().map(|header| plain(header)).collect();
    let places_of = |word: &str| -> Vec<usize> {
        let word = plain(word);
        (0..headers.len()).filter(|place| plain_headers[*place] == word).collect()
    };
    for field in fields {
        let Some(places) = field.headers.iter().map(|word| places_of(word)).find(|places| !places.is_empty())
        else {
            continue;
        };
        if let [place] = places.as_slice() {
            matched.places.insert(field.name, *place);
            matched.mapping.columns.insert(field.name.to_owned(), headers[*place].to_owned());
            continue;
        }
        matched.open.push(field.name);
        let texts: BTreeSet<&str> = places.iter().map(|place| headers[*place]).collect();
        if texts.len() < places.len() {
            problems.push(headed_alike(table.header_line, headers[places[0]]));
            continue;
        }
        let answer =
            |place: &usize| Answer::new(headers[*place], format!("Column {} of the file.", place + 1));
        matched.questions.push(Question {
            about: About::Mapping,
            field: Some(field.name),
            column: None,
            message: format!("Which column holds the {}? Several are headed nearly alike.", field.what),
            answers: places.iter().map(answer).collect(),
            lines: vec![table.header_line],
        });
    }
    matched
}

fn headed_alike(line: u64, header: &str) -> Problem {
    let message = format!("More than one column is headed “{header}”.");
    Problem::at(line, Some(header), message, "Give the columns headers of their own in the file.")
}

fn by_mapping(
    fields: &'static [Field],
    of: &str,
    table: &Table,
    headers: &[&str],
    mapping: &Mapping,
    problems: &mut Problems,
) -> Matched {
    let mut matched = Matched { mapping: mapping.clone(), ..Matched::default() };
    let mut taken: BTreeMap<usize, &'static str> = BTreeMap::new();
    for (name, header) in &mapping.columns {
        let mut refuse = |message: String, remedy: String| {
            matched.open.push(fields.iter().find(|field| field.name == name).map_or("", |field| field.name));
            problems.push(Problem::at(table.header_line, Some(header.as_str()), message, &remedy));
        };
        let Some(field) = fields.iter().find(|field| field.name == name) else {
            let known: Vec<&str> = fields.iter().map(|field| field.name).collect();
            refuse(
                format!("There is no field “{name}” in an import of {of}."),
                format!("Use one of {}.", known.join(", ")),
            );
            continue;
        };
        let places: Vec<usize> =
            (0..headers.len()).filter(|place| headers[*place] == header.trim()).collect();
        match places.as_slice() {
            [] => refuse(
                format!("The file has no column “{header}” for the {}.", field.what),
                format!("It has {}. Choose one of them.", list(headers)),
            ),
            [place] => match taken.insert(*place, field.name) {
                None => {
                    matched.places.insert(field.name, *place);
                }
                Some(other) => refuse(
                    format!(
                        "It is chosen for both {} and {}.",
                        other.replace('_', " "),
                        name.replace('_', " ")
                    ),
                    "Choose another column for one of them.".to_owned(),
                ),
            },
            _ => problems.push(headed_alike(table.header_line, header)),
        }
    }
    matched
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_header_means_two_fields_of_a_kind() {
        for kind in Kind::ALL {
            let mut seen = BTreeSet::new();
            for field in kind.fields() {
                assert_eq!(
                    plain(field.headers[0]),
                    plain(field.name),
                    "{field:?} is known first by its own name"
                );
                for header in field.headers {
                    assert!(seen.insert(plain(header)), "{kind:?} knows “{header}” twice");
                }
            }
        }
    }
}
