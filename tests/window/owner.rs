//! The owner, on a Sunday night: where did the money go, and what is left to settle?

use serde_json::{Value, json};

use crate::desk::{Desk, Wish};
use crate::driver::{Outcome, Page, key};

/// A job of the made-up firm that is under way, and a month in which it moves.
pub(crate) fn job_under_way(page: &Page) -> Outcome<String> {
    let year = page.ask("year", &json!({}))?;
    let jobs = year["jobs"].as_array().ok_or("The year has no jobs.")?;
    let under_way = jobs.iter().rev().find(|job| job["stage"] == "begun").or(jobs.last());
    Ok(under_way.and_then(|job| job["number"].as_str()).ok_or("The year has no job.")?.to_owned())
}

pub(crate) fn cost_of(page: &Page, number: &str) -> Outcome<String> {
    // The month in which what is recorded today is booked.
    let month = page.ask("desk_state", &json!({}))?["months"][1].clone();
    let job = page.ask("job_page", &json!({ "number": number, "month": month }))?;
    Ok(job["figures"]["cost"].as_str().unwrap_or_default().to_owned())
}

/// Fills the bill form of the job that is open.
pub(crate) fn fill_bill(page: &Page, vendor: &str) -> Outcome<()> {
    page.strike(&["r"])?;
    page.fill("From whom", vendor)?;
    page.fill("Number on it", "T-100")?;
    page.choose("Code", "deck")?;
    page.fill("What", "Deck sheets")?;
    page.fill("Amount before tax", "123.45")
}

pub(crate) fn known_vendor(page: &Page) -> Outcome<String> {
    let lists = page.ask("lists", &json!({}))?;
    Ok(lists["vendors"][0]["name"].as_str().ok_or("The firm has no vendor.")?.to_owned())
}

#[test]
fn the_owner_opens_a_figure_enters_a_bill_takes_it_back_and_reads_the_month() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    let number = job_under_way(page)?;
    let vendor = known_vendor(page)?;
    page.open_job(&number)?;

    page.press_named("forecast cost:")?;
    page.wait_for_words("Source: ")?;
    page.wait_until("the rule", "document.querySelector('dialog[open] h3')?.innerText === 'Rule'")?;
    page.strike(&[key::ESCAPE])?;
    page.wait_until("the panel to close", "!document.querySelector('dialog[open]')")?;

    let before = cost_of(page, &number)?;
    fill_bill(page, &vendor)?;
    page.strike_with(key::CONTROL, key::ENTER)?;
    page.named("button", "Undo")?;
    let after = cost_of(page, &number)?;
    assert_ne!(after, before, "the bill did not reach the cost of {number}");
    page.strike_with(key::CONTROL, "z")?;
    page.wait_until("the undo to be told", "!document.querySelector('.toasts')?.innerText.includes('Undo')")?;
    assert_eq!(cost_of(page, &number)?, before, "taking back did not bring the cost back to the cent");

    page.strike_with(key::ALT, "m")?;
    page.wait_for_heading("Month end")?;
    page.wait_until("the report", "document.querySelectorAll('main table, main svg').length > 1")?;
    page.wait_for_words("Loose ends")?;
    let closed = page.invoke("close_month", &json!({ "month": "2031-01", "accept": true }))?;
    assert_eq!(closed, Err("refused".to_owned()), "a month that is not over was closed");
    Ok(())
}

