//! What every form and every word of what was done keeps to, in a window of any size.

use crate::desk::at_the_made_up_firm;
use crate::driver::{Outcome, Page, key};
use crate::owner::job_under_way;

/// Opens the job that is at work, and its form for the job's status.
fn status_of_a_job(page: &Page) -> Outcome<()> {
    let number = job_under_way(page)?;
    page.go(&format!("#/job/{number}"))?;
    page.wait_until("the job", "document.querySelector('#part-contract')")?;
    page.strike(&["m"])?;
    page.wait_until("the form", "document.activeElement.closest('form')")
}

#[test]
fn words_of_what_was_done_lie_over_nothing_and_undo_outlives_them() -> Outcome<()> {
    let desk = at_the_made_up_firm(false)?;
    let page = &desk.page;
    status_of_a_job(page)?;
    page.choose("Code", "sundry")?;
    page.fill("Not installed", "12")?;
    page.press_named("Record the count")?;
    page.wait_for_words("Material on site for sundry recorded.")?;
    for (width, height) in [(480, 600), (1280, 800)] {
        page.resize(width, height)?;
        page.wait_until("the window's size", &format!("innerWidth === {width}"))?;
        page.wait_until(
            "the words to lie below the page",
            "document.querySelector('.frame').getBoundingClientRect().bottom <= \
             document.querySelector('.toasts').getBoundingClientRect().top + 0.5 && \
             document.querySelector('.toasts').getBoundingClientRect().bottom <= innerHeight + 0.5",
        )?;
        desk.keep_picture(&format!("toast-{width}"))?;
    }
    page.press_named("Dismiss: Material on site")?;
    page.wait_until("the words to go", "!document.querySelector('.toast')")?;
    page.find("button[aria-label^='Undo: Material on site']")?;
    page.run("document.activeElement.blur(); done(true);")?;
    page.strike_with(key::CONTROL, "z")?;
    page.wait_for_words("Taken back: Material on site for sundry recorded.")?;
    page.wait_until("nothing to take back", "!document.querySelector('button[aria-label^=Undo]')")
}

#[test]
fn a_dialog_begins_in_its_first_field_and_its_foot_is_in_sight_in_a_low_window() -> Outcome<()> {
    let desk = at_the_made_up_firm(false)?;
    let page = &desk.page;
    page.resize(480, 600)?;
    for (place, opens, first) in [
        ("#/rates/recipes", "Add a recipe", "Name"),
        ("#/rates/burden", "Add a rate", "Name"),
        ("#/firm", "Change the settings", "Name"),
    ] {
        page.go(place)?;
        page.press_named(opens)?;
        page.wait_until("the dialog", "document.querySelector('dialog[open] footer button')")?;
        let label = page
            .run("done(document.activeElement.labels?.[0]?.innerText ?? document.activeElement.outerHTML)")?;
        assert!(label.as_str().unwrap_or_default().starts_with(first), "{opens} begins at {label}");
        let foot = page.run(
            "const dialog = document.querySelector('dialog[open]'); \
             const seen = () => [...dialog.querySelectorAll('footer button')].every((each) => { \
             const { top, bottom, left, right } = each.getBoundingClientRect(); \
             const at = document.elementFromPoint((left + right) / 2, (top + bottom) / 2); \
             return top >= 0 && bottom <= innerHeight && each.contains(at); }); \
             const above = seen(); dialog.scrollTop = dialog.scrollHeight; done(above && seen());",
        )?;
        assert_eq!(foot, true, "the foot of {opens} is out of sight");
        let wide = page.run(
            "const { scrollWidth, clientWidth } = document.querySelector('dialog[open]'); \
             done(scrollWidth - clientWidth)",
        )?;
        assert_eq!(wide, 0, "{opens} has to be moved sideways");
        desk.keep_picture(&format!("dialog-low-{}", &place[2..].replace('/', "-")))?;
        page.strike(&[key::ESCAPE])?;
        page.wait_until("the dialog to close", "!document.querySelector('dialog[open]')")?;
    }
    Ok(())
}

#[test]
fn the_window_shows_everything_larger_and_smaller_by_its_keys() -> Outcome<()> {
    let desk = at_the_made_up_firm(false)?;
    let page = &desk.page;
    let usual = page.run("done(innerWidth)")?.as_u64().ok_or("The window has no width.")?;
    for _ in 0..5 {
        page.strike_with(key::CONTROL, "=")?;
    }
    page.wait_until("everything twice as large", &format!("innerWidth <= {}", usual / 2 + 1))?;
    page.wait_until("the page to fit", crate::looks::FITS)?;
    desk.keep_picture("zoomed-twice")?;
    page.strike_with(key::CONTROL, "-")?;
    page.wait_until("everything a little smaller", &format!("innerWidth > {}", usual / 2 + 1))?;
    page.strike_with(key::CONTROL, "0")?;
    page.wait_until("the usual size", &format!("innerWidth === {usual}"))
}
