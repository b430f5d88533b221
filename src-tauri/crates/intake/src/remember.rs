//! Remembering how a file was read, by its kind and header, so that next month's file is not asked about again.

use crate::amounts::NumberStyle;
use crate::choices::Choices;
use crate::columns::{Kind, Mapping};
use crate::dates::DateOrder;
use crate::reading::Parsed;
use crate::table;
use desk::Code;
use desk::Desk;
use desk::OfficeError;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};

/// What is kept of an import that was applied.
#[derive(Debug, Serialize, Deserialize)]
struct Remembered {
    columns: Mapping,
    date_order: Option<DateOrder>,
    number_style: Option<NumberStyle>,
}

/// The choices that were in force when a file with this header was last imported; nothing when there was none, or when
/// the file cannot be read so far. They are said in the preview and can be changed before reading.
///
/// # Errors
/// When the ledger cannot be read.
pub fn recall(desk: &Desk, kind: Kind, bytes: &[u8]) -> Result<Option<Choices>, OfficeError> {
    let Ok(table) = table::read(bytes, None) else { return Ok(None) };
    let key = crate::columns::header_key(&table);
    if key.is_empty() {
        return Ok(None);
    }
    let Some(kept) = desk.books().import_mapping(kind.as_str(), &key)? else { return Ok(None) };
    // A mapping that a later version wrote in another shape is asked for anew.
    let Ok(kept) = serde_json::from_value::<Remembered>(kept.mapping) else { return Ok(None) };
    // Headers that differ from the remembered ones in capitals or blanks are given as this file has them.
    let columns = kept.columns.columns.into_iter().filter_map(|(field, header)| {
        let wanted = crate::columns::plain(&header);
        let found = table.header.iter().find(|cell| crate::columns::plain(cell) == wanted)?;
        Some((field, found.trim().to_owned()))
    });
    Ok(Some(Choices {
        mapping: Some(Mapping { columns: columns.collect() }),
        date_order: kept.date_order,
        number_style: kept.number_style,
        remembered: true,
        ..Choices::default()
    }))
}

/// Keeps what was in force for a file that was just imported.
pub(crate) fn remember(desk: &mut Desk, parsed: &Parsed, at: Timestamp) -> Result<(), OfficeError> {
    if parsed.header_key.is_empty() {
        return Ok(());
    }
    let kept = Remembered {
        columns: parsed.mapping.clone(),
        // Only what a person chose is kept: what a file showed by itself, the next one has to show again.
        date_order: parsed.choices.date_order,
        number_style: parsed.choices.number_style,
    };
    let json = serde_json::to_value(&kept).map_err(|error| OfficeError {
        code: Code::Io,
        field: None,
        message: format!("How the columns were matched could not be kept: {error}."),
        remedy: "The import itself is recorded.".to_owned(),
    })?;
    Ok(desk.ledger()?.set_import_mapping(parsed.kind.as_str(), &parsed.header_key, &json, at)?)
}
