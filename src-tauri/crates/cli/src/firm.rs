//! The whole firm as text for a terminal: what it made, what it costs beside its jobs, and what it owes its vendors.

use crate::table::{Cell, Table};
use office::month::result::{Made, MonthMade};
use office::{FirmYear, Money, Overhead, Payables, Rate, Subcontractors};

fn word(text: impl Into<String>) -> Cell {
    Cell::Word(text.into())
}

/// The firm's year, a month a line.
pub(crate) fn year(year: &FirmYear) -> Vec<String> {
    let mut lines = vec![format!("{} · what the firm made through {}", year.name, year.month), String::new()];
    let mut table = Table::new(&[
        "Month",
        "Earned",
        "Cost of jobs",
        "Foreseen",
        "Gross profit",
        "Overhead",
        "Net profit",
        "Jobs bore",
        "No job bore",
    ]);
    let row = |name: &str, made: &Made| {
        let figures = [
            made.earned,
            made.cost,
            made.losses,
            made.gross_profit,
            made.overhead_cost,
            made.net_profit,
            made.absorbed,
            made.under_absorbed,
        ];
        std::iter::once(word(name)).chain(figures.map(Cell::money)).collect()
    };
    for MonthMade { month, made } in &year.months {
        table.row(row(&month.to_string(), made));
    }
    table.row(row("So far", &year.so_far));
    if let Some(before) = &year.year_before {
        table.row(row("The year before", before));
    }
    lines.extend(table.lines());
    lines.push(String::new());
    let by = year.overhead_by.as_str().replace('-', " ");
    let base = office::explain::shown(office::MeasuredIn::Count, year.base);
    let rate = |rate: Rate| office::explain::shown(office::MeasuredIn::Money, rate.decimal());
    lines.push(format!("Overhead is spread by {by}, at {}; the year so far took {base}.", rate(year.rate)));
    if let Some(needed) = year.rate_needed.filter(|_| !year.so_far.overhead_cost.is_zero()) {
        lines.push(format!("At {} the jobs would have borne the whole of it.", rate(needed)));
    }
    lines
}

/// What the firm costs beside its jobs, an account a line, then what comes again.
pub(crate) fn overhead(overhead: &Overhead) -> Vec<String> {
    let mut lines = vec![format!("Overhead in {}", overhead.month), String::new()];
    let mut table = Table::new(&["Number", "Account", "This month", "This year"]);
    let mut row = |number: &str, name: &str, month: Money, year: Money| {
        table.row(vec![word(number), word(name), Cell::money(month), Cell::money(year)]);
    };
    for account in &overhead.accounts {
        row(account.number.as_deref().unwrap_or_default(), &account.name, account.month, account.year);
    }
    row("", "In all", overhead.cost, overhead.year);
    lines.extend(table.lines());
    let waiting = overhead.recurring.iter().filter(|cost| !cost.recorded);
    let waiting: Vec<String> = waiting
        .filter_map(|cost| {
            let due = cost.due?;
            Some(format!("  {due}  {}, {}: {}", cost.description, cost.name, cost.amount.grouped()))
        })
        .collect();
    if !waiting.is_empty() {
        lines.push(String::new());
        lines.push("Due in the month and not recorded yet".to_owned());
        lines.extend(waiting);
    }
    lines
}

/// What vendors are owed, a vendor a line, then the weeks in which it falls due.
pub(crate) fn payables(owed: &Payables) -> Vec<String> {
    let mut lines = vec![
        format!(
            "Owed to vendors on {}: {}, of it {} past due",
            owed.today,
            owed.balance.grouped(),
            owed.past_due.grouped()
        ),
        String::new(),
    ];
    let heads = ["Vendor", "Not yet due", "1–30", "31–60", "61–90", "Over 90", "Credits", "Balance"];
    let mut table = Table::new(&heads);
    for vendor in &owed.vendors {
        let ages = [
            vendor.current,
            vendor.days_1_to_30,
            vendor.days_31_to_60,
            vendor.days_61_to_90,
            vendor.over_90,
            vendor.credits,
            vendor.balance,
        ];
        table.row(std::iter::once(word(vendor.vendor.clone())).chain(ages.map(Cell::money)).collect());
    }
    lines.extend(table.lines());
    lines.push(String::new());
    lines.extend(owed.weeks.iter().map(|week| {
        let when = week.begins.map_or_else(|| "before this week".to_owned(), |day| format!("week of {day}"));
        format!("  {when:<20}{:>3} bills{:>16}", week.bills, week.amount.grouped())
    }));
    for bill in &owed.bills {
        let told = bill.differences.iter().map(|difference| &difference.text);
        lines.extend(told.map(|text| format!("  {} {}: {text}", bill.vendor, bill.number)));
    }
    lines
}

/// What subcontractors were paid in a year, one a line.
pub(crate) fn subcontractors(of: &Subcontractors) -> Vec<String> {
    let mut lines = vec![
        format!(
            "Subcontractors in {}: reported from {} on, cards left out",
            of.year,
            of.reported_from.grouped()
        ),
        String::new(),
    ];
    let heads =
        ["Subcontractor", "Number", "W-9", "Insured until", "Check", "Transfer", "Cash", "Card", "Reported"];
    let mut table = Table::new(&heads);
    for each in &of.subcontractors {
        let day = |day: Option<jiff::civil::Date>| word(day.map_or("none".to_owned(), |day| day.to_string()));
        let number = each.tin_ends.as_ref().map_or("none".to_owned(), |ends| format!("ends in {ends}"));
        let mut row =
            vec![word(each.name.clone()), word(number), day(each.w9_signed), day(each.insured_until)];
        row.extend([each.check, each.transfer, each.cash, each.card].map(Cell::money));
        row.push(if each.reported { Cell::money(each.counted) } else { word("") });
        table.row(row);
    }
    lines.extend(table.lines());
    lines.push(String::new());
    lines.push("Nothing is filed from here. --to writes the list for whoever files it.".to_owned());
    lines
}
