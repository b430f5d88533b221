//! The papers, printed from a firm's own facts: from a roof to its proposal, from the contract to the site sheet and
//! the order list, from the condition to the change order, and so on to the packet and the month. Each is read back
//! with a reader of PDF that knows nothing of ours, and printed twice.

#![cfg(test)]
#![allow(clippy::unwrap_used, clippy::panic)]

use jiff::Timestamp;
use ledger::facts::PurchaseOrder;
use office::{Acceptance, Clock, Desk, Document, Estimate, Month, Recorder, Wanted};
use serde_json::{Value, json};
use tempfile::TempDir;

/// The made-up firm with one job more: a gable roof of which a choice was taken, torn off and repaired.
struct Firm {
    _home: TempDir,
    desk: Desk,
    recorder: Recorder,
}

const JOB: &str = "26-900";

impl Firm {
    fn new() -> Firm {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("firm.tearoff");
        let mut desk = office::sample::write(&path, &mut |_, _| true).unwrap();
        let at: Timestamp = "2026-11-03T13:00:00Z".parse().unwrap();
        desk.clock = Clock::fixed(at);
        let mut firm = Firm { _home: home, desk, recorder: Recorder::default() };
        firm.record(
            json!({"kind": "customer", "name": "Ines Hollow", "address": "9 Weir Street, Otter Bend"}),
        );
        let crew = office::lists(&firm.desk).unwrap().crews.first().unwrap().name.clone();
        firm.record(
            json!({"kind": "job", "date": "2026-11-03", "number": JOB, "title": "Re-roof of the house",
            "customer": "Ines Hollow", "site": "9 Weir Street", "crew": crew, "roof_age_years": 24,
            "roof_state": "worn"}),
        );
        firm
    }

    fn record(&mut self, fact: Value) -> String {
        let told = fact.to_string();
        let recorded = self.recorder.record(&mut self.desk, fact);
        recorded.unwrap_or_else(|error| panic!("{told}: {error}")).id.to_string()
    }

    /// Signs a choice of an estimate today, with the day on which work is to begin.
    fn accept(&mut self, estimate: &Estimate, letter: &str, begins: Option<&str>) -> office::Accepted {
        let taken = Acceptance {
            letter: letter.to_owned(),
            date: self.desk.clock.today(),
            begins: begins.map(|day| day.parse().unwrap()),
            note: None,
            proposal: None,
        };
        office::accept(&mut self.desk, JOB, estimate, &taken).unwrap()
    }

    /// A gable, 40 ft by 28 ft at 6 in 12, with a chimney and two pipes.
    fn estimate(&self) -> Estimate {
        let mut estimate = serde_json::to_value(office::begin(&self.desk, JOB, None).unwrap()).unwrap();
        estimate["roof"]["sections"] = json!([
            {"name": "south", "slope": "6", "typed": null, "outline": [
                {"x_in": "0", "y_in": "0", "edge": "eave"}, {"x_in": "480", "y_in": "0", "edge": "rake"},
                {"x_in": "480", "y_in": "168", "edge": "ridge"}, {"x_in": "0", "y_in": "168", "edge": "rake"}]},
            {"name": "north", "slope": "6", "typed": null, "outline": [
                {"x_in": "480", "y_in": "336", "edge": "eave"}, {"x_in": "0", "y_in": "336", "edge": "rake"},
                {"x_in": "0", "y_in": "168", "edge": "ridge"}, {"x_in": "480", "y_in": "168", "edge": "rake"}]}]);
        estimate["roof"]["features"] = json!([
            {"kind": "pipe", "section": "south", "at": null, "count": 2},
            {"kind": "chimney", "section": "north", "at": null, "count": 1, "width_in": "32", "length_in": "24"}]);
        estimate["roof"]["house"]["attic_floor_sqft"] = json!("1120");
        serde_json::from_value(estimate).unwrap()
    }

    /// Prints a paper twice: the same facts on the same day give the same bytes.
    fn print(&self, wanted: &Wanted) -> (Document, String) {
        let first = office::print(&self.desk, wanted).unwrap_or_else(|error| panic!("{wanted:?}: {error}"));
        let second = office::print(&self.desk, wanted).unwrap();
        assert_eq!(first.bytes, second.bytes, "{} is not the same twice", first.name);
        if let Some(folder) = std::env::var_os("TEAROFF_PAPERS") {
            let place = std::path::Path::new(&folder).join(&first.name);
            first.save(&self.desk.path(), &place, true).unwrap();
        }
        let text = bare(&pdf_extract::extract_text_from_mem(&first.bytes).unwrap());
        (first, text)
    }
}

fn pages(paper: &Document) -> usize {
    pdf_extract::extract_text_from_mem_by_pages(&paper.bytes).unwrap().len()
}

fn bare(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace() && *letter != '\u{200b}').collect()
}

fn holds(text: &str, words: &str) {
    assert!(text.contains(&bare(words)), "“{words}” is not on the paper:\n{text}");
}

