//! The files of the checkout, or a few invented ones.

use std::collections::BTreeMap;
use std::fmt;
use std::path::Path;
use std::process::Command;

use crate::modules::test_only;
use crate::source::Source;

/// One place that breaks a rule.
#[derive(Debug)]
pub(crate) struct Finding {
    /// The file, from the top of the checkout.
    pub(crate) path: String,
    /// The line, from 1.
    pub(crate) line: usize,
    /// What is wrong and what to do.
    pub(crate) says: String,
}

impl Finding {
    pub(crate) fn new(path: &str, line: usize, says: impl Into<String>) -> Self {
        Self { path: path.to_owned(), line, says: says.into() }
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}:{}: {}", self.path, self.line, self.says)
    }
}

/// The text files of a checkout by path, and the Rust ones taken apart. Other files are known by their path alone.
pub(crate) struct Tree {
    /// Every path, pictures and the like included.
    pub(crate) paths: Vec<String>,
    /// The files that are text.
    pub(crate) texts: BTreeMap<String, String>,
    /// The Rust files.
    pub(crate) sources: BTreeMap<String, Source>,
}

impl Tree {
    /// Reads what git has or would take: a rule should speak before the commit, not after.
    pub(crate) fn of_checkout() -> Self {
        let top =
            Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("the tests lie one folder below the top");
        let words = ["ls-files", "-z", "--cached", "--others", "--exclude-standard"];
        let listed = Command::new("git").args(words).current_dir(top).output().expect("git is installed");
        assert!(listed.status.success(), "git ls-files: {}", String::from_utf8_lossy(&listed.stderr));
        let listed = String::from_utf8(listed.stdout).expect("paths are UTF-8");
        let mut paths = Vec::new();
        let mut texts = BTreeMap::new();
        for path in listed.split('\0').filter(|path| !path.is_empty()) {
            // A file that git still lists may be gone already; its deletion is simply not committed yet.
            let Ok(bytes) = std::fs::read(top.join(path)) else { continue };
            paths.push(path.to_owned());
            if let Ok(text) = String::from_utf8(bytes) {
                texts.insert(path.to_owned(), text);
            }
        }
        assert!(
            texts.contains_key("Cargo.toml"),
            "the top of the checkout was not found at {}",
            top.display()
        );
        Self::with(paths, texts)
    }

    /// A tree of invented files.
    pub(crate) fn of(files: &[(&str, &str)]) -> Self {
        let paths = files.iter().map(|(path, _)| (*path).to_owned()).collect();
        Self::with(paths, files.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())).collect())
    }

    fn with(paths: Vec<String>, texts: BTreeMap<String, String>) -> Self {
        let rust = texts.iter().filter(|(path, _)| path.ends_with(".rs"));
        let mut sources: BTreeMap<String, Source> =
            rust.map(|(path, text)| (path.clone(), parse(path, text))).collect();
        for path in test_only(&sources) {
            if let Some(source) = sources.get_mut(&path) {
                source.all_is_test();
            }
        }
        Self { paths, texts, sources }
    }

    /// The lines of Rust that are shipped: path, line from 1, and the line without comments and string contents.
    pub(crate) fn shipped(&self) -> impl Iterator<Item = (&str, usize, &str)> {
        self.lines().filter_map(|(path, line, code, test)| (!test).then_some((path, line, code)))
    }

    /// All lines of Rust, and whether each is part of a test.
    pub(crate) fn lines(&self) -> impl Iterator<Item = (&str, usize, &str, bool)> {
        self.sources.iter().flat_map(|(path, source)| {
            source.lines().map(move |(line, code)| (path.as_str(), line, code, source.is_test(line)))
        })
    }
}

fn parse(path: &str, text: &str) -> Source {
    Source::parse(text, is_under_tests(path)).unwrap_or_else(|error| {
        panic!(
            "{path}:{}: {error}. Put it right first; no rule can be looked for.",
            error.span().start().line
        )
    })
}

fn is_under_tests(path: &str) -> bool {
    path.starts_with("tests/") || path.contains("/tests/") || path.contains("/benches/")
}

#[test]
fn a_finding_reads_as_path_line_and_advice() {
    assert_eq!(Finding::new("a/b.rs", 7, "Do this.").to_string(), "a/b.rs:7: Do this.");
}

#[test]
fn a_file_named_by_a_test_module_is_all_test() {
    let tree = Tree::of(&[("src/lib.rs", "#[cfg(test)]\nmod table;\n"), ("src/table.rs", "fn rows() {}\n")]);
    assert!(tree.shipped().all(|(path, _, _)| path != "src/table.rs"));
}
