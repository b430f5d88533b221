//! The programs of tests that cargo built, as it tells of them.

use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::call::Call;
use crate::trouble::Trouble;

/// What the cases that drive the window are called among the tests.
pub(crate) const CASES: &str = "window";

/// The program of one test, or of the tests within one crate.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Test {
    /// What it is called in its crate's own Cargo.toml.
    pub(crate) name: String,
    program: PathBuf,
    /// The folder of its crate, in which cargo would run it.
    folder: PathBuf,
}

impl Test {
    /// Its call, as cargo would make it.
    pub(crate) fn call(&self) -> Call {
        Call::new(&self.program).dir(&self.folder).env("CARGO_MANIFEST_DIR", &self.folder)
    }
}

/// The tests among what cargo built, from the JSON lines that it writes.
pub(crate) fn built_tests(listed: &str) -> Result<Vec<Test>, Trouble> {
    let lines = listed.lines().filter_map(|line| serde_json::from_str::<Value>(line).ok());
    let tests: Vec<Test> = lines.filter_map(|line| test(&line)).collect();
    if tests.is_empty() {
        return Err(Trouble::said("Cargo does not say where it put the tests."));
    }
    Ok(tests)
}

fn test(line: &Value) -> Option<Test> {
    if line["profile"]["test"] != true {
        return None;
    }
    let folder = Path::new(line["manifest_path"].as_str()?).parent()?;
    Some(Test {
        name: line["target"]["name"].as_str()?.to_owned(),
        program: line["executable"].as_str()?.into(),
        folder: folder.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tests_are_found_where_cargo_says_it_put_them_and_programs_are_none() {
        let listed = r#"{"manifest_path": "/t/Cargo.toml", "target": {"name": "bench"}, "profile": {"test": false}}
            {"manifest_path": "/t/Cargo.toml", "target": {"name": "a"}, "profile": {"test": true}, "executable": "/b/1"}
            {"reason": "build-finished", "success": true}"#;
        let test = Test { name: "a".to_owned(), program: "/b/1".into(), folder: "/t".into() };
        assert_eq!(built_tests(listed).unwrap(), [test]);
    }

    #[test]
    fn where_cargo_names_no_test_none_is_taken_for_passed() {
        let listed = r#"{"reason": "build-finished", "success": true}"#;
        assert!(built_tests(listed).unwrap_err().to_string().contains("where it put the tests"));
    }
}
