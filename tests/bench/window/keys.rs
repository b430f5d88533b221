//! Keys on the big file, and the same key in the bare field of an empty window.

use std::path::Path;

use serde_json::{Value, json};

use crate::desk::{Desk, Wish, text_of};
use crate::driver::{Outcome, Page, key, wait_for};
use crate::window::programs::Programs;
use crate::window::start::memory_kb;
use crate::window::stroke::{Stroke, Times, stroke};

const BACKSPACE: &str = "\u{e003}";
const UP: &str = "\u{e013}";

/// The first keys of a kind find nothing warm and are not counted.
const UNCOUNTED: usize = 3;

const TYPED: &str = "document.activeElement.value";

/// Words to type, as long as any that stand on a bill.
const WORDS: &str = "forty-four letters of a delivery on the roof";

/// Prints how long each kind of key takes.
pub(crate) fn measure(big: &Path, programs: &Programs) -> Outcome<()> {
    let bare = in_a_bare_field(programs)?;
    tell("a key in a bare field", &bare, None);
    let desk = Desk::open(&Wish {
        program: Some(programs.desktop.clone()),
        words: vec![text_of(big)?],
        ..Wish::default()
    })?;
    let page = &desk.page;
    sit_down(page)?;
    // The first opening of a day backs the file up beside the work; what it costs is not what is asked here.
    wait_for("the day's back-up", || {
        let state = page.ask("desk_state", &json!({}))?;
        Ok((state["back_up"] != Value::Null).then_some(()))
    })?;
    tell("a letter in the search", &search(page)?, Some(&bare));
    tell("an arrow in the list", &arrows(page)?, Some(&bare));
    tell("Enter to a job's line", &jobs(page, LINE)?, Some(&bare));
    tell("… to its first part", &jobs(page, FIRST_PART)?, Some(&bare));
    tell("… to all of its page", &jobs(page, WHOLE)?, Some(&bare));
    tell("1 to 5 on the page", &parts(page)?, Some(&bare));
    tell("a letter in a form", &form(page)?, Some(&bare));
    println!("memory on the big file   {:>7} MB", memory_kb(desk.process()?)? / 1024);
    Ok(())
}

fn tell(what: &str, times: &Times, bare: Option<&Times>) {
    let over = bare.map_or(String::new(), |bare| format!(", {:.2} of the bare field", times.over(bare)));
    println!(
        "{what:<24} {:>10.1?}   95th of 100 {:>10.1?}, longest {:.1?}{over} ({} keys)",
        times.median(),
        times.most(),
        times.longest(),
        times.count()
    );
}

/// Sits the owner down before the jobs of a file named on the command line.
pub(crate) fn sit_down(page: &Page) -> Outcome<()> {
    page.wait_until("the people", "document.querySelector('section[aria-labelledby=who]')")?;
    page.sit_down_as("owner")?;
    page.wait_for_jobs()
}

fn counted(strokes: Vec<Stroke>) -> Times {
    Times::of(strokes.into_iter().skip(UNCOUNTED).map(|stroke| stroke.took).collect())
}

/// Types each letter and times it.
fn typed(page: &Page, text: &str) -> Outcome<Vec<Stroke>> {
    text.chars().map(|letter| stroke(page, TYPED, |page| page.strike(&[&letter.to_string()]))).collect()
}

fn in_a_bare_field(programs: &Programs) -> Outcome<Times> {
    let desk = Desk::open(&Wish { program: Some(programs.empty.clone()), ..Wish::default() })?;
    desk.page.find("input")?;
    desk.page.run("document.querySelector('input').focus(); done(true);")?;
    Ok(counted(typed(&desk.page, WORDS)?))
}

fn search(page: &Page) -> Outcome<Times> {
    page.strike(&["/"])?;
    page.wait_until("the search", "document.activeElement.type === 'search'")?;
    let mut strokes = Vec::new();
    let words = "customer 38";
    for _ in 0..3 {
        strokes.extend(typed(page, words)?);
        for _ in words.chars() {
            strokes.push(stroke(page, TYPED, |page| page.strike(&[BACKSPACE]))?);
        }
    }
    Ok(counted(strokes))
}

/// To the list: the keys L and then the arrows are its own.
pub(crate) fn to_list(page: &Page) -> Outcome<()> {
    page.run("document.querySelector('.jobs [role=listbox]').focus(); done(true);")?;
    page.wait_until("the list", "document.activeElement.getAttribute('role') === 'listbox'")
}

fn arrows(page: &Page) -> Outcome<Times> {
    to_list(page)?;
    let at = "document.activeElement.getAttribute('aria-activedescendant')";
    // Down and up again in tens: a small firm's list ends, and there a key does nothing.
    let walk = (0..60).map(|step| if step / 10 % 2 == 0 { key::DOWN } else { UP });
    Ok(counted(walk.map(|way| stroke(page, at, |page| page.strike(&[way]))).collect::<Outcome<_>>()?))
}

const LINE: &str = "document.querySelector('.job [aria-label=\"Job line\"]') !== null";

const FIRST_PART: &str = "document.querySelector('#part-contract') !== null";

const WHOLE: &str = "document.querySelector('.job[aria-busy=false]') !== null";

/// Opens one job after the other from the list, until `there` holds.
fn jobs(page: &Page, there: &str) -> Outcome<Times> {
    let mut strokes = Vec::new();
    for _ in 0..15 {
        page.go("#/jobs")?;
        page.wait_for_jobs()?;
        to_list(page)?;
        page.strike(&[key::DOWN])?;
        strokes.push(stroke(page, there, |page| page.strike(&[key::ENTER]))?);
    }
    Ok(counted(strokes))
}

fn parts(page: &Page) -> Outcome<Times> {
    let mut strokes = Vec::new();
    for _ in 0..9 {
        for part in ["2", "3", "4", "5", "1"] {
            strokes.push(stroke(page, "document.activeElement.id", |page| page.strike(&[part]))?);
        }
    }
    Ok(counted(strokes))
}

fn form(page: &Page) -> Outcome<Times> {
    page.strike(&["r"])?;
    page.wait_until("the form", "document.activeElement.closest('form')")?;
    let field = page.field("Number on it")?;
    page.press(&field)?;
    Ok(counted(typed(page, WORDS)?))
}
