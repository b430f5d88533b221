//! The style rules that matter, as tests: they read the checkout and name file, line and what to do.
//!
//! Each rule is a function from a tree of files to findings, so that beside the test on the checkout there is one on
//! a few invented lines which shows that the rule does fire.

#![cfg(test)]

mod code;
mod files;
mod manifest;
mod reach;
mod size;
mod source;
mod tree;
mod walls;

use std::sync::LazyLock;

use tree::{Finding, Tree};

static CHECKOUT: LazyLock<Tree> = LazyLock::new(Tree::of_checkout);

/// The checkout keeps the rule; if not, every place that breaks it is listed.
fn kept(rule: fn(&Tree) -> Vec<Finding>) {
    let found: Vec<String> = rule(&CHECKOUT).iter().map(ToString::to_string).collect();
    assert!(found.is_empty(), "{} to put right:\n{}", found.len(), found.join("\n"));
}

/// The places, as `path:line`, at which the rule fires on invented files.
fn fires(rule: fn(&Tree) -> Vec<Finding>, files: &[(&str, &str)]) -> Vec<String> {
    rule(&Tree::of(files)).iter().map(|finding| format!("{}:{}", finding.path, finding.line)).collect()
}
