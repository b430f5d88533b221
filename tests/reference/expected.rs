//! What is expected of the next roof, held against scipy's negative-binomial distribution.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot ask should stop")]

use serde_json::{Value, json};
use std::path::Path;
use std::process::{Command, Output};
use trade::{Prior, Qty, Rate, next_job};

/// Shape, rate and squares: the published example first, then few and many, shapes far below one, and a chance of no
/// sheet that no decimal can hold.
const CASES: [[&str; 3]; 12] = [
    ["21", "6", "1"],
    ["0.5", "12", "25"],
    ["0.05", "30", "12"],
    ["1", "3", "1"],
    ["2.777777777778", "5.555555555556", "24.5"],
    ["3.25", "40", "31"],
    ["12.5", "180", "18.75"],
    ["47", "620.5", "33"],
    ["200", "2", "4"],
    ["0.8", "1.5", "40"],
    ["310.0625", "1200", "120"],
    ["5", "0.75", "60"],
];

const LEVELS: [&str; 4] = ["0.5", "0.8", "0.9", "0.99"];

fn ours([shape, rate, squares]: [&str; 3]) -> Value {
    let prior = Prior { shape: shape.parse().unwrap(), rate: rate.parse().unwrap() };
    let next = next_job(prior, Qty::parse(squares).unwrap()).unwrap();
    let covers = LEVELS.map(|level| json!([level, next.covers(Rate::parse(level).unwrap()).unwrap()]));
    let chances: Vec<String> = next.chances.iter().map(ToString::to_string).collect();
    json!({
        "shape": shape, "rate": rate, "squares": squares,
        "mean": next.mean.to_string(), "chances": chances, "covers": covers,
    })
}

fn ask(cases: &Value) -> Output {
    let Some(python) = std::env::var_os("TEAROFF_PYTHON") else {
        panic!(
            "TEAROFF_PYTHON is not set. Run `cargo xtask test`, which sets it; or make an environment with \
             `python3 -m venv DIR && DIR/bin/pip install -r tests/requirements.txt` and set TEAROFF_PYTHON to \
             DIR/bin/python."
        );
    };
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("cases.json");
    std::fs::write(&file, cases.to_string()).unwrap();
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/expected.py");
    Command::new(python).arg(script).arg(file).output().unwrap()
}

#[test]
fn scipy_expects_the_same_of_the_next_roof() {
    let out = ask(&CASES.map(ours).into_iter().collect());
    assert!(out.status.success(), "Python says:\n{}", String::from_utf8_lossy(&out.stderr));
    assert_eq!(String::from_utf8_lossy(&out.stdout).trim(), CASES.len().to_string(), "every case was read");
}

/// The opinion is worth something only if it can be a bad one.
#[test]
fn scipy_finds_what_was_changed() {
    let mut chance = ours(CASES[0]);
    chance["chances"][3] = json!("0.202789");
    let mut covers = ours(CASES[1]);
    covers["covers"][1][1] = json!(covers["covers"][1][1].as_u64().unwrap() + 1);
    let mut short = ours(CASES[2]);
    short["chances"].as_array_mut().unwrap().truncate(4);
    for changed in [chance, covers, short] {
        assert!(!ask(&json!([changed])).status.success(), "a changed case passed: {changed}");
    }
}