#[test]
fn from_the_roof_to_the_contract_on_paper() {
    let mut firm = Firm::new();
    let estimate = firm.estimate();
    let calculated = office::calculate(&firm.desk, JOB, &estimate).unwrap();
    assert!(calculated.problems.is_empty(), "{:?}", calculated.problems);
    for choice in &calculated.choices {
        assert!(choice.problems.is_empty(), "{}: {:?}", choice.letter, choice.problems);
    }
    let proposal =
        Wanted::Proposal { job: JOB.to_owned(), estimate: Box::new(estimate.clone()), chosen: None };
    let (document, text) = firm.print(&proposal);
    assert_eq!(document.name, "26-900 proposal.pdf");
    for choice in &calculated.choices {
        holds(&text, &choice.title);
        holds(&text, &choice.price.grouped());
        holds(&text, &choice.payments[0].amount.grouped());
    }
    holds(&text, "Ines Hollow");
    holds(&text, "Membrane");
    holds(&text, "NOTICE OF CANCELLATION");
    holds(&text, "3 Ferry Street, Otter Bend");
    // Nobody knows on which day it will be signed: its dates are left to be filled in.
    for words in ["Signed on", "November 6, 2026", "1926.501", "Falls:", "Asbestos:"] {
        assert!(!text.contains(&bare(words)), "{words} is on the proposal:\n{text}");
    }
    let cost = calculated.choices[0].cost.grouped();
    assert!(!text.contains(&bare(&cost)), "a homeowner is not shown the firm's cost {cost}");

    firm.accept(&estimate, "B", None);
    let (_, sheet) = firm.print(&Wanted::SiteSheet { job: JOB.to_owned() });
    holds(&sheet, "9 Weir Street");
    holds(&sheet, "Eaves");
    for words in
        ["(b)(13)", "1926.502(i)", "1926.1053(b)(1)", "1926.416(a)", "1926.1101", "1926.1153", "Heat:"]
    {
        holds(&sheet, words);
    }
    // The day of signing is no day on which work begins.
    holds(&sheet, "not planned yet");
    assert!(
        !sheet.contains(&bare(&calculated.choices[1].price.grouped())),
        "no price of the job on the site sheet"
    );
    let order = |with_prices| Wanted::OrderList { job: JOB.to_owned(), with_prices };
    let (_, priced) = firm.print(&order(true));
    let (_, plain) = firm.print(&order(false));
    let shingles = calculated.choices[1].parts.iter().find(|line| line.item.as_str() == "shingles").unwrap();
    holds(&priced, &shingles.title);
    holds(&priced, &shingles.amount.grouped());
    holds(&plain, &shingles.title);
    assert!(!plain.contains(&bare(&shingles.amount.grouped())), "an order list without prices has one");
}

/// Two choices that cover two and five sheets: the table, the row of the choices and what was signed tell one number.
#[test]
fn each_choice_tells_its_own_included_sheets_everywhere() {
    let mut firm = Firm::new();
    let mut estimate = firm.estimate();
    estimate.choices[0].recipe.included_sheets = "2".parse().unwrap();
    estimate.choices[1].recipe.included_sheets = "5".parse().unwrap();
    estimate.terms.unit_prices =
        serde_json::from_value(json!([{"damaged": "deck-sheet", "counted_in": "sheet", "price": "118.00"}]))
            .unwrap();
    let of = |chosen: Option<&str>| Wanted::Proposal {
        job: JOB.to_owned(),
        estimate: Box::new(estimate.clone()),
        chosen: chosen.map(str::to_owned),
    };
    let (_, open) = firm.print(&of(None));
    holds(&open, "Rotted deck sheet sheet A 2, B 5 $118.00");
    holds(&open, "Included for rot 2 deck sheets 5 deck sheets");
    let (_, signed) = firm.print(&of(Some("B")));
    holds(&signed, "Rotted deck sheet sheet 5 $118.00");
    firm.accept(&estimate, "B", None);
    let (_, sheet) = firm.print(&Wanted::SiteSheet { job: JOB.to_owned() });
    holds(&sheet, "Rotted deck sheet sheet 5 $118.00");
}

