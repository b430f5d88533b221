//! A made-up firm for the tests: one fact of each kind, with every column filled at least once, and short ways to make
//! a ledger, to append, and to look at the file with plain SQL.

use jiff::Timestamp;
use jiff::civil::Date;
use ledger::facts::Fact;
use ledger::totals::{CodeTotals, LaborTotals};
use ledger::{Appended, Id, Ledger, LedgerError, NewFact};
use rusqlite::Connection;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use tempfile::TempDir;
use trade::{Money, Month};

/// The moment at which the tests record.
pub(crate) fn moment() -> Timestamp {
    "2026-05-04T07:30:00.250Z".parse().expect("a moment")
}

pub(crate) fn day(text: &str) -> Date {
    text.parse().expect("a date")
}

pub(crate) fn month(text: &str) -> Month {
    Month::parse(text).expect("a month")
}

pub(crate) fn money(text: &str) -> Money {
    Money::parse(text).expect("an amount")
}

/// A job's labor as booked through a month.
pub(crate) fn labor_through(ledger: &Ledger, job: u64, through: &str) -> LaborTotals {
    let by_month = the_one(ledger.reading().job_labor(&[id(job)].into(), month(through)));
    by_month.into_values().fold(LaborTotals::default(), |sum, labor| LaborTotals {
        straight: sum.straight + labor.straight,
        premium: sum.premium + labor.premium,
        burden: sum.burden + labor.burden,
    })
}

/// What a job's codes come to through a month.
pub(crate) fn codes_of(ledger: &Ledger, job: u64, through: &str) -> BTreeMap<Id, CodeTotals> {
    the_one(ledger.reading().code_totals(&[id(job)].into(), month(through)))
}

/// What is said of the only one that was asked about.
pub(crate) fn the_one<T: Default>(said: Result<BTreeMap<Id, T>, LedgerError>) -> T {
    said.expect("it is read").into_values().next().unwrap_or_default()
}

/// The n-th id: the same in every run.
pub(crate) fn id(n: u64) -> Id {
    Id::made_of(1_777_000_000_000 + n, n)
}

pub(crate) const OWNER: u64 = 1;

/// A fact recorded by the owner.
pub(crate) fn fact(n: u64, kind: &str, body: Value) -> NewFact {
    let fact = Fact::from_json(kind, body).unwrap_or_else(|problem| panic!("{kind}: {problem}"));
    NewFact { id: id(n), person: id(OWNER), fact }
}

/// A folder that goes away, with a ledger in it.
pub(crate) struct Place {
    pub(crate) folder: TempDir,
    pub(crate) path: PathBuf,
}

pub(crate) fn place() -> Place {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("firm.tearoff");
    Place { folder, path }
}

/// A ledger with the owner, the firm, a crew member, codes, a customer, a vendor and two jobs.
pub(crate) fn books(path: &Path) -> Ledger {
    let mut ledger = Ledger::create(path).expect("a new ledger");
    ledger.append(&beginnings(), moment()).expect("the beginnings");
    ledger
}

pub(crate) const MEMBER: u64 = 5;
pub(crate) const CUSTOMER: u64 = 6;
pub(crate) const VENDOR: u64 = 7;
pub(crate) const DECK: u64 = 8;
pub(crate) const TEAR: u64 = 9;
pub(crate) const JOB: u64 = 10;
pub(crate) const OTHER_JOB: u64 = 11;
pub(crate) const CREW: u64 = 4;

