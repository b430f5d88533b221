//! The checklist on the roof, by touch on a tablet held upright and across: one tap is good, an open point has its note
//! and photo, and a power cut loses neither. Then the owner sees who looked and when, and the packet is printed.

use std::fs;
use std::time::Duration;

use serde_json::{Value, json};

use crate::condition::{TABLET, on_site, photo_is_there, take_photo_into, wait_for_draft};
use crate::desk::{Desk, Wish};
use crate::driver::{Outcome, Page, wait_for};
use crate::looks::FITS;

/// A tablet held across.
const ACROSS: (u32, u32) = (1280, 800);

/// The points of a job, as the program has them.
fn points(page: &Page, job: &str) -> Outcome<Vec<Value>> {
    let work = page.ask("workmanship", &json!({ "job": job }))?;
    assert!(!work.to_string().contains("\"cost\""), "the crew reads a cost");
    Ok(work["points"].as_array().cloned().unwrap_or_default())
}

fn words_of(point: &Value) -> Outcome<String> {
    point["words"].as_str().map(str::to_owned).ok_or_else(|| "A point says nothing.".into())
}

/// Goes to the checklist of a job on site, and opens it.
fn at_the_checklist(page: &Page, job: &str) -> Outcome<()> {
    on_site(page)?;
    page.choose("Job", job)?;
    page.wait_for_words(&format!("Checklist of {job}"))?;
    let count = count_of(page, job)?;
    // What is read above it may move it from under the finger while it is pressed: then it is pressed again.
    wait_for("the checklist to open", || {
        let open =
            page.run("done(document.querySelector('section[aria-labelledby=checklist] details')?.open)")?;
        if open == true {
            return Ok(Some(()));
        }
        page.press_named(&count)?;
        std::thread::sleep(Duration::from_millis(700));
        Ok(None)
    })
}

/// How the checklist's own line says how far it is.
fn count_of(page: &Page, job: &str) -> Outcome<String> {
    let points = points(page, job)?;
    let settled = points.iter().filter(|point| point["settled"] == true).count();
    Ok(format!("{settled} of {} points are settled", points.len()))
}

/// Whether everything to be pressed in the checklist is large enough for a glove, and nothing runs out of the page.
fn fits_a_glove(page: &Page) -> Outcome<()> {
    let small = page.run(
        "const all = [...document.querySelectorAll('section[aria-labelledby=checklist] :is(button, summary)')]; \
         done(all.filter((each) => each.checkVisibility() && each.getBoundingClientRect().height < 55.5).map((each) \
         => each.innerText));",
    )?;
    assert_eq!(small, json!([]), "too small for a glove");
    assert_eq!(page.run(&format!("done({FITS})"))?, true, "the page runs out of the window");
    Ok(())
}