/// What was chosen with the homeowner stands on what they sign, on what the crew lays and on what is ordered; what is
/// open says so.
#[test]
fn color_and_product_line_stand_on_contract_and_order() {
    let mut firm = Firm::new();
    let mut estimate = firm.estimate();
    let shingles = |part: &mut office::estimate::ChosenPart| {
        if part.item.as_str() == "shingles" {
            part.part = "laminated".to_owned();
            part.color = Some("Barn red".to_owned());
        }
    };
    estimate.choices[1].parts.iter_mut().for_each(shingles);
    let chosen = Wanted::Proposal {
        job: JOB.to_owned(),
        estimate: Box::new(estimate.clone()),
        chosen: Some("B".to_owned()),
    };
    let (_, signed) = firm.print(&chosen);
    holds(&signed, "Laminated shingles, Hedgeline, color Barn red");
    holds(&signed, "Hip and ridge cap, color to be chosen with you");
    firm.accept(&estimate, "B", None);
    let order = Wanted::OrderList { job: JOB.to_owned(), with_prices: false };
    let (_, before) = firm.print(&order);
    holds(&before, "Laminated shingles, Hedgeline, Barn red");
    holds(&before, "Hip and ridge cap, COLOR OPEN: do not order yet");
    firm.record(json!({"kind": "color-choice", "date": "2026-11-03", "job": JOB, "part": "cap",
        "color": "Barn red", "chosen_by": "Ines Hollow"}));
    let (_, after) = firm.print(&order);
    holds(&after, "Hip and ridge cap, Barn red");
    let (_, sheet) = firm.print(&Wanted::SiteSheet { job: JOB.to_owned() });
    holds(&sheet, "Laminated shingles, Hedgeline, Barn red");
    holds(&sheet, "Hip and ridge cap, Barn red");
}

/// What was signed names what is laid by the choice that was taken, whichever of them has more parts.
#[test]
fn the_proposal_as_signed_names_the_shingles_of_the_choice_that_was_taken() {
    let mut firm = Firm::new();
    let mut estimate = firm.estimate();
    let shingles = |choice: &mut office::estimate::Choice, part: &str| {
        let line = choice.parts.iter_mut().find(|line| line.item.as_str() == "shingles").unwrap();
        line.part = part.to_owned();
        line.color = None;
    };
    shingles(&mut estimate.choices[0], "strip");
    shingles(&mut estimate.choices[1], "laminated");
    let calculated = office::calculate(&firm.desk, JOB, &estimate).unwrap();
    let [parts_of_a, parts_of_b] = [0, 1].map(|choice| calculated.choices[choice].parts.len());
    assert!(parts_of_b > parts_of_a, "B is to have more parts than A: {parts_of_b}, {parts_of_a}");
    firm.accept(&estimate, "A", None);
    let (_, signed) = firm.print(&Wanted::SignedProposal { job: JOB.to_owned() });
    let after = signed.split_once(&bare("The system, part by part")).map_or("", |(_, after)| after);
    let system = after.split_once(&bare("The choices")).map_or(after, |(system, _)| system);
    holds(system, "Three-tab strip shingles, Dooryard");
    let others = bare("Laminated shingles");
    assert!(!system.contains(&others), "B's shingles stand in what was signed for A:\n{system}");
}

#[test]
fn the_proposal_is_kept_as_it_was_signed() {
    let mut firm = Firm::new();
    let estimate = firm.estimate();
    let wanted = Wanted::Proposal {
        job: JOB.to_owned(),
        estimate: Box::new(estimate.clone()),
        chosen: Some("B".to_owned()),
    };
    let (signed, open) = firm.print(&wanted);
    let shingles = office::calculate(&firm.desk, JOB, &estimate).unwrap().choices[1]
        .parts
        .iter()
        .find(|line| line.item.as_str() == "shingles")
        .and_then(|line| line.part.clone())
        .unwrap();
    firm.accept(&estimate, "b", None);
    let kept = Wanted::SignedProposal { job: JOB.to_owned() };
    let (before, text) = firm.print(&kept);
    // Signed on Tuesday 3 November, the third business day is Friday the 6th. Once it is a contract, its dates stand in
    // it.
    assert_ne!(before.bytes, signed.bytes);
    holds(&text, "Signed on November 3, 2026");
    holds(&text, "NOT LATER THAN MIDNIGHT OF November 6, 2026");
    assert!(!open.contains(&bare("November 6, 2026")), "what is not signed has no last day:\n{open}");
    let signed = before.clone();
    assert_eq!(before.name, "26-900 proposal as signed.pdf");

    // Another price the day after is another proposal; what was signed stays what it was.
    let vendor = office::lists(&firm.desk).unwrap().vendors.first().unwrap().name.clone();
    firm.record(json!({"kind": "part-price", "date": "2026-11-03", "part": shingles, "vendor": vendor,
        "price": "1.00"}));
    let (_, anew_text) = firm.print(&wanted);
    holds(&anew_text, "filled in when you sign");
    assert_eq!(firm.print(&kept).0.bytes, signed.bytes);

    // The made-up firm's own contracts were typed: there is nothing to be read again.
    let typed = Wanted::SignedProposal { job: "26-001".to_owned() };
    let refused = office::print(&firm.desk, &typed).unwrap_err();
    assert_eq!((refused.code, refused.field), (office::Code::NotFound, None));
}

/// A firm with an accepted choice, signed at home on Tuesday 3 November 2026, to begin on a day.
fn accepted(begins: Option<&str>, old_house: bool) -> (Firm, office::Accepted) {
    let mut firm = Firm::new();
    let mut estimate = firm.estimate();
    estimate.roof.house.built_before_1978 = old_house;
    let accepted = firm.accept(&estimate, "A", begins);
    (firm, accepted)
}

