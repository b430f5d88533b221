//! The dependencies that nobody keeps: no version for four years, or the last one says so itself. Each must stand in
//! DEVELOPERS.md with what to do, so that a new one is looked at once.
//!
//! The days are those of the registry's index, as cargo keeps it on this machine; nothing is fetched.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::{SystemTime, UNIX_EPOCH};

use crate::checkout::{Checkout, read};
use crate::trouble::Trouble;

/// So many years without a version.
const YEARS: u64 = 4;

/// The heading of the list.
const HEADING: &str = "## Dependencies that nobody keeps";

/// Names those without a version for years, and refuses one that the list does not have.
pub(crate) fn check(checkout: &Checkout) -> Result<(), Trouble> {
    let Some(index) = index() else {
        println!(
            "Who keeps what was not looked at: cargo's copy of the registry's index is not on this machine."
        );
        return Ok(());
    };
    let found =
        unkept(&read(&checkout.top.join("Cargo.lock"))?, this_year().saturating_sub(YEARS), &|name| {
            let bytes = std::fs::read(index.join(place_of(name))).ok()?;
            Some(String::from_utf8_lossy(&bytes).into_owned())
        })?;
    let document = read(&checkout.top.join("DEVELOPERS.md"))?;
    let listed = document.split_once(HEADING).map_or("", |(_, after)| after);
    let listed = listed.split("\n## ").next().unwrap_or_default();
    let unlisted: Vec<String> = found
        .iter()
        .filter(|(name, _)| !listed.contains(&format!("`{name}`")))
        .map(|(name, last)| format!("{name}, last published {last}"))
        .collect();
    if unlisted.is_empty() {
        println!("{} packages without a version for {YEARS} years, each on the list", found.len());
        return Ok(());
    }
    Err(Trouble::said(format!(
        "Nobody seems to keep:\n{}\nSay under “{}” in DEVELOPERS.md what is to be done about it.",
        unlisted.join("\n"),
        HEADING.trim_start_matches("## ")
    )))
}

/// The packages of a lock file whose newest version is of that year or before, each with the day of it.
fn unkept(
    lock: &str,
    year: u64,
    index_of: &dyn Fn(&str) -> Option<String>,
) -> Result<BTreeMap<String, String>, Trouble> {
    let table: toml::Table =
        lock.parse().map_err(|error| Trouble::said(format!("Cargo.lock could not be read: {error}")))?;
    let packages = table.get("package").and_then(toml::Value::as_array).into_iter().flatten();
    let mut found = BTreeMap::new();
    for package in packages.filter(|package| package.get("source").is_some()) {
        let text = |field: &str| package.get(field).and_then(toml::Value::as_str).unwrap_or_default();
        let Some(last) = index_of(text("name")).and_then(|index| last_published(&index)) else { continue };
        let is_old = last.get(..4).and_then(|digits| digits.parse().ok()).is_some_and(|of: u64| of <= year);
        if is_old || text("version").contains("deprecated") {
            found.insert(text("name").to_owned(), last);
        }
    }
    Ok(found)
}

/// The latest day on which a version was published, out of a package's part of the index.
fn last_published(index: &str) -> Option<String> {
    let after = index.split("\"pubtime\":").skip(1);
    let days = after.filter_map(|rest| rest.trim_start().strip_prefix('"')?.get(..10).map(str::to_owned));
    days.max()
}

/// Where cargo keeps the index; the first one, where there are several registries.
fn index() -> Option<PathBuf> {
    let home = std::env::var_os("CARGO_HOME").map(PathBuf::from);
    let home = home.or_else(|| std::env::home_dir().map(|home| home.join(".cargo")))?;
    let registries = home.join("registry/index").read_dir().ok()?;
    registries.flatten().map(|registry| registry.path().join(".cache")).find(|cache| cache.is_dir())
}

/// A package's place in the index, by its name's length and first letters.
fn place_of(name: &str) -> PathBuf {
    let name = name.to_lowercase();
    match name.len() {
        1 | 2 => Path::new(&name.len().to_string()).join(&name),
        3 => Path::new("3").join(&name[..1]).join(&name),
        _ => Path::new(&name[..2]).join(&name[2..4]).join(&name),
    }
}

fn this_year() -> u64 {
    // Seconds of a year by the Gregorian calendar, 365.2425 days.
    let since = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
    1970 + since / 31_556_952
}

#[cfg(test)]
mod tests {
    use super::*;

    const LOCK: &str = "[[package]]\nname = \"ours\"\nversion = \"0.1.0\"\n\n\
        [[package]]\nname = \"nail\"\nversion = \"1.0.0\"\nsource = \"x\"\n\n\
        [[package]]\nname = \"shim\"\nversion = \"2.0.0+deprecated\"\nsource = \"x\"\n\n\
        [[package]]\nname = \"ridge\"\nversion = \"1.0.0\"\nsource = \"x\"\n";

    fn index_of(name: &str) -> Option<String> {
        let line = |day: &str| format!("1.0.0\0{{\"vers\": \"1.0.0\", \"pubtime\": \"{day}T10:00:00Z\"}}\n");
        match name {
            "nail" => Some(line("2019-03-04") + &line("2021-12-31")),
            "shim" => Some(line("2026-01-02")),
            "ridge" => Some(line("2020-01-02") + &line("2025-01-02")),
            _ => None,
        }
    }

    #[test]
    fn what_has_no_new_version_or_says_so_itself_is_named_with_its_last_day() {
        let found = unkept(LOCK, 2022, &index_of).unwrap();
        let expected = [("nail", "2021-12-31"), ("shim", "2026-01-02")];
        assert_eq!(found, expected.map(|(name, day)| (name.to_owned(), day.to_owned())).into());
    }

    #[test]
    fn a_package_lies_in_the_index_by_the_letters_of_its_name() {
        let places = ["a", "ab", "abc", "Abcd"].map(|name| place_of(name).display().to_string());
        assert_eq!(places, ["1/a", "2/ab", "3/a/abc", "ab/cd/abcd"]);
    }
}
