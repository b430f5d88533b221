//! Measures the ledger against raw SQLite on the same rows, and the window against an empty one of the same build, in
//! one run, and prints ratios. No figure here is a test: machines differ, ratios drift less.
//!
//! `cargo xtask bench` runs all of it; `--quick` a tenth of the size; `--jobs N --facts-a-job N` another size;
//! `--only ledger`, `--only exchange` or `--only window` a part.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::float_arithmetic
)]

mod exchanging;
mod firm;
mod peers;
mod raw;
mod roofs;
mod rows;
// The database is started as the tests of the store start it.
#[allow(dead_code)]
#[path = "../../src-tauri/crates/exchange/tests/simulation/server.rs"]
mod server;
mod times;
#[cfg(feature = "window")]
mod window;

// The window is driven as its tests drive it; the bench needs a part of what they can do.
#[cfg(feature = "window")]
#[allow(dead_code)]
#[path = "../window/desk.rs"]
mod desk;
#[cfg(feature = "window")]
#[allow(dead_code)]
#[path = "../window/driver.rs"]
mod driver;
#[cfg(feature = "window")]
#[allow(dead_code)]
#[path = "../window/hand.rs"]
mod hand;

use firm::{BigFirm, Size};
use jiff::ToSpan;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};
use times::{median, ratio};

fn main() {
    let mut size = Size { jobs: 4000, facts_a_job: 250 };
    let (mut ledger, mut exchange, mut window) = (true, true, true);
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        if word == "--only" {
            let part = words.next();
            let is = |name: &str| part.as_deref() == Some(name);
            (ledger, exchange, window) = (is("ledger"), is("exchange"), is("window"));
            assert!(ledger || exchange || window, "after --only comes “ledger”, “exchange” or “window”");
            continue;
        }
        let mut number = || words.next().and_then(|text| text.parse().ok()).expect("a whole number follows");
        match word.as_str() {
            "--quick" => size = Size { jobs: 400, facts_a_job: 250 },
            "--jobs" => size.jobs = number(),
            "--facts-a-job" => size.facts_a_job = number(),
            other => {
                panic!("“{other}” is not an option: use --quick, --jobs N, --facts-a-job N or --only PART")
            }
        }
    }
    let folder = PathBuf::from("target/bench");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    // The program is started elsewhere than here.
    let folder = folder.canonicalize().unwrap();
    if ledger {
        single_appends(&folder);
        bulk(&folder);
        roofs::take_off();
    }
    if exchange {
        exchanging::take_in_from_many(&folder);
        exchanging::day_of_a_crew(&folder);
    }
    let big = folder.join("big.tearoff");
    let firm = write_big_file(&big, size);
    if ledger {
        read_big_file(&big, &firm);
        import_of_hours(&folder);
        month_in_a_spreadsheet(&folder);
    }
    if exchange {
        exchanging::first_joining(&folder, &big, firm.facts);
    }
    if window {
        measure_window(&folder, &big, size.jobs);
    }
    let _ = std::fs::remove_dir_all(&folder);
}

/// One fact a transaction, each on the disk before the next: what a person at the desk waits for.
fn single_appends(folder: &Path) {
    let mut ours = firm::small(&folder.join("single.tearoff"));
    let mut raw = raw::Raw::of(&folder.join("single.raw"));
    let (mut our_times, mut raw_times) = (Vec::new(), Vec::new());
    for round in 0..400_u32 {
        let new = ours.time(round);
        let began = Instant::now();
        ours.append(std::slice::from_ref(&new));
        our_times.push(began.elapsed());
        let began = Instant::now();
        raw.insert(std::slice::from_ref(&new));
        raw_times.push(began.elapsed());
    }
    let (ours, raw) = (median(our_times), median(raw_times));
    println!(
        "single durable append    {ours:>10.1?}   raw {raw:>10.1?}   {:.2} of raw (aim ≥ 0.90)",
        ratio(ours, raw)
    );
}

/// A hundred thousand hours in one transaction, as an import writes them.
fn bulk(folder: &Path) {
    let mut our_times = Vec::new();
    let mut raw_times = Vec::new();
    for round in 0..3 {
        let mut ours = firm::small(&folder.join(format!("bulk-{round}.tearoff")));
        let mut raw = raw::Raw::of(&folder.join(format!("bulk-{round}.raw")));
        let batch: Vec<_> = (0..100_000).map(|at| ours.time(at)).collect();
        let began = Instant::now();
        raw.insert(&batch);
        raw_times.push(began.elapsed());
        let began = Instant::now();
        ours.append(&batch);
        our_times.push(began.elapsed());
    }
    let (ours, raw) = (median(our_times), median(raw_times));
    println!(
        "bulk of 100,000 hours    {ours:>10.1?}   raw {raw:>10.1?}   {:.2} of raw (aim ≥ 0.60)",
        ratio(ours, raw)
    );
}