pub(crate) fn beginnings() -> Vec<NewFact> {
    vec![
        fact(OWNER, "person", json!({"name": "Mae Alder", "role": "owner"})),
        fact(2, "firm", firm("monday")),
        fact(3, "device", json!({"date": "2026-01-02", "letter": "A", "name": "office"})),
        fact(CREW, "crew", json!({"name": "Red", "size": 4, "hours_a_day": "9.5"})),
        fact(
            MEMBER,
            "person",
            json!({"name": "Jo Reed", "role": "crew", "crew": id(CREW), "class": "5551", "left_on": "2027-01-31",
                "language": "es"}),
        ),
        fact(
            CUSTOMER,
            "customer",
            json!({"name": "Pat Lind", "address": "4 Mill Lane", "phone": "555-0101", "email": "pat@example.org"}),
        ),
        fact(VENDOR, "vendor", json!({"name": "Valley Supply", "subcontractor": true})),
        fact(
            DECK,
            "cost-code",
            json!({"code": "deck", "title": "Deck", "unit": "sheet", "bought_in": "sheet", "position": 1}),
        ),
        fact(
            TEAR,
            "cost-code",
            json!({"code": "tear", "title": "Tear-off", "unit": "square", "position": 2}),
        ),
        fact(
            JOB,
            "job",
            json!({"date": "2026-03-02", "number": "26-001", "title": "Whole roof", "customer": id(CUSTOMER),
                "site": "4 Mill Lane", "crew": id(CREW), "roof_age_years": 22, "roof_state": "worn"}),
        ),
        fact(
            OTHER_JOB,
            "job",
            json!({"date": "2026-03-02", "number": "26-002", "title": "Porch", "customer": id(CUSTOMER),
                "site": "6 Mill Lane"}),
        ),
    ]
}

pub(crate) fn firm(week_begins: &str) -> Value {
    json!({"date": "2026-01-02", "name": "Alder & Reed Roofing", "town": "Millbrook", "state": "VT",
        "street": "12 Tannery Row", "zip": "00000", "phone": "555-0110", "license": "R-104",
        "lead_certificate": "LK-0001", "currency": "USD",
        "week_begins": week_begins, "overtime_over_week": "40", "overtime_over_day": null, "premium_to": "hours",
        "sales_tax": "0.06", "sales_tax_rounding": "invoice", "material_tax_is_cost": true,
        "overhead_by": "labor-hours", "overhead_rate": "12.50"})
}

pub(crate) fn pay(n: u64, date: &str, hourly: &str) -> NewFact {
    fact(n, "pay-rate", json!({"date": date, "person": id(MEMBER), "hourly": hourly}))
}

pub(crate) fn time(n: u64, date: &str, job: u64, code: u64, hours: &str) -> NewFact {
    let body = json!({"date": date, "person": id(MEMBER), "job": id(job), "code": id(code), "hours": hours,
        "crew": id(CREW)});
    fact(n, "time-entry", body)
}

pub(crate) fn direct_cost(n: u64, date: &str, job: u64, amount: &str) -> NewFact {
    let body = json!({"date": date, "job": id(job), "code": id(TEAR), "cost_kind": "equipment",
        "description": "lift", "amount": amount});
    fact(n, "direct-cost", body)
}

pub(crate) fn reversal(n: u64, date: &str, of: u64) -> NewFact {
    fact(n, "reversal", json!({"date": date, "reverses": id(of), "reason": "typed twice"}))
}

/// The close of a month, as the books stand.
pub(crate) fn close(ledger: &Ledger, n: u64, date: &str, month: Month) -> NewFact {
    let books = ledger.reading();
    let devices: Vec<Value> = books
        .device_ends()
        .expect("the ends")
        .into_iter()
        .map(|(device, seq)| json!({"device": device, "through_seq": seq}))
        .collect();
    let labor: Vec<Value> = books
        .booked_labor(month)
        .expect("the labor")
        .into_iter()
        .map(|((job, code, condition), sums)| {
            json!({"job": job, "code": code, "condition": condition, "straight": sums.straight, "premium": sums.premium,
                "burden": sums.burden})
        })
        .collect();
    fact(n, "month-closed", json!({"date": date, "month": month, "devices": devices, "labor": labor}))
}

