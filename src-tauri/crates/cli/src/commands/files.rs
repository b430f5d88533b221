//! Commands about whole files: the sample firm, hand-off, verify, back-up and restore.

use super::{answer, at_month};
use crate::progress;
use office::{Clock, Desk, Month, OfficeError};
use serde_json::json;
use std::path::Path;

pub(super) fn sample(file: &Path, json: bool) -> Result<Vec<String>, OfficeError> {
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
    answer(json, &value, |_| vec![format!("The made-up firm is in {}.", file.display())])
}
