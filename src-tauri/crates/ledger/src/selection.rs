//! A selection of facts that can stand by themselves: those that are asked for, those that follow from them, and
//! whatever the open part of any of them names. Which kinds, whoever asks says; here it is only gathered.

use crate::column::Column;
use crate::error::{LedgerError, damaged};
use crate::id::{Digest, Id};
use crate::kind::{KindSpec, Record, TableSpec};
use crate::kinds::kind_spec;
use crate::links;
use crate::read::{self, Books};
use rusqlite::types::Value;
use std::collections::HashSet;

/// What belongs to a selection beside the facts that it begins with.
#[derive(Clone, Copy, Debug)]
pub struct Selection<'a> {
    /// Every fact of these kinds.
    pub always: &'a [&'a str],
    /// Facts of a kind that name a selected fact in a column.
    pub following: &'a [(&'a str, &'a str)],
}

impl Books<'_> {
    /// Gathers a selection.
    ///
    /// # Errors
    /// When a kind or column does not exist, or a fact cannot be read.
    pub fn gather(
        &self,
        begin: impl IntoIterator<Item = Id>,
        selection: &Selection<'_>,
    ) -> Result<HashSet<Id>, LedgerError> {
        let mut queue: Vec<Id> = begin.into_iter().collect();
        for kind in selection.always {
            queue.extend(self.ids(&format!("SELECT id FROM {}", table(kind)?.table), &[])?);
        }
        let mut following = Vec::new();
        for (kind, column) in selection.following {
            let points_at = links::points_at(table(kind)?.table, column)?;
            let sql = format!("SELECT id FROM {} WHERE {column} = ?1", table(kind)?.table);
            following.push((points_at, sql));
        }
        let mut selected = HashSet::new();
        while let Some(id) = queue.pop() {
            if selected.contains(&id) {
                continue;
            }
            let Some((entry, record)) = read::record(self.conn, id)? else { continue };
            let Some(spec) = kind_spec(&entry.kind) else { continue };
            selected.insert(id);
            for (points_at, sql) in &following {
                if *points_at == spec.own.table || *points_at == "entry" {
                    queue.extend(self.ids(sql, &[&id.bytes()])?);
                }
            }
            queue.extend(links::named_openly(spec, &record)?);
            for hash in files(spec, &record) {
                queue.extend(self.attachment(hash)?.map(|held| held.entry.id));
            }
        }
        Ok(selected)
    }

    fn ids(&self, sql: &str, with: &[&dyn rusqlite::ToSql]) -> Result<Vec<Id>, LedgerError> {
        let mut statement = self.conn.prepare_cached(sql)?;
        let mut rows = statement.query(with)?;
        let mut ids = Vec::new();
        while let Some(row) = rows.next()? {
            ids.push(Id::load(row.get_ref(0)?).map_err(damaged("id"))?);
        }
        Ok(ids)
    }
}

fn table(kind: &str) -> Result<&'static TableSpec, LedgerError> {
    kind_spec(kind).map(|spec| &spec.own).ok_or_else(|| LedgerError::Damaged {
        place: kind.to_owned(),
        problem: "the kind is not known".to_owned(),
    })
}

/// The files that the open part of a fact names.
fn files(spec: &KindSpec, record: &Record) -> Vec<Digest> {
    fn of_row(out: &mut Vec<Digest>, table: &TableSpec, values: &[Value]) {
        let columns = table.open.iter().zip(&table.files).zip(values);
        let named = columns.filter(|((open, file), _)| **open && **file).map(|(_, value)| value);
        out.extend(named.filter_map(|value| Digest::load(value.into()).ok()));
    }
    let mut out = Vec::new();
    of_row(&mut out, &spec.own, &record.own);
    for (list, lines) in spec.lists.iter().zip(&record.lists) {
        lines.iter().for_each(|line| of_row(&mut out, list, line));
    }
    out
}
