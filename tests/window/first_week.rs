//! The first week of a company: from an empty file to the first price, then the contract, hours and a bill, and the
//! first month closed. What each person has to do for it is counted, and may not become more.

use std::cell::Cell;

use office::Decimal;
use serde_json::{Value, json};

use crate::desk::{Desk, Wish};
use crate::driver::{Outcome, Page, key, wait_for};
use crate::looks::FITS;

/// What a person did: presses and keys, fields that were typed or chosen, and what was recorded.
#[derive(Debug, Default, PartialEq, Eq, PartialOrd, Ord, Clone, Copy)]
struct Did {
    saves: usize,
    fields: usize,
    keys: usize,
}

/// A person at the page, who counts.
struct Hand<'a> {
    page: &'a Page,
    did: Cell<Did>,
}

impl<'a> Hand<'a> {
    fn at(page: &'a Page) -> Hand<'a> {
        Hand { page, did: Cell::default() }
    }

    fn count(&self, more: impl FnOnce(&mut Did)) {
        let mut did = self.did.get();
        more(&mut did);
        self.did.set(did);
    }

    fn fill(&self, label: &str, text: &str) -> Outcome<()> {
        self.count(|did| did.fields += 1);
        self.page.fill(label, text)
    }

    fn choose(&self, label: &str, choice: &str) -> Outcome<()> {
        self.count(|did| did.fields += 1);
        self.page.choose(label, choice)
    }

    /// Types into the field of this label in a line of a list, which is found by its number or its name.
    fn fill_in(&self, line: &str, label: &str, text: &str) -> Outcome<()> {
        self.count(|did| did.fields += 1);
        let script = format!(
            "const line = document.querySelector({line}); const label = [...(line?.querySelectorAll('label') ?? [])] \
             .find((each) => each.innerText.trim().startsWith({label})); const field = label?.control ?? null; \
             field?.scrollIntoView({{ block: 'center' }}); field?.focus(); field?.select?.(); return field;",
            line = json!(line),
            label = json!(label),
        );
        let field = self.page.find_by(&format!("“{label}” in {line}"), &script)?;
        self.page.type_into(&field, text)
    }

    fn press(&self, name: &str) -> Outcome<()> {
        self.count(|did| did.keys += 1);
        self.page.press_named(name)
    }

    fn strike(&self, key: &str) -> Outcome<()> {
        self.count(|did| did.keys += 1);
        self.page.strike(&[key])
    }

    /// Presses what records, and waits until it is in.
    fn save(&self, name: &str, until: &str) -> Outcome<()> {
        self.count(|did| did.saves += 1);
        self.page.press_named(name)?;
        self.page.wait_for_words(until)
    }

    /// Keeps a usual list as it stands.
    fn review(&self, line: &str, keeps: &str) -> Outcome<()> {
        self.press(&format!("{line}: review"))?;
        self.save(keeps, "kept.")?;
        self.page.wait_until("the review to close", "!document.querySelector('main form')")
    }
}

fn is_left(page: &Page) -> Outcome<(Value, Value)> {
    let set_up = page.ask("what_is_set_up", &json!({}))?;
    Ok((set_up["before_price"].clone(), set_up["left"].clone()))
}

/// Prices of what a plain gable takes, by the title of the part.
const PRICES: [(&str, &str); 12] = [
    ("Container load", "495"),
    ("Deck sheet", "34"),
    ("Self-adhered membrane", "88"),
    ("Synthetic underlayment", "99"),
    ("Drip edge", "9.40"),
    ("Starter strip", "49"),
    ("Laminated shingles", "36.50"),
    ("Ridge vent", "17.80"),
    ("Intake vent", "14.20"),
    ("Hip and ridge cap", "61"),
    ("Coil nails", "52"),
    ("Building permit", "180"),
];

fn new_firm(hand: &Hand<'_>) -> Outcome<()> {
    hand.press("Begin a new firm")?;
    for (label, text) in [
        ("The owner’s name", "Wren Quarrel"),
        ("Name", "Quarrel & Daughter Roofing"),
        ("Town", "Alder Falls"),
        ("State", "LK"),
        ("Street address", "4 Weir Street"),
        ("ZIP code", "00000"),
        ("Telephone", "555-0142"),
    ] {
        hand.fill(label, text)?;
    }
    hand.save("Choose the place and make it", "things are left before the first price")
}

/// Looks at the screen in both themes, on a narrow window and a wide one: nothing is moved sideways.
fn look(desk: &Desk, name: &str) -> Outcome<()> {
    let page = &desk.page;
    for theme in ["dark", "light"] {
        page.run(&format!("document.documentElement.dataset.theme = '{theme}'; done(true);"))?;
        for (width, height) in [(480, 900), (1280, 800)] {
            page.resize(width, height)?;
            page.wait_until("the window's size", &format!("innerWidth === {width}"))?;
            page.wait_until("the page to fit", FITS)?;
            desk.keep_picture(&format!("{name}-{theme}-{width}"))?;
        }
    }
    Ok(())
}

fn set_up(desk: &Desk, hand: &Hand<'_>) -> Outcome<()> {
    hand.review("Cost codes", "Keep 12 codes")?;
    hand.press("People and pay: review")?;
    for (at, name, pay) in [(0, "Ada Rill", "33"), (1, "Tomas Weir", "27"), (2, "Nell Ford", "26")] {
        let line = format!("[data-line=people-{at}]");
        hand.fill_in(&line, "Name", name)?;
        hand.fill_in(&line, "Pay an hour", pay)?;
    }
    // The third keeps the books: the first choice of a role that begins so.
    hand.count(|did| did.fields += 1);
    hand.page.run(
        "const role = document.querySelector('[data-line=people-2] select'); role.value = 'books'; \
         role.dispatchEvent(new Event('change', { bubbles: true })); done(true);",
    )?;
    look(desk, "set-up-people")?;
    hand.save("Keep 3 people", "kept.")?;
    hand.page.wait_until("the review to close", "!document.querySelector('main form')")?;

    hand.press("Labor burden: review")?;
    let state = "[role=group][aria-label='State unemployment']";
    hand.fill_in(state, "Percent of pay", "2.7")?;
    hand.fill_in(state, "Stops at pay of", "13800")?;
    hand.fill_in("[role=group][aria-label=\"Workers' compensation\"]", "Each $100 of pay", "14.2")?;
    hand.fill_in("[role=group][aria-label='General liability']", "Each $100 of pay", "3.1")?;
    look(desk, "set-up-burden")?;
    hand.save("Keep 6 rates", "kept.")?;
    hand.page.wait_until("the review to close", "!document.querySelector('main form')")?;

    hand.press("Parts and prices: review")?;
    hand.fill("The prices are those of", "The Yard")?;
    for (part, price) in PRICES {
        hand.fill_in(&format!("[role=group][aria-label^='{part}']"), "Price of a", price)?;
    }
    look(desk, "set-up-parts")?;
    hand.save("Keep 26 parts", "kept.")?;
    hand.page.wait_until("the review to close", "!document.querySelector('main form')")?;
    hand.review("Production rates", "Keep the hours of")?;
    hand.review("Code and company standard", "Keep ")
}

fn first_job(hand: &Hand<'_>, signed: &str) -> Outcome<()> {
    let page = hand.page;
    hand.press("write down the first job")?;
    page.wait_for_heading("Jobs")?;
    hand.strike("n")?;
    hand.fill("What is done", "Tear-off and re-roof")?;
    hand.fill("Customer", "Ines Hollow")?;
    hand.fill("Where", "9 Tannery Row")?;
    hand.fill("Taken on", signed)?;
    hand.choose("Crew", "Crew 1")?;
    hand.save("Record the job", "recorded.")?;
    page.wait_for_jobs()
}

/// From the job to its price: a gable from its measures.
fn first_price(hand: &Hand<'_>) -> Outcome<Value> {
    let page = hand.page;
    hand.page.run("document.querySelector('.jobs [role=listbox]').focus(); done(true);")?;
    hand.strike(key::ENTER)?;
    page.wait_until("the job", "document.querySelector('#part-contract')")?;
    hand.strike("e")?;
    page.wait_for_heading("Estimate")?;
    page.wait_until("the sheet", "document.querySelector('[role=application]')")?;
    if page.all("details.ready[open]")?.is_empty() {
        hand.press("Begin with a ready shape")?;
    }
    hand.fill("Span", "28")?;
    hand.fill("Length", "44")?;
    hand.press("Add to the sheet")?;
    page.wait_for_words("Roof surface")?;
    wait_for("the price", || {
        let drafts = page.ask("drafts", &json!({ "kind": "estimate" }))?;
        let estimate = &drafts[0]["body"]["estimate"];
        if estimate["roof"]["sections"].as_array().is_none_or(Vec::is_empty) {
            return Ok(None);
        }
        let job = drafts[0]["job"].clone();
        Ok(Some(page.ask("calculate_estimate", &json!({ "job": job, "estimate": estimate }))?))
    })
}

#[test]
fn a_company_comes_from_an_empty_file_to_a_first_price_and_its_first_closed_month() -> Outcome<()> {
    let place = tempfile::tempdir()?;
    let file = place.path().join("Quarrel.tearoff");
    let desk = Desk::open(&Wish { answer: Some(file), ..Wish::default() })?;
    let page = &desk.page;
    let hand = Hand::at(page);
    page.wait_for_words("Begin a new firm")?;
    new_firm(&hand)?;
    look(&desk, "set-up-first")?;
    assert_eq!(is_left(page)?, (json!(6), json!(9)));
    set_up(&desk, &hand)?;
    assert_eq!(is_left(page)?.0, 0, "something is left before the first price");
    look(&desk, "set-up-done")?;
    let last_month = page.run(
        "const day = new Date(); day.setDate(0); const two = (part) => String(part).padStart(2, '0'); \
         done(`${day.getFullYear()}-${two(day.getMonth() + 1)}`);",
    )?;
    let last_month = last_month.as_str().ok_or("The page has no month.")?.to_owned();
    first_job(&hand, &format!("{last_month}-05"))?;
    let priced = first_price(&hand)?;
    for choice in priced["choices"].as_array().ok_or("There are no choices.")? {
        assert_eq!(choice["problems"], json!([]), "something stands in the way of {}", choice["letter"]);
        let price: Decimal = choice["price"].as_str().unwrap_or_default().parse()?;
        let usual = Decimal::from(4_000)..Decimal::from(40_000);
        assert!(usual.contains(&price), "{price} is no price for 14 squares");
    }
    for part in ["2", "8"] {
        page.run("document.activeElement.blur(); done(true);")?;
        page.strike(&[part])?;
        look(&desk, &format!("first-price-{part}"))?;
    }
    no_more_than("the first price", hand.did.take(), Did { saves: 8, fields: 39, keys: 13 });

    sign(&hand, &format!("{last_month}-06"))?;
    owner_logs_hours(&hand, &format!("{last_month}-10"))?;
    no_more_than("the contract and a day's hours", hand.did.take(), Did { saves: 2, fields: 6, keys: 3 });
    crew_logs_hours(&hand)?;
    no_more_than("the crew's day", hand.did.take(), Did { saves: 1, fields: 0, keys: 1 });
    books_enter_a_bill(&desk, &hand, &format!("{last_month}-12"))?;
    no_more_than("a bill", hand.did.take(), Did { saves: 1, fields: 6, keys: 2 });
    close(&hand, &last_month)?;
    no_more_than("the close", hand.did.take(), Did { saves: 1, fields: 1, keys: 2 });

    let first = page.ask("month_end", &json!({ "month": last_month }))?;
    assert_eq!(first["closed"], true);
    let job = &first["jobs"][0];
    assert_eq!(first["jobs"].as_array().map(Vec::len), Some(1));
    let cost = |of: &Value| of["cost"].as_str().unwrap_or_default().parse::<Decimal>();
    // Two people, eight hours each: pay of 33 and 27 an hour, with its burden; and a bill of 730 without tax.
    let (pay, bill) = (Decimal::from(8 * (33 + 27)), Decimal::from(730));
    let cost = cost(job)?;
    assert!(cost > pay + bill, "{cost} is not pay, burden and bill");
    assert!(cost < pay + pay + bill, "{cost} has more than pay, burden and bill");
    let today = page.ask("desk_state", &json!({}))?["today"].clone();
    let this_month = today.as_str().and_then(|today| today.get(..7)).ok_or("There is no today.")?.to_owned();
    let later = page.ask("month_end", &json!({ "month": this_month }))?;
    assert_ne!(later["firm"]["month"]["cost"], "0.00", "today's hours are in no month");
    Ok(())
}

/// What it took is no more than it may be.
fn no_more_than(what: &str, did: Did, most: Did) {
    assert!(
        did.saves <= most.saves && did.fields <= most.fields && did.keys <= most.keys,
        "{what} took {did:?}, {most:?} at most"
    );
}

fn sign(hand: &Hand<'_>, on: &str) -> Outcome<()> {
    let page = hand.page;
    hand.page.run("document.activeElement.blur(); done(true);")?;
    hand.strike("9")?;
    hand.fill("Signed on", on)?;
    hand.fill("Signed by", "Ines Hollow")?;
    hand.save("Accept choice", "Cost in the contract")?;
    page.wait_until("the contract", "document.querySelector('#part-contract')")
}

fn owner_logs_hours(hand: &Hand<'_>, on: &str) -> Outcome<()> {
    hand.strike("h")?;
    hand.fill("Day", on)?;
    hand.choose("Code", "tear")?;
    hand.fill("Hours each", "8")?;
    hand.page.strike(&[key::TAB])?;
    hand.save("Record the hours", "recorded")?;
    hand.page.wait_until("the form to close", "!document.querySelector('main form')")
}

fn crew_logs_hours(hand: &Hand<'_>) -> Outcome<()> {
    let page = hand.page;
    page.sit_down_as("crew")?;
    page.wait_for_heading("Site")?;
    hand.save("Log 8 h for 2 people", "logged")
}

fn books_enter_a_bill(desk: &Desk, hand: &Hand<'_>, on: &str) -> Outcome<()> {
    let page = hand.page;
    page.sit_down_as("books")?;
    page.wait_for_heading("Books")?;
    hand.fill("From whom", "The Yard")?;
    hand.fill("Number on it", "Y-1041")?;
    hand.fill("Date on it", on)?;
    let line = "[data-line=lines-0]";
    if page.all(line)?.is_empty() {
        hand.press("Add a line for a job")?;
    }
    hand.fill_in(line, "Job", "1")?;
    hand.count(|did| did.fields += 1);
    page.run(
        "const code = [...document.querySelectorAll('[data-line=lines-0] select')][0]; code.value = 'shingle'; \
         code.dispatchEvent(new Event('change', { bubbles: true })); done(true);",
    )?;
    hand.fill_in(line, "Amount before tax", "730")?;
    page.strike(&[key::TAB])?;
    desk.keep_picture("first-bill")?;
    hand.save("Record, then the next", "Y-1041")
}

fn close(hand: &Hand<'_>, month: &str) -> Outcome<()> {
    let page = hand.page;
    page.sit_down_as("owner")?;
    page.go(&format!("#/month-end/{month}"))?;
    page.wait_until("the report", "document.querySelectorAll('main table, main svg').length > 1")?;
    hand.strike("c")?;
    page.wait_until("the question", "document.querySelector('dialog[open] h2')")?;
    if !page.all("dialog[open] input[type=checkbox]")?.is_empty() {
        hand.count(|did| did.fields += 1);
        page.run("document.querySelector('dialog[open] input[type=checkbox]').click(); done(true);")?;
    }
    hand.count(|did| did.saves += 1);
    page.run("document.querySelector('dialog[open] footer button[type=submit]').click(); done(true);")?;
    page.wait_until("the question to go", "!document.querySelector('dialog[open]')")
}
