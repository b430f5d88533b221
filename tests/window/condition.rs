//! A condition from the squared deck to the signature, by touch on a tablet held upright; and a power cut at every
//! step, which loses no photo and no signature.

use std::time::Duration;

use serde_json::{Value, json};

use crate::crew::job_with_a_price;
use crate::desk::{Desk, Wish};
use crate::driver::{Outcome, Page, wait_for};

/// A tablet held upright.
pub(crate) const TABLET: (u32, u32) = (800, 1280);

/// Draws over what a selector finds by touch, through points given as shares of its width and height.
fn touch_over(page: &Page, selector: &str, points: &[(u32, u32)]) -> Outcome<()> {
    let drawn = page.run(&format!(
        "const on = document.querySelector({selector}); on?.scrollIntoView({{ block: 'center' }}); if (!on) \
         done('nothing'); else {{ const box = on.getBoundingClientRect(); const points = {points}; const tell = \
         (kind, [x, y]) => on.dispatchEvent(new PointerEvent(kind, {{ bubbles: true, cancelable: true, pointerId: 7, \
         pointerType: 'touch', isPrimary: true, button: kind === 'pointermove' ? -1 : 0, clientX: box.left + \
         box.width * x / 100, clientY: box.top + box.height * y / 100 }})); on.setPointerCapture = () => {{}}; \
         tell('pointerdown', points[0]); for (const point of points) tell('pointermove', point); tell('pointerup', \
         points.at(-1)); done('drawn'); }}",
        selector = json!(selector),
        points = json!(points),
    ))?;
    if drawn == "drawn" { Ok(()) } else { Err(format!("There is no {selector} to draw on.").into()) }
}

/// Puts a photo into the first field for one, as a camera would.
fn take_photo(page: &Page) -> Outcome<()> {
    take_photo_into(page, "input[type=file]")
}

/// Puts a photo, and with it something that is none, into the field for photos that a selector finds.
pub(crate) fn take_photo_into(page: &Page, selector: &str) -> Outcome<()> {
    page.run(&format!(
        "const field = document.querySelector({selector}); const sheet = document.createElement('canvas'); \
         sheet.width = 640; sheet.height = 480; const ink = sheet.getContext('2d'); ink.fillStyle = '#8a6b4a'; \
         ink.fillRect(0, 0, 640, 480); ink.fillStyle = '#2b2118'; ink.fillRect(180, 120, 300, 200); \
         sheet.toBlob((blob) => {{ const files = new DataTransfer(); files.items.add(new File([blob], 'valley.jpg', \
         {{ type: 'image/jpeg' }})); files.items.add(new File(['no'], 'list.pdf', {{ type: 'application/pdf' }})); \
         field.files = files.files; field.dispatchEvent(new Event('change', {{ bubbles: true }})); done(true); }}, \
         'image/jpeg', 0.8);",
        selector = json!(selector),
    ))
    .map(|_| ())
}

/// Whether a hash is a photo that can be read.
pub(crate) fn photo_is_there(page: &Page, hash: &Value) -> Outcome<bool> {
    let kept = page.invoke("attachment", &json!({ "hash": hash, "preview": true }))?;
    Ok(kept.is_ok_and(|kept| kept.as_str().is_some_and(|kept| kept.starts_with("data:image/jpeg"))))
}

/// The draft that comes back and the photos move what lies below them: nothing is pressed while they are on their way.
fn pictures_are_drawn(page: &Page) -> Outcome<()> {
    page.wait_until("the pictures", "[...document.images].every((each) => each.complete)")
}

/// The condition that was half logged stands in the form again: its photo is drawn, and what the price includes is
/// said. Both come after the form itself and move what lies below them.
fn draft_is_back(page: &Page) -> Outcome<()> {
    page.wait_for_words("Another photo")?;
    page.wait_for_words("Included in the price")?;
    page.wait_until("the draft's photo", "document.images.length > 0")?;
    pictures_are_drawn(page)
}

/// Unfolds the damage. A press on a page that still moves may miss, so it is looked at and pressed again.
fn unfold_the_damage(page: &Page) -> Outcome<()> {
    wait_for("the damage to unfold", || {
        let open = "done([...document.querySelectorAll('details')].some((each) => each.open && \
                    each.innerText.includes('The damage, measured')))";
        if page.run(open)? == true {
            return Ok(Some(()));
        }
        page.press_named("More: measure")?;
        Ok(None)
    })
}

/// Waits until a draft of this kind says these words.
pub(crate) fn wait_for_draft(page: &Page, kind: &str, words: &str) -> Outcome<Value> {
    wait_for(&format!("a draft of {kind} that says “{words}”"), || {
        let drafts = page.ask("drafts", &json!({ "kind": kind }))?;
        let told = drafts.as_array().into_iter().flatten().find(|draft| draft.to_string().contains(words));
        Ok(told.cloned())
    })
}

/// Sits down as one of the crew: after the program was killed, its file lies on the desk again.
pub(crate) fn on_site(page: &Page) -> Outcome<()> {
    page.sit_down_as("crew")?;
    page.wait_for_heading("Site")
}

