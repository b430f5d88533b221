//! At the kitchen table: a roof is drawn, priced, compared, and becomes the contract.

use serde_json::{Value, json};

use crate::desk::{Desk, Wish};
use crate::driver::{Outcome, Page, key, wait_for};
use crate::looks::FITS;

const NUMBER: &str = "26-900";

/// Parts for a firm that has set up none: name, item, code, kind of cost, package, how much it covers, price.
const PARTS: [[&str; 7]; 17] = [
    ["dump fee", "haul", "haul", "disposal", "ton", "1", "95"],
    ["sheet", "deck-sheet", "deck", "material", "sheet", "1", "31.50"],
    ["barrier", "barrier", "barrier", "material", "roll", "200", "92.40"],
    ["cover", "underlayment", "underlay", "material", "roll", "1000", "118"],
    ["edge", "drip-edge", "flash", "material", "piece", "10", "9.85"],
    ["strip", "starter", "shingle", "material", "bundle", "105", "54.10"],
    ["shingle", "shingles", "shingle", "material", "bundle", "33.3333", "39.75"],
    ["valley", "valley-metal", "flash", "material", "piece", "10", "46.30"],
    ["step", "step-flashing", "flash", "material", "piece", "1", "0.88"],
    ["apron", "apron", "flash", "material", "piece", "10", "17.60"],
    ["kick-out", "kick-out", "flash", "material", "piece", "1", "24.50"],
    ["boot", "pipe-boot", "flash", "material", "piece", "1", "14.75"],
    ["ridge-vent", "ridge-vent", "vent", "material", "piece", "4", "19.90"],
    ["intake", "intake", "vent", "material", "piece", "1", "12.40"],
    ["cap", "ridge-cap", "ridge", "material", "bundle", "25", "63.20"],
    ["nails", "fasteners", "sundry", "material", "box", "7200", "58.90"],
    ["permit", "permit", "permit", "permit", "piece", "1", "180"],
];

/// Hours for one measure of an item, for a firm that has set up none: item, code, hours.
const HOURS: [[&str; 3]; 15] = [
    ["tear-off", "tear", "1.1"],
    ["deck-sheet", "deck", "0.6"],
    ["barrier", "barrier", "0.004"],
    ["underlayment", "underlay", "0.0025"],
    ["drip-edge", "flash", "0.025"],
    ["starter", "shingle", "0.01"],
    ["shingles", "shingle", "0.018"],
    ["valley-metal", "flash", "0.06"],
    ["step-flashing", "flash", "0.05"],
    ["apron", "flash", "0.06"],
    ["kick-out", "flash", "0.5"],
    ["pipe-boot", "flash", "0.4"],
    ["ridge-vent", "vent", "0.06"],
    ["intake", "vent", "0.3"],
    ["ridge-cap", "ridge", "0.04"],
];

/// A job that was asked for today and has no contract, and rates for its roof where the firm has none.
pub(crate) fn new_job(page: &Page) -> Outcome<()> {
    let lists = page.ask("lists", &json!({}))?;
    let today = page.ask("desk_state", &json!({}))?["today"].clone();
    let (customer, crew) = (&lists["customers"][0]["name"], &lists["crews"][0]["name"]);
    let job = json!({ "kind": "job", "date": today, "number": NUMBER, "title": "Tear-off and re-roof, L with a wall",
        "customer": customer, "site": "9 Tannery Row", "crew": crew, "roof_age_years": 22, "roof_state": "worn" });
    page.ask("record", &json!({ "facts": [job] }))?;
    let begun = page.ask("begin_estimate", &json!({ "job": NUMBER }))?;
    if begun["choices"][0]["parts"] != json!([]) {
        return Ok(());
    }
    let vendor = &lists["vendors"][0]["name"];
    let part = |[name, item, code, kind, package, covers, _]: [&str; 7]| {
        json!({ "kind": "part", "name": name, "title": format!("{name}, plain"), "item": item, "code": code,
            "cost_kind": kind, "package": package, "covers": covers })
    };
    let price = |[name, .., price]: [&str; 7]| {
        json!({
            "kind": "part-price", "date": "2026-03-02", "part": name, "vendor": vendor, "price": price
        })
    };
    let hours = |[item, code, hours]: [&str; 3]| {
        json!({ "kind": "production-rate", "date": "2026-03-02", "item": item, "steepness": "walkable",
            "stories": 1, "code": code, "hours": hours })
    };
    page.ask("record", &json!({ "facts": PARTS.map(part) }))?;
    page.ask("record", &json!({ "facts": PARTS.map(price) }))?;
    page.ask("record", &json!({ "facts": HOURS.map(hours) })).map(|_| ())
}

