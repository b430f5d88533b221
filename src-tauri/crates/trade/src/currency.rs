//! The ledger's currency, and why only some are kept.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use thiserror::Error;

/// Why a currency code was refused.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum CurrencyError {
    /// Not three letters.
    #[error("The currency \"{text}\" is not a three-letter code. Type the ISO 4217 code, such as USD.")]
    NotACode {
        /// The text as typed.
        text: String,
    },
    /// Three letters, but not in the table.
    #[error("The currency {code} is not known to Tearoff. Type an ISO 4217 code such as USD, CAD or EUR.")]
    Unknown {
        /// The code, in capitals.
        code: String,
    },
    /// A currency whose smallest unit is not a hundredth.
    #[error(
        "The currency {code} has {digits} minor digits. Tearoff keeps books only in currencies with two minor \
         digits; choose one such as USD, CAD or EUR."
    )]
    NotTwoDigits {
        /// The code, in capitals.
        code: String,
        /// How many minor digits ISO 4217 gives it.
        digits: u8,
    },
}

/// A currency by its ISO 4217 code. Only currencies with two minor digits are kept, because
/// [`Money`](crate::money::Money) is a number of hundredths; the others are refused in words and not
/// silently shown a hundred times too large or small (company rule).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Currency(&'static str);

/// Minor digits of common codes, as ISO 4217 gives them (common practice; the list itself was not read). The codes
/// whose digits are not two are the ones that matter here.
const MINOR_DIGITS: &[(&str, u8)] = &[
    ("AUD", 2),
    ("BHD", 3),
    ("BRL", 2),
    ("CAD", 2),
    ("CHF", 2),
    ("CLP", 0),
    ("CNY", 2),
    ("CZK", 2),
    ("DKK", 2),
    ("EUR", 2),
    ("GBP", 2),
    ("HKD", 2),
    ("HUF", 2),
    ("ILS", 2),
    ("INR", 2),
    ("IQD", 3),
    ("ISK", 0),
    ("JOD", 3),
    ("JPY", 0),
    ("KRW", 0),
    ("KWD", 3),
    ("LYD", 3),
    ("MXN", 2),
    ("NOK", 2),
    ("NZD", 2),
    ("OMR", 3),
    ("PHP", 2),
    ("PLN", 2),
    ("PYG", 0),
    ("SEK", 2),
    ("SGD", 2),
    ("THB", 2),
    ("TND", 3),
    ("TRY", 2),
    ("UGX", 0),
    ("USD", 2),
    ("VND", 0),
    ("XAF", 0),
    ("XOF", 0),
    ("XPF", 0),
    ("ZAR", 2),
];

impl Currency {
    /// The United States dollar.
    pub const USD: Currency = Currency("USD");

    /// Reads a code; capitals or not.
    ///
    /// # Errors
    /// If it is not three letters, not known, or has other than two minor digits.
    pub fn parse(text: &str) -> Result<Currency, CurrencyError> {
        let code = text.trim().to_ascii_uppercase();
        if code.len() != 3 || !code.bytes().all(|b| b.is_ascii_uppercase()) {
            return Err(CurrencyError::NotACode { text: text.to_owned() });
        }
        match MINOR_DIGITS.iter().find(|(known, _)| *known == code) {
            Some((known, 2)) => Ok(Currency(known)),
            Some((_, digits)) => Err(CurrencyError::NotTwoDigits { code, digits: *digits }),
            None => Err(CurrencyError::Unknown { code }),
        }
    }

    /// The three-letter code.
    #[must_use]
    pub const fn code(self) -> &'static str {
        self.0
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.0)
    }
}

impl Serialize for Currency {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.0)
    }
}

impl<'de> Deserialize<'de> for Currency {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Currency::parse(&text).map_err(serde::de::Error::custom)
    }
}
