//! Every screen, in both themes and in three sizes: readable by everybody, nothing cut off, and a picture of each.

use std::fs;

use serde_json::{Value, json};

use crate::crew::log_beyond;
use crate::desk::{Desk, Wish, checkout};
use crate::driver::{Outcome, Page, key};
use crate::estimate::{draw, new_job, open_estimate};
use crate::looks::{FITS, SETTLED};
use crate::owner::job_under_way;

/// A narrow window, which is also one of 960 at twice the size; a tablet held upright, a small laptop, a desk.
const SIZES: [(u32, u32); 4] = [(480, 900), (800, 1280), (1280, 800), (1600, 1000)];

/// The size in which every rule of accessibility is checked; the others differ in room alone.
const CHECKED: (u32, u32) = (1280, 800);

/// A screen: its name, and how to get there.
type Screen<'a> = (&'a str, Box<dyn Fn(&Page) -> Outcome<()> + 'a>);

fn to<'a>(name: &'a str, go: impl Fn(&Page) -> Outcome<()> + 'a) -> Screen<'a> {
    (name, Box::new(go))
}

/// Looks at a screen in every theme and size.
fn look(desk: &Desk, name: &str) -> Outcome<()> {
    let page = &desk.page;
    let mut wrong = Vec::new();
    for theme in ["light", "dark"] {
        page.run(&format!("document.documentElement.dataset.theme = '{theme}'; done(true);"))?;
        for (width, height) in SIZES {
            page.resize(width, height)?;
            page.wait_until("the window's size", &format!("innerWidth === {width}"))?;
            // What is drawn to measure takes a moment to hear of its new measure.
            if !settles(page)? {
                wrong.push(format!("{theme}, {width} × {height}: wider than the window: {}", widest(page)?));
            }
            if (width, height) == CHECKED {
                let found = grave(page)?;
                let found = found.as_array().map(Vec::as_slice).unwrap_or_default();
                wrong.extend(found.iter().map(|each| format!("{theme}: {each}")));
            }
            desk.keep_picture(&format!("{name}-{theme}-{width}x{height}"))?;
        }
    }
    page.run("document.documentElement.style.fontSize = '200%'; done(true);")?;
    {
        let (width, height) = CHECKED;
        page.resize(width, height)?;
        page.wait_until("the window's size", &format!("innerWidth === {width}"))?;
        if !settles(page)? {
            wrong.push(format!(
                "{width} × {height}, the text twice as large: wider than the window: {}",
                widest(page)?
            ));
        }
        desk.keep_picture(&format!("{name}-text-200-{width}x{height}"))?;
    }
    page.run("document.documentElement.style.fontSize = ''; done(true);")?;
    page.resize(CHECKED.0, CHECKED.1)?;
    if wrong.is_empty() { Ok(()) } else { Err(wrong.join("; ").into()) }
}

/// Whether the page comes to fit its window, once what is drawn to measure has heard of its new measure.
fn settles(page: &Page) -> Outcome<bool> {
    let script = format!(
        "let frames = 0; const look = () => {{ frames += 1; if ({FITS} && frames > 3) done(true); \
         else if (frames > 90) done(false); else requestAnimationFrame(look); }}; look();"
    );
    Ok(page.run(&script)? == true)
}

/// The innermost part of the page without which it would fit.
fn widest(page: &Page) -> Outcome<Value> {
    page.run(
        "const page = document.querySelector('#app > .frame') ?? document.querySelector('#app > main'); \
         const needs = (part) => { const was = part.style.display; part.style.display = 'none'; \
         const fits = page.scrollWidth <= page.clientWidth; part.style.display = was; return fits; }; \
         let at = page; for (;;) { const next = [...at.children].find(needs); if (!next) break; at = next; } \
         done(at.outerHTML.slice(0, 300));",
    )
}

/// What the accessibility checker calls serious or critical.
fn grave(page: &Page) -> Outcome<Value> {
    page.run(&format!(
        "{SETTLED}.then(() => axe.run(document, {{ resultTypes: ['violations'] }})).then(({{ violations }}) => \
         done(violations.filter((each) => ['serious', 'critical'].includes(each.impact)).map((each) => each.id + \
         ': ' + each.nodes.slice(0, 3).map((node) => node.html.slice(0, 160)).join(' '))), (error) => \
         done([String(error)]));",
    ))
}

fn bring_checker(page: &Page) -> Outcome<()> {
    let checker = fs::read_to_string(checkout().join("ui/node_modules/axe-core/axe.min.js"))
        .map_err(|error| format!("ui/node_modules has no axe-core ({error}). Run `npm ci` in ui."))?;
    page.run(&format!("{checker}\nwindow.axe = axe; done(true);")).map(|_| ())
}

