//! The crew lead, on the roof: three taps, and what the homeowner says. And nothing of cost, whoever asks.

use office::Qty;
use serde_json::{Value, json};

use crate::desk::{Desk, Wish};
use crate::driver::{Outcome, Page, wait_for};

/// What only the owner may have, and what the bookkeeper may have beside them.
const NOT_FOR_THE_CREW: &[(&str, &str)] = &[
    ("year", "{}"),
    ("month_end", r#"{"month": "2026-10"}"#),
    ("loose_ends", r#"{"month": "2026-10"}"#),
    ("close_month", r#"{"month": "2026-10", "accept": true}"#),
    ("job_page", r#"{"number": "26-001"}"#),
    ("explain", r#"{"of": "firm", "month": "2026-10", "figure": "cost"}"#),
    ("lists", "{}"),
    ("hand_off_preview", r#"{"month": "2026-10"}"#),
    ("import_read", r#"{"kind": "bills", "choices": null}"#),
    ("set_pin", r#"{"role": "owner", "pin": "123456"}"#),
    ("record", r#"{"facts": [{"kind": "pay-rate", "date": "2026-11-01", "person": "x", "hourly": "99"}]}"#),
    ("record", r#"{"facts": [{"kind": "reversal", "date": "2026-11-01", "reverses": "x", "reason": "y"}]}"#),
];

/// A name that says money that the homeowner never sees.
const MONEY_OF_THE_FIRM: &[&str] = &["cost", "margin", "forecast", "hourly", "spent", "unrecovered"];

#[test]
fn the_crew_logs_two_sheets_with_a_photo_and_gets_the_answer_signed() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    page.sit_down_as("crew")?;
    page.wait_for_heading("Site")?;
    let (job, count) = log_beyond(page)?;
    page.press_named("Ask the homeowner now")?;
    page.wait_for_heading("Change order")?;
    // The photo comes a moment later and moves the pad that lies below it.
    page.wait_until("the photo", "document.querySelector('article img')?.complete")?;
    let pad = page.find("canvas")?;
    page.run("document.querySelector('canvas').scrollIntoView({ block: 'center' }); done(true);")?;
    page.draw_over(&pad, &[(20, -15), (20, 25), (20, -25), (20, 20), (20, -10)])?;
    page.wait_until("the signature", "document.querySelector('.pad .unseen')?.textContent === 'Signed'")?;
    page.press_named("Approved")?;
    page.wait_for_words("Approved. The work can go on")?;

    let after = page.ask("site_day", &json!({}))?;
    let jobs = after["jobs"].as_array().ok_or("There are no jobs.")?;
    let same = jobs.iter().find(|each| each["number"] == job["number"]).ok_or("The job is gone.")?;
    let changes = same["changes"].as_array().ok_or("There are no change orders.")?;
    assert!(
        changes.iter().any(|change| change["state"] == "approved" && change["decided_by"] == job["customer"])
    );
    let condition = same["conditions"]
        .as_array()
        .and_then(|conditions| conditions.last())
        .ok_or("There is no condition.")?;
    assert_eq!(
        (&condition["place"], &condition["side"], &condition["count"]),
        (&json!("valley"), &json!("north"), &json!(count))
    );
    let photo = condition["photos"][0].as_str().ok_or("The condition has no photo.")?;
    let kept = page.ask("attachment", &json!({ "hash": photo, "preview": false }))?;
    assert!(kept.as_str().is_some_and(|kept| kept.starts_with("data:image/jpeg;base64,")));
    Ok(())
}

#[test]
fn the_next_condition_on_the_same_side_takes_three_taps_and_one_button() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    page.sit_down_as("crew")?;
    page.wait_for_heading("Site")?;
    let (job, _) = log_beyond(page)?;
    page.wait_until("the form to be empty again", "!document.body.innerText.includes('Another photo')")?;
    page.run(
        // A press beside every control is the case's own, made before something moved, and is made again.
        "window.taps = []; addEventListener('pointerdown', (tap) => { \
         const on = tap.target.closest('button, label, select, input'); \
         if (tap.isTrusted && on) window.taps.push(on.innerText); }, true); done(true);",
    )?;
    page.press_named("Ridge")?;
    page.press_named("One more")?;
    // The third tap is on the photo's button. The picture comes from the camera, which no test has.
    take_photo(page)?;
    page.wait_for_words("Another photo")?;
    page.press_named("Log it")?;
    page.wait_for_words("ridge, north side")?;
    let taps = page.run("done(window.taps);")?;
    assert_eq!(taps.as_array().map(Vec::len), Some(3), "beside the photo's own: {taps}");
    // The page says the words while it still records: it is asked until the condition is in.
    let before = job["conditions"].as_array().map_or(0, Vec::len);
    let condition = wait_for("the second condition", || {
        let after = page.ask("site_day", &json!({}))?;
        let jobs = after["jobs"].as_array().ok_or("There are no jobs.")?;
        let same = jobs.iter().find(|each| each["number"] == job["number"]).ok_or("The job is gone.")?;
        let conditions = same["conditions"].as_array().ok_or("The job has no conditions.")?;
        Ok(conditions.last().filter(|_| conditions.len() == before + 2).cloned())
    })?;
    assert_eq!(
        (
            &condition["place"],
            &condition["side"],
            &condition["count"],
            condition["photos"].as_array().map(Vec::len)
        ),
        (&json!("ridge"), &json!("north"), &json!("2"), Some(1))
    );
    Ok(())
}

/// Logs two sheets more than the price still covers, in the valley on the north side, with a photo. Answers with the
/// job and how many there were in all.
pub(crate) fn log_beyond(page: &Page) -> Outcome<(Value, String)> {
    let day = page.ask("site_day", &json!({}))?;
    let job = job_with_a_price(&day)?;
    page.choose("Job", job["number"].as_str().unwrap_or_default())?;

    page.press_named("Valley")?;
    page.press_named("north")?;
    // Two beyond what the price still covers, so that the homeowner has to be asked.
    let left = Qty::parse(job["sheets_left"].as_str().unwrap_or_default())?;
    let count = (left.max(Qty::ZERO) + Qty::parse("2")?).to_string();
    page.fill("How many", &count)?;
    page.run("document.activeElement.blur(); done(true);")?;
    take_photo(page)?;
    page.wait_for_words("Another photo")?;
    page.press_named("Log it")?;
    page.wait_for_words("Logged on")?;
    Ok((job, count))
}

pub(crate) fn job_with_a_price(day: &Value) -> Outcome<Value> {
    let jobs = day["jobs"].as_array().ok_or("There are no jobs.")?;
    let priced = |job: &&Value| {
        job["prices"].as_array().is_some_and(|prices| {
            prices.iter().any(|price| price["damaged"] == "deck-sheet" && price["counted_in"] == "sheet")
        })
    };
    Ok(jobs.iter().find(priced).ok_or("No job has a price for a further sheet.")?.clone())
}

/// Puts a photo into the field as a camera would.
fn take_photo(page: &Page) -> Outcome<()> {
    page.run(
        "const sheet = document.createElement('canvas'); sheet.width = 640; sheet.height = 480; const ink = \
         sheet.getContext('2d'); ink.fillStyle = '#8a6b4a'; ink.fillRect(0, 0, 640, 480); ink.fillStyle = '#2b2118'; \
         ink.fillRect(180, 120, 300, 200); sheet.toBlob((blob) => { const files = new DataTransfer(); \
         files.items.add(new File([blob], 'valley.jpg', { type: 'image/jpeg' })); const field = \
         document.querySelector('input[type=file]'); field.files = files.files; field.dispatchEvent(new \
         Event('change', { bubbles: true })); done(true); }, 'image/jpeg', 0.8);",
    )
    .map(|_| ())
}

#[test]
fn whoever_sits_as_crew_gets_no_cost_even_past_the_page() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    page.sit_down_as("crew")?;
    page.wait_for_heading("Site")?;
    for (name, takes) in NOT_FOR_THE_CREW {
        let answer = page.invoke(name, &serde_json::from_str(takes)?)?;
        assert_eq!(answer, Err("not-allowed".to_owned()), "{name} {takes}");
    }
    let day = page.ask("site_day", &json!({}))?;
    let told = day.to_string();
    for word in MONEY_OF_THE_FIRM {
        assert!(!told.contains(&format!("\"{word}")), "the site view tells “{word}”");
    }
    Ok(())
}
