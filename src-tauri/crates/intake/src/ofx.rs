//! Open Financial Exchange: the statement that a bank gives out, versions 1 (SGML) and 2 (XML) alike.
//!
//! No library that is kept reads both, so that this is a small strict reader of its own: elements with a value, and
//! elements around others, closed or, in version 1, left open. A document type, an entity of its own, two accounts in
//! one file or a value that cannot be is refused with its line. Nothing is guessed and nothing is taken in part.

use crate::problem::Problem;
use crate::rows::BankRow;
use jiff::civil::Date;
use std::collections::BTreeMap;
use trade::Money;

/// What a file says of the statement as a whole.
#[derive(Clone, Debug, Default, PartialEq, Eq, serde::Serialize)]
pub struct StatementSaid {
    /// The account's number.
    pub account: Option<String>,
    /// The currency of its amounts.
    pub currency: Option<String>,
    /// The first day that it covers.
    pub begins: Option<Date>,
    /// The last day that it covers.
    pub ends: Option<Date>,
    /// What stands there after the last day.
    pub closing: Option<Money>,
}

/// A file of the bank, read.
pub(crate) type Statement = (StatementSaid, Vec<BankRow>);

/// No statement has elements inside elements to this depth.
const DEEPEST: usize = 64;

/// Whether a file is such a statement rather than a table.
pub(crate) fn is_ofx(bytes: &[u8]) -> bool {
    let start = &bytes[..bytes.len().min(1024)];
    let start = String::from_utf8_lossy(start).to_ascii_uppercase();
    let start = start.trim_start_matches('\u{feff}').trim_start();
    start.starts_with("OFXHEADER")
        || start.starts_with("<OFX>")
        || start.starts_with("<?") && start.contains("OFX")
}

/// Reads one.
pub(crate) fn read(bytes: &[u8]) -> Result<Statement, Problem> {
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let line = line_at(bytes, error.valid_up_to());
        let remedy = "Open it in an editor, save it as UTF-8 and take it in again.";
        Problem::at(line, None, "A sign in it cannot be read: the file is not UTF-8.", remedy)
    })?;
    let mut reader = Reader::default();
    let mut rest = Rest { text: text.trim_start_matches('\u{feff}'), line: 1 };
    rest.skip_header()?;
    while let Some(token) = rest.next()? {
        reader.take(token)?;
    }
    reader.finish(rest.line)
}

fn line_at(bytes: &[u8], at: usize) -> u64 {
    let lines = bytes[..at.min(bytes.len())].iter().filter(|byte| **byte == b'\n').count();
    u64::try_from(lines).unwrap_or(u64::MAX).saturating_add(1)
}

enum Token<'a> {
    Open(u64, &'a str, String),
    Close(u64, &'a str),
}

struct Rest<'a> {
    text: &'a str,
    line: u64,
}

impl<'a> Rest<'a> {
    fn past(&mut self, bytes: usize) {
        self.line += line_at(self.text.as_bytes(), bytes) - 1;
        self.text = &self.text[bytes..];
    }

    /// What stands before the first element: the header of version 1, the declarations of version 2.
    fn skip_header(&mut self) -> Result<(), Problem> {
        let at = self.text.find("<OFX>").ok_or_else(|| {
            Problem::of_file(
                "It begins as a bank's file does, and holds no statement.",
                "Fetch it from the bank again, as OFX or CSV.",
            )
        })?;
        if let Some(declared) = self.text[..at].find("<!") {
            self.past(declared);
            return Err(self.refused("It declares a document type of its own."));
        }
        self.past(at);
        Ok(())
    }

    fn refused(&self, message: &str) -> Problem {
        Problem::at(
            self.line,
            None,
            message,
            "Fetch the file from the bank again; this one was changed or cut.",
        )
    }

    fn next(&mut self) -> Result<Option<Token<'a>>, Problem> {
        let blank = self.text.len() - self.text.trim_start().len();
        self.past(blank);
        if self.text.is_empty() {
            return Ok(None);
        }
        if !self.text.starts_with('<') {
            return Err(self.refused("Text stands where an element is to begin."));
        }
        let Some(end) = self.text.find('>') else { return Err(self.refused("An element is never closed.")) };
        let name = &self.text[1..end];
        let (closes, name) = name.strip_prefix('/').map_or((false, name), |name| (true, name));
        let (is_empty, name) = name.strip_suffix('/').map_or((false, name), |name| (true, name.trim_end()));
        let is_name = !name.is_empty()
            && name.len() <= 64
            && name
                .bytes()
                .all(|byte| byte.is_ascii_uppercase() || byte.is_ascii_digit() || b"._".contains(&byte));
        if !is_name || closes && is_empty {
            return Err(self.refused("What stands between < and > is no element of a statement."));
        }
        let line = self.line;
        self.past(end + 1);
        if closes {
            return Ok(Some(Token::Close(line, name)));
        }
        let value = if is_empty { "" } else { &self.text[..self.text.find('<').unwrap_or(self.text.len())] };
        let plain = unescaped(value.trim()).map_err(|message| {
            Problem::at(
                line,
                Some(name),
                message,
                "Fetch the file from the bank again; this one was changed.",
            )
        })?;
        self.past(value.len());
        Ok(Some(Token::Open(line, name, plain)))
    }
}

