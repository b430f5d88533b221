//! The sample firm's eight months, all handed off and held against the facts.

use crate::files::Set;
use crate::python;
use crate::years::holds_every_fact_once;
use office::hand_off::hand_off;
use office::{Desk, Month};
use std::path::PathBuf;

/// Every month in which anything is booked. The last has nothing but a payment, which is of no job yet.
fn months(desk: &Desk) -> Vec<Month> {
    let (first, _) = office::booked_months(desk).unwrap().unwrap();
    let last = Month::of(desk.clock.today());
    std::iter::successors(Some(first), |month| Some(month.next()))
        .take_while(|month| *month <= last)
        .collect()
}

#[test]
fn every_month_of_the_sample_firm_ties_and_holds_each_fact_once() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("sample.tearoff");
    let mut desk = office::sample::write(&path, &mut |_, _| true).unwrap();
    let mut folders: Vec<PathBuf> = Vec::new();
    for month in months(&desk) {
        let done = hand_off(&mut desk, month, &dir.path().join("books"), &mut |_| true).unwrap();
        assert_eq!(done.part, 1);
        folders.push(done.folder);
    }
    assert!(folders.len() >= 8);
    for month in months(&desk) {
        let again = hand_off(&mut desk, month, &dir.path().join("again"), &mut |_| true).unwrap();
        assert_eq!(again.recorded, None);
        let first = dir.path().join("books").join(again.folder.file_name().unwrap());
        assert_eq!(Set::bytes(&first), Set::bytes(&again.folder), "{month} again");
    }
    let sets: Vec<Set> = folders.iter().map(|folder| Set::read(folder)).collect();
    sets.iter().for_each(Set::is_sound);
    holds_every_fact_once(&path, &sets);
    the_years_net_profit_is_the_journals(&desk, &sets);
    for (folder, opinion) in folders.iter().zip(python::read(&folders)) {
        python::agrees(folder, &opinion);
    }
}

/// What the whole firm made in the year, by its report, is what the journals of its months come to: revenue less cost
/// of jobs, losses foreseen and overhead.
fn the_years_net_profit_is_the_journals(desk: &Desk, sets: &[Set]) {
    let last = *months(desk).last().unwrap();
    let year = office::firm_year(desk, last).unwrap();
    let account = |name: &str| sets.iter().map(|set| set.account(name)).sum::<office::Money>();
    let costs = ["material", "labor", "subcontract", "equipment", "disposal", "permit", "other"];
    let cost: office::Money = costs.iter().map(|kind| account(&format!("cost-{kind}"))).sum();
    let overhead = account("overhead") + account("discounts-taken");
    let gross = -account("revenue") - cost - account("loss-expense");
    assert_eq!((year.so_far.gross_profit, year.so_far.overhead_cost), (gross, overhead));
    assert_eq!(year.so_far.net_profit, gross - overhead);
    let told: office::Money = sets.iter().map(|set| set.control("net_profit")).sum();
    assert_eq!(year.so_far.net_profit, told);
    assert!(!told.is_zero() && !overhead.is_zero() && months(desk).len() >= 8);
}

#[test]
fn two_sample_firms_are_handed_off_to_the_same_bytes() {
    let dir = tempfile::tempdir().unwrap();
    let mut written = Vec::new();
    for name in ["one", "other"] {
        let mut desk =
            office::sample::write(&dir.path().join(name).with_extension("tearoff"), &mut |_, _| true)
                .unwrap();
        let month = "2026-10".parse().unwrap();
        let done = hand_off(&mut desk, month, &dir.path().join(name), &mut |_| true).unwrap();
        written.push(Set::bytes(&done.folder));
    }
    assert_eq!(written[0], written[1]);
}
