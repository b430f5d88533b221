//! How one value of a fact stands in a column: the only place where Rust types meet SQLite's storage classes.

use crate::id::{Digest, Id, PublicKey};
use jiff::civil::Date;
use rusqlite::types::{Value, ValueRef};
use trade::{
    CostKind, CutUp, DeckKind, EdgeKind, FeatureKind, Item, Money, Month, Origin, Qty, Rate, ShingleKind,
    Steepness, Topic, ValleyLining, ValleyMethod,
};

/// A type that can stand in a column of a STRICT table.
pub trait Column: Sized {
    /// What the column's name ends in, so that its unit can be read in any SQLite tool.
    const SUFFIX: &'static str = "";
    /// Whether it may be left out.
    const OPTIONAL: bool = false;
    /// Whether it is the hash of a file.
    const IS_FILE: bool = false;
    /// Whether it is a day.
    const IS_DAY: bool = false;
    /// What stands for it in JSON, as a page's types would say it: `string`, or the words it is one of.
    fn shape() -> String {
        "string".to_owned()
    }
    /// The value as stored.
    fn store(&self) -> Value;
    /// The value read back.
    ///
    /// # Errors
    /// What was found instead of a value of this type.
    fn load(value: ValueRef<'_>) -> Result<Self, String>;
    /// What stands for a sealed value that is withheld, as in a copy for the site: nothing, zero, or the first word of
    /// a list. None for a type that is never sealed beside open values.
    fn withheld() -> Option<Self> {
        None
    }
}

fn wrong<T>(wanted: &str, found: ValueRef<'_>) -> Result<T, String> {
    Err(format!("expected {wanted}, found {:?}", found.data_type()))
}

fn text<'a>(wanted: &str, value: ValueRef<'a>) -> Result<&'a str, String> {
    match value {
        ValueRef::Text(bytes) => {
            std::str::from_utf8(bytes).map_err(|_| format!("{wanted} is not UTF-8 text"))
        }
        other => wrong(wanted, other),
    }
}

fn integer(wanted: &str, value: ValueRef<'_>) -> Result<i64, String> {
    match value {
        ValueRef::Integer(number) => Ok(number),
        other => wrong(wanted, other),
    }
}

impl Column for i64 {
    fn shape() -> String {
        "number".to_owned()
    }
    fn store(&self) -> Value {
        Value::Integer(*self)
    }
    fn load(value: ValueRef<'_>) -> Result<Self, String> {
        integer("a whole number", value)
    }
    fn withheld() -> Option<Self> {
        Some(0)
    }
}

impl Column for bool {
    fn shape() -> String {
        "boolean".to_owned()
    }
    fn store(&self) -> Value {
        Value::Integer(i64::from(*self))
    }
    fn load(value: ValueRef<'_>) -> Result<Self, String> {
        match integer("0 or 1", value)? {
            0 => Ok(false),
            1 => Ok(true),
            other => Err(format!("expected 0 or 1, found {other}")),
        }
    }
    fn withheld() -> Option<Self> {
        Some(false)
    }
}

impl Column for String {
    fn store(&self) -> Value {
        Value::Text(self.clone())
    }
    fn load(value: ValueRef<'_>) -> Result<Self, String> {
        text("text", value).map(str::to_owned)
    }
    fn withheld() -> Option<Self> {
        Some(String::new())
    }
}

impl Column for Id {
    fn store(&self) -> Value {
        Value::Blob(self.bytes().to_vec())
    }
    fn load(value: ValueRef<'_>) -> Result<Self, String> {
        match value {
            ValueRef::Blob(bytes) => bytes
                .try_into()
                .map(|array: [u8; 16]| Id(uuid::Uuid::from_bytes(array)))
                .map_err(|_| format!("an id has 16 bytes, found {}", bytes.len())),
            other => wrong("an id", other),
        }
    }
}

impl Column for Digest {
    const IS_FILE: bool = true;
    fn store(&self) -> Value {
        Value::Blob(self.0.to_vec())
    }
    fn load(value: ValueRef<'_>) -> Result<Self, String> {
        match value {
            ValueRef::Blob(bytes) => bytes
                .try_into()
                .map(Digest)
                .map_err(|_| format!("a hash has 32 bytes, found {}", bytes.len())),
            other => wrong("a hash", other),
        }
    }
}

impl Column for PublicKey {
    fn store(&self) -> Value {
        Value::Blob(self.0.to_vec())
    }
    fn load(value: ValueRef<'_>) -> Result<Self, String> {
        match value {
            ValueRef::Blob(bytes) => bytes
                .try_into()
                .map(PublicKey)
                .map_err(|_| format!("a device's key has 32 bytes, found {}", bytes.len())),
            other => wrong("a device's key", other),
        }
    }
}

impl Column for Money {
    const SUFFIX: &'static str = "_cents";
    fn store(&self) -> Value {
        Value::Integer(self.minor())
    }
    fn load(value: ValueRef<'_>) -> Result<Self, String> {
        integer("cents", value).map(Money::from_minor)
    }
    fn withheld() -> Option<Self> {
        Some(Money::ZERO)
    }
}

