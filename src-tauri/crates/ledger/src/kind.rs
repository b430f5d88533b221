//! One mechanism for every kind of fact: its table, its columns, its lists of lines, and the way between a Rust
//! struct and stored values. A new kind is a struct here and a table in a migration; nothing else needs to know.

use crate::column::Column;
use crate::id::Id;
use rusqlite::types::ValueRef;
use std::marker::PhantomData;

/// A value as it is stored.
pub use rusqlite::types::Value;

/// A table and its columns, in the order in which they are declared, stored and hashed.
#[derive(Debug)]
pub struct TableSpec {
    /// The table's name.
    pub table: &'static str,
    /// The columns that hold the fact, without `id`, or `fact` and `line` for a list.
    pub columns: Vec<String>,
    /// For each column, whether a crew may see it; what may not be seen is sealed.
    pub open: Vec<bool>,
    /// For each column, whether it is the hash of a file.
    pub files: Vec<bool>,
    /// For each column, whether it is a day.
    pub days: Vec<bool>,
    /// The statement that writes a row.
    pub insert: String,
    /// The statement that reads a row by its fact's id.
    pub select: String,
}

impl TableSpec {
    fn new<R: Row>(is_list: bool) -> TableSpec {
        let (table, columns, open) = (R::TABLE, R::columns(), R::open());
        let names = columns.join(", ");
        let keys = if is_list { "fact, line" } else { "id" };
        let marks = vec!["?"; columns.len() + if is_list { 2 } else { 1 }].join(", ");
        let select = if is_list {
            format!("SELECT {names} FROM {table} WHERE fact = ? ORDER BY line")
        } else {
            format!("SELECT {names} FROM {table} WHERE id = ?")
        };
        let insert = format!("INSERT INTO {table} ({keys}, {names}) VALUES ({marks})");
        TableSpec { table, columns, open, files: R::files(), days: R::days(), insert, select }
    }

    /// Whether it has a column that a crew may see.
    #[must_use]
    pub fn has_open(&self) -> bool {
        self.open.contains(&true)
    }

    /// Whether it has a column that is sealed.
    #[must_use]
    pub fn has_sealed(&self) -> bool {
        self.open.contains(&false)
    }
}

/// A field of a fact in JSON, or of a line of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Field {
    /// Its name.
    pub name: &'static str,
    /// `string`, `number`, `boolean`, or the words it is one of, parted by ` | `.
    pub shape: String,
    /// Whether it may be left out.
    pub optional: bool,
}

/// What the ledger knows of one kind of fact.
#[derive(Debug)]
pub struct KindSpec {
    /// The fields of its JSON, without its lists.
    pub fields: Vec<Field>,
    /// The fields of a line, for each of its lists.
    pub list_fields: Vec<Vec<Field>>,
    /// The word in `entry.kind` and in JSON.
    pub kind: &'static str,
    /// The table with one row a fact.
    pub own: TableSpec,
    /// The tables with its lines, if it has any.
    pub lists: Vec<TableSpec>,
    /// The names of those lists in JSON, in the same order.
    pub list_names: &'static [&'static str],
}

impl KindSpec {
    /// Whether any column of the kind, or of its lists, is sealed.
    #[must_use]
    pub fn has_sealed(&self) -> bool {
        self.own.has_sealed() || self.lists.iter().any(TableSpec::has_sealed)
    }

    /// Whether its hashes are those of attachments: not in what attaches one, nor where the hash is of files that left
    /// the building.
    #[must_use]
    pub fn names_files(&self) -> bool {
        self.own.table != "attachment" && self.marks().is_none()
    }

    /// The list that says how far each device's facts were in, for a kind that writes down figures as they stood.
    #[must_use]
    pub fn marks(&self) -> Option<&TableSpec> {
        self.lists.iter().find(|list| list.columns.iter().any(|column| column == "through_seq"))
    }
}

/// A fact as stored values: one row of its own, and rows of lines for each list.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// Values in the order of [`KindSpec::own`].
    pub own: Vec<Value>,
    /// For each of [`KindSpec::lists`], its lines in order.
    pub lists: Vec<Vec<Vec<Value>>>,
}

/// A struct that stands as one row of a table.
pub trait Row: Sized {
    /// The table.
    const TABLE: &'static str;
    /// The columns, in order.
    fn columns() -> Vec<String>;
    /// For each column, whether a crew may see it.
    fn open() -> Vec<bool>;
    /// For each column, whether it is the hash of a file.
    fn files() -> Vec<bool>;
    /// For each column, whether it is a day.
    fn days() -> Vec<bool>;
    /// The fields of its JSON, in the same order.
    fn fields() -> Vec<Field>;
    /// The values, in the same order.
    fn store(&self) -> Vec<Value>;
    /// Reads the values back; lists are left empty.
    ///
    /// # Errors
    /// The column and what was found in it.
    fn load(values: &[Value]) -> Result<Self, String>;
}

/// A column of a row, for questions that ask by it: `Contract::job` is the column in which a contract names its job.
/// Each struct has one for each of its fields, of the field's own type.
#[derive(Debug)]
pub struct ColumnOf<R, V> {
    field: &'static str,
    of: PhantomData<fn() -> (R, V)>,
}

