//! The `Cargo.toml` of a package: its roots and what it depends on.

use toml::{Table, Value};

use crate::tree::Tree;

/// A package's manifest.
pub(crate) struct Manifest {
    /// Its path, from the top of the checkout.
    pub(crate) path: String,
    /// The package's name.
    pub(crate) name: String,
    table: Table,
}

/// A package that another one names.
pub(crate) struct Dependency {
    /// The name of the package, not that under which it is used.
    pub(crate) name: String,
    /// Whether only tests have it.
    pub(crate) for_tests: bool,
}

impl Manifest {
    /// Every package of the tree. The workspace's own manifest is none.
    pub(crate) fn all(tree: &Tree) -> Vec<Self> {
        let manifests = tree
            .texts
            .iter()
            .filter(|(path, _)| path.as_str() == "Cargo.toml" || path.ends_with("/Cargo.toml"));
        manifests
            .filter_map(|(path, text)| {
                let table: Table = text.parse().unwrap_or_else(|error| panic!("{path}: {error}"));
                let name = table.get("package")?.get("name")?.as_str()?.to_owned();
                Some(Self { path: path.clone(), name, table })
            })
            .collect()
    }

    /// What it names under `[dependencies]`, `[dev-dependencies]`, `[build-dependencies]`, for any target.
    pub(crate) fn dependencies(&self) -> Vec<Dependency> {
        let targets = self.table.get("target").and_then(Value::as_table).into_iter().flat_map(Table::values);
        let places = targets.filter_map(Value::as_table).chain([&self.table]);
        let mut found = Vec::new();
        for place in places {
            for list in ["dependencies", "dev-dependencies", "build-dependencies"] {
                let listed = place.get(list).and_then(Value::as_table).into_iter().flatten();
                found.extend(listed.map(|(key, value)| Dependency {
                    name: value.get("package").and_then(Value::as_str).unwrap_or(key).to_owned(),
                    for_tests: list == "dev-dependencies",
                }));
            }
        }
        found
    }

    /// Whether it takes the workspace's one lint table.
    pub(crate) fn has_house_lints(&self) -> bool {
        self.table.get("lints").and_then(|lints| lints.get("workspace")).and_then(Value::as_bool)
            == Some(true)
    }

    /// The line, from 1, on which the manifest first says `word`; 1 if it does not.
    pub(crate) fn line_of(&self, tree: &Tree, word: &str) -> usize {
        let lines = tree.texts.get(&self.path).map(|text| text.lines()).into_iter().flatten();
        lines.into_iter().position(|line| line.starts_with(word)).map_or(1, |index| index + 1)
    }

    /// The files that cargo compiles first, of every package in the tree. Some of them may not be there.
    pub(crate) fn all_roots(tree: &Tree) -> Vec<String> {
        Self::all(tree).iter().flat_map(|manifest| manifest.roots(&tree.paths)).collect()
    }

    /// The files that cargo compiles first: those that the manifest names and those that cargo looks for by itself.
    fn roots(&self, paths: &[String]) -> Vec<String> {
        let folder = self.path.trim_end_matches("Cargo.toml");
        let mut found: Vec<String> =
            ["src/lib.rs", "src/main.rs", "build.rs"].iter().map(|root| format!("{folder}{root}")).collect();
        if let Some(path) = self.table.get("lib").and_then(|lib| lib.get("path")).and_then(Value::as_str) {
            found.push(format!("{folder}{path}"));
        }
        for kind in ["bin", "test", "bench", "example"] {
            let listed = self.table.get(kind).and_then(Value::as_array).into_iter().flatten();
            let named = listed.filter_map(|target| target.get("path").and_then(Value::as_str));
            found.extend(named.map(|path| format!("{folder}{path}")));
        }
        for (place, switch) in [
            ("src/bin/", "autobins"),
            ("tests/", "autotests"),
            ("benches/", "autobenches"),
            ("examples/", "autoexamples"),
        ] {
            let off =
                self.table.get("package").and_then(|package| package.get(switch)).and_then(Value::as_bool);
            if off == Some(false) {
                continue;
            }
            let place = format!("{folder}{place}");
            let by_itself = paths.iter().filter(|path| {
                let inside = path.strip_prefix(&place).filter(|inside| inside.ends_with(".rs"));
                inside.is_some_and(|inside| {
                    !inside.contains('/') || inside.matches('/').count() == 1 && inside.ends_with("/main.rs")
                })
            });
            found.extend(by_itself.cloned());
        }
        found
    }
}

#[test]
fn dependencies_of_every_table_are_seen_by_their_package_name() {
    let text = "[package]\nname = \"a\"\n[dependencies]\nb.workspace = true\nc = { package = \"d\", version = \"1\" }\n\
                [dev-dependencies]\ne = \"1\"\n[target.'cfg(unix)'.dependencies]\nf = \"1\"\n";
    let manifests = Manifest::all(&Tree::of(&[("x/Cargo.toml", text)]));
    let mut names: Vec<(String, bool)> = manifests[0]
        .dependencies()
        .into_iter()
        .map(|dependency| (dependency.name, dependency.for_tests))
        .collect();
    names.sort();
    let expected = [("b", false), ("d", false), ("e", true), ("f", false)];
    assert_eq!(names, expected.map(|(name, for_tests)| (name.to_owned(), for_tests)));
}