/// Every kind of fact, each with its lists and as many of its columns filled as can be. The photo, the signature and
/// the attachment are the same file.
pub(crate) fn one_of_each() -> Vec<NewFact> {
    let mut facts = beginnings();
    facts.extend([
        fact(20, "pay-rate", json!({"date": "2026-01-05", "person": id(MEMBER), "hourly": "27.50"})),
        fact(
            21,
            "burden-rate",
            json!({"date": "2026-01-05", "name": "State unemployment", "calculated_on": "pay", "rate": "0.031",
                "wage_base": "14000.00", "class": "5551", "on_premium": true}),
        ),
        fact(
            22,
            "bonus",
            json!({"date": "2026-03-06", "person": id(MEMBER), "amount": "46.00", "note": "no call-backs"}),
        ),
        fact(23, "account", json!({"line": "bank", "name": "1010 Checking"})),
        fact(24, "job-status", json!({"date": "2026-03-03", "job": id(JOB), "stage": "begun"})),
        fact(
            25,
            "crew",
            json!({"revises": id(CREW), "date": "2026-03-04", "name": "Red", "size": 5, "hours_a_day": "9.5"}),
        ),
        fact(
            26,
            "vendor",
            json!({"revises": id(VENDOR), "name": "Valley Supply Co", "subcontractor": false}),
        ),
        fact(
            31,
            "attachment",
            json!({"date": "2026-03-04", "hash": photo(), "media_type": "image/jpeg", "bytes": PHOTO.len(),
                "name": "valley.jpg"}),
        ),
        fact(27, "customer", json!({"revises": id(CUSTOMER), "name": "Pat Lind", "phone": "555-0102"})),
    ]);
    facts.extend(roof());
    facts.push(contracted_with_parts(30, JOB));
    facts.extend(changes());
    facts.extend(costs());
    facts.extend(work());
    facts.extend(billed());
    facts.extend(overhead());
    facts.push(reversal(60, "2026-03-20", 44));
    facts
}

/// What the firm spends that is no job's, and what it pays its vendors.
fn overhead() -> Vec<NewFact> {
    vec![
        fact(
            207,
            "vendor-papers",
            json!({"date": "2026-03-02", "vendor": id(VENDOR), "tin": "12-3456789", "w9_signed": "2026-02-20",
                "insured_until": "2026-12-31"}),
        ),
        fact(
            208,
            "budget",
            json!({"date": "2026-03-02", "month": "2026-04", "sales": "52000.00", "cost": "36500.00",
                "overhead": "6100.00", "crew_days": "21.5"}),
        ),
        fact(200, "overhead-account", json!({"number": "6100", "name": "Trucks"})),
        fact(
            201,
            "overhead-account",
            json!({"revises": id(200), "number": "6110", "name": "Trucks and fuel"}),
        ),
        fact(
            202,
            "recurring-cost",
            json!({"date": "2026-03-01", "account": id(200), "description": "truck insurance", "amount": "210.00",
                "every": "month", "vendor": id(VENDOR), "until": "2026-12-31"}),
        ),
        fact(
            203,
            "recurring-cost",
            json!({"revises": id(202), "date": "2026-03-01", "account": id(200), "description": "set aside",
                "amount": "400.00", "every": "quarter", "owed_from": "set-aside"}),
        ),
        fact(
            204,
            "bill",
            json!({"date": "2026-03-04", "vendor": id(VENDOR), "reference": "V-882", "due": "2026-04-03",
                "lines": [], "overhead": [{"account": id(200), "description": "tires", "amount": "320.00",
                "tax": "19.20", "recurring": id(202)}]}),
        ),
        fact(
            205,
            "overhead-cost",
            json!({"date": "2026-03-05", "account": id(200), "description": "wear", "amount": "400.00",
                "owed_from": "set-aside", "recurring": id(202)}),
        ),
        fact(
            206,
            "vendor-payment",
            json!({"date": "2026-03-06", "vendor": id(VENDOR), "method": "check", "reference": "2001",
                "bills": [{"bill": id(204), "amount": "330.00", "discount": "9.20"}]}),
        ),
    ]
}

pub(crate) fn contract(n: u64, job: u64) -> NewFact {
    let body = json!({"date": "2026-03-02", "job": id(job), "price": "12000.00", "included_sheets": "3",
        "included_feet": "10", "retainage": "0.05", "note": "signed at the kitchen table",
        "lines": [
            {"code": id(DECK), "cost_kind": "material", "description": "sheets", "amount": "180.00",
                "quantity": "6", "unit": "sheet"},
            {"code": id(TEAR), "cost_kind": "labor", "amount": "1500.00", "hours": "50"},
        ],
        "units": [{"code": id(TEAR), "quantity": "24.5"}],
        "unit_prices": [{"damaged": "deck-sheet", "counted_in": "sheet", "price": "95.00"}],
        "payments": [{"title": "on signing", "amount": "4000.00"}, {"title": "at the end", "amount": "8000.00"}]});
    fact(n, "contract", body)
}