/// Opens the job's estimate from its page by the key.
pub(crate) fn open_estimate(page: &Page) -> Outcome<()> {
    page.go(&format!("#/job/{NUMBER}"))?;
    page.wait_for_words("There is no contract yet")?;
    page.strike(&["e"])?;
    page.wait_for_heading("Estimate")?;
    page.wait_until("the sheet", "document.querySelector('[role=application]')")
}

/// Draws an L with a valley from its measures, by hand on the sheet a porch against a wall, and names a rake as a wall.
pub(crate) fn draw(page: &Page) -> Outcome<()> {
    // By the keyboard: a porch of 12 by 8 feet, from typed lengths and arrows.
    page.run("document.querySelector('[role=application]').focus(); done(true);")?;
    page.strike(&[key::ENTER, "1", "2", key::RIGHT, "8", key::UP, "1", "2", key::LEFT, "c"])?;
    page.wait_until("the porch to be measured", "document.body.innerText.includes('Roof surface')")?;
    page.fill("Name", "porch")?;
    // By the mouse: the L from its measures, put beside it.
    if page.all("details.ready[open]")?.is_empty() {
        page.press_named("Begin with a ready shape")?;
    }
    page.choose("Shape", "L with a valley")?;
    page.fill("Span of each leg", "24")?;
    page.fill("Length", "50")?;
    page.fill("Short leg stands out", "16")?;
    page.press_named("Add to the sheet")?;
    page.wait_until("the valley to be measured", &format!("{} > 0", length_of("Valley")))?;
    // By the keyboard again: the porch's high edge lies against a wall, and so does the L's left end.
    page.press_named("Name edges")?;
    name_edge(page, "porch", "Ridge", "d")?;
    name_edge(page, "front", "Rake", "w")?;
    page.wait_until("the wall to be measured", &format!("{} > 0", length_of("Wall")))?;
    page.wait_until("the headwall to be measured", &format!("{} > 0", length_of("Headwall")))?;
    // A pipe, where the mouse puts it.
    page.press_named("Features")?;
    page.press_named("Pipe")?;
    let sheet = page.find("[role=application]")?;
    page.press(&sheet)?;
    page.wait_for_words("Pipe put at")
}

/// The true feet of a kind of edge, as the page shows them.
fn length_of(kind: &str) -> String {
    format!(
        "Number([...document.querySelectorAll('th')].find((each) => each.innerText === \
         '{kind}')?.nextElementSibling?.innerText.replace(/[^0-9.]/g, '') ?? 0)"
    )
}

/// Goes through the edges by Tab until the one of this section and kind, and names it by its letter.
fn name_edge(page: &Page, section: &str, kind: &str, letter: &str) -> Outcome<()> {
    page.run("document.querySelector('[role=application]').focus(); done(true);")?;
    for _ in 0..40 {
        page.strike(&[key::TAB])?;
        let said = page.run("done(document.querySelector('.said').innerText)")?;
        let said = said.as_str().unwrap_or_default().to_lowercase();
        if said.starts_with(&section.to_lowercase()) && said.contains(&kind.to_lowercase()) {
            return page.strike(&[letter]);
        }
    }
    Err(format!("Tab comes to no {kind} of “{section}”.").into())
}

