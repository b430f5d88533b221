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
use std::path::PathBuf;
use std::time::Instant;
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
fn single_appends(folder: &std::path::Path) {
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
        "single durable append    {ours:>10.1?}   raw {raw:>10.1?}   {:.2} of raw (aim ≥ 0.80)",
        ratio(ours, raw)
    );
}

/// A hundred thousand hours in one transaction, as an import writes them.
fn bulk(folder: &std::path::Path) {
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
        "bulk of 100,000 hours    {ours:>10.1?}   raw {raw:>10.1?}   {:.2} of raw (aim ≥ 0.40)",
        ratio(ours, raw)
    );
}

#[cfg(feature = "window")]
fn measure_window(folder: &std::path::Path, big: &std::path::Path, jobs: u32) {
    let Some(programs) = window::Programs::named() else {
        println!("The window was not measured: it is not built or can't be driven here.");
        return;
    };
    if let Err(error) = window::measure(&programs, folder, big, jobs) {
        println!("The window was not measured to the end: {error}");
    }
}

#[cfg(not(feature = "window"))]
fn measure_window(_: &std::path::Path, _: &std::path::Path, _: u32) {
    println!("The window was not measured: this bench was built without it.");
}

fn write_big_file(path: &std::path::Path, size: Size) -> BigFirm {
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

fn read_big_file(path: &std::path::Path, firm: &BigFirm) {
    let began = Instant::now();
    let verdict = ledger::verify::verify(path, &mut |_| true).expect("verifies");
    assert!(verdict.is_good(), "{:?}", verdict.problems);
    println!(
        "verify                   {:>10.1?}   {} entries a second for the chain, {:.1?} with totals and links",
        verdict.chain_took,
        verdict.entries_a_second(),
        began.elapsed()
    );
    month_ends(path, firm);
    println!("peak memory              {} MB", peak_memory_mb());
}

fn month_ends(path: &std::path::Path, firm: &BigFirm) {
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
         (aim < 0.25, under 50 ms)",
        ours.as_secs_f64() / raw.as_secs_f64()
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