impl<R, V> Clone for ColumnOf<R, V> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<R, V> Copy for ColumnOf<R, V> {}

impl<R, V: Column> ColumnOf<R, V> {
    pub(crate) const fn new(field: &'static str) -> ColumnOf<R, V> {
        ColumnOf { field, of: PhantomData }
    }

    /// Its name in the table.
    pub(crate) fn name(&self) -> String {
        format!("{}{}", self.field, V::SUFFIX)
    }
}

/// What a column holds that names another fact.
pub trait NamesFact: Column {}
impl NamesFact for Id {}
impl NamesFact for Option<Id> {}

/// A struct that is a fact: a row with its lists.
pub trait FactRow: Row {
    /// The word of this kind.
    const KIND: &'static str;
    /// Its tables of lines.
    fn list_specs() -> Vec<TableSpec>;
    /// The fields of a line of each of them.
    fn list_fields() -> Vec<Vec<Field>>;
    /// The names of its lists in JSON, in the same order.
    fn list_names() -> &'static [&'static str];
    /// Its lines as stored values.
    fn store_lists(&self) -> Vec<Vec<Vec<Value>>>;
    /// Reads its lines back.
    ///
    /// # Errors
    /// The table, column and what was found in it.
    fn load_lists(&mut self, lists: &[Vec<Vec<Value>>]) -> Result<(), String>;

    /// The description of this kind.
    fn spec() -> KindSpec {
        KindSpec {
            fields: Self::fields(),
            list_fields: Self::list_fields(),
            kind: Self::KIND,
            own: TableSpec::new::<Self>(false),
            lists: Self::list_specs(),
            list_names: Self::list_names(),
        }
    }
}

/// A field of this type, under these attributes: one with a default may be left out as well.
pub(crate) fn field<T: Column>(name: &'static str, attributes: &[&str]) -> Field {
    Field { name, shape: T::shape(), optional: T::OPTIONAL || attributes.contains(&"serde(default)") }
}

/// The table of a list of lines.
pub(crate) fn list_spec<T: Row>() -> TableSpec {
    TableSpec::new::<T>(true)
}

/// One value out of a row, with the column named when it is not what it should be. A sealed value may be withheld; that
/// it is withheld only where it may be, verify says.
pub(crate) fn take<T: Column>(
    table: &str,
    column: &str,
    is_open: bool,
    value: Option<&Value>,
) -> Result<T, String> {
    let value = value.ok_or_else(|| format!("{table}.{column} is missing"))?;
    if !is_open
        && !T::OPTIONAL
        && *value == Value::Null
        && let Some(withheld) = T::withheld()
    {
        return Ok(withheld);
    }
    T::load(ValueRef::from(value)).map_err(|problem| format!("{table}.{column}: {problem}"))
}

