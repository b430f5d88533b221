//! A table: columns with their kinds, rows of cells, and what identifies a row.

use crate::csv::{self, Quoting};
use crate::error::PaperworkError;
use jiff::civil::Date;
use rust_decimal::Decimal;
use trade::{Money, Month, Qty};

/// What a column holds. Numbers are written with a point and without grouping.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Text, made harmless for spreadsheets by [`crate::csv::harmless`].
    Text,
    /// Money in the books' currency, two decimals.
    Money,
    /// A quantity or hours, at most four decimals.
    Quantity,
    /// A share, a rate, or a figure whose unit its row says; as many decimals as it has.
    Rate,
    /// `yyyy-mm-dd`.
    Date,
    /// `yyyy-mm`.
    Month,
    /// A whole number.
    Integer,
    /// `yes` or `no`.
    YesNo,
    /// The id of a fact: 32 hexadecimal digits with hyphens.
    Id,
}

/// A column.
#[derive(Clone, Debug)]
pub struct Column {
    /// The heading in the file: lower case, words joined by `_`.
    pub name: &'static str,
    /// The heading for people.
    pub title: &'static str,
    /// What it holds.
    pub kind: Kind,
    /// What it means, in a sentence.
    pub description: &'static str,
    /// Whether every row has a value here.
    pub required: bool,
    /// Whether no value is below zero.
    pub not_negative: bool,
    /// The words that can stand here, when the list is closed.
    pub words: &'static [&'static str],
}

impl Column {
    /// A column that may be empty.
    #[must_use]
    pub const fn new(
        name: &'static str,
        kind: Kind,
        title: &'static str,
        description: &'static str,
    ) -> Column {
        Column { name, title, kind, description, required: false, not_negative: false, words: &[] }
    }

    /// The same, with a value in every row.
    #[must_use]
    pub const fn required(mut self) -> Column {
        self.required = true;
        self
    }

    /// The same, with no value below zero.
    #[must_use]
    pub const fn not_negative(mut self) -> Column {
        self.not_negative = true;
        self
    }

    /// The same, with only these words.
    #[must_use]
    pub const fn one_of(mut self, words: &'static [&'static str]) -> Column {
        self.words = words;
        self
    }
}

/// One value.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// No value.
    Empty,
    /// Text as it was typed.
    Text(String),
    /// Money.
    Money(Money),
    /// A quantity.
    Quantity(Qty),
    /// A share or a rate.
    Rate(Decimal),
    /// A date.
    Date(Date),
    /// A month.
    Month(Month),
    /// A whole number.
    Integer(i64),
    /// Yes or no.
    YesNo(bool),
    /// An id as text.
    Id(String),
}

impl Cell {
    /// Text; none when it is empty, since a file cannot tell the two apart.
    #[must_use]
    pub fn text(text: impl Into<String>) -> Cell {
        let text = text.into();
        if text.is_empty() { Cell::Empty } else { Cell::Text(text) }
    }

    /// A value that may be missing.
    #[must_use]
    pub fn of<T: Into<Cell>>(value: Option<T>) -> Cell {
        value.map_or(Cell::Empty, Into::into)
    }

    fn fits(&self, column: &Column) -> Result<(), String> {
        let kind = match self {
            Cell::Empty if column.required => return Err("it is empty".to_owned()),
            Cell::Empty => return Ok(()),
            Cell::Text(_) => Kind::Text,
            Cell::Money(_) => Kind::Money,
            Cell::Quantity(_) => Kind::Quantity,
            Cell::Rate(_) => Kind::Rate,
            Cell::Date(_) => Kind::Date,
            Cell::Month(_) => Kind::Month,
            Cell::Integer(_) => Kind::Integer,
            Cell::YesNo(_) => Kind::YesNo,
            Cell::Id(_) => Kind::Id,
        };
        if kind != column.kind {
            return Err(format!("it holds {kind:?} where {:?} belongs", column.kind));
        }
        let word = self.plain();
        if !column.words.is_empty() && !column.words.contains(&word.as_str()) {
            return Err(format!("“{word}” is none of its words"));
        }
        if column.not_negative && word.starts_with('-') {
            return Err(format!("{word} is below zero"));
        }
        Ok(())
    }

