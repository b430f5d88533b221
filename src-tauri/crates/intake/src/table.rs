//! From bytes to cells: the text, its separator, and the line in the file on which each record begins.
//!
//! The form is that of RFC 4180, and the line breaks CR, LF and CRLF are all taken. The `csv` crate splits the cells;
//! a survey of our own goes before it, since that crate says nothing of a quotation mark that is never closed (it
//! would swallow the rest of the file), and since a problem must name the line that a text editor shows.

use crate::problem::{About, Answer, Problem, Question};
use serde::{Deserialize, Serialize};

/// What stands between the columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export_to = "import/"))]
#[serde(rename_all = "lowercase")]
pub enum Separator {
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// A TAB.
    Tab,
}

impl Separator {
    /// Every separator that is recognized.
    pub const ALL: [Separator; 3] = [Separator::Comma, Separator::Semicolon, Separator::Tab];

    /// The byte itself.
    #[must_use]
    pub const fn byte(self) -> u8 {
        match self {
            Separator::Comma => b',',
            Separator::Semicolon => b';',
            Separator::Tab => b'\t',
        }
    }

    /// The word, as it is typed.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Separator::Comma => "comma",
            Separator::Semicolon => "semicolon",
            Separator::Tab => "tab",
        }
    }
}

/// One record of the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Record {
    /// The line of the file on which it begins; the first line is 1.
    pub line: u64,
    cells: csv::StringRecord,
}

impl Record {
    /// A cell, just as it stands in the file.
    #[must_use]
    pub fn cell(&self, place: usize) -> Option<&str> {
        self.cells.get(place)
    }

    /// All cells.
    pub fn cells(&self) -> impl Iterator<Item = &str> {
        self.cells.iter()
    }

    /// Whether nothing stands in any cell.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        self.cells.iter().all(|cell| cell.trim().is_empty())
    }
}

/// A file as a header and records, all of the same width.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// What stands between the columns.
    pub separator: Separator,
    /// The header's cells, just as they stand.
    pub header: Vec<String>,
    /// The line on which the header stands.
    pub header_line: u64,
    /// The records under it.
    pub records: Vec<Record>,
}

/// Why a file is no table yet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NoTable {
    /// What is wrong with it.
    pub problems: Vec<Problem>,
    /// What has to be asked first.
    pub questions: Vec<Question>,
}

impl From<Problem> for NoTable {
    fn from(problem: Problem) -> NoTable {
        NoTable { problems: vec![problem], questions: vec![] }
    }
}

/// Reads a file into cells. Without a separator given, the header line has to show which one it is.
///
/// # Errors
/// What is wrong with the file, by line, or the question of its separator.
pub fn read(bytes: &[u8], separator: Option<Separator>) -> Result<Table, NoTable> {
    let text = text_of(bytes)?;
    let separator = match separator {
        Some(separator) => separator,
        None => separator_of(text)?,
    };
    let lines = survey(text, separator.byte())?;
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator.byte())
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut records = Vec::with_capacity(lines.len());
    for cells in reader.records() {
        let cells = cells.map_err(|error| unreadable(&error.to_string()))?;
        let line = lines.get(records.len()).copied().unwrap_or_default();
        records.push(Record { line, cells });
    }
    // Two readers that disagree about where a record begins would name wrong lines: say so and take nothing.
    if records.len() != lines.len() {
        return Err(unreadable("its records could not be told apart"));
    }
    let mut records = records.into_iter();
    let Some(header) = records.next() else {
        return Err(Problem::of_file(
            "The file is empty.",
            "Choose a file with a header line and a line for each record.",
        )
        .into());
    };
    let table = Table {
        separator,
        header: header.cells.iter().map(str::to_owned).collect(),
        header_line: header.line,
        records: records.collect(),
    };
    same_width(table)
}

fn unreadable(why: &str) -> NoTable {
    Problem::of_file(format!("The file could not be read: {why}."), "Save it again as “CSV UTF-8”.").into()
}

fn same_width(table: Table) -> Result<Table, NoTable> {
    let width = table.header.len();
    let mut problems = super::problem::Problems::default();
    for record in table.records.iter().filter(|record| record.cells.len() != width) {
        let message = format!("It has {}, and the header has {width}.", cells(record.cells.len()));
        let remedy =
            "Put quotation marks around text with a separator in it, and give each line every column.";
        problems.push(Problem::at(record.line, None, message, remedy));
    }
    let problems = problems.finish();
    if problems.is_empty() { Ok(table) } else { Err(NoTable { problems, questions: vec![] }) }
}

fn cells(count: usize) -> String {
    if count == 1 { "1 cell".to_owned() } else { format!("{count} cells") }
}

const BYTE_ORDER_MARK: &[u8] = b"\xEF\xBB\xBF";

