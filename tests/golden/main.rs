//! A ledger of each version of the file, kept as the program of its time wrote it: it is opened, brought up to date,
//! verified, and asked for the figures that it gave then.
//!
//! `versions.json` names each version with the digest of its migrations and the release that wrote it first. Until a
//! release has it, the newest one follows the migrations: `TEAROFF_WRITE_GOLDEN=1 cargo test -p acceptance --test
//! golden` makes it anew of the made-up firm. After that it is never written again, and neither are its migrations: a
//! change is the next number, with a golden file of its own. `TEAROFF_WRITE_GOLDEN=answers` writes only the figures
//! anew, for a rule that was changed on purpose: the difference is to be read before it is kept.

#![cfg(test)]

use ledger::{Digest, Ledger, Reader, back_up, verify};
use office::{Clock, Desk, Figure, booked_months, month_end};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

const WRITE: &str = "TEAROFF_WRITE_GOLDEN";

/// How hard it is packed: it is written once and read often.
const LEVEL: i32 = 19;

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
struct Version {
    version: i64,
    /// The digest of its migrations, one after the other.
    migrations: String,
    /// The release that wrote it first, once there is one.
    release: Option<String>,
}

fn here(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("golden").join(name)
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn versions() -> Vec<Version> {
    serde_json::from_str(&read(&here("versions.json"))).expect("versions.json is a list of versions")
}

/// The texts of the migrations, in order.
fn migrations() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../migrations");
    let mut paths: Vec<PathBuf> =
        std::fs::read_dir(folder).expect("the migrations").map(|file| file.expect("a file").path()).collect();
    paths.sort();
    paths.iter().map(|path| read(path)).collect()
}

fn digest_of(migrations: &[String]) -> String {
    Digest::of(migrations.concat().as_bytes()).to_string()
}

/// Whether the newest heading of the changelog is a release, and which headings there are.
fn releases(changelog: &str) -> (bool, Vec<&str>) {
    let after = changelog.split_once("## Changelog").map_or("", |(_, after)| after);
    let headings: Vec<&str> = after.lines().filter_map(|line| line.strip_prefix("### ")).collect();
    let newest_is_out = headings.first().is_some_and(|newest| !newest.ends_with("not yet tagged"));
    (newest_is_out, headings)
}

/// What is wrong with the list of versions, beside the migrations and the changelog as they stand.
fn wrong(versions: &[Version], migrations: &[String], changelog: &str) -> Vec<String> {
    let mut found = Vec::new();
    let (newest_is_out, headings) = releases(changelog);
    for (index, each) in versions.iter().enumerate() {
        let number = each.version;
        let own = usize::try_from(number).ok().and_then(|count| migrations.get(..count));
        let is_newest = index + 1 == versions.len();
        let stands = own.is_some_and(|own| digest_of(own) == each.migrations);
        match (&each.release, stands) {
            (Some(release), false) => found.push(format!(
                "version {number} came out with {release}, and its migrations were changed since: leave them as they \
                 were, and let the change be a migration of its own"
            )),
            (None, false) => found.push(format!(
                "the migrations are not those of the golden file of version {number}: make it anew with {WRITE}=1"
            )),
            _ => {}
        }
        match &each.release {
            Some(release)
                if !headings.iter().any(|heading| heading.split([',', ' ']).next() == Some(release)) =>
            {
                found.push(format!("version {number}: the changelog knows no release {release}"));
            }
            None if newest_is_out || !is_newest => {
                found.push(format!(
                    "version {number}: name the release that wrote it first, in versions.json"
                ));
            }
            _ => {}
        }
        if index > 0 && versions[index - 1].version + 1 != number {
            found.push(format!("version {number} does not follow the one before it"));
        }
    }
    let newest = versions.last().map(|each| each.version);
    if newest != i64::try_from(migrations.len()).ok() {
        found.push(format!(
            "there are {} migrations, and the newest golden file is of version {newest:?}: make one with {WRITE}=1",
            migrations.len()
        ));
    }
    found
}

