//! The bookkeeper: one folder a month, named as their program wants it.

use std::fs;

use serde_json::{Value, json};

use crate::desk::{Desk, Wish};
use crate::driver::{Outcome, Page, key};

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

/// What whoever keeps the books may ask, each with what is sent.
fn asked_by_the_books(month: &Value) -> Vec<(&'static str, Value)> {
    let of_month = json!({ "month": month });
    vec![
        ("desk_state", json!({})),
        ("people", json!({})),
        ("month_end", of_month.clone()),
        ("overhead", of_month.clone()),
        ("loose_ends", of_month.clone()),
        ("hand_off_preview", of_month),
        ("payables", json!({})),
        ("vendor_statement", json!({ "vendor": "Three Forks Roofing Wholesale", "lines": "TF-7983 1.00" })),
        ("bank", json!({ "ends": null })),
        ("subcontractors", json!({ "year": 2026 })),
        ("bill_desk", json!({})),
        ("job_billing", json!({ "job": "26-013" })),
        ("to_bill", json!({ "job": "26-013" })),
        ("job_names", json!({})),
        ("lists", json!({})),
        ("rates", json!({})),
        ("workmanship", json!({ "job": "26-013" })),
        ("drafts", json!({ "kind": null })),
    ]
}

/// Every figure in an answer that says what a job or the firm makes, with its place.
fn margins_in(answer: &Value, place: &str, found: &mut Vec<String>) {
    let says = |name: &str| name == "walk" || ["margin", "profit"].iter().any(|word| name.contains(word));
    let tells = |value: &Value| match value {
        Value::String(text) => text.parse::<f64>().is_ok_and(|amount| amount != 0.0),
        Value::Number(number) => number.as_f64() != Some(0.0),
        Value::Array(items) => !items.is_empty(),
        _ => false,
    };
    match answer {
        Value::Object(object) => {
            for (name, value) in object {
                let here = format!("{place}.{name}");
                if name != "sees_margin" && says(name) && tells(value) {
                    found.push(here.clone());
                }
                margins_in(value, &here, found);
            }
        }
        Value::Array(items) => items.iter().for_each(|item| margins_in(item, place, found)),
        // A control total or a row of a list is named by its word.
        Value::String(word) if ["profit", "net_profit", "margin"].contains(&word.as_str()) => {
            found.push(format!("{place}: {word}"));
        }
        _ => {}
    }
}

#[test]
fn margin_is_in_no_answer_to_the_books_until_the_owner_says_so() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    page.sit_down_as("books")?;
    page.wait_for_heading("Books")?;
    let state = page.ask("desk_state", &json!({}))?;
    assert_eq!(state["sees_margin"], false);
    let month = state["month"].clone();
    for (command, sent) in asked_by_the_books(&month) {
        let mut found = Vec::new();
        margins_in(&page.ask(command, &sent)?, command, &mut found);
        assert_eq!(found, Vec::<String>::new());
    }
    let refused = [
        ("firm_year", json!({ "month": month })),
        ("firm_budget", json!({ "month": month })),
        ("cash_ahead", json!({ "asked": {} })),
        ("questions", json!({ "month": month })),
        ("explain", json!({ "of": "firm", "month": month, "figure": "margin" })),
        ("explain_cash", json!({ "asked": {}, "figure": "cash-out/1" })),
        ("job_page", json!({ "number": "26-013" })),
        ("year", json!({})),
    ];
    for (command, sent) in &refused {
        assert_eq!(page.invoke(command, sent)?, Err("not-allowed".to_owned()), "{command}");
    }
    page.go("#/month-end")?;
    page.wait_for_words("What customers owe")?;
    let words = page.run("done(document.body.innerText);")?;
    assert!(words.as_str().is_some_and(|words| !words.contains("Net profit")));

    // The owner says so: from then on the month end tells it, and nothing else does that is not the books'.
    page.sit_down_as("owner")?;
    page.wait_for_heading("Jobs")?;
    let mut firm = page.ask("lists", &json!({}))?["firm"].clone();
    let object = firm.as_object_mut().ok_or("There are no settings.")?;
    object.retain(|_, value| !value.is_null());
    object.insert("kind".to_owned(), json!("firm"));
    object.insert("date".to_owned(), state["today"].clone());
    object.insert("books_see_margin".to_owned(), json!(true));
    let settings = page.ask("record", &json!({ "facts": [firm] }))?;
    page.sit_down_as("books")?;
    page.wait_for_heading("Books")?;
    assert_eq!(page.ask("desk_state", &json!({}))?["sees_margin"], true);
    let told = page.ask("month_end", &json!({ "month": month }))?;
    assert!(told["jobs"].as_array().is_some_and(|jobs| !jobs.is_empty()));
    assert_eq!(page.ask("firm_year", &json!({ "month": month }))?["month"], month);
    // Cash ahead is told too, with the pay of each week as a single amount.
    let ahead = page.ask("cash_ahead", &json!({ "asked": {} }))?;
    let expected = ahead["expected"].as_array().ok_or("Nothing is expected.")?;
    let pay: Vec<&Value> =
        expected.iter().filter(|one| one["cause"] == "crew" || one["cause"] == "worked").collect();
    assert!(!pay.is_empty() && pay.iter().all(|one| one["job"].is_null() && one["who"] == ""), "{pay:?}");
    for (command, sent) in &refused[3..] {
        assert_eq!(page.invoke(command, sent)?, Err("not-allowed".to_owned()), "{command}");
    }
    let people = page.ask("lists", &json!({}))?["people"].clone();
    assert!(people.as_array().is_some_and(|people| people.iter().all(|person| person["hourly"].is_null())));
    page.go("#/month-end")?;
    page.wait_for_words("Net profit")?;
    page.strike(&["a"])?;
    page.wait_for_heading("Cash ahead")?;
    page.wait_for_words("Cash is lowest in the week that ends")?;

    // And takes it back.
    page.sit_down_as("owner")?;
    page.wait_for_heading("Jobs")?;
    let settings = settings[0]["id"].clone();
    page.ask("reverse", &json!({ "id": settings, "reason": "Not any more" }))?;
    page.sit_down_as("books")?;
    page.wait_for_heading("Books")?;
    assert_eq!(page.invoke("firm_year", &json!({ "month": month }))?, Err("not-allowed".to_owned()));
    Ok(())
}