#[test]
fn every_loose_end_leads_to_where_it_is_settled() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    page.strike_with(key::ALT, "m")?;
    page.wait_for_heading("Month end")?;
    page.wait_for_words("Loose ends")?;
    page.wait_until("the loose ends", "document.querySelector('.way a')")?;
    let links = page.run(
        "done([...new Map([...document.querySelectorAll('.way a')].map((each) => \
         [each.textContent.trim(), each.getAttribute('href')]))].map(([word, href]) => ({ word, href })));",
    )?;
    let links = links.as_array().ok_or("The loose ends have no links.")?.clone();
    assert!(links.len() >= 2, "only {links:?}");
    for link in links {
        let href = link["href"].as_str().unwrap_or_default();
        page.go("#/month-end")?;
        page.wait_for_heading("Month end")?;
        page.wait_until("the loose ends", "document.querySelector('.way a')")?;
        page.run(&format!(
            "document.querySelector('.way a[href=' + JSON.stringify({}) + ']').click(); done(true);",
            json!(href)
        ))?;
        let there = match href.split('/').collect::<Vec<_>>().as_slice() {
            ["#", "job", _, part] => format!(
                "(() => {{ const at = document.querySelector('#part-{part}')?.getBoundingClientRect(); \
                 return at && at.top < innerHeight && at.bottom > 0; }})()"
            ),
            ["#", "books", ..] => "document.querySelector('h1')?.textContent.trim() === 'Books'".to_owned(),
            ["#", "site", ..] => "document.querySelector('[data-view=site] #hours')".to_owned(),
            ["#", "rates", ..] => {
                "document.querySelector('nav a[aria-current][href=\"#/rates/people\"]')".to_owned()
            }
            _ => "document.querySelector('.jobs [role=option]')".to_owned(),
        };
        page.wait_until(&format!("where {link} leads"), &there)?;
    }
    Ok(())
}

#[test]
fn a_form_half_filled_is_there_again_after_the_program_was_killed() -> Outcome<()> {
    let place = tempfile::tempdir()?;
    let file = place.path().join("Quill.tearoff");
    drop(office::sample::write(&file, &mut |_, _| true)?);
    let words = vec![file.to_str().ok_or("A path of this machine is not UTF-8.")?.to_owned()];
    let mut desk = Desk::open(&Wish { words, ..Wish::default() })?;
    desk.page.sit_down_as("owner")?;
    desk.page.wait_for_jobs()?;
    let number = job_under_way(&desk.page)?;
    let vendor = known_vendor(&desk.page)?;
    desk.page.open_job(&number)?;
    fill_bill(&desk.page, &vendor)?;
    desk.page.strike(&[key::TAB])?;
    desk.page.wait_until_kept()?;

    desk.kill_and_open_again()?;
    let page = &desk.page;
    page.sit_down_as("owner")?;
    page.open_job(&number)?;
    page.strike(&["r"])?;
    page.wait_for_words("is open again")?;
    assert_eq!(page.value_of("Number on it")?, "T-100");
    assert_eq!(page.value_of("Amount before tax")?, "123.45");
    // What was typed is still only a draft: nothing was recorded by itself.
    let drafts = page.ask("drafts", &json!({ "kind": "bill" }))?;
    assert_eq!(drafts.as_array().map(Vec::len), Some(1));
    Ok(())
}

impl Page {
    /// Waits until what was typed into the form is on the disk.
    fn wait_until_kept(&self) -> Outcome<()> {
        crate::driver::wait_for("the draft to be kept", || {
            let drafts = self.ask("drafts", &json!({ "kind": "bill" }))?;
            let whole = drafts[0].to_string().contains("123.45");
            Ok(whole.then_some(()))
        })
    }
}

#[test]
fn the_owners_pin_is_asked_before_anybody_sits_in_the_owners_place() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    let people = page.ask("people", &json!({}))?;
    let id_of = |role: &str| -> Value {
        let people = people.as_array().map(Vec::as_slice).unwrap_or_default();
        people
            .iter()
            .find(|person| person["role"] == role)
            .map(|person| person["id"].clone())
            .unwrap_or_default()
    };
    page.strike_with(key::ALT, "f")?;
    page.fill("New PIN", "471100")?;
    page.fill("New PIN, once more", "471100")?;
    page.press_named("Set the PIN")?;
    page.wait_for_words("The PIN holds from now on")?;
    page.sit_down_as("crew")?;
    page.wait_for_heading("Site")?;
    for pin in [json!({ "person": id_of("owner") }), json!({ "person": id_of("owner"), "pin": "471200" })] {
        assert_eq!(page.invoke("sit", &pin)?, Err("pin".to_owned()));
    }
    assert_eq!(
        page.invoke("set_pin", &json!({ "role": "owner", "pin": null }))?,
        Err("not-allowed".to_owned())
    );
    assert_eq!(page.invoke("year", &json!({}))?, Err("not-allowed".to_owned()));
    let name = page.sit_down_as("owner")?;
    page.fill(&format!("The PIN of {name}"), "471100")?;
    page.strike(&[key::ENTER])?;
    page.wait_for_jobs()
}
