//! The set of files that a part is.

use super::at_month_end;
use super::bank;
use super::billing;
use super::budget;
use super::cash;
use super::context::Part;
use super::costs;
use super::hours;
use super::journal::{Journal, accounts_table};
use super::month_facts::MonthFacts;
use super::overhead;
use super::page;
use super::totals::{self, ControlTotal};
use super::view::View;
use crate::file::mark::EntryMark;
use desk::OfficeError;
use ledger::Books;
use paperwork::{Folder, Package, Table};
use trade::Money;

/// A part worked out: its files as bytes.
#[derive(Clone, Debug)]
pub struct Made {
    /// The folder with every file.
    pub folder: Folder,
    /// The tables behind its CSV files, in their order.
    pub tables: Vec<Table>,
    /// What ties.
    pub totals: Vec<ControlTotal>,
    /// Entries in its journal.
    pub entries: usize,
    /// Debits of its journal.
    pub debits: Money,
    /// Lines of the journal that are used and have no account name of the firm's own.
    pub unnamed: Vec<&'static str>,
}

/// Makes the files of a part.
pub(super) fn make(books: Books<'_>, month: &MonthFacts, part: &Part) -> Result<Made, OfficeError> {
    let view = View::of(books, month, part)?;
    let journal = Journal::of(&view, &part.facts, &part.labor, &part.movements)?;
    let work = view.work(&part.labor)?;
    let (entries, debits) = (journal.entries.len(), journal.debits());
    let unnamed: Vec<&'static str> = journal
        .used()
        .filter(|account| view.accounts.own(*account).is_none())
        .map(ledger::closed_lists::JournalLine::as_str)
        .collect();
    let at_bank = bank::at_bank(books, &view)?;
    let mut tables = vec![
        journal.table(&view)?,
        costs::table(&view, &part.facts, &work)?,
        overhead::table(&view, &part.facts)?,
        overhead::vendor_payments(&view, &part.facts)?,
        overhead::payables(&view, month)?,
        billing::invoices(&view, &part.facts)?,
        billing::invoice_lines(&view, &part.facts)?,
        billing::releases(&view, &part.facts)?,
        billing::payments(&view, &part.facts)?,
        billing::allocations(&view, &part.facts)?,
        billing::refunds(&view, &part.facts)?,
        bank::lines(&view, &at_bank)?,
        bank::clearing(&view, &at_bank)?,
        hours::table(&view, &work)?,
        at_month_end::subcontractors(books, &view, month)?,
        at_month_end::job_results(&view)?,
        at_month_end::receivables(&view)?,
        at_month_end::customers(&view)?,
        budget::table(books, &view)?,
    ];
    tables.extend(cash::tables(books, &view)?);
    let totals = totals::control_totals(books, &view, journal, &bank::BankTotals::of(&view, &at_bank))?;
    tables.push(totals::table(&totals)?);
    tables.push(accounts_table(&view)?);
    tables.push(overhead::accounts(&view)?);
    tables.push(at_month_end::jobs(&view)?);
    let ends = part.window.to.ends(books)?;
    let folder = folder(&view, &tables, &totals, &unnamed, &ends);
    Ok(Made { folder, tables, totals, entries, debits, unnamed })
}

fn folder(
    view: &View<'_>,
    tables: &[Table],
    totals: &[ControlTotal],
    unnamed: &[&str],
    ends: &[EntryMark],
) -> Folder {
    let (firm, month, number) = (&view.people.firm, view.month.month, view.part.number);
    let name = format!("{}-{month}-part-{number}", slug(&firm.name));
    let package = Package {
        name: name.clone(),
        title: format!("{}: {} for the books, part {number}", firm.name, trade::shown::month(month)),
        description:
            "Journal, cost, billing, payments, hours and results of one month. README.txt says how to read \
                      them."
                .to_owned(),
        currency: firm.currency.clone(),
    };
    let csv: Vec<(String, Vec<u8>)> = tables.iter().map(|table| (table.file(), table.csv())).collect();
    let described: Vec<(&Table, &[u8])> =
        tables.iter().zip(&csv).map(|(table, (_, bytes))| (table, bytes.as_slice())).collect();
    let mut files = vec![
        ("README.txt".to_owned(), page::readme(view, tables, totals, unnamed, ends)),
        ("datapackage.json".to_owned(), package.json(&described)),
    ];
    files.extend(csv);
    Folder { name, files }
}

/// A firm's name as the beginning of a folder's name: letters and digits of plain ASCII, joined by hyphens.
fn slug(name: &str) -> String {
    let lower = name.to_ascii_lowercase();
    let words: Vec<&str> =
        lower.split(|letter: char| !letter.is_ascii_alphanumeric()).filter(|w| !w.is_empty()).collect();
    let slug: String = words.join("-").chars().take(40).collect();
    let slug = slug.trim_end_matches('-');
    if slug.is_empty() { "firm".to_owned() } else { slug.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::slug;

    #[test]
    fn a_folder_has_a_name_that_any_system_takes() {
        assert_eq!(slug("Quill & Daughters Roofing, Ltd."), "quill-daughters-roofing-ltd");
        assert_eq!(slug("../..\\CON:?*"), "con");
        assert_eq!(slug("屋根"), "firm");
        assert_eq!(slug(&"long ".repeat(20)).len(), 39);
    }
}