/// A struct that is a row. A field is sealed unless it says `=> open`: what is forgotten is never shown to a crew.
macro_rules! row {
    (@is_open open) => { true };
    (@is_open) => { false };
    ($(#[$meta:meta])* $name:ident in $table:literal {
        $( $(#[$field_meta:meta])* $field:ident : $type:ty $(=> $part:ident)? ),* $(,)?
    } lists { $( $(#[$list_meta:meta])* $list:ident : $child:ty ),* $(,)? }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct $name {
            $( $(#[$field_meta])* pub $field: $type, )*
            $( $(#[$list_meta])* #[serde(default)] pub $list: Vec<$child>, )*
        }

        #[allow(non_upper_case_globals, missing_docs)]
        impl $name {
            $( pub const $field: $crate::kind::ColumnOf<$name, $type> =
                $crate::kind::ColumnOf::new(stringify!($field)); )*
        }

        impl $crate::kind::Row for $name {
            const TABLE: &'static str = $table;
            fn columns() -> Vec<String> {
                vec![$( format!("{}{}", stringify!($field), <$type as $crate::column::Column>::SUFFIX) ),*]
            }
            fn open() -> Vec<bool> {
                vec![$( $crate::kind::row!(@is_open $($part)?) ),*]
            }
            fn files() -> Vec<bool> {
                vec![$( <$type as $crate::column::Column>::IS_FILE ),*]
            }
            fn days() -> Vec<bool> {
                vec![$( <$type as $crate::column::Column>::IS_DAY ),*]
            }
            fn fields() -> Vec<$crate::kind::Field> {
                vec![$(
                    $crate::kind::field::<$type>(stringify!($field), &[$( stringify!($field_meta) ),*])
                ),*]
            }
            fn store(&self) -> Vec<rusqlite::types::Value> {
                vec![$( $crate::column::Column::store(&self.$field) ),*]
            }
            fn load(values: &[rusqlite::types::Value]) -> Result<Self, String> {
                let mut values = values.iter();
                Ok($name {
                    $( $field: $crate::kind::take(
                        $table,
                        stringify!($field),
                        $crate::kind::row!(@is_open $($part)?),
                        values.next(),
                    )?, )*
                    $( $list: Vec::new(), )*
                })
            }
        }
    };
}
pub(crate) use row;

macro_rules! fact {
    ($(#[$meta:meta])* $name:ident as $kind:literal in $table:literal { $($fields:tt)* }
     $( with { $( $(#[$list_meta:meta])* $list:ident : $child:ty ),* $(,)? } )?) => {
        $crate::kind::row! { $(#[$meta])* $name in $table { $($fields)* }
            lists { $($( $(#[$list_meta])* $list : $child ),*)? } }

        impl $crate::kind::FactRow for $name {
            const KIND: &'static str = $kind;
            fn list_specs() -> Vec<$crate::kind::TableSpec> {
                vec![$($( $crate::kind::list_spec::<$child>() ),*)?]
            }
            fn list_fields() -> Vec<Vec<$crate::kind::Field>> {
                vec![$($( <$child as $crate::kind::Row>::fields() ),*)?]
            }
            fn list_names() -> &'static [&'static str] {
                &[$($( stringify!($list) ),*)?]
            }
            fn store_lists(&self) -> Vec<Vec<Vec<rusqlite::types::Value>>> {
                vec![$($( self.$list.iter().map($crate::kind::Row::store).collect() ),*)?]
            }
            #[allow(unused_mut, unused_variables)]
            fn load_lists(&mut self, lists: &[Vec<Vec<rusqlite::types::Value>>]) -> Result<(), String> {
                let mut lists = lists.iter();
                $($(
                    if let Some(rows) = lists.next() {
                        self.$list = rows
                            .iter()
                            .map(|row| <$child as $crate::kind::Row>::load(row))
                            .collect::<Result<_, _>>()?;
                    }
                )*)?
                Ok(())
            }
        }
    };
}
pub(crate) use fact;

/// Gathers the kinds into one enum.
macro_rules! kinds {
    ($( $name:ident ),+ $(,)?) => {
        /// Any fact.
        #[derive(Clone, Debug, PartialEq, serde::Serialize)]
        #[serde(untagged)]
        #[expect(clippy::large_enum_variant, reason = "facts are few at a time; a box would only hide their fields")]
        pub enum Fact { $( #[doc = concat!("See [`", stringify!($name), "`].")] $name($name) ),+ }

        /// The description of every kind, in the order of the books.
        pub(crate) fn specs() -> Vec<$crate::kind::KindSpec> {
            vec![$( <$name as $crate::kind::FactRow>::spec() ),+]
        }

        impl Fact {
            /// The word of its kind.
            #[must_use]
            pub fn kind(&self) -> &'static str {
                match self { $( Fact::$name(_) => <$name as $crate::kind::FactRow>::KIND ),+ }
            }

            /// The fact as stored values.
            #[must_use]
            pub fn record(&self) -> $crate::kind::Record {
                match self { $( Fact::$name(fact) => $crate::kind::Record {
                    own: $crate::kind::Row::store(fact),
                    lists: $crate::kind::FactRow::store_lists(fact),
                } ),+ }
            }

            /// The fact read back from stored values.
            ///
            /// # Errors
            /// The table, column and what was found in it, or that the kind is not known.
            pub fn from_record(kind: &str, record: &$crate::kind::Record) -> Result<Fact, String> {
                $( if kind == <$name as $crate::kind::FactRow>::KIND {
                    let mut fact = <$name as $crate::kind::Row>::load(&record.own)?;
                    $crate::kind::FactRow::load_lists(&mut fact, &record.lists)?;
                    return Ok(Fact::$name(fact));
                } )+
                Err(format!("there is no kind of fact called “{kind}”"))
            }

            /// The fact read from JSON; `kind` says which.
            ///
            /// # Errors
            /// The field and what was wrong with it, or that the kind is not known.
            pub fn from_json(kind: &str, json: serde_json::Value) -> Result<Fact, $crate::kind::Unread> {
                $( if kind == <$name as $crate::kind::FactRow>::KIND {
                    return $crate::kind::read_json::<$name>(json).map(Fact::$name);
                } )+
                Err($crate::kind::Unread {
                    field: Some("kind".to_owned()),
                    problem: format!("there is no kind of fact called “{kind}”"),
                })
            }
        }

        $( impl From<$name> for Fact {
            fn from(fact: $name) -> Fact { Fact::$name(fact) }
        } )+
    };
}
pub(crate) use kinds;

/// Why JSON is no fact: the field, where it is one, and what is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// The field.
    pub field: Option<String>,
    /// What is wrong.
    pub problem: String,
}

impl std::fmt::Display for Unread {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if let Some(field) = &self.field {
            write!(formatter, "{field}: ")?;
        }
        formatter.write_str(&self.problem)
    }
}

impl std::error::Error for Unread {}

/// Reads a struct from JSON and names the field when it cannot.
pub(crate) fn read_json<T: serde::de::DeserializeOwned>(json: serde_json::Value) -> Result<T, Unread> {
    serde_path_to_error::deserialize(json).map_err(|error| {
        let path = error.path().to_string();
        let problem = error.into_inner().to_string();
        Unread { field: Some(path).filter(|path| path != "."), problem }
    })
}
