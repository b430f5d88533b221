//! The same sums by another way: SQL of the tests' own over the facts, with nothing of the program's in between.

use office::Money;
use rusqlite::{Connection, OpenFlags};
use std::path::Path;

/// The ledger's file, opened for reading by SQLite itself.
pub(crate) struct Raw(Connection);

impl Raw {
    pub(crate) fn open(path: &Path) -> Raw {
        Raw(Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY).unwrap())
    }

    fn cents(&self, sql: &str) -> Money {
        Money::from_minor(self.0.query_row(sql, [], |row| row.get(0)).unwrap())
    }

    /// The sum of a column over the facts of a table that were not reversed.
    pub(crate) fn standing(&self, table: &str, column: &str) -> Money {
        self.cents(&format!(
            "SELECT coalesce(sum(t.{column}), 0) FROM {table} t
             WHERE NOT EXISTS (SELECT 1 FROM reversal r WHERE r.reverses = t.id)"
        ))
    }

    /// The same over the lines of such facts.
    pub(crate) fn standing_lines(&self, table: &str, sum: &str, condition: &str) -> Money {
        self.cents(&format!(
            "SELECT coalesce(sum({sum}), 0) FROM {table} t
             WHERE NOT EXISTS (SELECT 1 FROM reversal r WHERE r.reverses = t.fact) AND {condition}"
        ))
    }

    /// Costs of the firm without a bill that come from there and were not reversed.
    pub(crate) fn of_overhead_costs(&self, owed_from: &str) -> Money {
        self.cents(&format!(
            "SELECT coalesce(sum(t.amount_cents), 0) FROM overhead_cost t WHERE t.owed_from = '{owed_from}'
             AND NOT EXISTS (SELECT 1 FROM reversal r WHERE r.reverses = t.id)"
        ))
    }

    /// What the firm's own equipment was charged to jobs.
    pub(crate) fn equipment_charged(&self) -> Money {
        self.cents(
            "SELECT coalesce(sum(t.amount_cents), 0) FROM direct_cost t WHERE t.equipment IS NOT NULL
             AND NOT EXISTS (SELECT 1 FROM reversal r WHERE r.reverses = t.id)",
        )
    }

    /// Charges of a kind of cost that were not reversed.
    pub(crate) fn charged(&self, kind: &str) -> Money {
        self.cents(&format!(
            "SELECT coalesce(sum(t.amount_cents), 0) FROM direct_cost t WHERE t.cost_kind = '{kind}'
             AND NOT EXISTS (SELECT 1 FROM reversal r WHERE r.reverses = t.id)"
        ))
    }

    /// Labor ever booked, from the working of the weeks and not from what was booked by month.
    pub(crate) fn labor(&self) -> Money {
        self.cents("SELECT coalesce(sum(straight_cents + premium_cents + burden_cents), 0) FROM total_labor")
    }

    /// Hours that were not reversed, in ten-thousandths.
    pub(crate) fn hours(&self) -> i64 {
        let sql = "SELECT coalesce(sum(hours_e4), 0) FROM time_entry t
                   WHERE NOT EXISTS (SELECT 1 FROM reversal r WHERE r.reverses = t.id)";
        self.0.query_row(sql, [], |row| row.get(0)).unwrap()
    }

    /// The numbers (`A-123`) of every fact of a kind, and of every reversal of one.
    pub(crate) fn entries(&self, kind: &str) -> Vec<String> {
        let sql = "SELECT e.device || '-' || e.device_seq FROM entry e WHERE e.kind = ?1
                   UNION ALL
                   SELECT e.device || '-' || e.device_seq FROM reversal r JOIN entry e ON e.id = r.id
                   JOIN entry t ON t.id = r.reverses WHERE t.kind = ?1 ORDER BY 1";
        let mut statement = self.0.prepare(sql).unwrap();
        let found = statement.query_map([kind], |row| row.get(0)).unwrap();
        found.collect::<Result<_, _>>().unwrap()
    }
}