/// A value as it is meant. Only the entities that the standard names are known.
fn unescaped(text: &str) -> Result<String, String> {
    let mut plain = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('&') {
        plain.push_str(&rest[..at]);
        rest = &rest[at..];
        let known = [
            ("&amp;", '&'),
            ("&lt;", '<'),
            ("&gt;", '>'),
            ("&quot;", '"'),
            ("&apos;", '\''),
            ("&nbsp;", ' '),
        ];
        match known.into_iter().find(|(entity, _)| rest.starts_with(entity)) {
            Some((entity, sign)) => {
                plain.push(sign);
                rest = &rest[entity.len()..];
            }
            // Banks write a bare & where &amp; is meant; an entity of another kind would be a name and a semicolon.
            None if !names_entity(rest) => {
                plain.push('&');
                rest = &rest[1..];
            }
            None => return Err("It names a sign that no statement knows.".to_owned()),
        }
    }
    plain.push_str(rest);
    if plain.chars().any(char::is_control) {
        return Err("It holds a character that cannot be seen, or runs over a line's end.".to_owned());
    }
    Ok(plain)
}

fn names_entity(text: &str) -> bool {
    let name: String =
        text.chars().skip(1).take_while(|sign| sign.is_ascii_alphanumeric() || *sign == '#').collect();
    !name.is_empty() && text[1 + name.len()..].starts_with(';')
}

type Fields = BTreeMap<String, (u64, String)>;

/// The elements around others whose values are of use.
const AROUND: &[&str] = &["STMTRS", "BANKACCTFROM", "BANKTRANLIST", "LEDGERBAL"];

#[derive(Default)]
struct Reader {
    open: Vec<String>,
    said: BTreeMap<&'static str, Fields>,
    lines: Vec<(u64, Fields)>,
}

impl Reader {
    fn take(&mut self, token: Token<'_>) -> Result<(), Problem> {
        match token {
            Token::Open(line, name, value) if value.is_empty() => self.begin(line, name),
            Token::Open(line, name, value) => self.value(line, name, value),
            Token::Close(line, name) => self.close(line, name),
        }
    }

    fn begin(&mut self, line: u64, name: &str) -> Result<(), Problem> {
        let refused = |message: &str, remedy: &str| Err(Problem::at(line, Some(name), message, remedy));
        match name {
            "CCSTMTRS" | "INVSTMTRS" => {
                return refused(
                    "It is the statement of a card or of investments.",
                    "Take the bank account's statement.",
                );
            }
            "STMTRS" if self.said.contains_key("STMTRS") => {
                return refused(
                    "A second account stands in the file.",
                    "Fetch the file of one account alone.",
                );
            }
            "STMTTRN" => self.lines.push((line, Fields::new())),
            _ => {}
        }
        if let Some(around) = AROUND.iter().find(|around| **around == name) {
            self.said.entry(around).or_default();
        }
        self.open.push(name.to_owned());
        if self.open.len() > DEEPEST {
            return refused(
                "Too many elements stand inside each other.",
                "Fetch the file from the bank again.",
            );
        }
        Ok(())
    }

    fn value(&mut self, line: u64, name: &str, value: String) -> Result<(), Problem> {
        let around =
            self.open.iter().rev().find(|open| *open == "STMTTRN" || AROUND.contains(&open.as_str()));
        let fields = match around.map(String::as_str) {
            Some("STMTTRN") => self.lines.last_mut().map(|(_, fields)| fields),
            Some(around) => {
                AROUND.iter().find(|known| **known == around).map(|known| self.said.entry(known).or_default())
            }
            None => None,
        };
        // A payee or an account inside a line has its own element around it; what has none is the line's.
        if let Some(fields) = fields
            && fields.insert(name.to_owned(), (line, value)).is_some()
            && ["DTPOSTED", "TRNAMT", "FITID", "BALAMT", "DTASOF", "ACCTID", "CURDEF"].contains(&name)
        {
            let message = "It stands twice where once is all there may be.";
            return Err(Problem::at(line, Some(name), message, "Fetch the file from the bank again."));
        }
        Ok(())
    }

    fn close(&mut self, line: u64, name: &str) -> Result<(), Problem> {
        let at = self.open.iter().rposition(|open| open == name);
        match at {
            // In version 1 an element without a value is not closed: what is still open inside ends here.
            Some(at) => self.open.truncate(at),
            // What closes a value that stood on its own was never opened as something around others.
            None if !AROUND.contains(&name) && name != "STMTTRN" && name != "OFX" => {}
            None => {
                return Err(Problem::at(
                    line,
                    Some(name),
                    "It ends and never began.",
                    "Fetch the file from the bank again.",
                ));
            }
        }
        Ok(())
    }

