//! The page Jobs with thousands of jobs in one year: to show it, to sort it, to scroll it.

use std::path::Path;
use std::time::{Duration, Instant};

use serde_json::Value;

use crate::desk::{Desk, Wish, text_of};
use crate::driver::{Outcome, Page, key};
use crate::firm::{self, BigFirm};
use crate::window::keys::{sit_down, to_list};
use crate::window::programs::Programs;
use crate::window::stroke::{Times, milliseconds, stroke};

/// A frame that came this late was missed: the screen draws one each 16.7 ms.
const MISSED: Duration = Duration::from_millis(25);

/// Scrolls the list by a row a frame, and hands back the gaps between the frames and how far it came.
const FRAMES: &str = "
const gaps = []; let last; let count = 0;
const step = (now) => {
  if (last !== undefined) gaps.push(now - last);
  last = now; count += 1;
  list.scrollTop = count * 48;
  if (count > 200) done({ gaps, at: Math.round(list.scrollTop) }); else requestAnimationFrame(step);
};
requestAnimationFrame(step);";

/// Prints the three times.
pub(crate) fn measure(folder: &Path, jobs: u32, programs: &Programs) -> Outcome<()> {
    let path = folder.join("year.tearoff");
    let firm = firm::full_year(&path, jobs);
    let desk = Desk::open(&Wish {
        program: Some(programs.desktop.clone()),
        words: vec![text_of(&path)?],
        ..Wish::default()
    })?;
    let page = &desk.page;
    sit_down(page)?;
    let shown = shown(page, jobs)?;
    println!(
        "Jobs, {jobs} in a year     {:>10.1?}   to show, longest {:.1?}; {:.1?} of it the office's",
        shown.median(),
        shown.longest(),
        calculated(&path, &firm)?
    );
    let sorted = sorted(page)?;
    println!(
        "  sort them              {:>10.1?}   longest {:.1?} ({} keys)",
        sorted.median(),
        sorted.longest(),
        sorted.count()
    );
    to_list(page)?;
    let (moving, at) = frames(page, "const list = document.querySelector('.jobs [role=listbox]');")?;
    let size = page.run(
        "const list = document.querySelector('.jobs [role=listbox]'); done([list.clientWidth, list.clientHeight]);",
    )?;
    let plain = plain(programs, &size)?;
    println!(
        "  a frame of scrolling   {:>10.1?}   95th of 100 {:.1?}, {} of {} missed; plain lines in the empty window \
         {:.1?}, {} missed: {:.2} of its time",
        moving.median(),
        moving.most(),
        moving.beyond(MISSED),
        moving.count(),
        plain.median(),
        plain.beyond(MISSED),
        moving.over(&plain)
    );
    assert!(at > 9000, "the list was scrolled to {at} and not by 200 rows");
    Ok(())
}

fn shown(page: &Page, jobs: u32) -> Outcome<Times> {
    let mut times = Vec::new();
    for _ in 0..7 {
        page.go("#/rates")?;
        page.wait_until("the rates", "document.querySelector('h1')?.innerText.startsWith('Rates')")?;
        let there = "document.querySelector('.jobs [role=option]') !== null";
        times.push(stroke(page, there, |page| page.strike_with(key::ALT, "j"))?.took);
        page.wait_for_words(&format!("{jobs} jobs"))?;
    }
    Ok(Times::of(times))
}

fn sorted(page: &Page) -> Outcome<Times> {
    let mut times = Vec::new();
    for _ in 0..15 {
        to_list(page)?;
        let order = "document.querySelector('.jobs .sort select').value";
        times.push(stroke(page, order, |page| page.strike(&["s"]))?.took);
        // A letter just typed into the list would make the next one its second.
        std::thread::sleep(Duration::from_millis(1200));
    }
    Ok(Times::of(times))
}

fn frames(page: &Page, list: &str) -> Outcome<(Times, u64)> {
    let told = page.run(&format!("{list}{FRAMES}"))?;
    let gaps = told["gaps"].as_array().ok_or("The page told no frames.")?;
    let gaps = gaps.iter().filter_map(|gap| gap.as_f64().map(milliseconds)).collect();
    Ok((Times::of(gaps), told["at"].as_u64().unwrap_or_default()))
}

/// The frames of an empty window that scrolls as many lines of plain text, a field of the same size.
fn plain(programs: &Programs, size: &Value) -> Outcome<Times> {
    let desk = Desk::open(&Wish { program: Some(programs.empty.clone()), ..Wish::default() })?;
    desk.page.find("input")?;
    let list = format!(
        "const [width, height] = {size};
        const list = document.createElement('div');
        Object.assign(list.style, {{ overflowY: 'auto', width: `${{width}}px`, height: `${{height}}px` }});
        for (let row = 0; row < 1000; row += 1) {{
          const line = document.createElement('div');
          line.style.height = '48px';
          line.textContent = `Line ${{row}} of plain text in an empty window`;
          list.append(line);
        }}
        document.body.append(list);"
    );
    let (times, at) = frames(&desk.page, &list)?;
    assert!(at > 9000, "the plain lines were scrolled to {at} and not by 200 rows");
    Ok(times)
}

/// What the office alone takes for the year.
fn calculated(path: &Path, firm: &BigFirm) -> Outcome<Duration> {
    let mut times = Vec::new();
    for _ in 0..3 {
        let began = Instant::now();
        let desk = office::Desk::read(path, office::Clock::System)?;
        let year = office::year(&desk, Some(firm.last_month.year()), firm.last_month)?;
        times.push(began.elapsed());
        assert!(!year.jobs.is_empty(), "the year has no job");
    }
    Ok(Times::of(times).median())
}