fn all_of(desk: &Desk, screens: &[Screen<'_>]) -> Outcome<()> {
    let mut wrong = Vec::new();
    for (name, go) in screens {
        // One screen that is wrong should not hide the next one's faults.
        let seen = go(&desk.page).and_then(|()| look(desk, name));
        if let Err(error) = seen {
            wrong.push(format!("{name}: {error}"));
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
    Ok(())
}

#[test]
fn every_screen_of_the_owner_and_the_first_start() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.wait_for_words("Look at the made-up firm")?;
    bring_checker(page)?;
    all_of(
        &desk,
        &[
            to("start", |_| Ok(())),
            to("new-firm", |page| {
                page.press_named("Begin a new firm")?;
                page.wait_for_words("The owner’s name")
            }),
        ],
    )?;
    page.press_named("Back")?;
    page.open_the_made_up_firm()?;
    all_of(&desk, &of_the_books())?;
    let number = job_under_way(page)?;
    let job = format!("#/job/{number}");
    all_of(
        &desk,
        &[
            to("jobs", |page| {
                page.go("#/jobs")?;
                page.wait_for_jobs()
            }),
            to("job", |page| {
                page.go(&job)?;
                page.wait_until("the job", "document.querySelector('#part-contract')")
            }),
            to("figure", |page| {
                page.press_named("forecast cost:")?;
                page.wait_until("the facts", "document.querySelectorAll('dialog[open] h3').length > 1")
            }),
            to("bill", |page| {
                page.strike(&[key::ESCAPE])?;
                page.wait_until("the panel to close", "!document.querySelector('dialog[open]')")?;
                page.strike(&["r"])?;
                page.wait_until("the form", "document.activeElement.closest('form')")
            }),
            to("workmanship", |page| {
                page.strike(&[key::ESCAPE])?;
                // The made-up firm's job that was looked at point by point, with one left open.
                page.go("#/job/26-018/result")?;
                page.wait_until("the job", "document.querySelector('#part-result')")?;
                page.press_named("Checklist:")?;
                page.wait_for_words("The whole job")?;
                page.run(&scroll_to("Workmanship"))?;
                Ok(())
            }),
            to("month-end", |page| {
                page.strike(&[key::ESCAPE])?;
                page.go("#/month-end/2026-10")?;
                page.wait_until("the report", "document.querySelectorAll('main table, main svg').length > 1")
            }),
            to("close", |page| {
                page.strike(&["c"])?;
                page.wait_until("the question", "document.querySelector('dialog[open] h2')")
            }),
            to("record", |page| {
                page.strike(&[key::ESCAPE])?;
                page.go("#/month-end/history")?;
                page.wait_for_words("Unrecovered cost")
            }),
            to("hand-off", |page| {
                page.go("#/hand-off/2026-10")?;
                page.wait_for_words("Control totals")
            }),
            to("rates", |page| {
                page.go("#/rates")?;
                page.wait_until("the lists", "document.querySelector('main table td')")
            }),
            to("firm", |page| {
                page.go("#/firm")?;
                page.wait_for_words("Back-ups")
            }),
            to("devices", |page| page.run(&scroll_to("Devices")).map(|_| ())),
            to("estimate", |page| {
                new_job(page)?;
                open_estimate(page)?;
                draw(page)
            }),
            to("people", |page| {
                page.strike_with(key::ALT, "w")?;
                page.wait_for_words("Who is at the desk?")
            }),
        ],
    )
}

#[test]
fn the_years_budget_and_a_customers_statement() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    bring_checker(page)?;
    all_of(
        &desk,
        &[
            to("budget", |page| {
                page.go("#/month-end/2026-10")?;
                page.wait_for_words("Sales to break even in 2026")?;
                page.run(&scroll_to("Budget")).map(|_| ())
            }),
            to("budget-set", |page| {
                page.press_named("Set the budget")?;
                page.wait_for_words("December 2026")
            }),
            to("cash", |page| {
                page.strike(&[key::ESCAPE])?;
                page.go("#/month-end/cash")?;
                page.wait_for_words("Cash is lowest in the week that ends")
            }),
            to("cash-out", |page| {
                page.press_named("cash out, week 1:")?;
                page.wait_until("the facts", "document.querySelectorAll('dialog[open] h3').length > 0")
            }),
            to("statement", |page| {
                page.strike(&[key::ESCAPE])?;
                page.go("#/month-end/2026-10")?;
                page.wait_for_words("Sales to break even in 2026")?;
                page.strike(&[key::ESCAPE])?;
                page.press_named("Statement of ")?;
                page.wait_for_words("Billed and paid")
            }),
        ],
    )
}

/// The bookkeeper's desk, as the owner sees it: part by part.
fn of_the_books() -> [Screen<'static>; 5] {
    [
        to("books", |page| {
            page.go("#/books/bills")?;
            page.wait_for_heading("Books")?;
            page.wait_until("the pile", "document.querySelector('main form, main table')")
        }),
        to("books-vendors", |page| {
            page.go("#/books/vendors")?;
            page.wait_for_words("Three Forks Roofing Wholesale")
        }),
        to("books-overhead", |page| {
            page.go("#/books/overhead")?;
            page.wait_for_words("Office pay")
        }),
        to("books-customers", |page| {
            page.go("#/books/customers")?;
            page.wait_until("the customers", "document.querySelector('main table td')")
        }),
        to("books-bank", |page| {
            page.go("#/books/bank")?;
            page.wait_for_words("How both come to the same")
        }),
    ]
}

#[test]
fn every_screen_of_the_crew() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    bring_checker(page)?;
    page.sit_down_as("crew")?;
    all_of(&desk, &[to("site", site), to("checklist", checklist), to("ask", ask)])
}