impl Column for Qty {
    const SUFFIX: &'static str = "_e4";
    fn store(&self) -> Value {
        Value::Integer(self.e4())
    }
    fn load(value: ValueRef<'_>) -> Result<Self, String> {
        integer("ten-thousandths", value).map(Qty::from_e4)
    }
    fn withheld() -> Option<Self> {
        Some(Qty::ZERO)
    }
}

impl Column for Rate {
    const SUFFIX: &'static str = "_e6";
    fn store(&self) -> Value {
        Value::Integer(self.e6())
    }
    fn load(value: ValueRef<'_>) -> Result<Self, String> {
        integer("millionths", value).map(Rate::from_e6)
    }
    fn withheld() -> Option<Self> {
        Some(Rate::ZERO)
    }
}

impl Column for Month {
    fn store(&self) -> Value {
        Value::Integer(i64::from(self.key()))
    }
    fn load(value: ValueRef<'_>) -> Result<Self, String> {
        let key = integer("a month as yyyymm", value)?;
        i32::try_from(key)
            .ok()
            .and_then(|key| Month::from_key(key).ok())
            .ok_or_else(|| format!("{key} is not a month as yyyymm"))
    }
}

impl Column for Date {
    const IS_DAY: bool = true;
    fn store(&self) -> Value {
        Value::Text(self.to_string())
    }
    fn load(value: ValueRef<'_>) -> Result<Self, String> {
        let text = text("a date as yyyy-mm-dd", value)?;
        text.parse().map_err(|_| format!("“{text}” is not a date as yyyy-mm-dd"))
    }
}

/// The words of a closed list, as a page's types would say it.
pub(crate) fn one_of<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.map(|word| format!("'{word}'")).collect::<Vec<_>>().join(" | ")
}

/// The closed lists of `trade` stand as they are written there.
macro_rules! lists_of_trade {
    ($($name:ident),+ $(,)?) => {
        $(impl Column for $name {
            fn shape() -> String {
                one_of($name::ALL.iter().map(|word| word.as_str()))
            }
            fn store(&self) -> Value {
                Value::Text(self.as_str().to_owned())
            }
            fn load(value: ValueRef<'_>) -> Result<Self, String> {
                $name::parse(&String::load(value)?).map_err(|error| error.to_string())
            }
        })+
    };
}
lists_of_trade!(
    CostKind,
    CutUp,
    DeckKind,
    EdgeKind,
    FeatureKind,
    Item,
    Origin,
    ShingleKind,
    Steepness,
    Topic,
    ValleyLining,
    ValleyMethod
);

impl<T: Column> Column for Option<T> {
    const SUFFIX: &'static str = T::SUFFIX;
    const OPTIONAL: bool = true;
    const IS_FILE: bool = T::IS_FILE;
    const IS_DAY: bool = T::IS_DAY;
    fn shape() -> String {
        T::shape()
    }
    fn store(&self) -> Value {
        self.as_ref().map_or(Value::Null, Column::store)
    }
    fn load(value: ValueRef<'_>) -> Result<Self, String> {
        match value {
            ValueRef::Null => Ok(None),
            other => T::load(other).map(Some),
        }
    }
}

/// Declares a closed list of words that stands as text in a column, each with its label.
macro_rules! closed_list {
    ($(#[$meta:meta])* $name:ident {
        $( $(#[$word_meta:meta])* $word:ident = $text:literal: $label:literal ),+ $(,)?
    }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
        #[cfg_attr(feature = "ts", derive(ts_rs::TS))]
        pub enum $name { $( $(#[$word_meta])* #[serde(rename = $text)] $word ),+ }

        impl $name {
            /// Every word of the list, in its order.
            pub const ALL: &'static [$name] = &[$( $name::$word ),+];

            /// The word as stored and as typed.
            #[must_use]
            pub fn as_str(self) -> &'static str {
                match self { $( $name::$word => $text ),+ }
            }

            /// What people call it.
            #[must_use]
            pub const fn label(self) -> &'static str {
                match self { $( $name::$word => $label ),+ }
            }

            /// Reads one of the words.
            ///
            /// # Errors
            /// Lists the words that can stand here.
            pub fn parse(text: &str) -> Result<$name, String> {
                match text {
                    $( $text => Ok($name::$word), )+
                    other => Err(format!("“{other}” cannot stand here: use one of {}", [$( $text ),+].join(", "))),
                }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.as_str())
            }
        }

        impl $crate::column::Column for $name {
            fn shape() -> String {
                $crate::column::one_of($name::ALL.iter().map(|word| word.as_str()))
            }
            fn store(&self) -> rusqlite::types::Value {
                rusqlite::types::Value::Text(self.as_str().to_owned())
            }
            fn load(value: rusqlite::types::ValueRef<'_>) -> Result<Self, String> {
                $name::parse(&<String as $crate::column::Column>::load(value)?)
            }
            fn withheld() -> Option<Self> {
                $name::ALL.first().copied()
            }
        }
    };
}
pub(crate) use closed_list;
