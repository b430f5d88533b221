//! From nothing to a window that takes a key, and what memory that takes: Tearoff on a firm's file, Tearoff on the
//! made-up firm that it writes first, and an empty window of the same build, in turns.

use std::fs;
use std::path::Path;
use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

use crate::desk::{Desk, Wish, parent_of, text_of};
use crate::driver::{Outcome, key, wait_for};
use crate::window::programs::Programs;
use crate::window::stroke::{RECORDER, Times, stroke};

/// As many starts of each as are timed; one more of each goes before them, to bring the programs into memory.
const PAIRS: usize = 7;

/// The hundredth parts of a second in which Linux tells when a process began.
const TICK: Duration = Duration::from_millis(10);

struct Start {
    shown: Duration,
    usable: Duration,
    memory_kb: u64,
}

/// What a start has to come to.
struct Goal {
    words: Vec<String>,
    /// An expression that holds once what is waited for is there.
    shown: &'static str,
    /// A key, and what it changes.
    key: &'static str,
    probe: &'static str,
}

impl Goal {
    /// A firm's file, as its people open it every day: until one of them can say who they are.
    fn own(file: &Path) -> Outcome<Goal> {
        Ok(Goal {
            words: vec![text_of(file)?],
            shown: "document.querySelector('section[aria-labelledby=who] button')",
            key: key::TAB,
            probe: "document.activeElement.innerText",
        })
    }

    /// The made-up firm, which is written anew at each start, and its owner seated: until the jobs are there.
    fn sample() -> Goal {
        Goal {
            words: vec!["--sample".to_owned()],
            shown: "document.querySelector('h1')?.innerText.startsWith('Jobs') \
                    && document.querySelector('.jobs [role=option]')",
            key: "l",
            probe: "document.activeElement.getAttribute('role')",
        }
    }

    fn empty() -> Goal {
        Goal {
            words: Vec::new(),
            shown: "document.querySelector('p')?.innerText && (document.querySelector('input').focus(), true)",
            key: "l",
            probe: "document.activeElement.value",
        }
    }
}

/// Prints start and memory, ours and empty.
pub(crate) fn measure(folder: &Path, programs: &Programs) -> Outcome<()> {
    let file = folder.join("start.tearoff");
    drop(office::sample::write(&file, &mut |_, _| true)?);
    let (mut own, mut sample, mut empty) = (Vec::new(), Vec::new(), Vec::new());
    for round in 0..=PAIRS {
        let three = (
            start(&programs.desktop, &Goal::own(&file)?)?,
            start(&programs.desktop, &Goal::sample())?,
            start(&programs.empty, &Goal::empty())?,
        );
        if round > 0 {
            own.push(three.0);
            sample.push(three.1);
            empty.push(three.2);
        }
    }
    tell("a firm's file", &own, &empty)?;
    tell("the made-up firm", &sample, &empty)?;
    println!("  writing the made-up firm {:>8.1?}   in every start of it", writing_the_firm(folder)?);
    Ok(())
}

fn tell(what: &str, ours: &[Start], empty: &[Start]) -> Outcome<()> {
    let times = |starts: &[Start], of: fn(&Start) -> Duration| Times::of(starts.iter().map(of).collect());
    let line = |name: &str, of: fn(&Start) -> Duration| {
        let (ours, bare) = (times(ours, of), times(empty, of));
        println!(
            "{name:<24} {:>10.1?}   empty window {:>10.1?}   {:.2} of its time ({PAIRS} of each)",
            ours.median(),
            bare.median(),
            ours.over(&bare)
        );
    };
    println!("start with {what}");
    line("  to a key answered", |start| start.usable);
    line("  of it until it shows", |start| start.shown);
    let memory = |starts: &[Start]| {
        let mut all: Vec<u64> = starts.iter().map(|start| start.memory_kb).collect();
        all.sort_unstable();
        u32::try_from(all[all.len() / 2] / 1024).map(f64::from)
    };
    let (ours, empty) = (memory(ours)?, memory(empty)?);
    println!(
        "  memory when usable     {ours:>7.0} MB   empty window {empty:>7.0} MB   {:.2} of its memory",
        ours / empty
    );
    Ok(())
}

fn start(program: &Path, goal: &Goal) -> Outcome<Start> {
    let words = goal.words.clone();
    let desk = Desk::open(&Wish { program: Some(program.to_owned()), words, ..Wish::default() })?;
    let page = &desk.page;
    let script = format!(
        "{RECORDER}\nconst look = () => ({}) ? done(Date.now()) : requestAnimationFrame(look); look();",
        goal.shown
    );
    // A page that is just being replaced by the program's own takes its script with it.
    let shown = wait_for("the page", || Ok(page.run(&script).ok()))?;
    let shown = shown.as_u64().ok_or("The page told no hour.")?;
    let usable = stroke(page, goal.probe, |page| page.strike(&[goal.key]))?.at;
    let process = desk.process()?;
    Ok(Start {
        shown: since_start(process, shown)?,
        usable: since_start(process, usable)?,
        memory_kb: memory_kb(process)?,
    })
}

/// How old a process was at an hour of the page's clock, in milliseconds since 1970.
fn since_start(process: u32, hour: u64) -> Outcome<Duration> {
    let up = fs::read_to_string("/proc/uptime")?;
    let up: f64 =
        up.split_whitespace().next().ok_or("The system does not say how long it is up.")?.parse()?;
    let booted = SystemTime::now().duration_since(UNIX_EPOCH)?.saturating_sub(Duration::from_secs_f64(up));
    let about = fs::read_to_string(format!("/proc/{process}/stat"))?;
    // The name of the program stands in brackets and may hold anything; what is counted comes after it.
    let counted = about.rsplit_once(')').map_or("", |(_, counted)| counted);
    let ticks: u32 = counted.split_whitespace().nth(19).ok_or("A process does not say its age.")?.parse()?;
    Ok(Duration::from_millis(hour).saturating_sub(booted + TICK * ticks))
}

/// The memory of a program and of all that it has started, each shared page counted by its share.
pub(crate) fn memory_kb(program: u32) -> Outcome<u64> {
    let mut sum = 0;
    for item in fs::read_dir("/proc")? {
        let Some(process) = item?.file_name().to_str().and_then(|name| name.parse::<u32>().ok()) else {
            continue;
        };
        let mut above = Some(process);
        while let Some(next) = above.filter(|next| *next > 1 && *next != program) {
            above = parent_of(next);
        }
        if above == Some(program) {
            // A process may have ended since the folder was read.
            let rolled = fs::read_to_string(format!("/proc/{process}/smaps_rollup")).unwrap_or_default();
            let share = rolled.lines().find_map(|line| line.strip_prefix("Pss:"));
            let share = share.and_then(|line| line.split_whitespace().next()?.parse::<u64>().ok());
            sum += share.unwrap_or(0);
        }
    }
    Ok(sum)
}

fn writing_the_firm(folder: &Path) -> Outcome<Duration> {
    let mut times = Vec::new();
    for round in 0..3 {
        let began = Instant::now();
        drop(office::sample::write(&folder.join(format!("sample-{round}.tearoff")), &mut |_, _| true)?);
        times.push(began.elapsed());
    }
    Ok(Times::of(times).median())
}