/// The same with everything that a contract made from a roof says beside.
fn contracted_with_parts(n: u64, job: u64) -> NewFact {
    let mut body = serde_json::to_value(contract(n, job).fact).expect("a contract");
    body["choice"] = json!("B");
    body["choice_title"] = json!("With new flashings");
    body["roof"] = json!(id(84));
    body["recipe"] = json!(id(92));
    body["proposal"] = json!(photo());
    body["sold_at_home"] = json!(true);
    body["parts"] = json!([{"item": "shingles", "part": id(PART), "description": "laminated shingles",
        "product_line": "Hedgeline", "color": "Charcoal", "net": "2412.5", "waste": "0.1", "packages": "80",
        "cost": "2800.00", "working": "2,412.5 sq ft and 10 %"}]);
    body["places"] = json!([{"item": "barrier", "edge": "valley", "feature": null, "net": "90"},
            {"item": "pipe-boot", "feature": "pipe", "net": "2"}]);
    fact(n, "contract", body)
}

/// What stands in the attachment of [`one_of_each`].
pub(crate) const PHOTO: &[u8] = b"not really a photo";

pub(crate) fn photo() -> ledger::Digest {
    ledger::Digest::of(PHOTO)
}

/// The part that contracts name.
pub(crate) const PART: u64 = 80;

/// The roof, its parts, rates and standards, as recorded before the contract.
fn roof() -> Vec<NewFact> {
    vec![
        fact(
            PART,
            "part",
            json!({"name": "shingle-l", "title": "Laminated shingles", "item": "shingles", "code": id(DECK),
                "cost_kind": "material", "package": "bundle", "covers": "33.3333", "shingle": "laminated",
                "pieces_per_square": "65", "exposure_in": "5.625", "nails_each": "4",
                "product_line": "Hedgeline", "colors": [{"color": "Slate gray"}, {"color": "Charcoal"}]}),
        ),
        fact(
            81,
            "part-price",
            json!({"date": "2026-03-01", "part": id(PART), "vendor": id(VENDOR), "price": "34.75"}),
        ),
        fact(
            82,
            "production-rate",
            json!({"date": "2026-03-01", "item": "shingles", "steepness": "walkable", "stories": 1,
                "code": id(TEAR), "hours": "0.016"}),
        ),
        fact(
            83,
            "standard",
            json!({"date": "2026-03-01", "topic": "barrier-eave-inside", "origin": "code", "value": "24",
                "source": "IRC R905.1.2"}),
        ),
        fact(
            84,
            "roof",
            json!({"date": "2026-03-01", "job": id(JOB), "stories": 1, "deck": "plywood",
                "rafter_spacing_in": "24", "overhang_in": "12", "wall_thickness_in": "6", "layers": 1,
                "attic_floor_sqft": "1200", "climate_zone": 6, "vapor_retarder": true, "high_wind": false,
                "cut_up": "plain",
                "built_before_1978": false, "north_deg": 0,
                "sections": [{"name": "south", "slope": "6"}, {"name": "porch", "slope": "3", "area_sqft": "80"}],
                "corners": [
                    {"section": 1, "x_in": "0", "y_in": "0", "edge": "eave"},
                    {"section": 1, "x_in": "480", "y_in": "0", "edge": "rake"},
                    {"section": 1, "x_in": "480", "y_in": "168", "edge": "ridge"},
                    {"section": 1, "x_in": "0", "y_in": "168", "edge": "rake"},
                ],
                "edges": [{"section": 2, "kind": "eave", "length_ft": "10"}],
                "features": [{"kind": "old-vent", "section": 1, "x_in": "100", "y_in": "120", "width_in": "12",
                    "length_in": "12", "count": 2, "free_area_sqin": "50", "vent": "box-vent"}]}),
        ),
        recipe(),
        fact(
            85,
            "check-point",
            json!({"item": "kick-out", "words": "A kick-out at every wall end", "blocks": true, "position": 1}),
        ),
    ]
}

