//! The chores that take long and are no part of `test`: measuring, soaking, and the dependencies' whole record.

use std::path::PathBuf;

use crate::call::Call;
use crate::checkout::Checkout;
use crate::trouble::Trouble;
use crate::{python, unkept, window};

/// What `deny` is done with.
const DENY: &str = "cargo-deny";
const DENY_VERSION: &str = "0.20.2";

/// What changes the code to see whether a test notices.
const MUTANTS: &str = "cargo-mutants";
const MUTANTS_VERSION: &str = "27.1.0";

/// Measures the release build; the words go to the bench. The window is built only if it is to be measured.
///
/// All of it is built in one go: each by itself would ask other people's code for other features, and build it again.
pub(crate) fn bench(checkout: &Checkout, words: &[String]) -> Result<(), Trouble> {
    let only = words.windows(2).find(|pair| pair[0] == "--only").map(|pair| pair[1].as_str());
    let with_window = only.is_none_or(|part| part == "window") && window::can_be_measured(checkout)?;
    let with_program = only != Some("window");
    let bench = ["--package", "acceptance", "--features", "acceptance/window", "--bin", "bench"];
    let mut build = checkout.cargo().args(["build", "--release"]).args(bench);
    if with_window {
        build = build.args(window::MEASURED);
    }
    if with_program {
        build = build.args(["--package", "tearoff", "--bin", "tearoff"]);
    }
    build.run()?;
    let mut bench = Call::new(checkout.built("release", "bench")).dir(&checkout.top).args(words);
    if with_window {
        bench = window::to_measure(checkout, bench)?;
    }
    if with_program {
        bench = bench.env("TEAROFF_PROGRAM", checkout.built("release", "tearoff"));
        // Without the others the bench says what it did not measure against.
        match python::ready_to_bench(checkout) {
            Ok(python) => bench = bench.env("TEAROFF_BENCH_PYTHON", python),
            Err(trouble) => println!("  DuckDB and polars are not here: {trouble}"),
        }
    }
    bench.run()
}

/// The tests with long loops: faults, hand-offs, histories of settings, random books, devices over stores that lie, a
/// year dealt among devices, inputs made wrong, and ten minutes of everything at once. They read `TEAROFF_SOAK` and do
/// many more rounds of the same cases.
pub(crate) fn soak(checkout: &Checkout) -> Result<(), Trouble> {
    checkout.cargo().args(["build", "--release", "--package", "tearoff"]).run()?;
    let faults = checkout.cargo().args(["test", "--release", "--package", "acceptance", "--test", "faults"]);
    let program = checkout.built("release", "tearoff");
    faults.args(["--", "--nocapture"]).env("TEAROFF_SOAK", "1").env("TEAROFF_PROGRAM", program).run()?;
    let long = [
        ("office", "own_day"),
        ("exchange", "simulation"),
        ("ledger", "books"),
        ("intake", "import"),
        ("acceptance", "hand_off"),
        ("acceptance", "fuzz"),
        ("acceptance", "year"),
        ("acceptance", "storm"),
    ];
    for (package, test) in long {
        let test = checkout.cargo().args(["test", "--release", "--package", package, "--test", test]);
        test.args(["--", "--nocapture"]).env("TEAROFF_SOAK", "1").run()?;
    }
    Ok(())
}

/// Changes the trade's arithmetic and the ledger line by line, runs their own tests each time, and lists what none of
/// them noticed. All of it takes days; `--file`, `--re` and `--shard` take a part.
pub(crate) fn mutants(checkout: &Checkout, words: &[String]) -> Result<(), Trouble> {
    let install = ["install", MUTANTS, "--version", MUTANTS_VERSION, "--locked", "--root"];
    checkout.cargo().args(install).arg(checkout.tools()).run()?;
    let tool = checkout.tools().join("bin").join(MUTANTS);
    let of = ["mutants", "--package", "trade", "--package", "ledger", "--output"];
    Call::new(&tool).dir(&checkout.top).args(of).arg(&checkout.target).args(words).run()
}

/// Licenses, bans and sources by cargo-deny, who keeps what, and advisories where their data is on this machine.
///
/// Not part of `test`: the tool takes three minutes to build. `cargo xtask test --only licenses` is its quick relative.
pub(crate) fn deny(checkout: &Checkout) -> Result<(), Trouble> {
    let install = ["install", DENY, "--version", DENY_VERSION, "--locked", "--root"];
    checkout.cargo().args(install).arg(checkout.tools()).run()?;
    let tool = checkout.tools().join("bin").join(DENY);
    let call = || Call::new(&tool).dir(&checkout.top).args(["--config", ".deny.toml"]);
    call().args(["check", "licenses", "bans", "sources"]).run()?;
    unkept::check(checkout)?;
    if advisories_are_here() {
        call().args(["--offline", "check", "advisories"]).run()?;
        println!("licenses, bans, sources and advisories: all well");
    } else {
        println!(
            "licenses, bans and sources: all well. Advisories were not checked: their data is not on this machine, \
             and it does not come from a package registry. `cargo deny fetch` brings it where the network allows."
        );
    }
    Ok(())
}

/// Whether a fetch has left the advisories in cargo's own folder.
fn advisories_are_here() -> bool {
    let cargo_home = std::env::var_os("CARGO_HOME").map(PathBuf::from);
    let cargo_home = cargo_home.or_else(|| std::env::home_dir().map(|home| home.join(".cargo")));
    let Some(folder) = cargo_home.map(|home| home.join("advisory-dbs")) else { return false };
    folder.read_dir().is_ok_and(|entries| entries.flatten().any(|entry| entry.path().is_dir()))
}