#[test]
fn the_firms_mark_heads_its_papers_from_the_day_on_which_it_is_kept() {
    let mut firm = Firm::new();
    let estimate = Box::new(firm.estimate());
    let wanted = Wanted::Proposal { job: JOB.to_owned(), estimate, chosen: None };
    let is_picture = |object: &pdf_extract::Object| {
        let named = object.as_stream().and_then(|stream| stream.dict.get(b"Subtype"));
        named.and_then(pdf_extract::Object::as_name).is_ok_and(|name| name == b"Image")
    };
    let has_picture = |paper: &Document| {
        pdf_extract::Document::load_mem(&paper.bytes).unwrap().objects.values().any(is_picture)
    };
    assert!(!has_picture(&firm.print(&wanted).0));
    let mark = picture();
    let kept = office::attach(&mut firm.desk, &mark, "image/png", Some("mark.png")).unwrap();
    let mut settings = serde_json::to_value(office::lists(&firm.desk).unwrap().firm).unwrap();
    settings["kind"] = json!("firm");
    settings["date"] = json!("2026-11-03");
    settings["logo"] = json!(kept.hash);
    firm.record(settings);
    assert!(has_picture(&firm.print(&wanted).0));
}

#[test]
fn without_the_firms_street_no_notice_is_printed_and_none_is_needed_away_from_home() {
    let mut firm = Firm::new();
    let mut settings = serde_json::to_value(office::lists(&firm.desk).unwrap().firm).unwrap();
    settings["kind"] = json!("firm");
    settings["date"] = json!("2026-11-03");
    settings["street"] = Value::Null;
    firm.record(settings);
    let mut estimate = firm.estimate();
    let wanted = |estimate: &Estimate| Wanted::Proposal {
        job: JOB.to_owned(),
        estimate: Box::new(estimate.clone()),
        chosen: None,
    };
    let refused = office::print(&firm.desk, &wanted(&estimate)).unwrap_err();
    assert_eq!(refused.field.as_deref(), Some("street"), "{refused}");
    assert!(refused.message.contains("16 CFR 429.1") && refused.remedy.contains("settings"), "{refused}");
    estimate.terms.sold_at_home = false;
    let (_, text) = firm.print(&wanted(&estimate));
    assert!(!text.contains("NOTICEOFCANCELLATION"), "{text}");
}

#[test]
fn a_states_notices_are_printed_as_the_firm_entered_them() {
    let mut firm = Firm::new();
    let state = office::lists(&firm.desk).unwrap().firm.state;
    let notice = |date: &str, about: &str, text: &str, copies: i64, retired: bool| {
        json!({"kind": "notice", "date": date, "state": state, "about": about, "heading": format!("The state on \
                {about}"),
            "text": text, "copies": copies, "least_points": 12, "bold": true, "retired": retired})
    };
    firm.record(notice("2026-01-01", "lien", "Old words about liens.", 1, false));
    firm.record(notice("2026-06-01", "lien", "New words about liens.", 1, false));
    firm.record(notice("2027-01-01", "lien", "Words about liens of next year.", 1, false));
    firm.record(notice("2026-01-01", "deposit", "Words about deposits.", 1, false));
    firm.record(notice("2026-02-01", "deposit", "Words about deposits.", 1, true));
    firm.record(notice("2026-01-01", "cancellation", "Words about canceling.", 2, false));
    let mut estimate = firm.estimate();
    let wanted = |estimate: &Estimate| Wanted::Proposal {
        job: JOB.to_owned(),
        estimate: Box::new(estimate.clone()),
        chosen: None,
    };
    let (_, text) = firm.print(&wanted(&estimate));
    holds(&text, "New words about liens.");
    assert_eq!(text.matches(&bare("Words about canceling.")).count(), 2, "{text}");
    for words in ["Old words about liens.", "of next year", "Words about deposits."] {
        assert!(!text.contains(&bare(words)), "{words}:\n{text}");
    }
    estimate.terms.sold_at_home = false;
    let (_, text) = firm.print(&wanted(&estimate));
    assert!(!text.contains(&bare("Words about canceling.")), "{text}");

    // A house in another state is under that state's law, wherever the firm sits.
    let over_the_river = json!({"kind": "notice", "date": "2026-01-01", "state": "QX", "about": "lien", "heading":
        "Liens over there", "text": "Words of the other state.", "copies": 1, "least_points": 10, "bold": false,
        "retired": false});
    firm.record(over_the_river);
    let (_, text) = firm.print(&wanted(&estimate));
    assert!(!text.contains(&bare("Words of the other state.")), "{text}");
    firm.record(json!({"kind": "job", "revises": JOB, "date": "2026-11-03", "number": JOB,
        "title": "Re-roof of the house", "customer": "Ines Hollow", "site": "9 Weir Street", "state": "QX"}));
    let (_, text) = firm.print(&wanted(&estimate));
    holds(&text, "Words of the other state.");
    assert!(!text.contains(&bare("New words about liens.")), "{text}");
}