/// From here on everything that the program answers the page is kept as it comes through the wall between them.
fn listen(page: &Page) -> Outcome<()> {
    page.run(
        "window.heard = []; const through = window.fetch; window.fetch = async (...asked) => { \
         const answer = await through(...asked); const url = String(asked[0]?.url ?? asked[0]); \
         if (url.includes('ipc')) window.heard.push(answer.clone().text().then((text) => [url, text])); \
         return answer; }; done(true);",
    )
    .map(|_| ())
}

/// All that was heard, each answer with what was asked.
fn heard(page: &Page) -> Outcome<Vec<(String, Value)>> {
    let heard = page.run("Promise.all(window.heard).then(done, (error) => done([String(error)]));")?;
    let pairs = heard.as_array().ok_or("Nothing was heard.")?.iter();
    Ok(pairs
        .filter_map(|pair| {
            let (url, text) = (pair[0].as_str()?, pair[1].as_str()?);
            let command = url.rsplit('/').next().unwrap_or(url).to_owned();
            // What is no JSON is a picture or a word.
            Some((command, serde_json::from_str(text).ok()?))
        })
        .collect())
}

#[test]
fn a_month_of_the_bookkeeper_from_twenty_bills_to_the_hand_off_without_a_margin() -> Outcome<()> {
    let place = tempfile::tempdir()?;
    fs::write(
        place.path().join("november.csv"),
        "Date,Words,Amount,Balance\n2026-11-02,Deposit,1000.00,80368.61\n2026-11-03,Fee,-3.00,80365.61\n",
    )?;
    let desk = Desk::open(&Wish { answer: Some(place.path().to_owned()), ..Wish::default() })?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    page.sit_down_as("books")?;
    page.wait_for_heading("Books")?;
    listen(page)?;

    page.go("#/books/vendors")?;
    page.wait_for_words("Three Forks Roofing Wholesale")?;
    page.go("#/books/bills")?;
    page.wait_until("the pile", "document.querySelector('main form')")?;
    for bill in 1..=20 {
        page.fill("From whom", "Three Forks Roofing Wholesale")?;
        page.strike(&[key::TAB])?;
        page.fill("Number on it", &format!("TF-{bill}"))?;
        page.fill("Date on it", "11/2/2026")?;
        page.fill("Job", "26-021")?;
        page.choose("Code", "shingle")?;
        page.fill("Amount before tax", &format!("{}.25", 100 + bill))?;
        page.strike_with(key::CONTROL, key::ENTER)?;
        page.wait_for_words(&format!("Recorded in this sitting {bill}"))?;
    }
    // 20 × 100.25 and 1 to 20.
    page.wait_for_words("2,215.00")?;

    // Their statement is held against all of it: one bill is not listed the same, and one nobody has here.
    page.go("#/books/vendors")?;
    page.press_named("Compare a vendor’s statement")?;
    page.choose("Whose statement it is", "Three Forks Roofing Wholesale")?;
    page.fill("Its lines", "TF-1 101.25")?;
    for line in ["TF-2 112.25", "TF-9001 210.00"] {
        page.strike(&[key::ENTER])?;
        page.type_into(&page.field("Its lines")?, line)?;
    }
    page.press_named("Compare")?;
    page.wait_for_words("The statement of Three Forks Roofing Wholesale")?;
    page.wait_for_words("TF-2 is open with 112.25 by the statement and with 102.25 by the books.")?;
    page.wait_for_words("no bill of that number is in the books")?;
    desk.keep_picture("vendor-statement")?;
    page.strike(&[key::ESCAPE])?;

    page.go("#/books/customers/26-024")?;
    page.press_named("Payment or deposit")?;
    page.fill("Amount", "250.00")?;
    page.press_named("Record the payment")?;
    page.wait_for_words("Payment of 250.00 recorded.")?;
    page.press_named("Give back: Payment")?;
    page.press_named("Record the refund")?;
    page.wait_for_words("Refund of")?;

    page.go("#/books/bank")?;
    page.wait_for_words("How both come to the same")?;
    page.strike(&["t"])?;
    page.press_named("Choose the file")?;
    page.press_named("Take in 2 rows")?;
    page.wait_for_words("2 rows are taken in, as 1 fact.")?;

    page.go("#/hand-off/2026-10")?;
    page.wait_for_words("Control totals")?;
    page.press_named("Write the folder")?;
    page.wait_for_words("Written to")?;
    let written = fs::read_dir(place.path())?.filter_map(Result::ok).find(|each| each.path().is_dir());
    assert!(written.is_some(), "nothing was handed off");
    page.go("#/month-end/2026-10")?;
    page.wait_for_words("What customers owe")?;
    page.go("#/books/loose-ends/2026-10")?;
    page.wait_for_words("at the bank on October 30, 2026 is not matched")?;

    let heard = heard(page)?;
    let of = |command: &str| heard.iter().filter(|(name, _)| name == command).count();
    assert!(of("record") >= 22, "{} answers to what was recorded were heard", of("record"));
    for command in ["bill_desk", "payables", "month_end", "bank", "hand_off_preview", "loose_ends"] {
        assert!(of(command) > 0, "no answer to {command} was heard");
    }
    let mut found = Vec::new();
    for (command, answer) in &heard {
        margins_in(answer, command, &mut found);
    }
    assert_eq!(found, Vec::<String>::new());
    Ok(())
}