/// Waits until the draft on the disk is as this says.
fn wait_until_kept(page: &Page, what: &str, so: impl Fn(&Value) -> bool) -> Outcome<()> {
    wait_for(&format!("{what} to be kept"), || {
        let drafts = page.ask("drafts", &json!({ "kind": "estimate" }))?;
        Ok(so(&drafts[0]["body"]["estimate"]).then_some(()))
    })
}

/// The estimate as the draft holds it, calculated anew past the page.
fn calculated(page: &Page) -> Outcome<Value> {
    let drafts = page.ask("drafts", &json!({ "kind": "estimate" }))?;
    page.ask("calculate_estimate", &json!({ "job": NUMBER, "estimate": drafts[0]["body"]["estimate"] }))
}

#[test]
fn a_roof_is_drawn_priced_compared_and_accepted_and_a_kill_in_the_middle_loses_nothing() -> Outcome<()> {
    let place = tempfile::tempdir()?;
    let file = place.path().join("Quill.tearoff");
    drop(office::sample::write(&file, &mut |_, _| true)?);
    let words = vec![file.to_str().ok_or("A path of this machine is not UTF-8.")?.to_owned()];
    let mut desk = Desk::open(&Wish { words, ..Wish::default() })?;
    desk.page.sit_down_as("owner")?;
    desk.page.wait_for_jobs()?;
    new_job(&desk.page)?;
    open_estimate(&desk.page)?;
    draw(&desk.page)?;
    wait_until_kept(&desk.page, "the roof", |estimate| {
        let sections = estimate["roof"]["sections"].as_array().map_or(0, Vec::len);
        sections == 5 && estimate["roof"]["features"] != json!([])
    })?;

    desk.kill_and_open_again()?;
    let page = &desk.page;
    page.sit_down_as("owner")?;
    page.wait_for_jobs()?;
    page.go(&format!("#/job/{NUMBER}"))?;
    page.press_named("Go on with the estimate")?;
    page.wait_for_words("Taken up from")?;
    page.wait_until("the valley, again", &format!("{} > 0", length_of("Valley")))?;

    // Priced by a margin, and with sheets in the price of B.
    page.strike(&["b"])?;
    page.fill("Attic floor", "1500")?;
    page.fill("Margin left after overhead", "18")?;
    page.fill("Deck sheets in the price", "4")?;
    page.strike(&[key::TAB])?;
    wait_until_kept(page, "the price", |estimate| {
        estimate["choices"][1]["price"]["value"] == "0.18"
            && estimate["choices"][1]["recipe"]["included_sheets"] == "4"
    })?;
    let figures = calculated(page)?;
    let (a, b) = (&figures["choices"][0], &figures["choices"][1]);
    assert_eq!(b["problems"], json!([]), "something stands in the way of B");
    assert_ne!(a["price"], b["price"]);
    let shown = grouped(b["price"].as_str().unwrap_or_default());
    page.wait_until(
        "the price in the line",
        &format!("document.querySelector('[aria-label=\"Estimate line\"]').innerText.includes('{shown}')"),
    )?;

    // A beside B, line by line, with a word where they differ. A figure struck in a field is written there.
    page.run("document.activeElement.blur(); done(true);")?;
    page.strike(&["6"])?;
    page.wait_until("Compare", "document.activeElement.innerText.startsWith('Compare')")?;
    let marked = page.run(
        "done([...document.querySelectorAll('#part-compare')][0].parentElement.innerText.includes('differs'))",
    )?;
    assert_eq!(marked, true, "A and B differ and no word says so");

    page.strike(&["9"])?;
    page.fill("Signed by", "Hester Vane")?;
    page.press_named("Accept choice B")?;
    page.wait_until("the contract", "document.querySelector('#part-contract')")?;
    page.wait_for_words("Cost in the contract")?;
    let month = page.ask("desk_state", &json!({}))?["months"][1].clone();
    let job = page.ask("job_page", &json!({ "number": NUMBER, "month": month }))?;
    assert_eq!(job["contract"]["price"], b["price"]);
    assert_eq!(job["figures"]["margin_sold"], b["margin"]);
    assert_eq!(job["contract"]["included_sheets"], "4");
    let drafts = page.ask("drafts", &json!({ "kind": "estimate" }))?;
    assert_eq!(drafts, json!([]), "the draft outlived its contract");
    Ok(())
}