/// The text of a file, without a byte order mark. Only UTF-8 is taken, because any guess at another encoding can
/// turn a name into another name.
fn text_of(bytes: &[u8]) -> Result<&str, Problem> {
    let remedy = "Save the file again as “CSV UTF-8” and choose it once more.";
    if bytes.starts_with(b"\xFF\xFE") || bytes.starts_with(b"\xFE\xFF") {
        return Err(Problem::of_file("The file is in UTF-16, which is not read.", remedy));
    }
    let body = bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes);
    let skipped = bytes.len() - body.len();
    let text = std::str::from_utf8(body).map_err(|error| {
        let at = error.valid_up_to();
        let line = line_at(&body[..at]);
        let byte = body.get(at).copied().unwrap_or_default();
        let message =
            format!("The text is not UTF-8: byte {byte:#04X} at place {} of the file.", skipped + at + 1);
        Problem::at(line, None, message, remedy)
    })?;
    if let Some(at) = text.find('\0') {
        let message = format!("There is a zero byte at place {} of the file.", skipped + at + 1);
        return Err(Problem::at(line_at(&body[..at]), None, message, remedy));
    }
    Ok(text)
}

/// The number of the line that comes after these bytes; CR, LF and CRLF each end one.
fn line_at(before: &[u8]) -> u64 {
    let mut line = 1;
    let mut previous = 0;
    for byte in before {
        if *byte == b'\r' || (*byte == b'\n' && previous != b'\r') {
            line += 1;
        }
        previous = *byte;
    }
    line
}

/// Finds the separator in the header line: the only one that stands there outside quotation marks.
fn separator_of(text: &str) -> Result<Separator, Question> {
    let mut is_quoted = false;
    let mut present = [false; 3];
    for byte in text.trim_start_matches(['\r', '\n']).bytes() {
        match byte {
            b'"' => is_quoted = !is_quoted,
            b'\r' | b'\n' if !is_quoted => break,
            _ if is_quoted => {}
            other => {
                for (seen, separator) in present.iter_mut().zip(Separator::ALL) {
                    *seen |= separator.byte() == other;
                }
            }
        }
    }
    let found: Vec<Separator> =
        Separator::ALL.into_iter().zip(present).filter_map(|(one, seen)| seen.then_some(one)).collect();
    match found.as_slice() {
        [] => Ok(Separator::Comma),
        [only] => Ok(*only),
        several => Err(Question {
            about: About::Separator,
            field: None,
            column: None,
            message:
                "The header line holds more than one of comma, semicolon and TAB. Which one stands between \
                      the columns?"
                    .to_owned(),
            answers: several
                .iter()
                .map(|one| {
                    Answer::new(one.as_str(), format!("The columns are separated by a {}.", one.as_str()))
                })
                .collect(),
            lines: vec![line_at(
                &text.as_bytes()[..text.len() - text.trim_start_matches(['\r', '\n']).len()],
            )],
        }),
    }
}

impl From<Question> for NoTable {
    fn from(question: Question) -> NoTable {
        NoTable { problems: vec![], questions: vec![question] }
    }
}

/// Where the survey stands within a record.
#[derive(Clone, Copy, PartialEq, Eq)]
enum At {
    /// Before a record; empty lines are passed over.
    Start,
    /// Before a cell.
    Cell,
    /// In a cell of which only blanks were seen.
    Blank,
    /// In a cell without quotation marks.
    Plain,
    /// Within quotation marks.
    Quoted,
    /// After a quotation mark that closes the cell or is the first of two.
    Closed,
}

/// The line on which each record begins.
///
/// # Errors
/// A quotation mark that is not closed, or stands where it can only be a mistake.
fn survey(text: &str, separator: u8) -> Result<Vec<u64>, Problem> {
    let remedy = "Put one quotation mark before and one after the cell, and double those within it.";
    let mut lines = Vec::new();
    let (mut at, mut line, mut opened, mut previous) = (At::Start, 1_u64, 1_u64, 0_u8);
    for byte in text.bytes() {
        let breaks = byte == b'\r' || byte == b'\n';
        let is_second_of_crlf = byte == b'\n' && previous == b'\r';
        previous = byte;
        if at == At::Start && !breaks {
            lines.push(line);
            at = At::Cell;
        }
        at = match (at, byte) {
            (At::Quoted, b'"') => At::Closed,
            (At::Quoted, _) => At::Quoted,
            (At::Closed, b'"') => At::Quoted,
            (_, b'\r' | b'\n') => At::Start,
            (_, other) if other == separator => At::Cell,
            (At::Cell, b'"') => {
                opened = line;
                At::Quoted
            }
            (At::Closed, _) => {
                return Err(Problem::at(line, None, "Text stands after a closing quotation mark.", remedy));
            }
            (At::Blank, b'"') => {
                return Err(Problem::at(line, None, "A blank stands before a quotation mark.", remedy));
            }
            (At::Cell | At::Blank, b' ') => At::Blank,
            _ => At::Plain,
        };
        if breaks && !is_second_of_crlf {
            line += 1;
        }
    }
    if at == At::Quoted {
        let message = "A quotation mark that is opened here is never closed, so that the rest of the file would \
                       be one cell.";
        return Err(Problem::at(opened, None, message, remedy));
    }
    Ok(lines)
}