#[test]
fn work_inside_the_days_to_cancel_is_told_wherever_it_is_planned() {
    let (mut firm, accepted) = accepted(Some("2026-11-06"), false);
    let inside = "the customer may cancel until midnight of November 6, 2026";
    assert!(accepted.cautions[0].contains(inside), "{:?}", accepted.cautions);
    let on_site = |firm: &Firm| {
        let day = office::site_day(&firm.desk, firm.desk.clock.today()).unwrap();
        day.jobs.into_iter().find(|job| job.number == JOB).unwrap()
    };
    assert!(on_site(&firm).before_work[0].contains(inside));
    let (_, sheet) = firm.print(&Wanted::SiteSheet { job: JOB.to_owned() });
    holds(&sheet, "November 6, 2026, as planned");
    holds(&sheet, inside);

    let plan = |begins: &str| json!({"kind": "schedule", "date": "2026-11-03", "job": JOB, "begins": begins});
    let later = firm.record(plan("2026-11-07"));
    let left = office::left_before_work(&firm.desk, office::Id::parse(&later).unwrap()).unwrap();
    assert!(left.is_empty(), "{left:?}");
    let page = office::job_page(&firm.desk, JOB, Month::parse("2026-11").unwrap()).unwrap();
    assert!(page.before_work.is_empty() && page.begins.unwrap().to_string() == "2026-11-07");
    assert!(on_site(&firm).before_work.is_empty());

    // The crew and its days stand on the site sheet, the order list and the site view.
    let mut by_crew = plan("2026-11-07");
    by_crew["crew"] = json!("Two");
    by_crew["crew_days"] = json!("3.5");
    firm.record(json!({"kind": "crew", "name": "Two", "size": 3, "hours_a_day": "8"}));
    firm.record(by_crew);
    let site = on_site(&firm);
    assert_eq!((site.crew.as_deref(), site.crew_days.unwrap().to_string()), (Some("Two"), "3.5".to_owned()));
    let (_, sheet) = firm.print(&Wanted::SiteSheet { job: JOB.to_owned() });
    holds(&sheet, "3.5 crew-days");
    let (_, order) = firm.print(&Wanted::OrderList { job: JOB.to_owned(), with_prices: false });
    holds(&order, "November 7, 2026, as planned; 3.5 crew-days; Two");

    // Begun all the same: it is said as what was.
    firm.record(json!({"kind": "job-status", "date": "2026-11-05", "job": JOB, "stage": "begun"}));
    assert!(on_site(&firm).before_work[0].starts_with("Work began on November 5, 2026, while"));
}

#[test]
fn the_pamphlet_on_lead_is_asked_for_where_the_house_is_old_and_only_there() {
    let (young, accepted_young) = accepted(Some("2026-11-20"), false);
    assert!(accepted_young.cautions.is_empty(), "{:?}", accepted_young.cautions);
    let wanted = Wanted::LeadReceipt { job: JOB.to_owned() };
    let refused = office::print(&young.desk, &wanted).unwrap_err();
    assert!(refused.message.contains("not built before 1978"), "{refused}");

    let (mut firm, accepted) = accepted(Some("2026-11-20"), true);
    assert!(accepted.cautions[0].contains("40 CFR 745.84"), "{:?}", accepted.cautions);
    let (_, receipt) = firm.print(&wanted);
    holds(&receipt, "OB-R-0112");
    holds(&receipt, "Renovate Right");
    holds(&receipt, "on September 21, 2026 or later");
    holds(&receipt, "November 13, 2026 or earlier");
    let give = |date: &str, shown_by: &str| {
        json!({"kind": "lead-pamphlet", "date": date, "job": JOB, "shown_by":
        shown_by, "given_to": "Ines Hollow"})
    };
    let told = |firm: &mut Firm, fact: Value| {
        let id = firm.record(fact);
        office::left_before_work(&firm.desk, office::Id::parse(&id).unwrap()).unwrap().join(" ")
    };
    assert!(told(&mut firm, give("2026-09-20", "signed-receipt")).contains("61 days before"));
    assert!(
        told(&mut firm, give("2026-11-14", "certificate-of-mailing"))
            .contains("mailed on November 14, 2026, 6 days")
    );
    assert_eq!(told(&mut firm, give("2026-11-16", "signed-receipt")), "");
    let (paper, receipt) = firm.print(&wanted);
    assert_eq!(pages(&paper), 1, "one page to sign, with three pamphlets on record");
    holds(&receipt, "61 days before: more than 60");
    holds(&receipt, "in time");
    firm.record(json!({"kind": "job-status", "date": "2026-11-20", "job": JOB, "stage": "begun"}));
    firm.record(json!({"kind": "job-status", "date": "2026-11-24", "job": JOB, "stage": "finished"}));
    let (paper, receipt) = firm.print(&wanted);
    holds(&receipt, "until November 24, 2029");
    assert_eq!(pages(&paper), 1);
}

