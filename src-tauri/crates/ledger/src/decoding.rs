//! The canonical encoding read back: the parts of a fact, as they came from another device, into stored values. Only
//! what this program would itself write is taken; anything else is said to be no part of a fact.

use crate::encoding::Content;
use crate::kind::{KindSpec, Record, TableSpec};
use rusqlite::types::Value;

/// Reads a fact from its open part and, where it is not withheld, its sealed one. Nothing when the kind has no open
/// column in its own table and the sealed part is withheld: there is then no row at all.
///
/// # Errors
/// What is wrong with the bytes.
pub(crate) fn record(spec: &KindSpec, open: &[u8], sealed: Option<&[u8]>) -> Result<Option<Record>, String> {
    let mut record =
        Record { own: vec![Value::Null; spec.own.columns.len()], lists: vec![Vec::new(); spec.lists.len()] };
    read_part(spec, true, open, &mut record)?;
    if let Some(sealed) = sealed {
        read_part(spec, false, sealed, &mut record)?;
    }
    let again = Content::of(spec, &record);
    if again.open != open || sealed.is_some_and(|sealed| again.sealed != sealed) {
        return Err("it is not written as this program writes it".to_owned());
    }
    let has_row = sealed.is_some() || spec.own.has_open();
    Ok(has_row.then_some(record))
}

fn read_part(spec: &KindSpec, is_open: bool, bytes: &[u8], record: &mut Record) -> Result<(), String> {
    let mut reader = Bytes { left: bytes };
    reader.fields(&spec.own, is_open, &mut record.own)?;
    while reader.lead()? {
        let table = reader.text()?;
        let count = usize::try_from(reader.int()?).map_err(|_| "a list has fewer than no lines")?;
        let place = spec.lists.iter().position(|list| list.table == table);
        let place = place.ok_or_else(|| format!("this program knows no list {table}"))?;
        // Each line takes a byte at least, so that no number of lines asks for more room than the bytes themselves.
        if count > reader.left.len() {
            return Err("a list is cut short".to_owned());
        }
        let (list, lines) = (&spec.lists[place], &mut record.lists[place]);
        lines.resize(count.max(lines.len()), vec![Value::Null; list.columns.len()]);
        for line in lines.iter_mut().take(count) {
            reader.fields(list, is_open, line)?;
        }
    }
    if reader.left.is_empty() { Ok(()) } else { Err("something follows its end".to_owned()) }
}

struct Bytes<'a> {
    left: &'a [u8],
}

impl<'a> Bytes<'a> {
    fn take(&mut self, count: usize) -> Result<&'a [u8], String> {
        let (taken, left) = self.left.split_at_checked(count).ok_or("it is cut short")?;
        self.left = left;
        Ok(taken)
    }

    fn byte(&mut self) -> Result<u8, String> {
        Ok(self.take(1)?[0])
    }

    /// Whether another field or list follows.
    fn lead(&mut self) -> Result<bool, String> {
        match self.byte()? {
            0 => Ok(false),
            1 => Ok(true),
            other => Err(format!("a {other} stands where a field begins")),
        }
    }

    fn int(&mut self) -> Result<i64, String> {
        let bytes = self.take(8)?.try_into().map_err(|_| "it is cut short")?;
        Ok(i64::from_be_bytes(bytes))
    }

    fn blob(&mut self) -> Result<&'a [u8], String> {
        let length: [u8; 4] = self.take(4)?.try_into().map_err(|_| "it is cut short")?;
        let length = usize::try_from(u32::from_be_bytes(length)).map_err(|_| "it is too long")?;
        self.take(length)
    }

    fn text(&mut self) -> Result<String, String> {
        let text = std::str::from_utf8(self.blob()?).map_err(|_| "a text is not UTF-8")?;
        Ok(text.to_owned())
    }

    fn fields(&mut self, table: &TableSpec, is_open: bool, values: &mut [Value]) -> Result<(), String> {
        while self.lead()? {
            let column = self.text()?;
            let place = table.columns.iter().position(|name| *name == column);
            let place = place.filter(|place| table.open[*place] == is_open).ok_or_else(|| {
                format!("this program knows no column {}.{column} there; a later one wrote it", table.table)
            })?;
            values[place] = match self.byte()? {
                1 => Value::Integer(self.int()?),
                2 => Value::Text(self.text()?),
                3 => Value::Blob(self.blob()?.to_vec()),
                other => return Err(format!("{}.{column} holds a value of kind {other}", table.table)),
            };
        }
        Ok(())
    }
}