    /// The value as people type it, before anything is made harmless.
    #[must_use]
    pub fn plain(&self) -> String {
        match self {
            Cell::Empty => String::new(),
            Cell::Text(text) | Cell::Id(text) => text.clone(),
            Cell::Money(amount) => amount.to_string(),
            Cell::Quantity(quantity) => quantity.to_string(),
            // Zero has no sign.
            Cell::Rate(rate) if rate.is_zero() => rate.abs().to_string(),
            Cell::Rate(rate) => rate.to_string(),
            Cell::Date(date) => date.to_string(),
            Cell::Month(month) => month.to_string(),
            Cell::Integer(number) => number.to_string(),
            Cell::YesNo(yes) => if *yes { "yes" } else { "no" }.to_owned(),
        }
    }

    /// The value as it stands in the file.
    #[must_use]
    pub fn written(&self) -> String {
        match self {
            Cell::Text(text) => csv::harmless(text),
            other => other.plain(),
        }
    }

    /// A value back from the file.
    fn parse(kind: Kind, written: &str) -> Result<Cell, String> {
        if written.is_empty() {
            return Ok(Cell::Empty);
        }
        let wrong = || format!("“{written}” is not of kind {kind:?}");
        Ok(match kind {
            Kind::Text => Cell::Text(csv::restore(written).to_owned()),
            Kind::Money => Cell::Money(Money::parse(written).map_err(|_| wrong())?),
            Kind::Quantity => Cell::Quantity(Qty::parse(written).map_err(|_| wrong())?),
            Kind::Rate => Cell::Rate(written.parse().map_err(|_| wrong())?),
            Kind::Date => Cell::Date(written.parse().map_err(|_| wrong())?),
            Kind::Month => Cell::Month(Month::parse(written).map_err(|_| wrong())?),
            Kind::Integer => Cell::Integer(written.parse().map_err(|_| wrong())?),
            Kind::YesNo => match written {
                "yes" => Cell::YesNo(true),
                "no" => Cell::YesNo(false),
                _ => return Err(wrong()),
            },
            Kind::Id => Cell::Id(written.to_owned()),
        })
    }
}

macro_rules! cell_from {
    ($($type:ty => $variant:ident),+ $(,)?) => {
        $( impl From<$type> for Cell {
            fn from(value: $type) -> Cell { Cell::$variant(value) }
        } )+
    };
}
cell_from! {
    Money => Money,
    Qty => Quantity,
    Decimal => Rate,
    Date => Date,
    Month => Month,
    i64 => Integer,
    bool => YesNo,
}

impl From<String> for Cell {
    fn from(text: String) -> Cell {
        Cell::text(text)
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Cell {
        Cell::text(text)
    }
}

/// Columns of a table that name a row of another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Link {
    /// The column here.
    pub column: &'static str,
    /// The table it names.
    pub table: &'static str,
    /// The column there.
    pub to: &'static str,
}

/// A table, ready to be written.
#[derive(Clone, Debug)]
pub struct Table {
    /// The file's name without its ending: lower case, words joined by `_`.
    pub name: &'static str,
    /// The name for people.
    pub title: &'static str,
    /// What a row is, in a sentence or two.
    pub description: &'static str,
    /// Its columns.
    pub columns: Vec<Column>,
    /// The columns that together tell one row from another; none when nothing does.
    pub key: &'static [&'static str],
    /// Columns that name rows of other tables.
    pub links: &'static [Link],
    rows: Vec<Vec<Cell>>,
}