#[test]
fn the_insulation_receipt_has_each_part_of_the_house_by_itself() {
    let (mut firm, _) = accepted(None, false);
    let wanted = Wanted::InsulationReceipt { job: JOB.to_owned() };
    let refused = office::print(&firm.desk, &wanted).unwrap_err();
    assert!(refused.remedy.contains("part by part") || refused.remedy.contains("each part"), "{refused}");
    firm.record(json!({"kind": "insulation-receipt", "date": "2026-11-12", "job": JOB, "installer": "Ada Quill",
        "parts": [
        {"place": "attic", "material": "loose cellulose", "loose_fill": true, "coverage_sqft": "1120",
            "thickness_in": "12.5", "settled_in": "11.2", "r_value": "38", "bags": 42},
        {"place": "knee wall", "material": "mineral batt", "coverage_sqft": "96", "thickness_in": "3.5", "r_value":
            "15"}]}));
    let (_, receipt) = firm.print(&wanted);
    for words in
        ["attic", "1,120", "12.5", "11.2", "42", "knee wall", "96", "3.5", "Ada Quill", "16 CFR 460.17"]
    {
        holds(&receipt, words);
    }
    assert!(!receipt.contains("1,216"), "areas are added up:\n{receipt}");
}

fn job_of(firm: &Firm) -> office::Id {
    desk::names::Names::read(firm.desk.books()).unwrap().job(JOB).unwrap()
}

/// The first color that there is, of each part that comes in several.
fn choose_colors(firm: &mut Firm) {
    let page = office::job_page(&firm.desk, JOB, Month::parse("2026-11").unwrap()).unwrap();
    for open in page.contract.unwrap().colors.into_iter().filter(|part| part.color.is_none()) {
        firm.record(json!({"kind": "color-choice", "date": "2026-11-03", "job": JOB, "part": open.part,
            "color": open.offered[0], "chosen_by": "Ines Hollow"}));
    }
}

#[test]
fn what_the_contract_names_is_ordered_once_with_a_number_for_each_vendor() {
    let (mut firm, _) = accepted(None, false);
    let today = firm.desk.clock.today();
    let refused = office::place_orders(&mut firm.desk, JOB, today, None).unwrap_err();
    assert_eq!(refused.field.as_deref(), Some("needed_by"), "{refused}");
    firm.record(json!({"kind": "schedule", "date": "2026-11-03", "job": JOB, "begins": "2026-11-09"}));
    // Nothing is ordered while the homeowner has a color to choose, and the refusal names each with what there is.
    let refused = office::place_orders(&mut firm.desk, JOB, today, None).unwrap_err();
    assert_eq!(refused.field.as_deref(), Some("color"), "{refused}");
    assert!(refused.message.contains("Hip and ridge cap (Slate gray, ") && refused.remedy.contains("Record"));
    assert!(firm.desk.books().by(PurchaseOrder::job, job_of(&firm)).unwrap().is_empty());
    choose_colors(&mut firm);
    let placed = office::place_orders(&mut firm.desk, JOB, today, None).unwrap();
    assert!(placed.len() > 1, "{placed:?}");
    let numbers: std::collections::BTreeSet<&str> =
        placed.iter().map(|order| order.number.as_str()).collect();
    assert_eq!(numbers.len(), placed.len());
    let page = office::job_page(&firm.desk, JOB, Month::parse("2026-11").unwrap()).unwrap();
    let committed: office::Money = placed.iter().map(|order| order.amount).sum();
    assert_eq!(page.figures.result.committed, committed, "what is ordered is committed");
    let (_, list) = firm.print(&Wanted::OrderList { job: JOB.to_owned(), with_prices: true });
    for order in &placed {
        holds(&list, &order.number);
        holds(&list, &order.amount.grouped());
        assert_eq!(order.needed_by.to_string(), "2026-11-09");
    }
    holds(&list, "Needed on site by November 9, 2026");
    holds(&list, "Ordered on November 3, 2026");
    let again = office::place_orders(&mut firm.desk, JOB, today, None).unwrap_err();
    assert!(again.message.contains("Nothing is left to order"), "{again}");

    // An order taken back is one to be placed again.
    firm.desk.reverse(office::Id::parse(&placed[0].id).unwrap(), "they have none").unwrap();
    let anew = office::place_orders(&mut firm.desk, JOB, today, None).unwrap();
    assert_eq!(anew.len(), 1);
    assert_eq!((&anew[0].vendor, anew[0].amount), (&placed[0].vendor, placed[0].amount));
    assert!(!numbers.contains(anew[0].number.as_str()), "a number is given once");
}