/// How the firm builds.
fn recipe() -> NewFact {
    fact(
        92,
        "recipe",
        json!({"date": "2026-03-01", "name": "Our usual roof", "job": id(JOB), "usual": false, "retired": true,
            "walkable_from": "4", "steep_from": "8", "very_steep_from": "12", "valley": "open-three-layer",
            "valley_lining": "membrane", "valley_metal_width_in": "24", "valley_edge_strip_in": "12",
            "shingle": "laminated", "shingle_nails": "6", "starter_piece_in": "36", "starter_nails": "4",
            "cap_nails": "2", "underlayment_nails": "75", "deck_in": "0.4375", "exposure_in": "5.625",
            "cap_exposure_in": "5", "barrier_roll_in": "36", "barrier_lap_in": "6", "eave_rows": 2,
            "underlayment_roll_in": "48", "underlayment_lap_in": "4", "underlayment_over_barrier": true,
            "drip_edge_piece_ft": "10", "flashing_piece_ft": "10", "flashing_lap_in": "4",
            "step_flashing_side_in": "4", "masonry_walls": true, "pipe_in": "4", "opening_in": "32",
            "shingles_per_square": "65", "layer_lb_per_square": "250", "layer_yards_per_square": "0.4",
            "container_tons": "4", "container_yards": "20", "included_sheets": "3", "included_board_ft": "40",
            "vented_eave_ft": "60", "power_cfm_per_sqft": "0.7", "intake_cfm_per_sqft": "300",
            "insulation_depth_in": "8", "gutters": true, "gutter_corners": 2, "downspouts": 4,
            "downspout_every_ft": "35", "downspout_story_ft": "10", "permits": 1, "machine_days": "1.5",
            "waste": [{"item": "shingles", "cut_up": "plain", "share": "0.1"}],
            "vents": [{"vent": "ridge-vent", "free_area_sqin": "18", "fixed": "30"},
                {"vent": "power-vent", "cfm": "1050"},
                {"vent": "intake", "free_area_sqin": "9"}]}),
    )
}

/// What is recorded as the work goes on and when it is done.
fn work() -> Vec<NewFact> {
    vec![
        fact(
            93,
            "color-choice",
            json!({"date": "2026-03-04", "job": id(JOB), "part": id(PART), "color": "Charcoal",
                "chosen_by": "Pat Lind"}),
        ),
        fact(
            86,
            "work-check",
            json!({"date": "2026-03-06", "job": id(JOB), "point": id(85), "state": "good", "person": id(MEMBER),
                "note": "both", "photos": [{"photo": photo(), "original": photo()}]}),
        ),
        fact(
            87,
            "inspection",
            json!({"date": "2026-03-07", "job": id(JOB), "title": "Final", "inspector": "Building office",
                "passed": true, "note": "no remarks", "photos": [{"photo": photo(), "original": photo()}]}),
        ),
        fact(
            88,
            "installed",
            json!({"date": "2026-03-06", "job": id(JOB), "item": "shingles", "description": "laminated",
                "place": "field", "side": "south", "lot": "L-77", "quantity": "40", "photo": photo()}),
        ),
        fact(
            89,
            "warranty",
            json!({"date": "2026-03-08", "job": id(JOB), "begins": "2026-03-08", "years": 10,
                "terms": "Workmanship", "care": "Keep the gutters clear"}),
        ),
        fact(
            95,
            "schedule",
            json!({"date": "2026-03-02", "job": id(JOB), "begins": "2026-03-09", "ends": "2026-03-12",
                "note": "after the frost", "crew": id(CREW), "crew_days": "3.5"}),
        ),
        fact(
            96,
            "notice",
            json!({"date": "2026-01-02", "state": "VT", "about": "lien", "heading": "Notice of lien rights",
                "text": "Words of the state.", "copies": 1, "least_points": 10, "bold": true}),
        ),
        fact(
            97,
            "lead-pamphlet",
            json!({"date": "2026-02-20", "job": id(JOB), "shown_by": "signed-receipt", "given_to": "Pat Lind",
                "paper": photo(), "note": "at the table"}),
        ),
        fact(
            98,
            "insulation-receipt",
            json!({"date": "2026-03-08", "job": id(JOB), "installer": "Jo Reed", "note": "attic hatch boarded",
                "parts": [
                    {"place": "attic", "material": "loose cellulose", "loose_fill": true, "coverage_sqft": "900",
                        "thickness_in": "12.5", "settled_in": "11.2", "r_value": "38", "bags": 34},
                    {"place": "knee wall", "material": "batt", "coverage_sqft": "120", "thickness_in": "3.5",
                        "r_value": "13"}]}),
        ),
        fact(
            90,
            "part",
            json!({"revises": id(PART), "name": "shingle-l", "title": "Laminated shingles", "item": "shingles",
                "code": id(DECK), "cost_kind": "material", "package": "bundle", "covers": "32", "retired": true}),
        ),
        fact(
            91,
            "check-point",
            json!({"revises": id(85), "words": "A kick-out at each wall end", "position": 2, "retired": true}),
        ),
    ]
}

