//! Where the program under test lies.

use std::path::PathBuf;

pub(crate) fn program() -> PathBuf {
    let named = std::env::var_os("TEAROFF_PROGRAM").map(PathBuf::from);
    named.unwrap_or_else(|| panic!("TEAROFF_PROGRAM is not set: run `cargo xtask test --only tests`"))
}