#[test]
fn what_an_order_by_hand_may_hold_is_not_ordered_a_second_time_unsaid() {
    let (mut firm, _) = accepted(None, false);
    let today = firm.desk.clock.today();
    firm.record(json!({"kind": "schedule", "date": "2026-11-03", "job": JOB, "begins": "2026-11-09"}));
    choose_colors(&mut firm);
    let vendor = firm.desk.books().all::<ledger::facts::Vendor>().unwrap()[0].fact.name.clone();
    firm.record(json!({"kind": "purchase-order", "date": "2026-11-03", "job": JOB, "vendor": vendor,
        "number": "PO 77", "lines": [{"code": "shingle", "cost_kind": "material", "quantity": "90",
        "unit": "bundle", "amount": "3213.00", "description": "Shingles"}]}));
    let placed = office::place_orders(&mut firm.desk, JOB, today, None).unwrap();
    assert!(placed[0].cautions[0].starts_with("PO 77 has lines that name no part"), "{placed:?}");
    let page = office::job_page(&firm.desk, JOB, Month::parse("2026-11").unwrap()).unwrap();
    let of_shingles =
        page.orders.iter().filter(|order| order.lines.iter().any(|line| line.code == "shingle"));
    assert_eq!(of_shingles.map(|order| order.number.as_str()).collect::<Vec<_>>(), ["PO 77"]);
    assert!(page.orders.len() > 1, "the other codes are ordered");
    let (_, list) = firm.print(&Wanted::OrderList { job: JOB.to_owned(), with_prices: true });
    holds(&list, "PO 77 has lines that name no part");
}

#[test]
fn from_the_condition_to_the_packet_on_paper() {
    let mut firm = Firm::new();
    let estimate = firm.estimate();
    firm.accept(&estimate, "A", None);
    let photo = picture();
    let kept = office::attach(&mut firm.desk, &photo, "image/png", Some("north valley.png")).unwrap();
    firm.record(json!({"kind": "job-status", "date": "2026-11-03", "job": JOB, "stage": "begun"}));
    firm.record(json!({"kind": "condition", "date": "2026-11-03", "job": JOB, "number": "A-1", "place": "roof-to-wall",
        "side": "north", "cause": "missing-kick-out", "damaged": "deck-sheet", "counted_in": "sheet", "count": "3",
        "calculated": "2", "count_reason": "one had split", "x_in": "100", "y_in": "60",
        "photos": [{"photo": kept.hash}], "patches": [{"along_eave_in": "60", "up_slope_in": "40"}],
        "marks": [{"photo": 1, "kind": "arrow", "x": "0.1", "y": "0.1", "to_x": "0.5", "to_y": "0.5"},
            {"photo": 1, "kind": "note", "x": "0.2", "y": "0.8", "words": "soft"}]}));
    let deck = office::lists(&firm.desk).unwrap().codes.first().unwrap().code.clone();
    firm.record(json!({"kind": "change-order", "date": "2026-11-03", "job": JOB, "number": "A-1",
        "title": "Rot at the north wall", "pricing": "unit-price", "days": 1,
        "if_left": "The wall goes on rotting behind the siding.",
        "lines": [{"code": deck, "cost_kind": "material", "condition": "26-900/A-1", "description": "3 sheets",
            "quantity": "3", "unit": "sheet", "price": "285.00", "cost": "120.00"}]}));
    let change = Wanted::ChangeOrder { id: "26-900/A-1".to_owned() };
    let (_, asked) = firm.print(&change);
    holds(&asked, "The wall goes on rotting behind the siding.");
    holds(&asked, "$285.00");
    holds(&asked, "one had split");
    holds(&asked, "moves by one day");
    firm.record(
        json!({"kind": "decision", "date": "2026-11-03", "change_order": "26-900/A-1", "verdict": "approved",
        "decided_by": "Ines Hollow", "method": "phone", "note": "at noon"}),
    );
    let (_, answered) = firm.print(&change);
    holds(&answered, "phone, November 3, 2026");
    holds(&answered, "at noon");
    firm.record(json!({"kind": "repair", "date": "2026-11-04", "condition": "26-900/A-1", "stage": "done",
        "note": "new kick-out set", "photos": [{"photo": kept.hash}]}));
    firm.record(
        json!({"kind": "invoice", "date": "2026-11-05", "job": JOB, "number": "A-900", "purpose": "final",
        "due": "2026-12-05", "tax": "0", "retainage": "0", "lines": [{"description": "The work as contracted",
        "amount": "4000.00"}, {"description": "Change order A-1", "amount": "285.00"}]}),
    );
    let (_, bill) = firm.print(&Wanted::Invoice { id: "A-900".to_owned() });
    holds(&bill, "$4,285.00");
    holds(&bill, "December 5, 2026");

    let completion = |listing_open| Wanted::Completion { job: JOB.to_owned(), listing_open };
    firm.record(
        json!({"kind": "check-point", "words": "The magnet has been round the house", "blocks": true,
        "position": 900}),
    );
    let refused = office::print(&firm.desk, &completion(false)).unwrap_err();
    assert_eq!(refused.field.as_deref(), Some("checklist"));
    assert!(refused.message.contains("The magnet has been round the house"), "{refused}");
    firm.record(json!({"kind": "installed", "date": "2026-11-04", "job": JOB, "item": "shingles",
        "description": "Laminated, slate", "place": "field", "side": "south", "lot": "LOT-0417", "quantity": "62"}));
    firm.record(json!({"kind": "inspection", "date": "2026-11-05", "job": JOB, "title": "Final inspection",
        "inspector": "Building office", "passed": true, "photos": [{"photo": kept.hash}]}));
    firm.record(
        json!({"kind": "warranty", "date": "2026-11-05", "job": JOB, "begins": "2026-11-05", "years": 10,
        "terms": "We come back for ten years where our work leaks.", "care": "Keep the gutters clear."}),
    );
    let seen = "Fall protection in place before anybody is on the roof";
    firm.record(
        json!({"kind": "work-check", "date": "2026-11-03", "job": JOB, "point": seen, "state": "good",
        "person": "Ada Quill", "photos": [{"photo": kept.hash}]}),
    );
    let (_, packet) = firm.print(&completion(true));
    for words in [
        "LOT-0417",
        "Building office",
        "We come back for ten years where our work leaks.",
        "Keep the gutters clear.",
        "new kick-out set",
        "The magnet has been round the house (not looked at)",
        "Ada Quill",
        "The whole job: Fall protection in place before anybody is on the roof",
        "Workmanship, 10 years from November 5, 2026",
        "I have received this packet and seen the finished roof.",
    ] {
        holds(&packet, words);
    }
}