impl Table {
    /// A table without rows.
    #[must_use]
    pub fn new(
        name: &'static str,
        title: &'static str,
        description: &'static str,
        key: &'static [&'static str],
        links: &'static [Link],
        columns: Vec<Column>,
    ) -> Table {
        Table { name, title, description, columns, key, links, rows: Vec::new() }
    }

    /// The file's name.
    #[must_use]
    pub fn file(&self) -> String {
        format!("{}.csv", self.name)
    }

    /// Adds a row.
    ///
    /// # Errors
    /// When it has too few or too many cells, or one of another kind than its column.
    pub fn push(&mut self, row: Vec<Cell>) -> Result<(), PaperworkError> {
        let wrong =
            |problem: String| PaperworkError::Row { table: self.name, row: self.rows.len() + 1, problem };
        if row.len() != self.columns.len() {
            return Err(wrong(format!("it has {} cells for {} columns", row.len(), self.columns.len())));
        }
        for (cell, column) in row.iter().zip(&self.columns) {
            cell.fits(column).map_err(|problem| wrong(format!("{}: {problem}", column.name)))?;
        }
        self.rows.push(row);
        Ok(())
    }

    /// Its rows.
    #[must_use]
    pub fn rows(&self) -> &[Vec<Cell>] {
        &self.rows
    }

    /// Where a column stands.
    #[must_use]
    pub fn place(&self, column: &str) -> Option<usize> {
        self.columns.iter().position(|known| known.name == column)
    }

    /// The table as a CSV file with a line of headings.
    #[must_use]
    pub fn csv(&self) -> Vec<u8> {
        let mut out = Vec::new();
        csv::write(&mut out, [self.columns.iter().map(|column| column.name)], Quoting::Needed);
        csv::write(&mut out, self.rows.iter().map(|row| row.iter().map(Cell::written)), Quoting::Needed);
        out
    }

    /// The rows of such a file read back, with text as it was typed.
    ///
    /// # Errors
    /// The record and what was found in it.
    pub fn read(&self, file: &[u8]) -> Result<Vec<Vec<Cell>>, PaperworkError> {
        let wrong =
            |line: usize, problem: String| PaperworkError::Unreadable { table: self.name, line, problem };
        let mut records = csv::read(file).map_err(|problem| wrong(1, problem))?.into_iter();
        let headings = records.next().unwrap_or_default();
        if !headings.iter().eq(self.columns.iter().map(|column| column.name)) {
            return Err(wrong(1, format!("the headings are {}", headings.join(", "))));
        }
        let mut rows = Vec::new();
        for (index, record) in records.enumerate() {
            let line = index + 2;
            if record.len() != self.columns.len() {
                return Err(wrong(line, format!("it has {} fields", record.len())));
            }
            let cells = record.iter().zip(&self.columns).map(|(written, column)| {
                Cell::parse(column.kind, written)
                    .map_err(|problem| wrong(line, format!("{}: {problem}", column.name)))
            });
            rows.push(cells.collect::<Result<_, _>>()?);
        }
        Ok(rows)
    }
}

#[cfg(test)]
mod tests {
    use super::{Cell, Column, Kind, Table};
    use crate::error::PaperworkError;
    use proptest::prelude::*;
    use rust_decimal::Decimal;
    use trade::{Money, Month, Qty};

    fn every_kind() -> Table {
        let columns = [
            ("text", Kind::Text),
            ("money", Kind::Money),
            ("quantity", Kind::Quantity),
            ("rate", Kind::Rate),
            ("date", Kind::Date),
            ("month", Kind::Month),
            ("integer", Kind::Integer),
            ("yes_no", Kind::YesNo),
            ("id", Kind::Id),
        ];
        let columns = columns.map(|(name, kind)| Column::new(name, kind, "Title", "What it means.")).to_vec();
        Table::new("sample", "Sample", "One row of every kind.", &[], &[], columns)
    }

    #[test]
    fn numbers_stay_numbers_and_text_is_made_harmless() {
        let mut table = every_kind();
        let row = vec![
            Cell::text("-12.50"),
            Money::from_minor(-1250).into(),
            Qty::parse("-3.5").unwrap().into(),
            Decimal::new(-25, 2).into(),
            jiff::civil::date(2026, 10, 5).into(),
            Month::parse("2026-10").unwrap().into(),
            Cell::Integer(-7),
            true.into(),
            Cell::Id("01930000-0000-7000-8000-000000000001".to_owned()),
        ];
        table.push(row).unwrap();
        let file = String::from_utf8(table.csv()).unwrap();
        assert_eq!(
            file,
            "text,money,quantity,rate,date,month,integer,yes_no,id\r\n'-12.50,-12.50,-3.5,-0.25,2026-10-05,\
             2026-10,-7,yes,01930000-0000-7000-8000-000000000001\r\n"
        );
    }

