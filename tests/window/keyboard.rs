//! A whole visit without a mouse: nothing below presses an element, everything is struck.

use serde_json::json;

use crate::desk::{Desk, Wish};
use crate::driver::{Outcome, Page, key};
use crate::looks::focused;
use crate::owner::known_vendor;

/// Goes on by Tab until what has the focus begins with these words.
fn tab_to(desk: &Desk, words: &str) -> Outcome<()> {
    for _ in 0..60 {
        if focused(desk)?.starts_with(words) {
            return Ok(());
        }
        desk.page.strike(&[key::TAB])?;
    }
    Err(format!("“{words}” can't be reached by Tab.").into())
}

fn type_out(page: &Page, text: &str) -> Outcome<()> {
    let keys: Vec<String> = text.chars().map(String::from).collect();
    page.strike(&keys.iter().map(String::as_str).collect::<Vec<_>>())
}

#[test]
fn the_owners_path_is_walked_by_keys_alone() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.wait_for_words("Look at the made-up firm")?;
    tab_to(&desk, "Look at the made-up firm")?;
    page.strike(&[key::ENTER])?;
    page.wait_for_jobs()?;
    let vendor = known_vendor(page)?;

    // To the list, two jobs down, and in.
    page.strike(&["l"])?;
    page.wait_until("the list", "document.activeElement.getAttribute('role') === 'listbox'")?;
    page.strike(&[key::DOWN, key::DOWN, key::ENTER])?;
    page.wait_until("the job", "document.querySelector('#part-contract')")?;
    for (number, part) in
        [("2", "Changes"), ("3", "Costs"), ("4", "Billing"), ("5", "Result"), ("1", "Contract")]
    {
        page.strike(&[number])?;
        page.wait_until(part, &format!("document.activeElement.innerText.startsWith('{part}')"))?;
    }

    page.strike(&["c"])?;
    page.wait_until("the form", "document.activeElement.closest('form')")?;
    page.strike(&[key::ESCAPE])?;
    page.wait_until("the form to close", "!document.querySelector('form')")?;

    // A figure opens by Enter, and Escape goes back to it.
    page.run("document.querySelector('.line button').focus(); done(true);")?;
    let figure = page.run("done(document.activeElement.getAttribute('aria-label'))")?;
    page.strike(&[key::ENTER])?;
    page.wait_until("the panel", "document.querySelector('dialog[open] h3')")?;
    page.strike(&[key::ESCAPE])?;
    page.wait_until("the panel to close", "!document.querySelector('dialog[open]')")?;
    let back = page.run("done(document.activeElement.getAttribute('aria-label'))")?;
    assert_eq!(back, figure, "closing the panel lost the place");

    for (letter, heading) in
        [("m", "Month end"), ("h", "Hand-off"), ("r", "Rates"), ("f", "Firm"), ("j", "Jobs")]
    {
        page.strike_with(key::ALT, letter)?;
        page.wait_for_heading(heading)?;
    }
    page.wait_for_jobs()?;
    page.strike(&["/"])?;
    page.wait_until("the search", "document.activeElement.type === 'search'")?;
    type_out(page, "26-0")?;
    page.wait_for_words("jobs")?;
    page.strike(&[key::ESCAPE])?;
    page.strike_with(key::ALT, "w")?;
    page.wait_for_words("Who is at the desk?")?;
    assert!(!vendor.is_empty());
    let person = page.ask("desk_state", &json!({}))?["person"]["role"].clone();
    assert_eq!(person, "owner", "asking who is here unseated whoever was");
    Ok(())
}
