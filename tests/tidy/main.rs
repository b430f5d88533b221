//! The style rules that matter, as tests: they read the checkout and name file, line and what to do.
//!
//! Each rule is a function from a tree of files to findings, so that beside the test on the checkout there is one on
//! a few invented lines which shows that the rule does fire.

#![cfg(test)]

mod checkout;
mod circles;
mod code;
mod files;
mod manifest;
mod modules;
mod names;
mod old_words;
mod reach;
mod rounding;
mod size;
mod source;
mod tree;
mod walls;