#[cfg(feature = "window")]
fn measure_window(folder: &Path, big: &Path, jobs: u32) {
    let Some(programs) = window::Programs::named() else {
        println!("The window was not measured: it is not built or can't be driven here.");
        return;
    };
    if let Err(error) = window::measure(&programs, folder, big, jobs) {
        println!("The window was not measured to the end: {error}");
    }
}

#[cfg(not(feature = "window"))]
fn measure_window(_: &Path, _: &Path, _: u32) {
    println!("The window was not measured: this bench was built without it.");
}

fn write_big_file(path: &Path, size: Size) -> BigFirm {
    let began = Instant::now();
    let firm = BigFirm::write(path, size);
    let took = began.elapsed();
    println!(
        "a file of {} jobs and {} facts, {} MB, written in {took:.1?} ({:.0} facts a second)",
        size.jobs,
        firm.facts,
        std::fs::metadata(path).map(|meta| meta.len() / 1_000_000).unwrap_or(0),
        f64::from(firm.facts) / took.as_secs_f64()
    );
    firm
}

fn read_big_file(path: &Path, firm: &BigFirm) {
    let began = Instant::now();
    let verdict = ledger::verify::verify(path, &mut |_| true).expect("verifies");
    assert!(verdict.is_good(), "{:?}", verdict.problems);
    let took = began.elapsed();
    let began = Instant::now();
    let rows = raw::read_all(path);
    let reading = began.elapsed();
    println!(
        "verify                   {took:>10.1?}   {} entries a second for the chain; reading each of {rows} rows once \
         {reading:.1?}, {:.2} times (aim ≤ 2)",
        verdict.entries_a_second(),
        took.as_secs_f64() / reading.as_secs_f64()
    );
    month_ends(path, firm);
    while_it_is_read_through(path, firm);
    as_processes(path, firm);
    println!("peak memory              {} MB", peak_memory_mb());
}

fn month_ends(path: &Path, firm: &BigFirm) {
    let mut our_times = Vec::new();
    let mut raw_times = Vec::new();
    let mut jobs = 0;
    for _ in 0..7 {
        let began = Instant::now();
        let desk = office::Desk::read(path, office::Clock::System).expect("opens");
        let report = office::month_end(&desk, firm.last_month).expect("reports");
        our_times.push(began.elapsed());
        jobs = report.jobs.len();
        let began = Instant::now();
        raw::group_by(path);
        raw_times.push(began.elapsed());
    }
    let (ours, raw) = (median(our_times), median(raw_times));
    println!(
        "month end, {jobs} live jobs  {ours:>10.1?}   raw GROUP BY {raw:>10.1?}   {:.2} of its time \
         (aim ≤ 10 ms)",
        ours.as_secs_f64() / raw.as_secs_f64()
    );
}

/// How long a month end takes, several times.
fn month_end_of(path: &Path, firm: &BigFirm) -> Duration {
    let began = Instant::now();
    let desk = office::Desk::read(path, office::Clock::System).expect("opens");
    office::month_end(&desk, firm.last_month).expect("reports");
    began.elapsed()
}

/// What it costs whoever works that the file is read through in the background, each time that it is opened.
fn while_it_is_read_through(path: &Path, firm: &BigFirm) {
    let alone = median((0..7).map(|_| month_end_of(path, firm)).collect());
    let is_over = AtomicBool::new(false);
    let (meanwhile, read) = std::thread::scope(|scope| {
        let reads = scope.spawn(|| {
            let began = Instant::now();
            ledger::verify(path, &mut |_| !is_over.load(Ordering::Relaxed)).map(|_| began.elapsed())
        });
        let meanwhile = median((0..15).map(|_| month_end_of(path, firm)).collect());
        is_over.store(true, Ordering::Relaxed);
        (meanwhile, reads.join().expect("it reads"))
    });
    println!(
        "month end, read through  {meanwhile:>10.1?}   alone {alone:.1?}, {:.2} times{}",
        meanwhile.as_secs_f64() / alone.as_secs_f64(),
        if read.is_ok() { ", which was read to its end meanwhile" } else { "" }
    );
}

