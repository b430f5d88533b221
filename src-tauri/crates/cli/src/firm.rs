//! The whole firm as text for a terminal: what it made, what it costs beside its jobs, and what it owes its vendors.

use crate::table::{Cell, Table};
use office::month::budget::{BesideBudget, BreakEven, BudgetedLine};
use office::month::result::{Made, MonthMade};
use office::{
    CashAhead, Decimal, FirmBudget, FirmYear, MeasuredIn, Money, Overhead, Payables, Rate, Statement,
    Subcontractors, VendorStatement, day,
};

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
        "Under-absorbed",
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

/// Cash ahead: how low it gets, the weeks, then what is expected in each.
pub(crate) fn cash(ahead: &CashAhead) -> Vec<String> {
    let mut lines =
        vec![format!("{} · cash ahead from the end of {}", ahead.name, day(ahead.on)), String::new()];
    if let Some(low) = &ahead.lowest {
        let ends = ahead.weeks.iter().find(|week| week.week == low.week).map(|week| day(week.ends));
        let short = (!low.short.is_zero()).then(|| format!(", {} short", low.short.grouped()));
        lines.push(format!(
            "Lowest: {} in week {}, which ends {}{}.",
            low.closing.grouped(),
            low.week,
            ends.unwrap_or_default(),
            short.unwrap_or_default()
        ));
    }
    if let Some(plain) = &ahead.lowest_as_is {
        lines.push(format!("As it is planned: {} in week {}.", plain.closing.grouped(), plain.week));
    }
    let through =
        ahead.statement.map(|ends| format!("; the statement ends {}", day(ends))).unwrap_or_default();
    lines.push(format!("It begins with {}. {}{through}.", ahead.opening.grouped(), ahead.from.label()));
    lines.push(String::new());
    let mut table = Table::new(&["Week", "Ends", "Before", "In", "Out", "After"]);
    for week in &ahead.weeks {
        let figures = [week.opening, week.cash_in, week.cash_out, week.closing].map(Cell::money);
        let words = [word(week.week.to_string()), word(day(week.ends))];
        table.row(words.into_iter().chain(figures).collect());
    }
    lines.extend(table.lines());
    lines.push(String::new());
    let mut table = Table::new(&["Week", "Day", "What for", "Who", "What", "Amount"]);
    for one in &ahead.expected {
        let week = one.week.map_or_else(|| "later".to_owned(), |week| week.to_string());
        let job = one.job.as_ref().map(|job| format!("job {job}"));
        let who = job.into_iter().chain(Some(one.who.clone()).filter(|who| !who.is_empty()));
        let mut cells: Vec<Cell> = vec![
            word(week),
            word(day(one.date)),
            word(one.cause.label()),
            word(who.collect::<Vec<_>>().join(", ")),
            word(one.text.clone()),
        ];
        cells.push(Cell::money(one.amount));
        table.row(cells);
    }
    lines.extend(table.lines());
    let undated = ahead.undated.iter().map(|one| {
        format!("Not planned, and in no week: {} of job {}, {}.", one.amount.grouped(), one.job, one.customer)
    });
    lines.extend(undated.chain(ahead.cautions.iter().cloned()));
    lines
}

/// The budget of a year beside what became of it, line by line, then month by month.
pub(crate) fn budget(budget: &FirmBudget) -> Vec<String> {
    let mut lines =
        vec![format!("{} · budget and actual through {}", budget.name, budget.month), String::new()];
    if budget.break_even.is_none() {
        lines.push(format!("No month of {} has a budget.", budget.month.year()));
        return lines;
    }
    let heads = ["", "This month", "Budget", "Difference", "So far", "Budget", "Difference", "Year's budget"];
    let mut table = Table::new(&heads);
    for row in &budget.rows {
        let cell = |value: Option<Decimal>| match (value, row.line) {
            (None, _) => word(""),
            (Some(days), BudgetedLine::CrewDays) => word(office::explain::shown(MeasuredIn::Count, days)),
            (Some(amount), _) => word(office::explain::shown(MeasuredIn::Money, amount)),
        };
        let beside = |of: &Option<BesideBudget>| {
            let of = of.as_ref();
            [of.map(|of| of.actual), of.map(|of| of.budget), of.map(|of| of.difference)].map(cell)
        };
        let cells = beside(&row.month).into_iter().chain(beside(&row.so_far));
        table.row(
            std::iter::once(word(row.line.label()))
                .chain(cells)
                .chain(std::iter::once(cell(row.year)))
                .collect(),
        );
    }
    lines.extend(table.lines());
    let without: Vec<String> = budget
        .months
        .iter()
        .filter(|each| each.budget.is_none())
        .map(|each| each.month.to_string())
        .collect();
    lines.push(String::new());
    if !without.is_empty() {
        lines.push(format!("Without a budget, and left out: {}.", without.join(", ")));
    }
    if let Some(point) = &budget.break_even {
        lines.extend(break_even(point));
    }
    lines
}