fn changes() -> Vec<NewFact> {
    vec![
        fact(
            32,
            "condition",
            json!({"date": "2026-03-04", "job": id(JOB), "number": "A-1", "place": "valley", "side": "north",
                "cause": "missing-kick-out", "damaged": "deck-sheet", "counted_in": "sheet", "count": "4",
                "count_reason": "cut at the hip", "note": "black through", "moisture": "31.5", "calculated": "3",
                "x_in": "120", "y_in": "64.5", "photos": [{"photo": photo(), "original": photo()}],
                "patches": [{"along_eave_in": "40", "up_slope_in": "30", "from_rafter_in": "6"}],
                "marks": [{"photo": 1, "kind": "arrow", "x": "0.25", "y": "0.5", "to_x": "0.4", "to_y": "0.45",
                    "words": "soft here"}]}),
        ),
        fact(
            36,
            "condition",
            json!({"date": "2026-03-04", "job": id(JOB), "number": "A-2", "place": "eave", "cause": "ice-dam",
                "damaged": "rafter", "counted_in": "each", "count": "1"}),
        ),
        fact(
            33,
            "repair",
            json!({"date": "2026-03-04", "condition": id(32), "stage": "begun", "note": "two of us",
                "photos": [{"photo": photo(), "original": photo()}]}),
        ),
        fact(
            34,
            "change-order",
            json!({"date": "2026-03-04", "job": id(JOB), "number": "A-1", "title": "Rotted deck",
            "pricing": "unit-price", "markup": "0.2", "not_to_exceed": "900.00", "days": 1,
            "if_left": "the wall goes on rotting",
            "lines": [
                {"code": id(DECK), "cost_kind": "material", "condition": id(32), "description": "1 sheet",
                    "quantity": "1", "unit": "sheet", "price": "95.00", "cost": "30.00"},
                {"code": id(TEAR), "cost_kind": "labor", "description": "wider vent", "price": "120.00",
                    "cost": "80.00", "hours": "2"},
                {"code": id(DECK), "cost_kind": "material", "condition": id(36), "description": "rafter",
                    "price": "60.00", "cost": "20.00"},
            ]}),
        ),
        fact(
            38,
            "change-order",
            json!({"date": "2026-03-04", "job": id(JOB), "number": "B-1", "title": "A board more",
                "pricing": "unit-price", "lines": [{"code": id(DECK), "cost_kind": "material",
                "description": "1 board", "price": "12.00"}]}),
        ),
        fact(
            39,
            "change-cost",
            json!({"date": "2026-03-05", "change_order": id(38), "note": "from the yard",
                "lines": [{"change_line": 1, "cost": "7.00"}]}),
        ),
        fact(
            35,
            "decision",
            json!({"date": "2026-03-05", "change_order": id(34), "verdict": "approved", "decided_by": "Pat Lind",
                "method": "signed", "signature": photo(), "caution_given": true, "note": "on the glass",
                "lines": [{"change_line": 2, "verdict": "declined"}, {"change_line": 3, "verdict": "declined"}]}),
        ),
        fact(
            37,
            "declined-repair",
            json!({"date": "2026-03-05", "condition": id(36), "course": "own-cost", "note": "half a day"}),
        ),
    ]
}