    fn finish(mut self, last: u64) -> Result<Statement, Problem> {
        let still = |name: &str| self.open.iter().any(|open| open == name);
        if ["OFX", "BANKTRANLIST", "STMTTRN", "STMTRS"].into_iter().any(still) {
            let remedy = "Fetch it from the bank again: a part of it is missing.";
            return Err(Problem::at(last, None, "The file ends before the statement does.", remedy));
        }
        if !self.said.contains_key("STMTRS") {
            return Err(Problem::of_file(
                "No statement of a bank account is in it.",
                "Fetch the account's statement.",
            ));
        }
        let mut take =
            |around: &str, name: &str| self.said.get_mut(around).and_then(|fields| fields.remove(name));
        let currency = take("STMTRS", "CURDEF").map(|(_, value)| value);
        let account = take("BANKACCTFROM", "ACCTID").map(|(_, value)| value);
        let begins = take("BANKTRANLIST", "DTSTART").map(|at| date("DTSTART", &at)).transpose()?;
        let ends = take("BANKTRANLIST", "DTEND").map(|at| date("DTEND", &at)).transpose()?;
        let balance = take("LEDGERBAL", "BALAMT").map(|at| amount("BALAMT", &at)).transpose()?;
        let as_of = take("LEDGERBAL", "DTASOF").map(|at| date("DTASOF", &at)).transpose()?;
        let rows =
            self.lines.into_iter().map(|(line, fields)| row(line, fields)).collect::<Result<Vec<_>, _>>()?;
        let first = rows.iter().map(|row| row.date).min();
        let last_line = rows.iter().map(|row| row.date).max();
        let ends = ends.or(as_of).max(last_line);
        // A balance of a later day holds what the file does not.
        let holds = as_of.is_none_or(|as_of| {
            ends.is_none_or(|ends| as_of <= ends) && last_line.is_none_or(|last| as_of >= last)
        });
        let said = StatementSaid {
            account,
            currency,
            begins: begins.into_iter().chain(first).min(),
            ends,
            closing: balance.filter(|_| holds),
        };
        Ok((said, rows))
    }
}

fn row(line: u64, mut fields: Fields) -> Result<BankRow, Problem> {
    let mut take = |name: &str| fields.remove(name);
    let need = |name: &'static str, value: Option<(u64, String)>| {
        let missing = || {
            Problem::at(
                line,
                Some(name),
                "It is missing on this line.",
                "Fetch the file from the bank again.",
            )
        };
        value.ok_or_else(missing)
    };
    if let Some((at, _)) = take("CURRENCY") {
        let message = "The line is in a currency of its own.";
        return Err(Problem::at(
            at,
            Some("CURRENCY"),
            message,
            "Take the statement in the account's currency.",
        ));
    }
    let posted = date("DTPOSTED", &need("DTPOSTED", take("DTPOSTED"))?)?;
    let moved = need("TRNAMT", take("TRNAMT"))?;
    let amount = amount("TRNAMT", &moved)?;
    let bank_id = need("FITID", take("FITID"))?.1;
    let number = take("CHECKNUM").or_else(|| take("REFNUM")).map(|(_, value)| value);
    let said: Vec<String> =
        ["NAME", "MEMO"].into_iter().filter_map(&mut take).map(|(_, value)| value).collect();
    let kind = take("TRNTYPE").map(|(_, value)| value);
    let words = if said.is_empty() { kind.unwrap_or_else(|| "No words".to_owned()) } else { said.join(", ") };
    Ok(BankRow { line: moved.0, date: posted, amount, words, number, bank_id: Some(bank_id), balance: None })
}

/// A day as the bank writes it: year, month and day without anything between; a time behind it is of no use.
fn date(name: &'static str, (line, text): &(u64, String)) -> Result<Date, Problem> {
    let wrong = || {
        let message = format!("“{text}” is no day.");
        Problem::at(
            *line,
            Some(name),
            message,
            "A day is written as 20260930. Fetch the file from the bank again.",
        )
    };
    let digits =
        text.get(..8).filter(|digits| digits.bytes().all(|byte| byte.is_ascii_digit())).ok_or_else(wrong)?;
    let behind = text[8..].bytes().all(|byte| byte.is_ascii_alphanumeric() || b".[]:+-".contains(&byte));
    let (year, month, day) = (digits[..4].parse(), digits[4..6].parse(), digits[6..].parse());
    match (year, month, day) {
        (Ok(year), Ok(month), Ok(day)) if behind && (1900..=2999).contains(&year) => {
            Date::new(year, month, day).map_err(|_| wrong())
        }
        _ => Err(wrong()),
    }
}

/// An amount as the bank writes it: a sign, digits, a point or a comma, and at most two decimals.
fn amount(name: &'static str, (line, text): &(u64, String)) -> Result<Money, Problem> {
    let plain = text.strip_prefix('+').unwrap_or(text).replacen(',', ".", 1);
    let plain = match plain.strip_prefix("-.") {
        Some(cents) => format!("-0.{cents}"),
        None if plain.starts_with('.') => format!("0{plain}"),
        None => plain,
    };
    Money::parse(&plain).map_err(|error| {
        let message = format!("“{text}” is no amount: {error}");
        Problem::at(*line, Some(name), message, "Fetch the file from the bank again.")
    })
}