/// The same in Spanish: every size and theme, with the longer words, and nothing of the page's own left in English but
/// what stands beside its Spanish.
#[test]
fn every_screen_of_a_crew_that_reads_spanish() -> Outcome<()> {
    let desk = Desk::open(&Wish::default())?;
    let page = &desk.page;
    page.open_the_made_up_firm()?;
    bring_checker(page)?;
    let today = page.ask("desk_state", &json!({}))?["today"].clone();
    let lists = page.ask("lists", &json!({}))?;
    for person in lists["people"].as_array().into_iter().flatten().filter(|each| each["role"] == "crew") {
        let fact = json!({"kind": "person", "revises": person["id"], "date": today, "name": person["name"],
            "role": "crew", "crew": person["crew"], "class": person["class"], "language": "es"});
        page.ask("record", &json!({ "facts": [fact] }))?;
    }
    page.sit_down_as("crew")?;
    page.wait_for_heading("Obra")?;
    page.wait_for_words("Alero (Eave)")?;
    let day = page.ask("site_day", &json!({}))?;
    let own = page.run(
        "const english = [...document.querySelectorAll('[data-view=site] h1, [data-view=site] h2, \
         [data-view=site] button, [data-view=site] summary, [data-view=site] legend')].map((each) => each.innerText); \
         done(english.filter((each) => /\\b(the|and|Hours|Found|Log|Photo|Checklist|Where|Why)\\b/.test(each)));",
    )?;
    assert_eq!(own, json!([]), "headings and buttons in English");
    assert!(day["jobs"].as_array().is_some_and(|jobs| !jobs.is_empty()));
    all_of(
        &desk,
        &[
            to("site-spanish", |page| {
                page.go("#/site")?;
                page.wait_for_words("Tenga cuidado")
            }),
            to("found-spanish", |page| {
                page.go("#/site/found")?;
                page.wait_for_words("Encontrado en")
            }),
            to("cautions-spanish", |page| page.run(&scroll_to("Tenga cuidado")).map(|_| ())),
            to("checklist-spanish", |page| {
                page.go("#/site/checklist")?;
                page.wait_for_words("Lista de revisión")?;
                page.run(&scroll_to("Lista de revisión")).map(|_| ())
            }),
        ],
    )
}

/// Brings a heading to the top of the window.
fn scroll_to(heading: &str) -> String {
    format!(
        "[...document.querySelectorAll('h2, h3')].find((each) => \
         each.innerText.startsWith('{heading}'))?.scrollIntoView(); done(true);"
    )
}

fn checklist(page: &Page) -> Outcome<()> {
    page.go("#/site/checklist")?;
    page.wait_for_words("The whole job")?;
    page.run(&scroll_to("Checklist of")).map(|_| ())
}

fn site(page: &Page) -> Outcome<()> {
    page.wait_for_heading("Site")?;
    page.wait_for_words("Where")?;
    let small = page.run(
        "done([...document.querySelectorAll('form button')].filter((each) => each.checkVisibility() && \
         each.getBoundingClientRect().height < 55).map((each) => each.innerText))",
    )?;
    if small == json!([]) { Ok(()) } else { Err(format!("these are too small for a glove: {small}").into()) }
}

/// A condition beyond what the price covers, put before the homeowner.
fn ask(page: &Page) -> Outcome<()> {
    page.go("#/site")?;
    log_beyond(page)?;
    page.press_named("Ask the homeowner now")?;
    page.wait_for_heading("Change order")?;
    page.wait_until("the photo", "document.querySelector('article img')?.complete")
}
