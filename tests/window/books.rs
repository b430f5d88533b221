//! The bookkeeper: one folder a month, named as their program wants it.

use std::fs;

use serde_json::json;

use crate::desk::{Desk, Wish};
use crate::driver::Outcome;

#[test]
fn the_bookkeeper_names_an_account_and_gets_the_months_folder() -> Outcome<()> {
    let place = tempfile::tempdir()?;
    let desk = Desk::open(&Wish { answer: Some(place.path().to_owned()), ..Wish::default() })?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    page.sit_down_as("books")?;
    page.wait_for_heading("Books")?;
    page.go("#/hand-off")?;
    page.wait_for_heading("Hand-off")?;
    page.wait_for_words("Control totals")?;

    let lines = page.all("form input[placeholder='no name yet']")?;
    let line = lines.first().ok_or("There is no line to name.")?;
    page.run(
        "const line = document.querySelector(\"form input[placeholder='no name yet']\"); \
         line.focus(); line.select(); done(true);",
    )?;
    page.type_into(line, "5010 Deck and lumber")?;
    page.press_named("Keep one name")?;
    page.wait_for_words("One account name is kept")?;
    assert!(page.ask("lists", &json!({}))?["accounts"].to_string().contains("5010 Deck and lumber"));

    page.press_named("Write the folder")?;
    page.wait_for_words("Written to")?;
    let folder = fs::read_dir(place.path())?.next().ok_or("No folder was written.")??.path();
    for file in ["datapackage.json", "journal.csv"] {
        assert!(fs::metadata(folder.join(file))?.len() > 100, "{file} is all but empty");
    }

    let month = page.ask("desk_state", &json!({}))?["month"].clone();
    let month_end = page.ask("month_end", &json!({ "month": month }))?;
    assert_eq!(month_end["jobs"], json!([]));
    assert_eq!(month_end["firm"]["cost"], "0.00");
    assert_eq!(page.invoke("year", &json!({}))?, Err("not-allowed".to_owned()));
    assert_eq!(page.invoke("site_day", &json!({}))?, Err("not-allowed".to_owned()));
    let people = page.ask("lists", &json!({}))?["people"].clone();
    assert!(people.as_array().is_some_and(|people| people.iter().all(|person| person["hourly"].is_null())));
    Ok(())
}