/// The figures of every job in the last month and of the firm in each month, and where each chain ends: a line each.
fn answers(path: &Path) -> BTreeMap<String, String> {
    let mut told = BTreeMap::new();
    let desk = Desk::read(path, Clock::System).expect("the ledger opens");
    for (device, seq) in desk.books().device_ends().expect("the ends") {
        let hash = desk.books().entry_hash(&device, seq).expect("a hash").expect("an entry");
        told.insert(format!("chain {device}"), format!("{seq} {hash}"));
    }
    let (mut month, last) = booked_months(&desk).expect("months").expect("some");
    loop {
        let report = month_end(&desk, month).expect("a month end");
        for figure in Figure::all_of_firm() {
            if let Some(value) = figure.of_firm(&report.firm).flatten() {
                told.insert(format!("{month} firm {figure}"), value.to_string());
            }
        }
        for job in report.jobs.iter().filter(|_| month == last) {
            for figure in Figure::all_of_jobs() {
                if let Some(value) = figure.of_job(job) {
                    told.insert(format!("{month} {} {figure}", job.result.number), value.to_string());
                }
            }
        }
        if month == last {
            return told;
        }
        month = month.next();
    }
}

fn lines(answers: &BTreeMap<String, String>) -> String {
    answers.iter().map(|(of, value)| format!("{of} = {value}\n")).collect()
}

/// What was kept and is answered otherwise now. Figures that are new since then are not asked for.
fn otherwise(kept: &str, now: &BTreeMap<String, String>) -> Vec<String> {
    let kept = kept.lines().filter_map(|line| line.split_once(" = "));
    kept.filter(|(of, value)| now.get(*of).map(String::as_str) != Some(*value))
        .map(|(of, value)| format!("{of} was {value} and is {:?}", now.get(of)))
        .collect()
}

fn ledger_of(version: i64) -> PathBuf {
    here(&format!("{version}.tearoff.zst"))
}

fn figures_of(version: i64) -> PathBuf {
    here(&format!("{version}.figures"))
}

/// A golden file, laid out in a folder of this test's own.
fn laid_out(version: i64, folder: &Path) -> PathBuf {
    let packed = std::fs::File::open(ledger_of(version)).unwrap_or_else(|error| {
        panic!("the golden file of version {version}: {error}. Make it with {WRITE}=1")
    });
    let path = folder.join("firm.tearoff");
    std::fs::write(&path, zstd::decode_all(packed).expect("it unpacks")).expect("a file");
    path
}

/// Writes the newest one anew, as long as no release has it.
fn write_newest() {
    let migrations = migrations();
    let version = ledger::open::known_version();
    let mut list = versions();
    let is_out = |each: &Version| each.version == version && each.release.is_some();
    assert!(!list.iter().any(is_out), "version {version} came out and is never written anew");
    let home = tempfile::tempdir().expect("a folder");
    let (path, copy) = (home.path().join("firm.tearoff"), home.path().join("whole.tearoff"));
    drop(office::sample::write(&path, &mut |_, _| true).expect("the made-up firm"));
    assert!(back_up(&path, &copy, &mut |_| true).expect("a back-up").is_good());
    let packed = zstd::encode_all(std::fs::read(&copy).expect("a file").as_slice(), LEVEL).expect("it packs");
    std::fs::write(ledger_of(version), packed).expect("the golden file");
    std::fs::write(figures_of(version), lines(&answers(&copy))).expect("its figures");
    list.retain(|each| each.version != version);
    list.push(Version { version, migrations: digest_of(&migrations), release: None });
    let text = serde_json::to_string_pretty(&list).expect("a list");
    std::fs::write(here("versions.json"), text + "\n").expect("the list");
}