#[test]
fn the_crew_checks_points_with_a_photo_the_owner_sees_who_and_when_and_the_packet_prints() -> Outcome<()> {
    let place = tempfile::tempdir()?;
    let papers = place.path().join("papers");
    fs::create_dir(&papers)?;
    let file = place.path().join("Quill.tearoff");
    drop(office::sample::write(&file, &mut |_, _| true)?);
    let words = vec![file.to_str().ok_or("A path of this machine is not UTF-8.")?.to_owned()];
    let mut desk = Desk::open(&Wish { words, answer: Some(papers.clone()), ..Wish::default() })?;
    desk.page.resize(TABLET.0, TABLET.1)?;
    let crew = desk.page.sit_down_as("crew")?;
    desk.page.wait_for_heading("Site")?;
    let day = desk.page.ask("site_day", &json!({}))?;
    // One whose checklist nobody has begun.
    let jobs = day["jobs"].as_array().cloned().unwrap_or_default();
    let mut numbers = jobs.iter().filter_map(|job| job["number"].as_str());
    let fresh = |job: &&str| {
        points(&desk.page, job)
            .is_ok_and(|all| all.len() > 1 && all.iter().all(|point| point["settled"] != true))
    };
    let job = numbers.find(fresh).ok_or("There is no job with a fresh checklist.")?.to_owned();
    at_the_checklist(&desk.page, &job)?;
    let list = points(&desk.page, &job)?;
    let [first, second, ..] = list.as_slice() else { return Err("The checklist has no two points.".into()) };
    let (first, second) = (words_of(first)?, words_of(second)?);

    // One tap is good.
    desk.page.press_named(&format!("Good: {first}"))?;
    desk.page.wait_for_words(&format!("“{first}”: good."))?;
    desk.page.wait_for_words(&format!("1 of {} points are settled", list.len()))?;
    fits_a_glove(&desk.page)?;
    desk.page.resize(ACROSS.0, ACROSS.1)?;
    fits_a_glove(&desk.page)?;
    desk.keep_picture("checklist-across")?;
    desk.page.resize(TABLET.0, TABLET.1)?;

    // An open point gets its note and photo, and the power goes before it is recorded.
    desk.page.press_named(&format!("Open: {second}"))?;
    desk.page.fill("Note", "South bed still bare")?;
    desk.page.run("document.activeElement.blur(); done(true);")?;
    take_photo_into(&desk.page, "[aria-label^='Check: '] input[type=file]")?;
    desk.page.wait_for_words("list.pdf was not kept")?;
    desk.page.wait_for_words("Another photo")?;
    let draft = wait_for_draft(&desk.page, "work-check", "\"photo\"")?;
    let hash = draft["body"]["values"]["lists"]["photos"][0]["photo"].clone();
    desk.kill_and_open_again()?;
    at_the_checklist(&desk.page, &job)?;
    assert!(photo_is_there(&desk.page, &hash)?, "the power cut lost the photo");
    desk.page.press_named(&format!("Open: {second}"))?;
    desk.page.wait_for_words("Another photo")?;
    assert_eq!(desk.page.value_of("Note")?, "South bed still bare");
    desk.keep_picture("checklist")?;
    desk.page.press_named("Record the check")?;
    desk.page.wait_for_words(&format!("“{second}”: open."))?;
    let after = points(&desk.page, &job)?;
    assert_eq!((&after[0]["check"]["state"], &after[0]["check"]["who"]), (&json!("good"), &json!(crew)));
    assert_eq!((&after[1]["check"]["state"], &after[1]["check"]["photos"][0]), (&json!("open"), &hash));
    let refused = desk.page.invoke(
        "record",
        &json!({ "facts": [{ "kind": "warranty", "date": "2026-11-03", "job": job, "begins": "2026-11-03",
            "years": 10, "terms": "Ours" }] }),
    )?;
    assert_eq!(refused, Err("not-allowed".to_owned()), "the crew gives a warranty");

    // The owner sees who and when, and what the packet waits for; a packet that lists it is printed.
    desk.page.sit_down_as("owner")?;
    desk.page.resize(ACROSS.0, ACROSS.1)?;
    desk.page.go(&format!("#/job/{job}/result"))?;
    desk.page.wait_until("the job's result", "document.querySelector('#part-result')")?;
    desk.page.wait_for_words("The completion packet waits for")?;
    desk.page.press_named("Checklist:")?;
    desk.page.wait_for_words(&format!("{crew}, "))?;
    desk.page.wait_for_words("South bed still bare")?;
    // A picture is fetched when it comes near to being seen.
    desk.page.wait_until(
        "the photo of the check",
        "(() => { const near = [...document.querySelectorAll('span.photo')]; near.at(0)?.scrollIntoView(); \
         return [...document.images].some((each) => each.alt.startsWith('Photo 1 of the check') && \
         each.naturalWidth > 0); })()",
    )?;
    desk.keep_picture("workmanship")?;
    desk.page.press_named("Completion packet (PDF)")?;
    desk.page.wait_for_words("the packet waits for")?;
    desk.page.press_named("Packet that lists them (PDF)")?;
    desk.page.wait_for_words("Saved as")?;
    let printed = fs::read(papers.join(format!("{job} completion packet.pdf")))?;
    assert!(printed.starts_with(b"%PDF-"), "what was saved is no PDF");
    Ok(())
}
