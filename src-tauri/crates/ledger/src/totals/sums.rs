//! The tables of totals as sums by key and month: gathered in memory during a batch, written once at its end.

use crate::error::LedgerError;
use crate::id::Id;
use jiff::civil::Date;
use rusqlite::Connection;
use std::collections::HashMap;
use trade::Month;

/// A table of totals: its ids, whether its rows are kept by day too, and its sums in order.
#[derive(Debug)]
pub(crate) struct TotalTable {
    pub(crate) name: &'static str,
    pub(crate) ids: &'static [&'static str],
    pub(crate) by_day: bool,
    pub(crate) sums: &'static [&'static str],
}

macro_rules! total_table {
    ($(#[$meta:meta])* $module:ident = $name:literal by_day $by_day:literal [ $( $id:literal ),+ ] {
        $( $sum:ident = $column:literal ),+ $(,)?
    }) => {
        $(#[$meta])*
        pub(crate) mod $module {
            use $crate::totals::sums::TotalTable;
            total_table!(@index 0_usize; $( $sum )+);
            pub(crate) static TABLE: TotalTable =
                TotalTable { name: $name, ids: &[$( $id ),+], by_day: $by_day, sums: &[$( $column ),+] };
        }
    };
    (@index $at:expr; $sum:ident $( $rest:ident )*) => {
        pub(crate) const $sum: usize = $at;
        total_table!(@index $at + 1; $( $rest )*);
    };
    (@index $at:expr;) => {};
}

total_table! {
    /// Sums by job and code.
    code = "total_code" by_day false ["job", "code"] {
        BUDGET_MATERIAL = "budget_material_cents", BUDGET_LABOR = "budget_labor_cents",
        BUDGET_SUBCONTRACT = "budget_subcontract_cents", BUDGET_REST = "budget_rest_cents",
        BUDGET_COUNTED = "budget_counted_cents", BUDGET_QUANTITY = "budget_quantity_e4",
        BUDGET_HOURS = "budget_hours_e4", BUDGET_UNITS = "budget_units_e4",
        CHANGED = "changed_cents", HIDDEN_BUDGET = "hidden_budget_cents",
        MATERIAL = "material_cents", LABOR = "labor_cents", SUBCONTRACT = "subcontract_cents",
        EQUIPMENT = "equipment_cents", DISPOSAL = "disposal_cents", PERMIT = "permit_cents", OTHER = "other_cents",
        COUNTED = "counted_cents", QUANTITY = "quantity_e4", HOURS = "hours_e4", UNITS = "units_e4",
        COMMITTED = "committed_cents",
    }
}
total_table! {
    /// Counted material by job, code and part.
    part = "total_part" by_day false ["job", "code", "part"] {
        BUDGET_COUNTED = "budget_counted_cents", BUDGET_QUANTITY = "budget_quantity_e4", QUANTITY = "quantity_e4",
    }
}
total_table! {
    /// Sums by job.
    job = "total_job" by_day false ["job"] {
        PRICE = "price_cents", CHANGE_PRICE = "change_price_cents", HIDDEN_PRICE = "hidden_price_cents",
        BILLED = "billed_cents", TAX = "tax_cents", HELD = "held_cents", RELEASED = "released_cents",
        RECEIVED = "received_cents", FACTS = "facts",
    }
}
total_table! {
    /// Hours by job, crew and the day worked.
    crew = "total_crew" by_day true ["job", "crew"] { HOURS = "hours_e4" }
}
total_table! {
    /// Cost by condition and code.
    condition = "total_condition" by_day false ["condition", "code"] {
        MATERIAL = "material_cents", LABOR = "labor_cents", SUBCONTRACT = "subcontract_cents", REST = "rest_cents",
        COUNTED = "counted_cents", QUANTITY = "quantity_e4", HOURS = "hours_e4",
    }
}
total_table! {
    /// Labor cost by job, code and condition in the month in which it is booked.
    booked = "total_booked_labor" by_day false ["job", "code", "condition"] {
        STRAIGHT = "straight_cents", PREMIUM = "premium_cents", BURDEN = "burden_cents",
    }
}
total_table! {
    /// What is open on an invoice.
    invoice = "total_invoice" by_day false ["invoice"] { OPEN = "open_cents", HELD = "held_cents" }
}

total_table! {
    /// What of a payment is neither applied nor given back.
    payment = "total_payment" by_day false ["payment"] { LEFT = "left_cents" }
}

total_table! {
    /// What the firm cost beside its jobs.
    overhead = "total_overhead" by_day false ["account"] { AMOUNT = "amount_cents" }
}
total_table! {
    /// What is open on a vendor's bill.
    bill = "total_bill" by_day false ["bill"] { OPEN = "open_cents" }
}

/// Every table of sums.
pub(crate) static TABLES: [&TotalTable; 10] = [
    &code::TABLE,
    &part::TABLE,
    &job::TABLE,
    &crew::TABLE,
    &condition::TABLE,
    &booked::TABLE,
    &invoice::TABLE,
    &payment::TABLE,
    &overhead::TABLE,
    &bill::TABLE,
];

/// Where a sum stands: the table's ids (an absent one is the empty blob), the day in a table by day, and the month.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct Key {
    table: usize,
    ids: [Option<Id>; 3],
    day: Option<Date>,
    month: Month,
}

