//! Closed lists: choices that are kept as one plain word each.
//!
//! A setting such as "tax by invoice" is stored, typed and handed off as a word. Each such choice has the
//! same three things: the list of all, its word, and reading the word back with a message that names the
//! words there are. Where people read it, it has a label too: window, papers and CSV heads take it from here.

use thiserror::Error;

/// A word that is none of the choices.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("\"{text}\" is not a {what}. Use one of: {choices}.")]
pub struct WordError {
    /// What was being chosen.
    pub what: &'static str,
    /// The word as typed.
    pub text: String,
    /// The words there are, with commas between.
    pub choices: String,
}

/// Gives an enum its words: `ALL`, `as_str`, `parse`, `Display`, and the same word in serde. With a label behind each
/// word it gets `label` as well.
#[macro_export]
macro_rules! closed_list {
    ($name:ident, $what:literal, { $($variant:ident => $word:literal: $label:literal),+ $(,)? }) => {
        $crate::closed_list!($name, $what, { $($variant => $word),+ });

        impl $name {
            /// What people call it.
            #[must_use]
            pub const fn label(self) -> &'static str {
                match self {
                    $($name::$variant => $label),+
                }
            }
        }
    };
    ($name:ident, $what:literal, { $($variant:ident => $word:literal),+ $(,)? }) => {
        impl $name {
            /// Every choice, in the order in which they are listed.
            pub const ALL: &'static [$name] = &[$($name::$variant),+];

            /// The word, as it is stored and typed.
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self {
                    $($name::$variant => $word),+
                }
            }

            /// Reads the word.
            ///
            /// # Errors
            /// If it is none of the choices; the message lists them.
            pub fn parse(text: &str) -> Result<$name, $crate::closed_list::WordError> {
                match text.trim() {
                    $($word => Ok($name::$variant),)+
                    _ => Err($crate::closed_list::WordError {
                        what: $what,
                        text: text.to_owned(),
                        choices: [$($word),+].join(", "),
                    }),
                }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.as_str())
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(self.as_str())
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let text = <String as serde::Deserialize>::deserialize(deserializer)?;
                $name::parse(&text).map_err(serde::de::Error::custom)
            }
        }
    };
}