fn costs() -> Vec<NewFact> {
    vec![
        fact(
            40,
            "purchase-order",
            json!({"date": "2026-03-02", "job": id(JOB), "vendor": id(VENDOR), "number": "P-1",
                "expected_on": "2026-03-03", "lines": [{"code": id(DECK), "cost_kind": "material",
                "description": "sheets", "quantity": "6", "unit": "sheet", "amount": "180.00", "part": id(PART)}]}),
        ),
        fact(
            41,
            "bill",
            json!({"date": "2026-03-03", "vendor": id(VENDOR), "reference": "V-881", "purchase_order": id(40),
            "completes_order": true, "credit": false, "note": "two trips",
            "lines": [
                {"job": id(JOB), "code": id(DECK), "cost_kind": "material", "description": "sheets",
                    "quantity": "5", "unit": "sheet", "unit_price": "30.10", "amount": "150.50", "tax": "9.03"},
                {"job": id(JOB), "code": id(DECK), "cost_kind": "material", "description": "sheets",
                    "quantity": "2", "unit": "sheet", "unit_price": "31", "amount": "62.00", "tax": "3.72",
                    "condition": id(32)},
            ]}),
        ),
        fact(
            42,
            "time-entry",
            json!({"date": "2026-03-04", "person": id(MEMBER), "job": id(JOB), "code": id(TEAR), "hours": "9.5",
                "crew": id(CREW), "caused_overtime": true, "condition": id(32)}),
        ),
        fact(
            43,
            "direct-cost",
            json!({"date": "2026-03-04", "job": id(JOB), "code": id(TEAR), "cost_kind": "disposal",
                "description": "one load", "amount": "310.00", "condition": id(32)}),
        ),
        direct_cost(44, "2026-03-05", JOB, "55.00"),
        fact(
            45,
            "stored-material",
            json!({"date": "2026-03-05", "job": id(JOB), "code": id(DECK), "amount": "60.20"}),
        ),
        fact(
            46,
            "units-done",
            json!({"date": "2026-03-05", "job": id(JOB), "code": id(TEAR), "quantity": "12.25"}),
        ),
        fact(
            47,
            "forecast",
            json!({"date": "2026-03-05", "job": id(JOB), "code": id(TEAR), "amount": "1750.00", "note": "steeper"}),
        ),
    ]
}

fn billed() -> Vec<NewFact> {
    vec![
        fact(
            50,
            "invoice",
            json!({"date": "2026-03-06", "job": id(JOB), "number": "A-101", "purpose": "progress",
                "due": "2026-04-05", "tax": "240.00", "retainage": "200.00", "note": "half done",
                "lines": [{"description": "progress", "amount": "4000.00", "taxable": true,
                    "change_order": id(34)}]}),
        ),
        fact(
            51,
            "invoice",
            json!({"date": "2026-03-09", "job": id(JOB), "number": "A-102", "purpose": "credit",
                "due": "2026-04-05", "credits": id(50), "lines": [{"description": "scratched gutter",
                "amount": "-40.00"}]}),
        ),
        fact(
            52,
            "retainage-release",
            json!({"date": "2026-03-18", "invoice": id(50), "amount": "150.00", "due": "2026-04-17"}),
        ),
        fact(
            53,
            "payment",
            json!({"date": "2026-03-19", "customer": id(CUSTOMER), "amount": "3000.00", "method": "check",
                "reference": "1204"}),
        ),
        fact(
            54,
            "allocation",
            json!({"date": "2026-03-19", "payment": id(53), "invoice": id(50), "amount": "3000.00"}),
        ),
        fact(
            55,
            "payment",
            json!({"date": "2026-03-20", "customer": id(CUSTOMER), "amount": "25.00", "method": "cash"}),
        ),
        fact(
            56,
            "refund",
            json!({"date": "2026-03-20", "customer": id(CUSTOMER), "payment": id(55), "amount": "25.00",
                "method": "check", "reference": "311"}),
        ),
        fact(
            57,
            "bank-statement",
            json!({"date": "2026-03-22", "begins": "2026-03-16", "account": "000417", "opening": "1200.00",
                "closing": "4188.00", "lines": [
                {"date": "2026-03-19", "amount": "3000.00", "words": "Deposit", "number": "1204", "bank_id": "d-1"},
                {"date": "2026-03-20", "amount": "-12.00", "words": "Monthly fee"}]}),
        ),
        fact(
            58,
            "bank-cleared",
            json!({"date": "2026-03-19", "statement": id(57), "place": 1, "items": [{"payment": id(53)}]}),
        ),
        fact(
            59,
            "bank-cleared",
            json!({"date": "2026-03-20", "statement": id(57), "place": 2, "other": "bank-error",
                "note": "they pay it back"}),
        ),
    ]
}