#[test]
fn the_owners_month_on_paper_says_what_the_window_says() {
    let firm = Firm::new();
    let month = Month::parse("2026-09").unwrap();
    let report = office::month_end(&firm.desk, month).unwrap();
    let (document, text) = firm.print(&Wanted::MonthPack { month });
    assert_eq!(document.name, "Month end 2026-09.pdf");
    assert!(report.closed && report.jobs.len() > 3);
    holds(&text, &report.firm.month.earned.grouped());
    for job in &report.jobs {
        holds(&text, &job.result.number);
        holds(&text, &job.result.contract.abs().grouped());
        holds(&text, &job.result.margin.abs().grouped());
    }
}

#[test]
fn a_paper_about_nothing_is_refused_in_words() {
    let firm = Firm::new();
    let nothing = [
        Wanted::SiteSheet { job: JOB.to_owned() },
        Wanted::SiteSheet { job: "99-999".to_owned() },
        Wanted::Invoice { id: "no such".to_owned() },
        Wanted::ChangeOrder { id: "26-900/7".to_owned() },
        Wanted::Proposal {
            job: JOB.to_owned(),
            estimate: Box::new(office::begin(&firm.desk, JOB, None).unwrap()),
            chosen: None,
        },
    ];
    for wanted in nothing {
        let error = office::print(&firm.desk, &wanted).unwrap_err();
        assert!(!error.message.is_empty() && !error.remedy.is_empty(), "{wanted:?}: {error:?}");
    }
}

/// A small picture: a PNG of nine gray dots, written by hand so that no other crate has to.
fn picture() -> Vec<u8> {
    use std::io::Write as _;
    let mut raw = Vec::new();
    for row in 0_u8..3 {
        raw.push(0);
        raw.extend([row * 80, 120, 200]);
    }
    let mut deflated = vec![0x78, 0x01, 0x01];
    let length = u16::try_from(raw.len()).unwrap();
    deflated.extend(length.to_le_bytes());
    deflated.extend((!length).to_le_bytes());
    deflated.write_all(&raw).unwrap();
    let (a, b) = raw.iter().fold((1_u32, 0_u32), |(a, b), byte| {
        let a = (a + u32::from(*byte)) % 65_521;
        (a, (b + a) % 65_521)
    });
    deflated.extend((b << 16 | a).to_be_bytes());
    let mut png = vec![0x89, b'P', b'N', b'G', 0x0D, 0x0A, 0x1A, 0x0A];
    let mut chunk = |kind: &[u8; 4], data: &[u8]| {
        png.extend(u32::try_from(data.len()).unwrap().to_be_bytes());
        let mut body = kind.to_vec();
        body.extend(data);
        png.extend(&body);
        png.extend(crc(&body).to_be_bytes());
    };
    chunk(b"IHDR", &[0, 0, 0, 3, 0, 0, 0, 3, 8, 0, 0, 0, 0]);
    chunk(b"IDAT", &deflated);
    chunk(b"IEND", &[]);
    png
}

fn crc(bytes: &[u8]) -> u32 {
    let step = |sum: u32, byte: &u8| {
        (0..8).fold(
            sum ^ u32::from(*byte),
            |sum, _| if sum & 1 == 1 { sum >> 1 ^ 0xEDB8_8320 } else { sum >> 1 },
        )
    };
    !bytes.iter().fold(!0, step)
}
