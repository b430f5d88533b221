//! The sides of a question: facts with who wrote them, and where.

use super::asked::{Question, Side, may_stand};
use desk::OfficeError;
use desk::names::Names;
use ledger::closed_lists::QuestionKind;
use ledger::facts::Device;
use ledger::{Books, Entered, Entry, Id};
use std::collections::{BTreeMap, BTreeSet};

/// What a question needs to say who wrote something, and where.
pub(super) struct Writers<'a> {
    pub(super) names: &'a Names,
    devices: BTreeMap<String, String>,
}

impl<'a> Writers<'a> {
    pub(super) fn read(books: Books<'_>, names: &'a Names) -> Result<Writers<'a>, OfficeError> {
        let devices =
            books.all::<Device>()?.into_iter().map(|held| (held.fact.letter, held.fact.name)).collect();
        Ok(Writers { names, devices })
    }

    pub(super) fn side(&self, entry: &Entry, says: String) -> Side {
        Side {
            fact: entry.id.to_string(),
            says,
            may_go: ledger::is_for_good(&entry.kind).is_ok_and(|is_for_good| !is_for_good),
            device: entry.device.clone(),
            device_name: self.devices.get(&entry.device).cloned(),
            recorded_by: self.names.person(entry.person),
            recorded_at: entry.recorded_at.clone(),
        }
    }

    /// A question about facts, each with what it says.
    pub(super) fn question(
        &self,
        kind: QuestionKind,
        job: Option<Id>,
        text: String,
        remedy: &str,
        sides: impl IntoIterator<Item = (Entry, String)>,
    ) -> Question {
        Question {
            kind,
            job: job.map(|job| self.names.job_number(job)),
            text,
            remedy: remedy.to_owned(),
            may_stand: may_stand(kind),
            sides: sides.into_iter().map(|(entry, says)| self.side(&entry, says)).collect(),
        }
    }
}

/// Facts that are the same in something, where more than one device wrote them.
pub(super) fn alike<T, K: Ord>(
    facts: impl IntoIterator<Item = Entered<T>>,
    same: impl Fn(&Entered<T>) -> Option<K>,
) -> impl Iterator<Item = (K, Vec<Entered<T>>)> {
    let mut groups: BTreeMap<K, Vec<Entered<T>>> = BTreeMap::new();
    for fact in facts {
        if let Some(key) = same(&fact) {
            groups.entry(key).or_default().push(fact);
        }
    }
    groups.into_iter().filter(|(_, facts)| devices(facts).len() > 1)
}

/// The devices that wrote facts.
pub(super) fn devices<T>(facts: &[Entered<T>]) -> BTreeSet<&str> {
    facts.iter().map(|held| held.entry.device.as_str()).collect()
}
