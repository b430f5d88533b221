//! Importing a CSV, or a statement of the bank: preview first, and record only when nothing is left to ask.

use super::asker::Asker;
use super::failure::Failure;
use crate::progress;
use crate::table::{Cell, Table, percent};
use clap::Args;
use intake::{Choices, Kind, Parsed, Preview};
use office::Code;
use office::{Act, Desk, OfficeError};
use serde::de::DeserializeOwned;
use std::path::{Path, PathBuf};

const HELP: &str = "\
Nothing is recorded unless every line can be: with a problem or an open question the import is refused (exit code 3), \
and the file can be corrected and imported again. Lines that are already there are passed over.

With --json: `Preview` with --preview, `Applied` when it is imported. A refusal is

  {\"error\": {\"code\": \"refused\", \"field\": null, \"message\", \"remedy\", \"problem_count\",
    \"problems\": [{\"lines\": [3, 7], \"column\", \"message\", \"remedy\", \"near\": []}],
    \"questions\": [{\"about\", \"field\", \"column\", \"message\", \"lines\",
      \"answers\": [{\"word\", \"meaning\"}]}]}}

`lines` counts the header as 1 and is empty for what concerns the whole file; `problems` holds the first 200 of \
`problem_count`; a question about \
`date_order` is answered with --date-order, and so on, one about the `mapping` with --column.";

/// What to import and how to read what the file does not say.
#[derive(Debug, Args)]
#[command(after_help = HELP)]
pub(crate) struct Import {
    /// The ledger file.
    file: PathBuf,
    /// What the file holds: customers, jobs, bills, hours, payments, prices, or bank, a statement as CSV or OFX.
    kind: String,
    /// The CSV or, for bank, the OFX.
    csv: PathBuf,
    #[command(flatten)]
    how: How,
    /// Lines of one bill that are the same in every column: keep or skip.
    #[arg(long, value_name = "WORD")]
    repeated_lines: Option<String>,
    /// Hours beside other hours of the same person, day, job and code: add or leave-out.
    #[arg(long, value_name = "WORD")]
    other_hours: Option<String>,
    /// Make vendors that the ledger does not know.
    #[arg(long)]
    make_missing: bool,
}

/// How a file is read.
#[derive(Clone, Debug, Args)]
pub(crate) struct How {
    /// Show what would be recorded, and record nothing.
    #[arg(long)]
    preview: bool,
    /// Which number comes first in dates such as 3/4/2026: month-first or day-first.
    #[arg(long, value_name = "ORDER")]
    date_order: Option<String>,
    /// Which mark stands before the decimals: point or comma.
    #[arg(long, value_name = "STYLE")]
    number_style: Option<String>,
    /// What stands between the columns: comma, semicolon or tab.
    #[arg(long, value_name = "WORD")]
    separator: Option<String>,
    /// Which column holds a field, as FIELD=HEADER; may be given more than once.
    #[arg(long, value_name = "FIELD=HEADER")]
    column: Vec<String>,
    /// What stood at the bank after the last line, where its file does not say.
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    closing_balance: Option<String>,
}

/// Takes in a statement of the bank.
pub(super) fn statement(
    file: &Path,
    statement: &Path,
    how: &How,
    asker: Asker<'_>,
) -> Result<Vec<String>, Failure> {
    let asked = Import {
        file: file.to_owned(),
        kind: Kind::Bank.as_str().to_owned(),
        csv: statement.to_owned(),
        how: how.clone(),
        repeated_lines: None,
        other_hours: None,
        make_missing: false,
    };
    run(&asked, asker)
}

/// Reads one of a list of words by the list's own names.
fn word<T: DeserializeOwned>(option: &str, text: Option<&String>) -> Result<Option<T>, OfficeError> {
    let Some(text) = text else { return Ok(None) };
    serde_json::from_value(serde_json::Value::String(text.clone()))
        .map(Some)
        .map_err(|error| OfficeError::refused(option, &error.to_string(), "Use one of the words named"))
}

fn choices(asked: &Import) -> Result<Choices, OfficeError> {
    let how = &asked.how;
    let mut choices = Choices {
        separator: word("separator", how.separator.as_ref())?,
        date_order: word("date-order", how.date_order.as_ref())?,
        number_style: word("number-style", how.number_style.as_ref())?,
        repeated_lines: word("repeated-lines", asked.repeated_lines.as_ref())?,
        other_hours: word("other-hours", asked.other_hours.as_ref())?,
        closing_balance: word("closing-balance", how.closing_balance.as_ref())?,
        make_missing: asked.make_missing,
        ..Choices::default()
    };
    if !how.column.is_empty() {
        let mut fields = serde_json::Map::new();
        for pair in &how.column {
            let Some((field, header)) = pair.split_once('=') else {
                return Err(OfficeError::refused(
                    "column",
                    &format!("“{pair}” has no ="),
                    "Write FIELD=HEADER",
                ));
            };
            fields.insert(field.to_owned(), serde_json::Value::String(header.to_owned()));
        }
        choices.mapping = serde_json::from_value(serde_json::Value::Object(fields))
            .map(Some)
            .map_err(|error| OfficeError::refused("column", &error.to_string(), "Check the field's word"))?;
    }
    Ok(choices)
}

pub(super) fn run(asked: &Import, asker: Asker<'_>) -> Result<Vec<String>, Failure> {
    let kind: Kind = word("kind", Some(&asked.kind))?
        .ok_or_else(|| OfficeError::refused("kind", "it is missing", "Say what the file holds"))?;
    let bytes = std::fs::read(&asked.csv)
        .map_err(|error| OfficeError::io(format!("{} could not be read", asked.csv.display()), &error))?;
    let choices = choices(asked)?;
    if asked.how.preview {
        let desk = asker.reading(&asked.file, Act::Import)?;
        let parsed = read(&desk, kind, &bytes, &choices)?;
        return Ok(asker.answer(&intake::preview(&desk, &parsed)?, show)?);
    }
    let mut desk = asker.writing(&asked.file, Act::Import)?;
    let parsed = read(&desk, kind, &bytes, &choices)?;
    let found = intake::preview(&desk, &parsed)?;
    if !found.ready {
        return Err(not_ready(asked, found, asker));
    }
    let bar = progress::bar("Importing", 0);
    let applied = intake::apply(&mut desk, &parsed, &mut |progress: intake::Progress| {
        bar.set_length(progress.total);
        bar.set_position(progress.done);
        true
    })?;
    bar.finish_and_clear();
    let lines = asker.answer(&applied, |applied| {
        let mut lines = vec![format!(
            "{} facts recorded from {} lines; {} were already there.",
            applied.facts, applied.rows, applied.duplicates
        )];
        lines.extend(applied.makes.iter().map(|made| format!("made: {made}")));
        lines
    });
    Ok(lines?)
}

/// The refusal of a file with problems or open questions, which name their lines.
fn not_ready(asked: &Import, found: Preview, asker: Asker<'_>) -> Failure {
    let shown = if asker.json { String::new() } else { format!("\n{}\n", show(&found).join("\n")) };
    let error = OfficeError {
        code: Code::Refused,
        field: None,
        message: format!(
            "{} was not imported: {} problem(s), {} question(s).{shown}",
            asked.csv.display(),
            found.problem_count,
            found.questions.len()
        ),
        remedy: "Correct the file or answer with the options named, and import it again.".to_owned(),
    };
    Failure::unsettled(error, found)
}

/// Reads the file with what was chosen now, and else with what was chosen the last time for a file with this header.
fn read(desk: &Desk, kind: Kind, bytes: &[u8], asked: &Choices) -> Result<Parsed, OfficeError> {
    let Some(last) = intake::recall(desk, kind, bytes)? else { return Ok(intake::read(kind, bytes, asked)) };
    let choices = Choices {
        separator: asked.separator.or(last.separator),
        mapping: asked.mapping.clone().or(last.mapping),
        date_order: asked.date_order.or(last.date_order),
        number_style: asked.number_style.or(last.number_style),
        repeated_lines: asked.repeated_lines.or(last.repeated_lines),
        other_hours: asked.other_hours.or(last.other_hours),
        closing_balance: asked.closing_balance,
        make_missing: asked.make_missing,
        remembered: last.remembered,
    };
    Ok(intake::read(kind, bytes, &choices))
}

fn show(found: &Preview) -> Vec<String> {
    let mut lines = vec![format!(
        "{} lines: {} new, {} already there, {} refused; {} facts",
        found.records, found.new, found.duplicate, found.refused, found.facts
    )];
    for note in &found.notes {
        lines.push(format!("  note: {}", note.message));
    }
    for question in &found.questions {
        lines.push(format!("  question: {}", question.message));
        for answer in &question.answers {
            lines.push(format!("    {}: {}", answer.word, answer.meaning));
        }
    }
    for problem in &found.problems {
        let at: Vec<String> = problem.lines.iter().map(ToString::to_string).collect();
        let column = problem.column.as_ref().map(|column| format!(", {column}")).unwrap_or_default();
        lines.push(format!("  line {}{column}: {} {}", at.join(", "), problem.message, problem.remedy));
    }
    if !found.price_changes.is_empty() {
        lines.extend(price_changes(found).lines());
    }
    let mut heading = vec!["Line"];
    heading.extend(found.columns.iter().map(|column| column.field));
    let mut table = Table::new(&heading);
    for row in &found.rows {
        let mut cells = vec![Cell::Figure(row.line.to_string())];
        cells.extend(row.values.iter().map(|value| Cell::Word(value.clone())));
        table.row(cells);
    }
    lines.extend(table.lines());
    lines
}

/// What a price list changes: old price, new price, and by how much.
fn price_changes(found: &Preview) -> Table {
    let mut table = Table::new(&["Line", "Part", "Vendor", "Old price", "New price", "Change", "From"]);
    for one in &found.price_changes {
        table.row(vec![
            Cell::Figure(one.line.to_string()),
            Cell::Word(one.part.clone()),
            Cell::Word(one.vendor.clone()),
            Cell::Figure(one.old.map_or_else(|| "–".to_owned(), |old| old.to_string())),
            Cell::Figure(one.new.to_string()),
            percent(one.change.map(office::Rate::decimal)),
            Cell::Word(one.since.to_string()),
        ]);
    }
    table
}
