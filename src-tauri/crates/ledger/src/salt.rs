//! Salts: what makes the digest of a sealed part useless to whoever does not have the part itself.

use crate::error::LedgerError;
use crate::id::Id;

/// The salt of one sealed part. It stands in the entry beside the digest, and is withheld with the part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Salt(pub [u8; 32]);

/// Where salts come from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Salts {
    /// The system's own random numbers.
    #[default]
    Random,
    /// Each is made of its fact's id, so that a sample or a test is the same every time. Such a salt hides nothing.
    OfId,
}

impl Salts {
    /// The salt of a fact that is about to be written.
    pub(crate) fn of(self, id: Id) -> Result<Salt, LedgerError> {
        match self {
            Salts::Random => {
                let mut bytes = [0; 32];
                getrandom::fill(&mut bytes).map_err(|error| LedgerError::Io {
                    what: "The system gave no random numbers".to_owned(),
                    source: std::io::Error::other(error),
                })?;
                Ok(Salt(bytes))
            }
            Salts::OfId => Ok(Salt(*blake3::hash(id.bytes()).as_bytes())),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn random_salts_differ_and_those_of_an_id_are_the_same_each_time() {
        let id = Id::made_of(1, 1);
        assert_ne!(Salts::Random.of(id).expect("a salt"), Salts::Random.of(id).expect("a salt"));
        assert_eq!(Salts::OfId.of(id).expect("a salt"), Salts::OfId.of(id).expect("a salt"));
        assert_ne!(Salts::OfId.of(id).expect("a salt"), Salts::OfId.of(Id::made_of(1, 2)).expect("a salt"));
    }
}
