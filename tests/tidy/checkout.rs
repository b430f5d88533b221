//! The checkout, and how a rule is held against it or against a few invented files.

use std::sync::LazyLock;

use crate::tree::{Finding, Tree};

pub(crate) static CHECKOUT: LazyLock<Tree> = LazyLock::new(Tree::of_checkout);

/// The checkout keeps the rule; if not, every place that breaks it is listed.
pub(crate) fn kept(rule: fn(&Tree) -> Vec<Finding>) {
    let found: Vec<String> = rule(&CHECKOUT).iter().map(ToString::to_string).collect();
    assert!(found.is_empty(), "{} to put right:\n{}", found.len(), found.join("\n"));
}

/// The places, as `path:line`, at which the rule fires on invented files.
pub(crate) fn fires(rule: fn(&Tree) -> Vec<Finding>, files: &[(&str, &str)]) -> Vec<String> {
    rule(&Tree::of(files)).iter().map(|finding| format!("{}:{}", finding.path, finding.line)).collect()
}

#[test]
fn the_checkout_is_really_read() {
    let tree = &CHECKOUT;
    assert!(tree.sources.contains_key("tests/tidy/tree.rs"));
    assert!(tree.shipped().any(|(path, _, _)| path.starts_with("src-tauri/crates/trade/")));
    assert!(tree.lines().any(|(path, _, _, test)| path == "tests/tidy/tree.rs" && test));
}
