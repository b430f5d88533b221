//! The window, driven as a person would: on a screen of its own, through the system's own driver.
//!
//! Run with `cargo xtask test --only window`, which builds program and cases and installs the driver first; with
//! `--as-shipped` the cases drive the release build. By hand: `TEAROFF_DESKTOP` names the program (the release build
//! when it is not set), `TEAROFF_DRIVER` the driver if it is not on the path.

mod books;
mod condition;
mod crew;
mod desk;
mod driver;
mod estimate;
mod first_week;
mod forms;
mod hand;
mod keyboard;
mod looks;
mod owner;
mod places;
mod screens;
mod trouble;
mod workmanship;

use std::fs;

use desk::{Desk, Wish, at_the_made_up_firm, checkout, program_without_screen};
use driver::{Outcome, key, wait_for};
use looks::{FITS, SETTLED, focused};
use serde_json::{Value, json};

const PLACES: [(&str, &str); 6] =
    [("Jobs", "j"), ("Books", "b"), ("Month end", "m"), ("Hand-off", "h"), ("Rates", "r"), ("Firm", "f")];

#[test]
fn the_sidebar_leads_to_the_six_places_by_mouse_and_by_key() -> Outcome<()> {
    let desk = at_the_made_up_firm(false)?;
    let page = &desk.page;
    let links = {
        page.find("nav a")?;
        page.all("nav a")?
    };
    let words = links.iter().map(|link| page.text(link)).collect::<Outcome<Vec<_>>>()?;
    // Beside the places an owner may look at the site as a crew does.
    assert_eq!(words[..PLACES.len()], PLACES.map(|(word, _)| word));
    for (link, (word, _)) in links.iter().zip(PLACES) {
        page.press(link)?;
        page.wait_for_text("nav a[aria-current=page]", word)?;
    }
    for (word, letter) in PLACES {
        page.strike_with(key::ALT, letter)?;
        page.wait_for_text("nav a[aria-current=page]", word)?;
    }
    let picture = desk.keep_picture("frame")?;
    assert!(fs::metadata(picture)?.len() > 10_000, "the picture of the window is all but empty");
    Ok(())
}

#[test]
fn the_page_hears_from_the_program_which_version_it_is() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    desk.page.wait_for_text("nav .program", concat!("Tearoff ", env!("CARGO_PKG_VERSION")))
}

#[test]
fn the_keys_are_listed_and_everything_is_reached_without_a_mouse() -> Outcome<()> {
    let desk = at_the_made_up_firm(false)?;
    let page = &desk.page;
    page.strike(&["?"])?;
    page.wait_for_text("dialog[open] h2", "Every key")?;
    desk.keep_picture("keys")?;
    page.strike(&[key::ESCAPE])?;
    wait_for("the list of keys to close", || Ok(page.all("dialog[open]")?.is_empty().then_some(())))?;
    // The way past the spine comes first, then each place, each with a focus that can be seen.
    page.strike(&[key::TAB])?;
    assert_eq!(focused(&desk)?, "Skip to the page");
    for (word, _) in PLACES {
        page.strike(&[key::TAB])?;
        assert_eq!(focused(&desk)?, word);
        let outline = page.run("done(getComputedStyle(document.activeElement).outlineStyle)")?;
        assert_eq!(outline, "solid", "the focus on {word} can't be seen");
    }
    page.strike(&[key::ENTER])?;
    page.wait_for_text("h1", "Firm")
}

