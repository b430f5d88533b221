//! The page that says what is in the folder.

use super::totals::ControlTotal;
use super::view::View;
use crate::file::mark::EntryMark;
use paperwork::Table;
use paperwork::page::{Page, Side};
use trade::Money;

/// Writes the page.
pub(super) fn readme(
    view: &View<'_>,
    tables: &[Table],
    totals: &[ControlTotal],
    unnamed: &[&str],
    ends: &[EntryMark],
) -> Vec<u8> {
    let (firm, month, number) = (&view.people.firm, view.month.month, view.part.number);
    let mut page = Page::new();
    page.heading(&format!("{}: {} for the books, part {number}", firm.name, trade::shown::month(month)));
    page.paragraph(&what_it_holds(view));
    let ends: Vec<String> = ends.iter().map(EntryMark::to_string).collect();
    page.paragraph(&format!(
        "It takes in the ledger's entries through {}, each with the beginning of its hash. The command “tearoff verify \
         FILE --holds {}” tells whether a ledger still holds the books that this folder was made from.",
        ends.join(" and "),
        ends.join(" --holds "),
    ));
    page.paragraph(
        "No figure is in two parts. Add the parts of a month to have the whole month; the control totals below show \
         both.",
    );
    files(&mut page, tables);
    control_totals(&mut page, totals);
    how_to_read(&mut page, view, unnamed);
    page.text()
}

/// What becomes of the tax on material, by the settings of each bill in the month.
fn tax_on_material(view: &View<'_>) -> &'static str {
    let settings = &view.month.settings;
    let bills = view.month.facts.bills.iter();
    let mut is_cost: Vec<bool> = bills.map(|bill| settings.tax_is_cost(bill.fact.date)).collect();
    if is_cost.is_empty() {
        is_cost.push(settings.tax_is_cost(view.month.month.last_day()));
    }
    match (is_cost.contains(&true), is_cost.contains(&false)) {
        (true, true) => {
            "Tax paid on what the firm buys is part of a job's cost or stands as a debit in sales-tax-payable, by the \
             company's settings on the day of each bill."
        }
        (_, false) => "Tax paid on what the firm buys is part of a job's cost.",
        (_, true) => {
            "Tax paid on what the firm buys is not part of a job's cost; it stands as a debit in sales-tax-payable."
        }
    }
}

fn what_it_holds(view: &View<'_>) -> String {
    let month = trade::shown::month(view.month.month);
    if view.part.number == 1 {
        return format!("This folder holds what was booked in {month} when it was made.");
    }
    if view.part.is_empty() {
        return format!(
            "Nothing was booked in {month} since the parts before this one, so the journal is empty. What changed is \
             how jobs stand: see job results."
        );
    }
    format!(
        "This folder holds only what was booked in {month} since the parts before it. Job results, receivables and \
         subcontractors show how everything stands with it."
    )
}

fn files(page: &mut Page, tables: &[Table]) {
    page.heading("The files");
    let rows: Vec<Vec<String>> = tables
        .iter()
        .map(|table| vec![table.file(), format!("{} rows", table.rows().len()), table.title.to_owned()])
        .collect();
    page.columns(&[Side::Left, Side::Right, Side::Left], &rows);
    page.paragraph(
        "datapackage.json says of every file and column what it holds, for programs (Data Package, version 2).",
    );
}

fn control_totals(page: &mut Page, totals: &[ControlTotal]) {
    page.heading("Control totals");
    let mut rows = vec![["", "this part", "earlier", "month", "against", "", ""].map(str::to_owned).to_vec()];
    for total in totals {
        // Grouped as people read amounts; hours stand as they are.
        let shown = |figure: rust_decimal::Decimal| match (total.unit, Money::exact(figure)) {
            ("money", Ok(amount)) => amount.grouped(),
            _ => figure.to_string(),
        };
        rows.push(vec![
            total.title.to_owned(),
            shown(total.part),
            shown(total.earlier),
            shown(total.month),
            shown(total.against),
            if total.ties { "ties to" } else { "DOES NOT TIE to" }.to_owned(),
            total.ties_to.to_owned(),
        ]);
    }
    let right = Side::Right;
    page.columns(&[Side::Left, right, right, right, right, Side::Left, Side::Left], &rows);
}

fn how_to_read(page: &mut Page, view: &View<'_>, unnamed: &[&str]) {
    page.heading("How to read them");
    page.point(&format!("Amounts are in {}, with a point and without grouping.", view.people.firm.currency));
    page.point(
        "Text that a spreadsheet could take for a formula, because it begins with = + - @, a tab, a line break or an \
         apostrophe, has an apostrophe in front. Take one away to have what was typed.",
    );
    page.point(
        "Revenue is booked as it is billed. At the month's end an entry for each job moves it to what was earned by \
         percent complete, against under-billed and over-billed; jobs are never netted.",
    );
    page.point(
        "What came in for a month that was closed before is booked on the first day of this one; its own date stands \
         in the files, and late says yes.",
    );
    page.point(tax_on_material(view));
    page.point("Numbers such as A-123 are the ledger's own: the device's letter and its count of facts.");
    if !unnamed.is_empty() {
        page.point(&format!(
            "These lines of the journal have no account name of the firm's own, so ours stand there: {}.",
            unnamed.join(", ")
        ));
    }
}