    #[test]
    fn a_row_that_does_not_fit_is_refused_with_its_place() {
        let columns = vec![
            Column::new("line", Kind::Integer, "Line", "Its place.").required(),
            Column::new("debit", Kind::Money, "Debit", "Debit.").not_negative(),
            Column::new("kind", Kind::Text, "Kind", "Kind.").one_of(&["bill", "direct-cost"]),
        ];
        let mut table = Table::new("journal", "Journal", "Lines.", &[], &[], columns);
        let said = |error: PaperworkError| error.to_string();
        assert!(
            said(table.push(vec![Cell::Integer(1)]).unwrap_err())
                .contains("row 1: it has 1 cells for 3 columns")
        );
        let row = vec![Cell::Empty, Cell::Empty, Cell::Empty];
        assert!(said(table.push(row).unwrap_err()).contains("line: it is empty"));
        let row = vec![Cell::Integer(1), Cell::text("5"), Cell::Empty];
        assert!(said(table.push(row).unwrap_err()).contains("debit: it holds Text where Money belongs"));
        let row = vec![Cell::Integer(1), Money::from_minor(-1).into(), Cell::Empty];
        assert!(said(table.push(row).unwrap_err()).contains("debit: -0.01 is below zero"));
        let row = vec![Cell::Integer(1), Cell::Empty, Cell::text("rumor")];
        assert!(said(table.push(row).unwrap_err()).contains("kind: “rumor” is none of its words"));
        assert!(table.rows().is_empty());
        table.push(vec![Cell::Integer(1), Money::ZERO.into(), Cell::text("direct-cost")]).unwrap();
        assert_eq!(table.rows().len(), 1);
    }

    #[test]
    fn a_changed_file_is_refused_with_its_line() {
        let table = every_kind();
        let headings = "text,money,quantity,rate,date,month,integer,yes_no,id\r\n";
        let said = |file: &str| table.read(file.as_bytes()).unwrap_err().to_string();
        assert!(said("text,money\r\n").contains("line 1: the headings are text, money"));
        assert!(said(&format!("{headings}a,b\r\n")).contains("line 2: it has 2 fields"));
        assert!(
            said(&format!("{headings},,,,,,,,\r\n,12.505,,,,,,,\r\n")).contains("line 3: money: “12.505”")
        );
        assert!(said(&format!("{headings},,,,,,,maybe,\r\n")).contains("yes_no: “maybe”"));
    }

    fn optional(cell: impl Strategy<Value = Cell>) -> impl Strategy<Value = Cell> {
        prop_oneof![1 => Just(Cell::Empty), 4 => cell]
    }

    fn any_row() -> impl Strategy<Value = Vec<Cell>> {
        (
            optional("(?s)[=+@'\\-\t\r\n\u{0}]{0,2}.{0,8}".prop_map(Cell::text)),
            optional((-99_999_999_999_i64..99_999_999_999).prop_map(|cents| Money::from_minor(cents).into())),
            optional((-9_999_999_i64..9_999_999).prop_map(|units| Qty::from_e4(units).into())),
            optional(
                (any::<i64>(), 0_u32..20).prop_map(|(units, scale)| Cell::Rate(Decimal::new(units, scale))),
            ),
            optional((0_i32..40_000).prop_map(|days| {
                let day = jiff::civil::date(1950, 1, 1) + jiff::Span::new().days(days);
                Cell::Date(day)
            })),
            optional(
                (1900_i32..2900, 1_i32..13)
                    .prop_map(|(year, month)| Cell::Month(Month::from_key(year * 100 + month).unwrap())),
            ),
            optional(any::<i64>().prop_map(Cell::Integer)),
            optional(any::<bool>().prop_map(Cell::YesNo)),
            optional("[0-9a-f]{8}-[0-9a-f]{4}".prop_map(Cell::Id)),
        )
            .prop_map(|(a, b, c, d, e, f, g, h, i)| vec![a, b, c, d, e, f, g, h, i])
    }

    proptest! {
        #[test]
        fn any_table_comes_back_as_it_was_written(rows in prop::collection::vec(any_row(), 0..8)) {
            let mut table = every_kind();
            for row in &rows {
                table.push(row.clone()).unwrap();
            }
            let file = table.csv();
            let back = table.read(&file).unwrap();
            prop_assert_eq!(&back, table.rows());
            // No line of a file can begin a formula that a person typed.
            let mut again = every_kind();
            for row in back {
                again.push(row).unwrap();
            }
            prop_assert_eq!(again.csv(), file);
        }
    }
}
