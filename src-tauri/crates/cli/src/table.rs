//! Plain tables for a terminal: words to the left, figures to the right.

use office::Money;

/// A cell: a word, or a figure.
pub(crate) enum Cell {
    Word(String),
    Figure(String),
}

impl Cell {
    pub(crate) fn money(amount: Money) -> Cell {
        Cell::Figure(amount.grouped())
    }

    fn text(&self) -> &str {
        match self {
            Cell::Word(text) | Cell::Figure(text) => text,
        }
    }
}

/// A share as a percentage with one decimal, or a dash.
pub(crate) fn percent(share: Option<office::Decimal>) -> Cell {
    Cell::Figure(share.map_or_else(|| "–".to_owned(), office::percent_to_tenth))
}

/// A table with a heading.
pub(crate) struct Table {
    heading: Vec<String>,
    rows: Vec<Vec<Cell>>,
}

impl Table {
    pub(crate) fn new(heading: &[&str]) -> Table {
        Table { heading: heading.iter().map(ToString::to_string).collect(), rows: Vec::new() }
    }

    pub(crate) fn row(&mut self, cells: Vec<Cell>) {
        self.rows.push(cells);
    }

    /// The table as lines of text.
    pub(crate) fn lines(&self) -> Vec<String> {
        let width = |column: usize| {
            let cells =
                self.rows.iter().filter_map(|row| row.get(column)).map(|cell| cell.text().chars().count());
            cells.chain(self.heading.get(column).map(|head| head.chars().count())).max().unwrap_or(0)
        };
        let widths: Vec<usize> = (0..self.heading.len()).map(width).collect();
        let is_figure = |column: usize| {
            self.rows.iter().filter_map(|row| row.get(column)).any(|cell| matches!(cell, Cell::Figure(_)))
        };
        let figures: Vec<bool> = (0..self.heading.len()).map(is_figure).collect();
        let place = |text: &str, column: usize| {
            let fill = " ".repeat(widths[column].saturating_sub(text.chars().count()));
            if figures[column] { format!("{fill}{text}") } else { format!("{text}{fill}") }
        };
        let join = |cells: Vec<String>| cells.join("  ").trim_end().to_owned();
        let mut lines =
            vec![join(self.heading.iter().enumerate().map(|(column, head)| place(head, column)).collect())];
        lines.push("─".repeat(widths.iter().sum::<usize>() + 2 * widths.len().saturating_sub(1)));
        for row in &self.rows {
            lines.push(join(
                row.iter().enumerate().map(|(column, cell)| place(cell.text(), column)).collect(),
            ));
        }
        lines
    }
}