#[test]
fn the_page_can_reach_nothing_but_its_own_commands() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    desk.page.wait_for_text("h1", "Tearoff")?;
    let tried = desk.page.run(
        r#"
        // A refused fetch could be a dead line as well: the policy itself says what it has stopped.
        const stopped = new Set();
        document.addEventListener('securitypolicyviolation', (event) => stopped.add(event.effectiveDirective));
        const settled = (promise) => promise.then(() => 'answered', () => 'refused');
        const ask = (name, takes) => settled(window.__TAURI_INTERNALS__.invoke(name, takes));
        const script = document.createElement('script');
        script.textContent = 'window.ran = true';
        document.body.append(script);
        try { Object.prototype.sneaked = true; } catch { /* strict code is told, other code is passed over */ }
        Promise.all([
          ask('about', {}),
          ask('plugin:fs|read_text_file', { path: '/etc/hostname' }),
          ask('plugin:shell|execute', { program: 'true' }),
          ask('plugin:window|close', { label: 'desk' }),
          ask('plugin:event|emit', { event: 'x', payload: null }),
          ask('no_such_command', {}),
          settled(fetch('http://127.0.0.1:9/')),
          settled(fetch('https://example.invalid/')),
        ]).then((answers) => setTimeout(() => done({
          answers, ran: window.ran === true, sneaked: {}.sneaked === true, stopped: [...stopped].sort(),
        }), 100));
        "#,
    )?;
    let mut expected = vec!["refused"; 8];
    expected[0] = "answered";
    assert_eq!(tried["answers"], Value::from(expected));
    assert_eq!(tried["stopped"], Value::from(vec!["connect-src", "script-src-elem"]));
    assert_eq!(tried["ran"], false, "a script written into the page ran");
    assert_eq!(tried["sneaked"], false, "the page's own code could be changed from within");
    Ok(())
}

#[test]
fn every_place_can_be_read_in_both_themes_and_at_twice_the_size() -> Outcome<()> {
    let desk = at_the_made_up_firm(false)?;
    let page = &desk.page;
    let checker = fs::read_to_string(checkout().join("ui/node_modules/axe-core/axe.min.js"))
        .map_err(|error| format!("ui/node_modules has no axe-core ({error}). Run `npm ci` in ui."))?;
    page.run(&format!("{checker}\nwindow.axe = axe; done(true);"))?;
    for theme in ["light", "dark"] {
        page.run(&format!("document.documentElement.dataset.theme = '{theme}'; done(true);"))?;
        for (word, letter) in PLACES {
            page.strike_with(key::ALT, letter)?;
            page.wait_for_text("nav a[aria-current=page]", word)?;
            let found = page.run(&format!(
                "{SETTLED}.then(() => axe.run(document, {{ resultTypes: ['violations'] }})).then(({{ violations, \
                 passes }}) => done({{ wrong: violations.map((each) => each.id + ': ' + each.nodes.map((node) => \
                 node.html).join(' ')), looked: passes.some((each) => each.id === 'color-contrast') }}), (error) => \
                 done({{ wrong: [String(error)] }}));",
            ))?;
            assert_eq!(found["wrong"], json!([]), "{word}, {theme}");
            assert_eq!(found["looked"], true, "{word}, {theme}: no color was looked at");
        }
        desk.keep_picture(&format!("frame-{theme}"))?;
    }
    let fits = format!(
        "document.documentElement.style.fontSize = '200%'; requestAnimationFrame(() => done({FITS}));"
    );
    assert_eq!(page.run(&fits)?, true, "at twice the text size the page has to be moved sideways");
    desk.keep_picture("frame-twice")?;
    Ok(())
}

#[test]
fn a_second_start_brings_the_first_window_forward_and_ends() -> Outcome<()> {
    let desk = at_the_made_up_firm(true)?;
    let mut second = desk.start_again()?;
    let ended = wait_for("the second start to end", || Ok(second.try_wait()?));
    if ended.is_err() {
        second.kill()?;
    }
    assert!(ended?.success());
    assert_eq!(desk.page.windows()?, 1);
    desk.page.strike_with(key::ALT, "m")?;
    desk.page.wait_for_text("h1", "Month end")
}

#[test]
fn without_a_screen_it_says_so_in_a_sentence() -> Outcome<()> {
    let ended = program_without_screen().output()?;
    assert!(!ended.status.success());
    let said = String::from_utf8(ended.stderr)?;
    assert_eq!(
        said.trim(),
        "Tearoff could not open its window: the display can't be reached. Nothing was changed. Where there is no \
         display, the command line does the same work: `tearoff --help`."
    );
    Ok(())
}