#[test]
fn from_the_squared_deck_to_the_signature_by_touch_with_a_power_cut_at_each_step() -> Outcome<()> {
    let place = tempfile::tempdir()?;
    let file = place.path().join("Quill.tearoff");
    drop(office::sample::write(&file, &mut |_, _| true)?);
    let words = vec![file.to_str().ok_or("A path of this machine is not UTF-8.")?.to_owned()];
    let mut desk = Desk::open(&Wish { words, ..Wish::default() })?;
    desk.page.resize(TABLET.0, TABLET.1)?;
    on_site(&desk.page)?;
    let day = desk.page.ask("site_day", &json!({}))?;
    let job = job_with_a_price(&day)?;
    let number = job["number"].as_str().unwrap_or_default().to_owned();
    desk.page.choose("Job", &number)?;
    desk.page.press_named("Valley")?;
    desk.page.press_named("north")?;

    // A photo is kept, what is no photo is refused by its name, and the power goes.
    take_photo(&desk.page)?;
    desk.page.wait_for_words("list.pdf was not kept")?;
    desk.page.wait_for_words("Another photo")?;
    let draft = wait_for_draft(&desk.page, "site-condition", "\"photo\"")?;
    let hash = draft["body"]["values"]["lists"]["photos"][0]["photo"].clone();
    assert!(photo_is_there(&desk.page, &hash)?, "the draft names a photo that is not there");
    desk.kill_and_open_again()?;
    on_site(&desk.page)?;
    assert!(photo_is_there(&desk.page, &hash)?, "the power cut lost the photo");
    draft_is_back(&desk.page)?;

    // The damage is drawn by a finger, calculated, and the power goes again.
    unfold_the_damage(&desk.page)?;
    touch_over(&desk.page, "svg[aria-label^='Squared deck']", &[(5, 80), (30, 50), (60, 30)])?;
    desk.page.wait_for_words("The patches come to")?;
    wait_for_draft(&desk.page, "site-condition", "along_eave")?;
    desk.kill_and_open_again()?;
    on_site(&desk.page)?;
    draft_is_back(&desk.page)?;
    unfold_the_damage(&desk.page)?;
    desk.page.wait_for_words("The patches come to")?;
    let left = job["sheets_left"].as_str().unwrap_or("0").to_owned();
    let count = (office::Qty::parse(&left)?.max(office::Qty::ZERO) + office::Qty::parse("3")?).to_string();
    desk.page.fill("How many", &count)?;
    desk.page.run("document.activeElement.blur(); done(true);")?;
    desk.page.fill("Why your count differs", "Two sheets broke")?;
    desk.page.run("document.activeElement.blur(); done(true);")?;
    desk.page.press_named("Log it")?;
    desk.page.wait_for_words("Logged on")?;

    // Put before the homeowner, signed on the glass, and the power goes before the answer is recorded.
    desk.page.press_named("Ask the homeowner now")?;
    desk.page.wait_for_heading("Change order")?;
    desk.page.wait_for_words("Price, before sales tax")?;
    desk.page.wait_until(
        "the photo in its own shape",
        "(() => { const all = [...document.querySelectorAll('.picture img')]; \
         const shape = (wide, high) => wide / high; \
         return all.length > 0 && all.every((one) => one.naturalWidth > 0 && Math.abs( \
         shape(one.clientWidth, one.clientHeight) / shape(one.naturalWidth, one.naturalHeight) - 1) < 0.03); })()",
    )?;
    touch_over(&desk.page, "canvas", &[(20, 50), (30, 20), (40, 80), (50, 20), (60, 70), (70, 50)])?;
    wait_for_draft(&desk.page, "site-decision", "strokes\":\"[[")?;
    desk.kill_and_open_again()?;
    on_site(&desk.page)?;
    desk.page.choose("Job", &number)?;
    desk.page.wait_for_words(&format!("Found on {number}"))?;
    pictures_are_drawn(&desk.page)?;
    wait_for("the homeowner's sheet to open", || {
        let open = "done([...document.querySelectorAll('h1, h2')].some((each) => each.innerText.startsWith('Change \
                    order')))";
        if desk.page.run(open)? == true {
            return Ok(Some(()));
        }
        desk.page.press_named("Show it and get the decision")?;
        std::thread::sleep(Duration::from_millis(700));
        Ok(None)
    })?;
    desk.page.wait_for_heading("Change order")?;
    desk.page
        .wait_until("the signature", "document.querySelector('.pad .unseen')?.textContent === 'Signed'")?;
    desk.page.press_named("Approved")?;
    desk.page.wait_for_words("Approved. The work can go on")?;

    let after = desk.page.ask("site_day", &json!({}))?;
    let jobs = after["jobs"].as_array().ok_or("There are no jobs.")?;
    let same = jobs.iter().find(|each| each["number"] == job["number"]).ok_or("The job is gone.")?;
    let change = same["changes"].as_array().and_then(|all| all.last()).ok_or("There is no change order.")?;
    assert_eq!(change["state"], "approved");
    let sheet = desk.page.ask("change_sheet", &json!({ "change": change["id"] }))?;
    assert_eq!(sheet["conditions"][0]["count"], json!(count));
    assert_eq!(sheet["conditions"][0]["count_reason"], "Two sheets broke");
    assert_eq!(sheet["conditions"][0]["photos"][0], hash);
    assert!(
        sheet["conditions"][0]["calculation"]["cut_list"]["bought"].as_u64().is_some_and(|bought| bought > 0)
    );
    assert_eq!(sheet["decisions"][0]["method"], "signed");
    assert!(!sheet.to_string().contains("\"cost\""), "the homeowner's sheet tells a cost");
    Ok(())
}
