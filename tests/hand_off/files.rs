//! A folder that was handed off, read back.

use office::Money;
use std::collections::BTreeMap;
use std::path::Path;

/// A row by its headings, text as it was typed.
pub(crate) type Row = BTreeMap<String, String>;

/// The CSV files of a folder.
pub(crate) struct Set {
    tables: BTreeMap<String, Vec<Row>>,
}

impl Set {
    /// Every file and its bytes.
    pub(crate) fn bytes(folder: &Path) -> BTreeMap<String, Vec<u8>> {
        let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap());
        entries
            .map(|entry| (entry.file_name().into_string().unwrap(), std::fs::read(entry.path()).unwrap()))
            .collect()
    }

    pub(crate) fn read(folder: &Path) -> Set {
        let mut tables = BTreeMap::new();
        for (name, bytes) in Set::bytes(folder) {
            if let Some(name) = name.strip_suffix(".csv") {
                tables.insert(name.to_owned(), rows(&bytes));
            }
        }
        Set { tables }
    }

    pub(crate) fn rows(&self, table: &str) -> &[Row] {
        self.tables.get(table).unwrap_or_else(|| panic!("there is no {table}.csv"))
    }

    /// The rows whose column holds some text.
    pub(crate) fn those<'a>(
        &'a self,
        table: &str,
        column: &'a str,
        holds: &'a str,
    ) -> impl Iterator<Item = &'a Row> + 'a {
        self.rows(table).iter().filter(move |row| row[column] == holds)
    }

    /// A column as text, in the order of the file.
    pub(crate) fn column(&self, table: &str, column: &str) -> Vec<&str> {
        self.rows(table).iter().map(|row| row[column].as_str()).collect()
    }

    /// The sum of a column of money.
    pub(crate) fn sum(&self, table: &str, column: &str) -> Money {
        self.rows(table).iter().map(|row| money(&row[column])).sum()
    }

    /// Debits less credits of a line of the journal.
    pub(crate) fn account(&self, account: &str) -> Money {
        self.those("journal", "account", account)
            .map(|row| money(&row["debit"]) - money(&row["credit"]))
            .sum()
    }

    /// Debits less credits by line of the journal, those that are nothing left out.
    pub(crate) fn accounts(&self) -> BTreeMap<String, Money> {
        let mut sums: BTreeMap<String, Money> = BTreeMap::new();
        for row in self.rows("journal") {
            *sums.entry(row["account"].clone()).or_default() += money(&row["debit"]) - money(&row["credit"]);
        }
        sums.retain(|_, sum| !sum.is_zero());
        sums
    }

    /// What the control totals say of the month, by name.
    pub(crate) fn control(&self, name: &str) -> Money {
        let row = self.those("control_totals", "name", name).next();
        money(&row.unwrap_or_else(|| panic!("there is no control total {name}"))["month"])
    }

    /// Holds what must be true of every set: each entry balances, each line stands on one side, each total ties, and
    /// no figure has more digits than anybody can use.
    pub(crate) fn is_sound(&self) {
        let mut entries: BTreeMap<&str, Money> = BTreeMap::new();
        for row in self.rows("journal") {
            let (debit, credit) = (money(&row["debit"]), money(&row["credit"]));
            assert!(row["debit"].is_empty() != row["credit"].is_empty(), "one side only: {row:?}");
            assert!(debit + credit > Money::ZERO, "a line moves something: {row:?}");
            *entries.entry(&row["entry"]).or_default() += debit - credit;
        }
        for (entry, balance) in entries {
            assert!(balance.is_zero(), "entry {entry} is off by {balance}");
        }
        for row in self.rows("control_totals") {
            assert_eq!(row["ties"], "yes", "{row:?}");
        }
        for (table, rows) in &self.tables {
            for (column, cell) in rows.iter().flatten() {
                let places = cell
                    .parse::<f64>()
                    .ok()
                    .and_then(|_| cell.split_once('.'))
                    .map_or(0, |(_, all)| all.len());
                assert!(places <= 6, "{table}.{column} has more digits than a spreadsheet keeps: {cell}");
            }
        }
    }
}

fn rows(bytes: &[u8]) -> Vec<Row> {
    assert!(bytes.ends_with(b"\r\n"), "every record ends in CRLF");
    let mut records = paperwork::csv::read(bytes).unwrap().into_iter();
    let headings = records.next().unwrap();
    records
        .map(|record| {
            let cells = record.iter().map(|cell| paperwork::csv::restore(cell).to_owned());
            headings.iter().cloned().zip(cells).collect()
        })
        .collect()
}

/// Money as a file has it; nothing where it is empty.
pub(crate) fn money(text: &str) -> Money {
    if text.is_empty() { Money::ZERO } else { Money::parse(text).unwrap() }
}
