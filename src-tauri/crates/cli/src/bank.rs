//! The bank as text for a terminal: what is to be settled, then how both balances come to the same.

use crate::table::{Cell, Table};
use office::billing::bank::{BankItem, BankLineShown, LineState, ReconciledBalances};
use office::{Bank, Money};

fn word(text: impl Into<String>) -> Cell {
    Cell::Word(text.into())
}

/// The bank by a statement.
pub(crate) fn shown(bank: &Bank) -> Vec<String> {
    let Some(head) = &bank.shown else { return vec!["No statement of the bank is here yet.".to_owned()] };
    let account = head.account.as_ref().map(|account| format!(", account {account}")).unwrap_or_default();
    let mut lines = vec![
        format!("Bank statement, {} to {}{account}", head.begins, head.ends),
        format!("{} lines, {} to be settled, {} of them fit a payment", head.lines, head.open, bank.fitting),
    ];
    if head.gap_before {
        lines.push(
            "It does not begin with what the statement before it ended with: one is missing.".to_owned(),
        );
    }
    for (title, state) in [
        ("Another amount in the books", LineState::OtherAmount),
        ("Not in the books", LineState::NotInBooks),
        ("Fits", LineState::Fits),
        ("Matched", LineState::Matched),
    ] {
        let of_state: Vec<&BankLineShown> = bank.lines.iter().filter(|line| line.state == state).collect();
        if !of_state.is_empty() {
            lines.push(String::new());
            lines.push(title.to_owned());
            lines.extend(of_lines(&of_state).lines());
        }
    }
    if !bank.not_cleared.is_empty() {
        lines.push(String::new());
        lines.push("In the books and not at the bank yet".to_owned());
        lines.extend(of_items(&bank.not_cleared).lines());
    }
    if let Some(balances) = &bank.balances {
        lines.push(String::new());
        lines.extend(of_balances(balances).lines());
    }
    lines
}

fn of_lines(lines: &[&BankLineShown]) -> Table {
    let mut table = Table::new(&["Line", "Day", "Words of the bank", "Check", "Amount", "Is"]);
    for line in lines {
        let items: Vec<String> = line
            .items
            .iter()
            .map(|item| format!("{} {} {}", item.source.entry, item.text, item.date))
            .collect();
        let mut is = line.other.map_or_else(|| items.join("; "), |other| other.label().to_owned());
        if let Some(note) = &line.note {
            is = format!("{is} ({note})");
        }
        table.row(vec![
            Cell::Figure(line.place.to_string()),
            word(line.date.to_string()),
            word(line.words.clone()),
            word(line.number.clone().unwrap_or_default()),
            Cell::money(line.amount),
            word(is),
        ]);
    }
    table
}

fn of_items(items: &[BankItem]) -> Table {
    let mut table = Table::new(&["Number", "Day", "What", "Check", "Amount"]);
    for item in items {
        table.row(vec![
            word(item.source.entry.clone()),
            word(item.date.to_string()),
            word(item.text.clone()),
            word(item.number.clone().unwrap_or_default()),
            Cell::money(item.amount),
        ]);
    }
    table
}

fn of_balances(balances: &ReconciledBalances) -> Table {
    let mut table = Table::new(&["Both balances", "Amount"]);
    let mut row = |name: &str, amount: Money| table.row(vec![word(name), Cell::money(amount)]);
    row("The statement ends with", balances.by_bank);
    row("On its way to the bank", balances.in_transit);
    row("Not presented yet", -balances.outstanding);
    row("Booked by the bank by mistake", -balances.bank_errors);
    row("By the bank", balances.bank_adjusted);
    row("There before the first statement", balances.books_began);
    row("Moved by the books since", balances.books_moved);
    row("Told only by the statement", balances.not_in_books);
    row("By the books", balances.books_adjusted);
    row("Difference", balances.unexplained);
    table
}