#[test]
fn the_bookkeeper_takes_a_statement_in_and_matches_it_by_the_keyboard() -> Outcome<()> {
    let place = tempfile::tempdir()?;
    let file = place.path().join("november.csv");
    fs::write(
        &file,
        "Date,Words,Amount,Balance\n2026-11-02,Deposit,1000.00,80368.61\n2026-11-03,Fee,-3.00,80365.61\n",
    )?;
    let desk = Desk::open(&Wish { answer: Some(file), ..Wish::default() })?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    page.sit_down_as("books")?;
    page.wait_for_heading("Books")?;
    page.go("#/books/bank")?;
    page.wait_for_words("How both come to the same")?;
    // What fits is matched by one key; what differs is left.
    let before = page.ask("bank", &json!({ "ends": null }))?;
    assert_eq!((&before["fitting"], &before["shown"]["open"]), (&json!(2), &json!(4)));
    page.strike(&["m"])?;
    page.wait_for_words("2 lines are matched; 2 left.")?;
    let after = page.ask("bank", &json!({ "ends": null }))?;
    assert_eq!((&after["fitting"], &after["shown"]["open"]), (&json!(0), &json!(2)));
    assert_eq!(after["balances"]["unexplained"], "0.00");
    // The next statement comes in whole, and follows the one before it.
    page.strike(&["t"])?;
    page.press_named("Choose the file")?;
    page.press_named("Take in 2 rows")?;
    page.wait_for_words("2 rows are taken in, as 1 fact.")?;
    let november = page.ask("bank", &json!({ "ends": "2026-11-03" }))?;
    assert_eq!(november["shown"]["gap_before"], false);
    assert_eq!(november["balances"]["by_bank"], "80365.61");
    // The first difference is named by the keyboard alone.
    page.strike(&["s"])?;
    page.wait_for_words("Record what it is")?;
    Ok(())
}