#[test]
fn a_file_of_every_version_opens_verifies_and_answers_as_it_did() {
    let asked = std::env::var(WRITE).unwrap_or_default();
    if asked == "1" {
        write_newest();
    }
    let list = versions();
    assert!(!list.is_empty());
    for Version { version, .. } in list {
        let home = tempfile::tempdir().expect("a folder");
        let path = laid_out(version, home.path());
        let is_old = version < ledger::open::known_version();
        if is_old {
            assert!(
                Reader::open(&path).is_err(),
                "version {version} is read before it is brought up to date"
            );
        }
        let before = std::fs::read(&path).expect("a file");
        drop(Ledger::open(&path).unwrap_or_else(|error| panic!("version {version}: {error}")));
        let copy = home.path().join(format!("firm.tearoff.before-version-{}", ledger::open::known_version()));
        assert_eq!(copy.exists(), is_old, "version {version}");
        let verdict = verify(&path, &mut |_| true).expect("a verdict");
        // Its papers and photos are no part of the file and were not kept.
        assert!(verdict.is_good_but_for_files(), "version {version}: {:#?}", verdict.problems);
        let now = answers(&path);
        if asked == "answers" {
            std::fs::write(figures_of(version), lines(&now)).expect("its figures");
        }
        let kept = read(&figures_of(version));
        assert!(kept.lines().count() > 500, "version {version} keeps hardly any figure");
        let otherwise = otherwise(&kept, &now);
        let few: Vec<&String> = otherwise.iter().take(20).collect();
        assert!(few.is_empty(), "version {version}: {} answers differ:\n{few:#?}", otherwise.len());
        // Back at rest, it is the same ledger for whoever restores it.
        std::fs::write(&path, &before).expect("as it was");
        let again = home.path().join("again.tearoff");
        let restored = ledger::restore(&path, &again, &mut |_| true).expect("it is restored");
        assert!(restored.is_good_but_for_files(), "version {version}: {:#?}", restored.problems);
        assert!(otherwise_of(&kept, &again).is_empty(), "version {version}, restored");
    }
}

fn otherwise_of(kept: &str, path: &Path) -> Vec<String> {
    otherwise(kept, &answers(path))
}

#[test]
fn every_version_has_its_golden_file_and_what_came_out_is_never_changed() {
    let developers = read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../DEVELOPERS.md"));
    let found = wrong(&versions(), &migrations(), &developers);
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn a_changed_migration_a_missing_file_and_a_release_without_a_name_are_found() {
    let steps = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect::<Vec<_>>();
    let version = |version, of: &[&str], release: Option<&str>| Version {
        version,
        migrations: digest_of(&steps(of)),
        release: release.map(str::to_owned),
    };
    let log =
        |newest: &str| format!("## Changelog\n\n### {newest}\n\nWords.\n\n### 0.1.0, a day in spring\n");
    let ahead = log("0.2.0, not yet tagged");
    let list = [version(1, &["one"], Some("0.1.0")), version(2, &["one", "two"], None)];
    let said =
        |steps_now: &[&str], list: &[Version], log: &str| wrong(list, &steps(steps_now), log).join("; ");
    assert_eq!(said(&["one", "two"], &list, &ahead), "");
    assert!(said(&["one, changed", "two"], &list, &ahead).contains("version 1 came out with 0.1.0, and its"));
    let of_two = said(&["one", "two, changed"], &list, &ahead);
    assert!(of_two.contains("not those of the golden file of version 2: make it anew"), "{of_two}");
    assert!(said(&["one", "two", "three"], &list, &ahead).contains("there are 3 migrations"));
    let out = log("0.2.0, a day in fall");
    assert!(said(&["one", "two"], &list, &out).contains("version 2: name the release that wrote it first"));
    let unknown = [version(1, &["one"], Some("0.9.0"))];
    assert!(said(&["one"], &unknown, &ahead).contains("the changelog knows no release 0.9.0"));
}

#[test]
fn an_answer_that_changed_or_went_is_told_and_a_new_one_is_not() {
    let now = BTreeMap::from([("b".to_owned(), "2".to_owned()), ("c".to_owned(), "3".to_owned())]);
    let told = otherwise("a = 1\nb = 3\nc = 3\n", &now);
    assert_eq!(told, ["a was 1 and is None", "b was 3 and is Some(\"2\")"]);
}
