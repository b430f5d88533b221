//! Commands about whole files: the sample firm, hand-off, verify, back-up and restore.

use super::asker::{Asker, at_month};
use crate::progress::{self, Shown};
use office::Code;
use office::hand_off::{self, ControlTotal, FileLook};
use office::keep::{self, Checked};
use office::{Act, EntryMark, Month, OfficeError};
use serde_json::json;
use std::path::Path;

/// The text of a file that somebody names.
pub(super) fn read_text(path: &Path) -> Result<String, OfficeError> {
    std::fs::read_to_string(path)
        .map_err(|error| OfficeError::io(format!("{} could not be read", path.display()), &error))
}

pub(super) fn sample(file: &Path, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let bar = progress::bar("Writing the made-up firm", 0);
    let desk = office::sample::write(file, &mut |done, total| {
        bar.set_length(u64::try_from(total).unwrap_or(u64::MAX));
        bar.set_position(u64::try_from(done).unwrap_or(u64::MAX));
        true
    })?;
    bar.finish_and_clear();
    let months = office::booked_months(&desk)?;
    let value =
        json!({ "file": file, "first_month": months.map(|m| m.0), "last_month": months.map(|m| m.1) });
    asker.answer(&value, |_| vec![format!("The made-up firm is in {}.", file.display())])
}

fn checked(checked: &Checked, what: &str) -> Vec<String> {
    let mut lines = vec![format!(
        "{what}: {} entries and {} attachments, {}.",
        checked.entries,
        checked.attachments,
        if checked.good { "all as they were written" } else { "not all as they were written" }
    )];
    if checked.withheld > 0 {
        lines.push(format!(
            "  {} entries are here without cost, price or pay: this file is a copy for the site.",
            checked.withheld
        ));
    }
    if checked.elsewhere > 0 {
        lines.push(format!("  {} photos or papers lie on another device.", checked.elsewhere));
    }
    for wrong in &checked.problems {
        let entry = wrong.entry.as_ref().map(|entry| format!("entry {entry}, ")).unwrap_or_default();
        lines.push(format!("  {entry}{}: {}", wrong.place, wrong.problem));
    }
    if checked.more > 0 {
        lines.push(format!("  and {} more", checked.more));
    }
    lines
}

pub(super) fn verify(file: &Path, holds: &[String], asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    asker.may(file, Act::Verify)?;
    let holds: Vec<EntryMark> = holds.iter().map(|mark| mark.parse()).collect::<Result<_, _>>()?;
    let mut shown = Shown::begin();
    let found = keep::verify(file, &holds, &mut |progress| shown.tell(progress))?;
    shown.end();
    let lines = asker.answer(&found, |found| checked(found, "Verified"))?;
    good(&found, lines, "Restore the last good back-up to another name, and keep this file.")
}

/// The lines of a file in which all is as it was written; else the failure that they are.
fn good(checked: &Checked, lines: Vec<String>, remedy: &str) -> Result<Vec<String>, OfficeError> {
    if checked.good {
        return Ok(lines);
    }
    Err(OfficeError {
        code: Code::Damaged,
        field: None,
        message: lines.join("\n"),
        remedy: remedy.to_owned(),
    })
}

pub(super) fn back_up(file: &Path, to: &Path, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    asker.may(file, Act::BackUp)?;
    let mut shown = Shown::begin();
    let made = keep::back_up(file, to, &mut |progress| shown.tell(progress))?;
    shown.end();
    let lines = asker.answer(&made, |made| checked(made, &format!("Backed up to {}", to.display())))?;
    good(&made, lines, "The copy is kept, since it may be the best there is; restore an earlier back-up.")
}

pub(super) fn restore(from: &Path, to: &Path, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let mut shown = Shown::begin();
    let made = keep::restore(from, to, &mut |progress| shown.tell(progress))?;
    shown.end();
    asker.answer(&made, |made| checked(made, &format!("Restored to {}", to.display())))
}

fn totals(totals: &[ControlTotal]) -> Vec<String> {
    let line = |total: &ControlTotal| {
        let state = if total.ties { "ties to" } else { "DOES NOT TIE to" };
        format!("  {:<40}{:>16}  {state} {}", total.title, total.month.to_string(), total.ties_to)
    };
    totals.iter().map(line).collect()
}

fn looks(files: &[FileLook]) -> Vec<String> {
    files.iter().map(|look| format!("  {:<28}{:>7} rows  {}", look.file, look.rows, look.title)).collect()
}

pub(super) fn hand_off(
    file: &Path,
    month: Option<Month>,
    to: &Path,
    preview: bool,
    asker: Asker<'_>,
) -> Result<Vec<String>, OfficeError> {
    if preview {
        let desk = asker.reading(file, Act::HandOff)?;
        let month = at_month(&desk, month)?;
        return asker.answer(&hand_off::preview(&desk, month)?, |found| {
            let news = if found.new { "new" } else { "nothing new: the last part once more" };
            let mut lines = vec![format!("{} part {} ({news}): {}", found.month, found.part, found.folder)];
            lines.extend(looks(&found.files));
            lines.extend(totals(&found.control_totals));
            lines.extend(found.warnings.iter().map(|warning| format!("note: {warning}")));
            lines
        });
    }
    let mut desk = asker.writing(file, Act::HandOff)?;
    let month = at_month(&desk, month)?;
    let bar = progress::bar("Writing the hand-off", 0);
    let done = hand_off::hand_off(&mut desk, month, to, &mut |progress| {
        bar.set_length(progress.total);
        bar.set_position(progress.done);
        true
    })?;
    bar.finish_and_clear();
    asker.answer(&done, |done| {
        let state = if done.already_there { "was already there, byte for byte" } else { "is written" };
        let mut lines = vec![format!("{} part {} {state}: {}", done.month, done.part, done.folder.display())];
        lines.extend(looks(&done.files));
        lines.extend(totals(&done.control_totals));
        lines.extend(done.warnings.iter().map(|warning| format!("note: {warning}")));
        lines
    })
}

/// Writes the list of a year's payments to subcontractors that are reported.
pub(super) fn nonemployee_list(
    file: &Path,
    year: Option<i16>,
    to: &Path,
    asker: Asker<'_>,
) -> Result<Vec<String>, OfficeError> {
    let desk = asker.reading(file, Act::SeeOverhead)?;
    let list = office::nonemployee_list(&desk, year)?;
    let place = if to.is_dir() { to.join(&list.name) } else { to.to_owned() };
    list.save(file, &place, false)?;
    asker.answer(&json!({ "file": place, "bytes": list.bytes.len() }), |_| {
        vec![format!("{} is written. It is filed by whoever files it, never from here.", place.display())]
    })
}
