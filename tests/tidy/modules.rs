//! Which file a `mod name;` leads to.

use std::collections::BTreeMap;

use crate::source::Source;

/// A module whose body is another file.
pub(crate) struct Named {
    /// The modules around it within its crate's file, and its name.
    pub(crate) below: Vec<String>,
    /// Where its file may be.
    pub(crate) files: Vec<String>,
    /// The line that names it, from 1.
    pub(crate) line: usize,
    test: bool,
}

/// The modules that a file names.
pub(crate) fn modules(path: &str, source: &Source, is_root: bool) -> Vec<Named> {
    let (folder, file) = path.rsplit_once('/').unwrap_or(("", path));
    let stem = file.trim_end_matches(".rs");
    let base = if is_root || stem == "mod" { folder.to_owned() } else { join(folder, stem) };
    let named = source.names.modules.iter().map(|module| {
        let name = &module.name;
        let base = join(&base, &module.inside.join("/"));
        let files = match &module.path {
            Some(named) => vec![join(folder, named)],
            None => vec![join(&base, &format!("{name}.rs")), join(&base, &format!("{name}/mod.rs"))],
        };
        let below = [&module.inside[..], std::slice::from_ref(name)].concat();
        Named { below, files, line: module.line, test: source.is_test(module.line) }
    });
    named.collect()
}

/// The files that a `mod` under `#[cfg(test)]` names.
pub(crate) fn test_only(sources: &BTreeMap<String, Source>) -> Vec<String> {
    let named = sources.iter().flat_map(|(path, source)| {
        let is_root = path.ends_with("/lib.rs") || path.ends_with("/main.rs");
        modules(path, source, is_root)
    });
    named.filter(|named| named.test).flat_map(|named| named.files).collect()
}

fn join(folder: &str, file: &str) -> String {
    let mut parts: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    for part in file.split('/').filter(|part| !part.is_empty()) {
        if part == ".." {
            parts.pop();
        } else {
            parts.push(part);
        }
    }
    parts.join("/")
}
