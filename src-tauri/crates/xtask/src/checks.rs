//! The checks that cargo does: format, lints, tests, documentation.

use crate::built::{CASES, Test, built_tests};
use crate::checkout::Checkout;
use crate::outcome::Outcome;
use crate::side_by_side::side_by_side;
use crate::trouble::Trouble;
use crate::{machine, page, python};

/// The code is formatted as `.rustfmt.toml` says.
pub(crate) fn fmt(checkout: &Checkout) -> Result<Outcome, Trouble> {
    checkout.cargo().args(["fmt", "--all", "--check"]).run()?;
    Ok(Outcome::Passed)
}

/// No lint anywhere, tests and optional parts included.
pub(crate) fn clippy(checkout: &Checkout) -> Result<Outcome, Trouble> {
    page::ready(checkout)?;
    let words = ["clippy", "--workspace", "--all-targets", "--all-features", "--", "-D", "warnings"];
    checkout.cargo().args(words).run()?;
    Ok(Outcome::Passed)
}

/// The window's cases are behind a feature, so that a plain `cargo test --workspace` needs no display.
const WITH_CASES: [&str; 2] = ["--features", "acceptance/window"];

/// Builds the whole workspace as the tests use it, programs and tests in one call, and gives the tests.
///
/// One call on purpose: cargo chooses the features of the packages below by what is asked for, so that asking for the
/// programs apart from the tests builds the typesetter twice, and for the window's cases apart from the other tests all
/// tests.
pub(crate) fn build_all(checkout: &Checkout) -> Result<Vec<Test>, Trouble> {
    page::ready(checkout)?;
    let build = || checkout.cargo().args(["build", "--workspace", "--all-targets"]).args(WITH_CASES);
    build().run()?;
    // Built already; then cargo is asked where it put them.
    built_tests(&build().args(["--quiet", "--message-format", "json"]).read()?)
}

/// The tests that take seconds: those within the crates, and what can be read off the source.
pub(crate) fn quick_tests(checkout: &Checkout) -> Result<(), Trouble> {
    page::ready(checkout)?;
    let tests = ["test", "--workspace", "--quiet", "--lib", "--bins", "--test", "tidy"];
    checkout.cargo().args(tests).args(WITH_CASES).run()
}

/// Every test of the workspace but the window's, which needs a display of its own. They run side by side: most of them
/// wait at their end for one last thread.
///
/// The tests find Python in `TEAROFF_PYTHON` and the command line in `TEAROFF_PROGRAM`.
pub(crate) fn tests(checkout: &Checkout) -> Result<Outcome, Trouble> {
    let python = python::ready(checkout)?;
    // The acceptance tests start the program itself, and cargo builds another crate's program only when asked to.
    let tests = build_all(checkout)?;
    let program = checkout.built("debug", "tearoff");
    let calls = tests.into_iter().filter(|test| test.name != CASES).map(|test| {
        let call = test.call().env("TEAROFF_PYTHON", &python).env("TEAROFF_PROGRAM", &program);
        // What the program keeps of ledgers outside them is the build's, not this person's.
        let call = call.env("TEAROFF_STATE_DIR", checkout.built("tmp", "state"));
        // Where the step `machine` looks after the machine, every kind of store must be tried.
        if machine::is_looked_after() { call.env("TEAROFF_SERVERS", "1") } else { call }
    });
    // All of them, even after a failure: one round should name everything there is to put right.
    side_by_side(calls.collect())?;
    Ok(Outcome::Passed)
}

/// The documentation of our own crates builds, and no link in it leads nowhere.
///
/// Private items are documented too, because the readers of these pages are those who work on the crates; so a link
/// to a private item leads somewhere and is no fault. What stands in it as an example is run.
pub(crate) fn docs(checkout: &Checkout) -> Result<Outcome, Trouble> {
    page::ready(checkout)?;
    let docs = checkout.cargo().args(["doc", "--workspace", "--no-deps", "--document-private-items"]);
    docs.env("RUSTDOCFLAGS", "-D warnings -A rustdoc::private-intra-doc-links").run()?;
    checkout.cargo().args(["test", "--workspace", "--doc", "--quiet"]).args(WITH_CASES).run()?;
    Ok(Outcome::Passed)
}
