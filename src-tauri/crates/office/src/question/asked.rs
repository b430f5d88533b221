//! What a question says.

use ledger::Id;
use ledger::closed_lists::QuestionKind;
use serde::Serialize;
use std::collections::BTreeSet;

/// Facts of several devices that contradict each other, put to a person.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Question {
    /// In what they contradict each other.
    pub kind: QuestionKind,
    /// The job's number, where it belongs to one.
    pub job: Option<String>,
    /// The question, in a sentence.
    pub text: String,
    /// How it is answered.
    pub remedy: String,
    /// Whether it can be said that every side stands.
    pub may_stand: bool,
    /// Every side.
    pub sides: Vec<Side>,
}

/// One side of a question.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Side {
    /// The fact.
    pub fact: String,
    /// What it says.
    pub says: String,
    /// Whether it can be taken back: a close and a reversal never are.
    pub may_go: bool,
    /// The letters of the device that wrote it.
    pub device: String,
    /// What people call that device.
    pub device_name: Option<String>,
    /// Who recorded it.
    pub recorded_by: String,
    /// When, UTC.
    pub recorded_at: String,
}

/// Whether all that is said can be so. Two contracts of one job, decisions that differ, two costs of one
/// change order, more applied than was paid, one line of the bank that is two things, and what rests on something taken
/// back cannot: one side has to go.
pub(crate) const fn may_stand(kind: QuestionKind) -> bool {
    !matches!(
        kind,
        QuestionKind::Contract
            | QuestionKind::Decisions
            | QuestionKind::ChangeCost
            | QuestionKind::Allocation
            | QuestionKind::Bank
            | QuestionKind::Reversed
    )
}

impl Question {
    /// Whether an answer of this kind, about these facts, says that every side stands.
    pub(crate) fn is_answered_by(&self, kind: QuestionKind, about: &BTreeSet<Id>) -> bool {
        let sides = self.sides.iter().map(|side| Id::parse(&side.fact));
        kind == self.kind && sides.into_iter().all(|id| id.is_ok_and(|id| about.contains(&id)))
    }
}
