//! Every figure of every job and every month of the made-up firm opens true. The scenarios hold theirs to the same.

#![cfg(test)]

use acceptance::proof::prove;
use office::{Clock, Desk};

#[test]
fn every_figure_of_the_sample_comes_of_its_working_and_its_facts() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("firm.tearoff");
    drop(office::sample::write(&path, &mut |_, _| true).unwrap());
    let proof = prove(&Desk::read(&path, Clock::System).unwrap()).unwrap();
    let few: Vec<&String> = proof.faults.iter().take(40).collect();
    assert!(few.is_empty(), "{} do not add up:\n{few:#?}", proof.faults.len());
    assert!(proof.shown.len() > 10_000, "only {} figures were opened", proof.shown.len());
    assert!(proof.terms > 40_000 && proof.facts > 30_000, "{} terms, {} facts", proof.terms, proof.facts);
}