/// What a person at the command line waits for, from the program's start to its end.
fn as_processes(path: &Path, firm: &BigFirm) {
    let folder = path.parent().expect("a folder");
    let month = firm.last_month.to_string();
    let words = [OsStr::new("month-end"), path.as_os_str(), OsStr::new("--month"), OsStr::new(&month)];
    let Some(_) = peers::as_process(&words, folder) else {
        println!("The program as a process was not measured: TEAROFF_PROGRAM does not name it.");
        return;
    };
    let took = |words: &[&OsStr]| median((0..7).filter_map(|_| peers::as_process(words, folder)).collect());
    let ours = took(&words);
    let answer = peers::asked("sums", path);
    println!(
        "month end as a process   {ours:>10.1?}   sums of every line by job, code and month: {}, {} (aim ≤ 25 ms)",
        peers::beside(ours, answer.as_ref(), "duckdb"),
        peers::beside(ours, answer.as_ref(), "polars")
    );
    let desk = office::Desk::read(path, office::Clock::System).expect("opens");
    let report = office::month_end(&desk, firm.last_month).expect("reports");
    let job = &report.jobs.first().expect("a job").result.number;
    let words =
        [OsStr::new("job"), path.as_os_str(), OsStr::new(job), OsStr::new("--month"), OsStr::new(&month)];
    println!("a job's page, a process  {:>10.1?}   (aim < 50 ms in the window)", took(&words));
}

/// A CSV of a hundred thousand lines of hours, read, checked and recorded.
fn import_of_hours(folder: &Path) {
    let path = folder.join("hours.tearoff");
    drop(firm::small(&path));
    let mut desk = office::Desk::open(&path, office::Clock::System).expect("opens");
    let job = desk.books().all::<ledger::facts::Job>().expect("jobs")[0].fact.number.clone();
    let (people, codes) = (i64::from(firm::PEOPLE), firm::CODES);
    let mut text = "Date,Person,Job,Code,Hours\n".to_owned();
    // Of last year: a day that is long past is asked about. Everybody on every code each day, so that no line is said
    // twice.
    let first = office::Clock::System.today().saturating_sub(400.days());
    for (at, code) in (0..100_000_i64).zip(codes.iter().cycle()) {
        let person = at / 9 % people;
        let day = first.saturating_add((at / 9 / people).days());
        text.push_str(&format!("{day},Person {person},{job},{code},0.{}5\n", 2 + at % 3));
    }
    let csv = folder.join("hours.csv");
    std::fs::write(&csv, &text).expect("a file");
    let began = Instant::now();
    let bytes = std::fs::read(&csv).expect("a file");
    let parsed = intake::read(intake::Kind::Hours, &bytes, &intake::Choices::default());
    let applied = intake::apply(&mut desk, &parsed, &mut |_| true).expect("it is taken");
    let ours = began.elapsed();
    let answer = peers::asked("csv", &csv);
    println!(
        "CSV of {} hours      {ours:>10.1?}   {} (aim ≤ 2)",
        applied.rows,
        peers::beside(ours, answer.as_ref(), "polars")
    );
}

/// A month's hand-off by the program, and the same files opened and summed in a spreadsheet.
fn month_in_a_spreadsheet(folder: &Path) {
    let path = folder.join("sample.tearoff");
    drop(office::sample::write(&path, &mut |_, _| true).expect("the made-up firm"));
    let to = folder.join("hand-off");
    let (month, to_words) = ("2026-09", to.as_os_str());
    let words = [
        "hand-off".as_ref(),
        path.as_os_str(),
        "--month".as_ref(),
        month.as_ref(),
        "--to".as_ref(),
        to_words,
    ];
    let Some(ours) = peers::as_process(&words, folder) else { return };
    let made = std::fs::read_dir(&to).expect("a folder").next().expect("one").expect("one").path();
    let answer = peers::asked("spreadsheet", &made);
    println!(
        "a month's hand-off       {ours:>10.1?}   {}",
        peers::beside(ours, answer.as_ref(), "libreoffice")
    );
}

/// The most memory this process ever had, in megabytes.
fn peak_memory_mb() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM"));
    let kilobytes =
        line.and_then(|line| line.split_whitespace().nth(1)).and_then(|text| text.parse::<u64>().ok());
    kilobytes.unwrap_or(0) / 1024
}