/// A ledger with every kind of fact: [`one_of_each`], then March closed and handed off.
pub(crate) fn full_books(path: &Path) -> Ledger {
    let mut ledger = Ledger::create(path).expect("a new ledger");
    ledger::attachment::store(path, PHOTO, "image/jpeg", Some("valley.jpg"), day("2026-03-04"))
        .expect("a photo");
    ledger.append(&one_of_each(), moment()).expect("one of each");
    let mut closed = close(&ledger, 61, "2026-04-02", month("2026-03"));
    if let Fact::MonthClosed(fact) = &mut closed.fact {
        let line = json!({"job": id(JOB), "contract": "12095.00", "cost": "900.00", "forecast": "2000.00",
            "earned": "5400.00", "billed": "3960.00", "loss_provision": "0.00"});
        fact.jobs.push(serde_json::from_value(line).expect("a result"));
    }
    let hand_off = json!({"date": "2026-04-02", "month": "2026-03", "part": 1, "journal_debits": "9999.00",
        "files": photo(), "devices": [{"device": "A", "through_seq": ledger.last_seq() + 1}],
        "labor": [{"source": id(42), "job": id(JOB), "code": id(TEAR), "condition": id(32), "straight": "307.25",
            "premium": "0.00", "burden": "9.52"}],
        "jobs": [{"job": id(JOB), "over_billed": "0.00", "under_billed": "1440.00", "loss_provision": "0.00"}]});
    ledger.append(&[closed, fact(62, "hand-off", hand_off)], moment()).expect("the month end");
    let tablet = json!({"date": "2026-04-02", "letter": "B", "name": "tablet", "role": "crew", "person": id(MEMBER),
        "signs_with": photo(), "locks_with": "age1"});
    let left = json!({"date": "2026-04-03", "device": id(63), "last_seq": 0, "reason": "lost"});
    let answer = json!({"date": "2026-04-03", "question": "hours", "note": "both were there",
        "about": [{"about": id(42)}, {"about": id(32)}]});
    let devices = [fact(63, "device", tablet), fact(64, "device-left", left), fact(65, "answer", answer)];
    ledger.append(&devices, moment()).expect("the devices");
    ledger
}

/// Appends one fact and expects it to be refused; the words of the refusal.
pub(crate) fn refusal(ledger: &mut Ledger, new: NewFact) -> String {
    match ledger.append(&[new], moment()) {
        Err(LedgerError::Refused { field, problem, remedy }) => format!("{field}: {problem}. {remedy}."),
        other => panic!("expected a refusal, got {other:?}"),
    }
}

pub(crate) fn add(ledger: &mut Ledger, new: NewFact) -> Appended {
    ledger.append(&[new], moment()).expect("a fact that the books take")[0]
}

/// The file as any SQLite tool sees it.
pub(crate) fn raw(path: &Path) -> Connection {
    Connection::open(path).expect("the file")
}

/// The file with its guards off: what a tool that means harm, or a bad disk, could do.
pub(crate) fn unguarded(path: &Path) -> Connection {
    let conn = raw(path);
    conn.execute_batch("PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON").expect("no guards");
    let drops: Option<String> = conn
        .query_row(
            "SELECT group_concat('DROP TRIGGER ' || name, '; ') FROM sqlite_master WHERE type = 'trigger'",
            [],
            |row| row.get(0),
        )
        .expect("the triggers");
    conn.execute_batch(&drops.unwrap_or_default()).expect("no triggers");
    conn
}

/// Verifies and tells the problems.
pub(crate) fn problems(path: &Path) -> Vec<String> {
    let verdict = ledger::verify(path, &mut |_| true).expect("a verdict");
    verdict.problems.iter().map(ToString::to_string).collect()
}