/// An amount with its thousands apart, as the page writes it.
fn grouped(amount: &str) -> String {
    let (whole, cents) = amount.split_once('.').unwrap_or((amount, "00"));
    let mut text = String::new();
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index) % 3 == 0 {
            text.push(',');
        }
        text.push(digit);
    }
    format!("{text}.{cents}")
}

#[test]
fn an_estimate_is_the_owners_alone() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    new_job(page)?;
    let estimate = page.ask("begin_estimate", &json!({ "job": NUMBER }))?;
    for role in ["books", "crew"] {
        page.sit_down_as(role)?;
        page.wait_until("the person", "!document.querySelector('section[aria-labelledby=who]')")?;
        let acceptance = json!({ "letter": "A", "date": "2026-11-25", "note": null, "proposal": null });
        for (name, takes) in [
            ("begin_estimate", json!({ "job": NUMBER })),
            ("calculate_estimate", json!({ "job": NUMBER, "estimate": estimate })),
            ("accept_estimate", json!({ "job": NUMBER, "estimate": estimate, "acceptance": acceptance })),
            ("read_roof_csv", json!({ "text": "section,slope,area_sqft\nfront,6,900\n", "choices": {} })),
        ] {
            assert_eq!(page.invoke(name, &takes)?, Err("not-allowed".to_owned()), "{role} {name}");
        }
    }
    Ok(())
}

#[test]
fn under_a_fresh_sheet_all_is_reached_and_at_the_homeowners_table_nothing_of_ours_is_seen() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    new_job(page)?;
    open_estimate(page)?;
    for (width, height) in [(800, 1280), (1280, 800), (1600, 1000)] {
        page.resize(width, height)?;
        page.wait_until("the window's size", &format!("innerWidth === {width}"))?;
        let covered = page.run(
            "done([...document.querySelectorAll('section[aria-label=Features] button')].filter((each) => { \
             each.scrollIntoView({ block: 'center' }); \
             const { left, right, top, bottom } = each.getBoundingClientRect(); \
             return !each.contains(document.elementFromPoint((left + right) / 2, (top + bottom) / 2)); \
             }).map((each) => each.innerText))",
        )?;
        assert_eq!(covered, json!([]), "something lies over these at {width} × {height}");
    }
    draw(page)?;
    page.fill("Attic floor", "1500")?;
    page.strike(&[key::TAB])?;
    wait_until_kept(page, "the house", |estimate| estimate["roof"]["house"]["attic_floor_sqft"] == "1500")?;
    let total = calculated(page)?["choices"][1]["total"].clone();
    let shown = grouped(total.as_str().unwrap_or_default());
    page.press_named("At the homeowner’s table")?;
    page.wait_for_words(&shown)?;
    let said = page.run("done(document.body.innerText)")?;
    let said = said.as_str().unwrap_or_default().to_lowercase();
    for ours in ["margin", "overhead", "markup", "hours", "month end", "rates", "hand-off"] {
        assert!(!said.contains(ours), "“{ours}” stands on the homeowner's table");
    }
    for theme in ["dark", "light"] {
        page.run(&format!("document.documentElement.dataset.theme = '{theme}'; done(true);"))?;
        for (width, height) in [(480, 900), (800, 1280), (1280, 800), (1600, 1000)] {
            page.resize(width, height)?;
            page.wait_until("the window's size", &format!("innerWidth === {width}"))?;
            page.wait_until("the page to fit", FITS)?;
            desk.keep_picture(&format!("table-{theme}-{width}"))?;
        }
    }
    page.run("document.activeElement.blur(); done(true);")?;
    page.strike(&["t"])?;
    page.wait_until("the estimate again", "document.querySelector('[aria-label=\"Estimate line\"]')")
}