/// Sums not yet written.
#[derive(Debug, Default)]
pub(crate) struct Sums {
    rows: HashMap<Key, Vec<i64>>,
}

impl Sums {
    /// Adds to one column.
    pub(crate) fn add(
        &mut self,
        table: &'static TotalTable,
        ids: &[Option<Id>],
        month: Month,
        column: usize,
        by: i64,
    ) {
        debug_assert!(!table.by_day, "{} is kept by day", table.name);
        self.add_on(table, ids, None, month, column, by);
    }

    /// Adds to one column of a table that is kept by day.
    pub(crate) fn add_on(
        &mut self,
        table: &'static TotalTable,
        ids: &[Option<Id>],
        day: Option<Date>,
        month: Month,
        column: usize,
        by: i64,
    ) {
        debug_assert_eq!(table.by_day, day.is_some(), "{} and its day", table.name);
        if by == 0 {
            return;
        }
        let mut key_ids = [None; 3];
        for (place, id) in key_ids.iter_mut().zip(ids) {
            *place = *id;
        }
        let index = TABLES.iter().position(|other| std::ptr::eq(*other, table)).unwrap_or(0);
        let row = self
            .rows
            .entry(Key { table: index, ids: key_ids, day, month })
            .or_insert_with(|| vec![0; table.sums.len()]);
        row[column] += by;
    }

    pub(crate) fn len(&self) -> usize {
        self.rows.len()
    }

    /// Writes what was gathered into the tables.
    pub(crate) fn flush(&mut self, conn: &Connection) -> Result<(), LedgerError> {
        let mut rows: Vec<(Key, Vec<i64>)> =
            self.rows.drain().filter(|(_, sums)| sums.iter().any(|sum| *sum != 0)).collect();
        // In key order, so that the pages of each table are touched once.
        rows.sort_unstable();
        for (key, sums) in rows {
            let table = TABLES[key.table];
            let mut statement = conn.prepare_cached(upsert(key.table))?;
            let mut place = 1;
            for id in &key.ids[..table.ids.len()] {
                statement.raw_bind_parameter(place, id.as_ref().map_or(&[][..], |id| &id.bytes()[..]))?;
                place += 1;
            }
            if let Some(day) = key.day {
                statement.raw_bind_parameter(place, day.to_string())?;
                place += 1;
            }
            statement.raw_bind_parameter(place, key.month.key())?;
            for sum in sums {
                place += 1;
                statement.raw_bind_parameter(place, sum)?;
            }
            statement.raw_execute()?;
        }
        Ok(())
    }
}

/// The statement that adds a row's sums to what stands.
fn upsert(table: usize) -> &'static str {
    static STATEMENTS: std::sync::LazyLock<Vec<String>> = std::sync::LazyLock::new(|| {
        let statement = |table: &&TotalTable| {
            let mut keys = table.ids.to_vec();
            keys.extend(table.by_day.then_some("day"));
            keys.push("month");
            let marks = vec!["?"; keys.len() + table.sums.len()].join(", ");
            let (keys, sums) = (keys.join(", "), table.sums.join(", "));
            let adds = table
                .sums
                .iter()
                .map(|sum| format!("{sum} = {sum} + excluded.{sum}"))
                .collect::<Vec<_>>()
                .join(", ");
            format!(
                "INSERT INTO {} ({keys}, {sums}) VALUES ({marks})
                 ON CONFLICT ({keys}) DO UPDATE SET {adds}",
                table.name
            )
        };
        TABLES.iter().map(statement).collect()
    });
    &STATEMENTS[table]
}
