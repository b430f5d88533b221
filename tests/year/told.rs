//! What a device tells: every report of every month, and every question.

use crate::device::Device;
use ledger::closed_lists::QuestionKind;
use ledger::totals::JobTotals;
use office::{Code, LooseEndKind, Month, Question};
use serde::Serialize;
use std::collections::BTreeMap;

/// Each report by its name, as the bytes of its JSON.
pub(crate) type Told = BTreeMap<String, Vec<u8>>;

fn bytes(report: &impl Serialize) -> Vec<u8> {
    serde_json::to_vec(report).expect("JSON")
}

fn months(device: &Device) -> Vec<Month> {
    let (mut month, last) = office::booked_months(device.desk()).expect("months").expect("some");
    let mut months = Vec::new();
    while month <= last {
        months.push(month);
        month = month.next();
    }
    months
}

/// All that an office device can say of the year.
pub(crate) fn told(device: &Device) -> Told {
    let (desk, months) = (device.desk(), months(device));
    let mut told = Told::new();
    for month in &months {
        let mut tell = |what: &str, bytes| told.insert(format!("{month}, {what}"), bytes);
        tell("month end", bytes(&office::month_end(desk, *month).expect("a month end")));
        tell("the firm", bytes(&office::firm_year(desk, *month).expect("a year")));
        tell("loose ends", bytes(&office::loose_ends(desk, *month).expect("loose ends")));
        tell("questions", bytes(&office::questions(desk, *month).expect("questions")));
        // A month whose facts all came after its close has nothing to hand off, and says so.
        match office::hand_off::preview(desk, *month) {
            Ok(preview) => {
                let totals = &preview.control_totals;
                assert!(totals.iter().all(|total| total.ties), "{month}: {totals:?}");
                tell("hand-off", bytes(&preview));
            }
            Err(nothing) => {
                assert_eq!(nothing.code, Code::NotFound, "{month}: {nothing}");
                tell("hand-off", nothing.message.into_bytes());
            }
        }
        let books = desk.books();
        let jobs = books.all::<ledger::facts::Job>().expect("jobs").iter().map(|job| job.entry.id).collect();
        let mut totals = books.job_totals(&jobs, *month).expect("totals");
        totals.retain(|_, sums| *sums != JobTotals::default());
        tell("stored totals", format!("{totals:?}").into_bytes());
    }
    told.insert("what is owed to vendors".to_owned(), bytes(&office::payables(desk).expect("bills")));
    told
}

/// Every question of every month, each of which is a loose end of that month.
pub(crate) fn asked(device: &Device) -> Vec<Question> {
    let mut all = Vec::new();
    for month in months(device) {
        let questions = office::questions(device.desk(), month).expect("questions");
        let ends = office::loose_ends(device.desk(), month).expect("loose ends");
        for question in &questions {
            // Decisions have an end of their own, with a way to settle them.
            let kind = match question.kind {
                QuestionKind::Decisions => LooseEndKind::ContradictingDecisions,
                _ => LooseEndKind::Question,
            };
            let is_loose = ends.iter().any(|end| end.kind == kind && end.text == question.text);
            assert!(is_loose, "{month} on {}: {question:#?}", device.letter);
        }
        all.extend(questions);
    }
    all
}
