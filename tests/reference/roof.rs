//! Random roofs, held against shapely's areas and against distances and areas in space.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot read its own figures should stop")]

use std::path::Path;
use std::process::Command;

use serde_json::Value;
use trade::roof::{Measured, Roof, measure};
use trade::{EdgeKind, Qty};

/// Has Python make so many random roofs, and say what they measure.
fn cases(seed: &str, count: &str) -> Vec<Value> {
    let Some(python) = std::env::var_os("TEAROFF_PYTHON") else {
        panic!(
            "TEAROFF_PYTHON is not set. Run `cargo xtask test`, which sets it; or make an environment with \
             `python3 -m venv DIR && DIR/bin/pip install -r tests/requirements.txt` and set TEAROFF_PYTHON to \
             DIR/bin/python."
        );
    };
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/roof.py");
    let out = Command::new(python).arg(script).args([seed, count]).output().unwrap();
    let said = String::from_utf8_lossy(&out.stderr);
    assert!(out.status.success(), "Python says:\n{said}");
    serde_json::from_slice(&out.stdout).unwrap()
}

fn figure(value: &Value) -> Qty {
    Qty::parse(value.as_str().unwrap()).unwrap()
}

/// The corners are given to a ten-thousandth of an inch, so the figures agree to two thousandths of a foot; the area of
/// a plane as large as a warehouse, whose edges each lie off by as much, to a millionth of it.
fn near(ours: Qty, theirs: Qty) -> bool {
    let slack = 20 + theirs.e4() / 1_000_000;
    (ours - theirs).e4().abs() <= slack
}

/// What of a roof does not measure as Python says.
fn differences(measured: &Measured, case: &Value) -> Vec<String> {
    let mut found = Vec::new();
    for (ours, theirs) in measured.sections.iter().zip(case["sections"].as_array().unwrap()) {
        for (what, ours, theirs) in [
            ("plan", ours.plan_sqft, figure(&theirs["plan_sqft"])),
            ("area", ours.area_sqft, figure(&theirs["area_sqft"])),
        ] {
            if !near(ours, theirs) {
                found.push(format!("{what} of {}: {ours} and {theirs}", case["sections"]));
            }
        }
    }
    for kind in EdgeKind::ALL {
        let (ours, theirs) = (measured.length_ft(*kind), &case["lengths_ft"][kind.as_str()]);
        let theirs = if theirs.is_null() { Qty::ZERO } else { figure(theirs) };
        if !near(ours, theirs) {
            found.push(format!("{kind}: {ours} and {theirs}"));
        }
    }
    let (ours, theirs) = (measured.attic_floor_sqft, figure(&case["attic_sqft"]));
    if !near(ours, theirs) {
        found.push(format!("attic floor: {ours} and {theirs}"));
    }
    found
}

#[test]
fn random_roofs_measure_as_they_stand_in_space() {
    let mut seen = 0;
    for case in cases("20261125", "1000") {
        let roof: Roof = serde_json::from_value(case["roof"].clone()).unwrap();
        let measured = measure(&roof).unwrap_or_else(|wrong| panic!("{wrong:?}\n{}", case["roof"]));
        assert_eq!(measured.sections.len(), case["sections"].as_array().unwrap().len());
        assert_eq!(differences(&measured, &case), Vec::<String>::new(), "{}", case["roof"]);
        seen += 1;
    }
    assert_eq!(seen, 1000);
}

/// The opinion is worth something only if it can be a bad one.
#[test]
fn another_slope_is_seen() {
    for case in cases("7", "20") {
        let mut roof: Roof = serde_json::from_value(case["roof"].clone()).unwrap();
        for section in &mut roof.sections {
            section.slope += Qty::from_e4(2_000);
        }
        // Where the steeper planes no longer meet, the roof is refused; where they do, its figures differ.
        if let Ok(measured) = measure(&roof) {
            assert!(!differences(&measured, &case).is_empty(), "{}", case["roof"]);
        }
    }
}