fn break_even(point: &BreakEven) -> Vec<String> {
    let sold =
        format!("earned {}, signed and to be earned {}", point.earned.grouped(), point.backlog.grouped());
    let mut lines = Vec::new();
    match (point.sales, point.crew_days, point.still_to_break_even) {
        (Some(sales), Some(days), Some(still)) => {
            let days = office::explain::shown(MeasuredIn::CrewDays, days);
            lines.push(format!("The year breaks even at sales of {} or {days}.", sales.grouped()));
            lines.push(format!("Still to be sold to break even: {} ({sold}).", still.grouped()));
        }
        _ => lines.push("By the budget nothing is left towards overhead: no sales break even.".to_owned()),
    }
    lines.push(format!("Still to be sold for the year's budget: {}.", point.still_to_sell.grouped()));
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
        let amounts = vendor.ages.rows().map(|(_, amount)| amount).chain([vendor.credits, vendor.balance]);
        table.row(std::iter::once(word(vendor.vendor.clone())).chain(amounts.map(Cell::money)).collect());
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

/// A vendor's statement beside the books: both balances, then each bill of which the two differ.
pub(crate) fn vendor_statement(of: &VendorStatement) -> Vec<String> {
    let mut lines = vec![format!(
        "{}: {} by the statement, {} by the books; they differ by {}",
        of.vendor,
        of.theirs.grouped(),
        of.ours.grouped(),
        of.difference.grouped()
    )];
    lines.extend(of.differences.iter().map(|each| format!("{:>14}  {}", each.amount.grouped(), each.text)));
    lines
}

/// A customer's statement: what is open, what moved the balance, and a reminder.
pub(crate) fn statement(of: &Statement) -> Vec<String> {
    let mut lines = vec![
        format!("{} · statement as of {}", of.customer, of.on),
        format!(
            "Open {}, of it {} past due; held {}; credit {}; balance {}",
            of.open.grouped(),
            of.past_due.grouped(),
            of.retainage.grouped(),
            of.credits.grouped(),
            of.balance.grouped()
        ),
        String::new(),
    ];
    let mut open = Table::new(&["Invoice", "Job", "Date", "Due", "Sum", "Paid", "Held", "Open"]);
    for invoice in &of.invoices {
        let due = invoice.due.map_or("held".to_owned(), |due| due.to_string());
        let words = [invoice.number.clone(), invoice.job.clone(), invoice.date.to_string(), due];
        let amounts = [invoice.total, invoice.paid, invoice.retainage, invoice.open];
        open.row(words.map(word).into_iter().chain(amounts.map(Cell::money)).collect());
    }
    lines.extend(open.lines());
    lines.push(String::new());
    let mut moved = Table::new(&["Day", "What", "Amount", "Balance"]);
    for line in &of.lines {
        let words = [line.date.to_string(), line.what.clone()].map(word);
        moved.row(words.into_iter().chain([line.amount, line.balance].map(Cell::money)).collect());
    }
    lines.extend(moved.lines());
    if let Some(reminder) = &of.reminder {
        lines.push(String::new());
        lines.push("A reminder, to be copied; nothing is sent from here:".to_owned());
        lines.push(String::new());
        lines.extend(reminder.lines().map(str::to_owned));
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
