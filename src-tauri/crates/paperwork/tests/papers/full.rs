//! A made-up example of each paper with everything in it: the papers before the work begins.

use jiff::civil::{Date, date};
use paperwork::papers::*;
use std::collections::BTreeMap;
use trade::{Money, Qty, Rate};

pub(crate) fn s(text: &str) -> String {
    text.to_owned()
}

pub(crate) fn m(text: &str) -> Money {
    Money::parse(text).unwrap()
}

pub(crate) fn q(text: &str) -> Qty {
    Qty::parse(text).unwrap()
}

pub(crate) fn r(text: &str) -> Rate {
    Rate::parse(text).unwrap()
}

pub(crate) fn all(lines: &[&str]) -> Vec<String> {
    lines.iter().map(|line| s(line)).collect()
}

pub(crate) fn on(month: i8, day: i8) -> Date {
    date(2026, month, day)
}

pub(crate) fn firm() -> Firm {
    Firm {
        name: s("Alder Creek Roofing"),
        street: Some(s("3 Mill Road")),
        town: s("Harlow Falls"),
        state: s("LK"),
        zip: Some(s("00000-0001")),
        license: Some(s("License BC 000417")),
        phone: Some(s("555-0143")),
        logo: Some(Photo {
            bytes: crate::shot::signature(),
            alt: s("Alder Creek Roofing’s mark"),
            ..Photo::default()
        }),
    }
}

pub(crate) fn customer() -> Party {
    Party { name: s("Ines Okafor"), lines: all(&["14 Larch Lane", "Harlow Falls, MN"]) }
}

pub(crate) const SITE: &str = "14 Larch Lane, Harlow Falls";

fn notice(about: &str, heading: &str, copies: i64, least_points: i64, bold: bool) -> Notice {
    let text =
        format!("Words of the state about {about}, as the firm entered them.\n\nA second paragraph of them.");
    Notice { about: s(about), heading: s(heading), text, copies, least_points, bold }
}

pub(crate) fn insulation() -> InsulationReceipt {
    let part = |place: &str, material: &str, measures: [&str; 3], loose: Option<(&str, &str)>| Insulated {
        place: s(place),
        material: s(material),
        coverage: q(measures[0]),
        thickness: q(measures[1]),
        settled: loose.map(|(settled, _)| q(settled)),
        r_value: q(measures[2]),
        bags: loose.map(|(_, bags)| q(bags)),
    };
    InsulationReceipt {
        firm: firm(),
        customer: customer(),
        site: s(SITE),
        job: s("Okafor reroof"),
        number: s("A-1042"),
        date: on(12, 4),
        installer: s("Tam Lindqvist"),
        parts: vec![
            part("Attic over the main house", "Loose cellulose", ["1120", "12.5", "38"], Some(("11", "42"))),
            part("Attic over the wing", "Loose cellulose", ["310", "9", "27"], Some(("8", "9"))),
            part("Knee wall", "Mineral batt", ["96", "3.5", "15"], None),
        ],
        note: s("The hatch was boarded on both sides."),
    }
}

pub(crate) fn lead() -> LeadReceipt {
    LeadReceipt {
        firm: firm(),
        certificate: Some(s("LK-R-0417")),
        customer: customer(),
        site: s(SITE),
        job: s("Okafor reroof"),
        number: s("A-1042"),
        date: on(11, 20),
        begins: Some(on(12, 1)),
        earliest: Some(on(10, 2)),
        mailed_by: Some(on(11, 24)),
        given: vec![PamphletGiven {
            on: on(11, 24),
            to: s("Ines Okafor"),
            how: s("a signed receipt"),
            standing: s("in time"),
        }],
        kept_until: Some(date(2029, 12, 4)),
    }
}

fn spot(x: &str, y: &str) -> (Qty, Qty) {
    (q(x), q(y))
}

/// An L-shaped roof with two valleys and a wall.
pub(crate) fn roof() -> RoofPicture {
    let edge = |kind: &str, from: (Qty, Qty), to: (Qty, Qty), length: &str| EdgeShape {
        kind: s(kind),
        from,
        to,
        length_words: s(length),
    };
    let section = |name: &str, slope: &str, outline: Vec<(Qty, Qty)>| SectionShape {
        name: s(name),
        outline,
        slope: q(slope),
    };
    RoofPicture {
        sections: vec![
            section(
                "Main north",
                "6",
                vec![spot("0", "0"), spot("504", "0"), spot("504", "168"), spot("0", "168")],
            ),
            section(
                "Main south",
                "6",
                vec![
                    spot("0", "168"),
                    spot("504", "168"),
                    spot("504", "336"),
                    spot("408", "336"),
                    spot("288", "216"),
                    spot("168", "336"),
                    spot("0", "336"),
                ],
            ),
            section(
                "Wing west",
                "6",
                vec![spot("168", "336"), spot("288", "216"), spot("288", "480"), spot("168", "480")],
            ),
            section(
                "Wing east",
                "6",
                vec![spot("408", "336"), spot("408", "480"), spot("288", "480"), spot("288", "216")],
            ),
        ],
        edges: vec![
            edge("eave", spot("0", "0"), spot("504", "0"), "42 ft"),
            edge("rake", spot("0", "0"), spot("0", "168"), "15 ft 8 in"),
            edge("rake", spot("0", "168"), spot("0", "336"), "15 ft 8 in"),
            edge("roof-to-wall", spot("504", "0"), spot("504", "168"), "15 ft 8 in"),
            edge("rake", spot("504", "168"), spot("504", "336"), "15 ft 8 in"),
            edge("ridge", spot("0", "168"), spot("504", "168"), "42 ft"),
            edge("eave", spot("0", "336"), spot("168", "336"), "14 ft"),
            edge("eave", spot("408", "336"), spot("504", "336"), "8 ft"),
            edge("valley", spot("168", "336"), spot("288", "216"), "15 ft"),
            edge("valley", spot("408", "336"), spot("288", "216"), "15 ft"),
            edge("ridge", spot("288", "216"), spot("288", "480"), "22 ft"),
            edge("eave", spot("168", "336"), spot("168", "480"), "12 ft"),
            edge("eave", spot("408", "336"), spot("408", "480"), "12 ft"),
            edge("rake", spot("168", "480"), spot("288", "480"), "11 ft 2 in"),
            edge("rake", spot("288", "480"), spot("408", "480"), "11 ft 2 in"),
        ],
        pins: vec![
            Pin { x: q("400"), y: q("60"), label: s("chimney") },
            Pin { x: q("90"), y: q("260"), label: s("two pipes") },
        ],
    }
}

fn part(name: &str, drawn: DrawnAt, words: [&str; 4]) -> SystemPart {
    let [what_for, code_asks, company_adds, quantity_words] = words.map(s);
    SystemPart { name: s(name), drawn, what_for, code_asks, company_adds, quantity_words }
}

fn system() -> Vec<SystemPart> {
    let mut parts = vec![
        part(
            "Deck",
            DrawnAt::Deck,
            [
                "The sheets that everything else is nailed to. They must be dry, sound and flat.",
                "Solid sheathing under shingles.",
                "Every sheet is walked and probed once the old roof is off.",
                "2 sheets are in the price",
            ],
        ),
        part(
            "Membrane",
            DrawnAt::Membrane,
            [
                "Sticks to the deck and seals around nails, so that water backed up by ice stays out of the house.",
                "From the edge to at least 24 in inside the wall line.",
                "To 48 in inside the wall line, and both ways in each valley.",
                "4 rolls of 66 ft",
            ],
        ),
        part(
            "Underlayment",
            DrawnAt::Underlayment,
            [
                "A second roof below the shingles, and the only one until they are laid.",
                "One layer at this slope.",
                "A synthetic sheet that does not tear underfoot.",
                "3 rolls of 10 squares",
            ],
        ),
        part(
            "Drip edge",
            DrawnAt::DripEdge,
            [
                "Carries water off the edge and keeps it from running back along the deck.",
                "At eaves and rakes, with laps of 2 in.",
                "",
                "218 ft",
            ],
        ),
        part(
            "Starter strip",
            DrawnAt::Starter,
            ["Holds the lower edge of the first course down in wind.", "", "At rakes too.", "218 ft"],
        ),
        part(
            "Shingles",
            DrawnAt::Shingles,
            [
                "Shed the water, and take the sun and the hail for all that lies below.",
                "A slope of 2 in 12 at least.",
                "Six nails to a shingle.",
                "29 squares with waste",
            ],
        ),
    ];
    parts.extend(wall_and_ridge());
    parts
}

fn wall_and_ridge() -> Vec<SystemPart> {
    vec![
        part(
            "Step flashing",
            DrawnAt::StepFlashing,
            [
                "One bent piece to each course, so that water along a wall is led out over the shingle below.",
                "Pieces of at least 4 × 4 in.",
                "New pieces always; the old ones are not used again.",
                "39 pieces",
            ],
        ),
        part(
            "Kick-out diverter",
            DrawnAt::KickOut,
            [
                "Turns the water at the foot of a wall into the gutter and not behind the siding.",
                "Water must be led away where an eave meets a wall.",
                "One at every wall end, also where none was before.",
                "1 piece",
            ],
        ),
        part(
            "Ridge vent",
            DrawnAt::RidgeVent,
            [
                "Lets warm, damp air out of the attic at its highest line.",
                "Free area of 1/300 of the attic's floor, half of it high.",
                "",
                "54 ft",
            ],
        ),
        part(
            "Intake",
            DrawnAt::IntakeVent,
            [
                "Lets in below what goes out above. Without it the vent at the ridge draws from the rooms.",
                "The other half of the free area, low.",
                "Slots are cleared of old paint and insulation.",
                "64 ft of soffit",
            ],
        ),
        part(
            "Ridge cap",
            DrawnAt::RidgeCap,
            ["Covers the vent, with its laps away from the wind.", "", "", "64 ft"],
        ),
    ]
}

fn unit_prices() -> Vec<UnitPrice> {
    let price = |condition: &str, unit: &str, price: &str, included: &str| UnitPrice {
        condition: s(condition),
        unit: s(unit),
        price: r(price),
        included: s(included),
    };
    vec![
        price("Rotten deck, replaced with new sheets", "sheet of 4 × 8 ft", "118.5", "2"),
        price("Rotten fascia board", "ft", "14.25", "0"),
        price("Rafter repaired with one beside it", "ft", "21", "0"),
    ]
}

pub(crate) fn proposal() -> Proposal {
    let choice = |letter: &str, title: &str, amounts: [&str; 3]| {
        let [price, tax, total] = amounts.map(m);
        Choice { letter: s(letter), title: s(title), price, tax, total }
    };
    let row = |part: &str, offers: [(&str, &str); 3]| ChoiceRow {
        part: s(part),
        offers: offers
            .map(|(words, amount)| Offer { words: s(words), amount: (!amount.is_empty()).then(|| m(amount)) })
            .to_vec(),
    };
    Proposal {
        firm: firm(),
        customer: customer(),
        site: s(SITE),
        number: s("A-1042"),
        date: on(11, 3),
        valid_until: on(12, 3),
        opening: s(
            "Thank you for showing us your roof. It has one layer of shingles, about 22 years old, and stains \
                    below the north wall. This is what we would do, and why.",
        ),
        roof: roof(),
        system: system(),
        choices: vec![
            choice("A", "What code asks", ["14850.00", "523.25", "15373.25"]),
            choice("B", "Our standard", ["16420.00", "574.80", "16994.80"]),
            choice("C", "Our standard with gutters", ["18975.50", "648.15", "19623.65"]),
        ],
        compared: vec![
            row(
                "Membrane",
                [
                    ("24 in inside the wall", ""),
                    ("48 in, and valleys", "410.00"),
                    ("48 in, and valleys", "410.00"),
                ],
            ),
            row("Shingles", [("4 nails", ""), ("6 nails", "260.00"), ("6 nails", "260.00")]),
            row(
                "Flashing",
                [("Old counter-flashing stays", "-120.00"), ("All new", "900.00"), ("All new", "900.00")],
            ),
            row("Gutters", [("none", ""), ("none", ""), ("86 ft, three downspouts", "2555.50")]),
        ],
        tax_words: s("Sales tax is calculated on the material at 6.875 %."),
        unit_prices: unit_prices(),
        not_included: all(&[
            "Painting of siding or trim",
            "Repair of ceilings inside",
            "Work on the chimney's masonry",
        ]),
        payments: vec![
            PaymentStep {
                when: s("On signing"),
                share: Some(r("0.3")),
                amounts: vec![m("4611.98"), m("5098.44"), m("5887.10")],
            },
            PaymentStep {
                when: s("When the roof is dried in"),
                share: Some(r("0.4")),
                amounts: vec![m("6149.30"), m("6797.92"), m("7849.46")],
            },
            PaymentStep {
                when: s("When the work is done and looked at"),
                share: Some(r("0.3")),
                amounts: vec![m("4611.97"), m("5098.44"), m("5887.09")],
            },
        ],
        signed_on: Some(on(11, 24)),
        cancellation: Some(Cancellation {
            signed_on: Some(on(11, 24)),
            last_day: Some(on(11, 28)),
            address: s("3 Mill Road, Harlow Falls, LK 00000-0001"),
            phone: Some(s("555-0143")),
        }),
        notices: vec![
            notice("cancellation", "Your right to cancel under the law of Lake", 2, 12, true),
            notice("deposit", "What may be asked before the work", 1, 10, false),
            notice("lien", "Liens", 1, 14, true),
        ],
        chosen: Some(s("B")),
    }
}

fn said(all: &[&str]) -> Vec<Said> {
    all.iter().map(|words| (*words).into()).collect()
}

pub(crate) fn site_sheet() -> SiteSheet {
    let material = |place: &str, part: &str, quantity: &str, unit: &str, note: &str| PlaceMaterial {
        place: place.into(),
        part: part.into(),
        quantity: q(quantity),
        unit: unit.into(),
        note: s(note),
    };
    let check = |part: &str, words: &str| CheckLine { part: part.into(), words: s(words) };
    SiteSheet {
        firm: firm(),
        job: s("Okafor reroof"),
        number: s("A-1042"),
        site: s(SITE),
        date: on(11, 30),
        called: BTreeMap::new(),
        begins_words: "November 30, 2026, as planned".into(),
        ends_words: Some("December 3, 2026, as planned".into()),
        days: Some("3.5 crew-days".into()),
        reminder: "These are reminders and no safety plan.".into(),
        crew: vec![
            CrewMember { name: s("Tomas Reyes"), duty: s("lead") },
            CrewMember { name: s("Ada Lind"), duty: String::new() },
            CrewMember { name: s("Jo Baptiste"), duty: s("ground") },
        ],
        roof: roof(),
        materials: vec![
            material("field", "Shingles", "84", "bundles", "29 squares less caps"),
            material("field", "Underlayment", "3", "rolls", ""),
            material("eave", "Membrane", "3", "rolls", "to 48 in inside the wall"),
            material("eave", "Drip edge", "10", "pieces of 10 ft", ""),
            material("valley", "Membrane", "1", "roll", ""),
            material("valley", "Open metal, 24 in", "3", "pieces of 10 ft", "slate gray"),
            material("roof-to-wall", "Step flashing", "39", "pieces", ""),
            material("roof-to-wall", "Kick-out diverter", "1", "piece", "there was none"),
            material("ridge", "Ridge vent", "54", "ft", ""),
            material("ridge", "Ridge cap", "3", "bundles", ""),
        ],
        order_of_work: said(&[
            "North side first: tear off, probe every sheet, mark what is soft.",
            "Membrane at the eave and valleys before noon; rain is likely on Tuesday.",
            "Dry in the whole side before the next is opened.",
            "Wall: siding loosened, old steps out, new steps with each course.",
            "Ridge cut, vent and cap last.",
        ]),
        ridge_cap_begins: Some("begin at the east end; the wind is mostly from the west.".into()),
        before_work: said(&["The customer may cancel until midnight of November 28, 2026."]),
        cautions: said(&[
            "Falls: anchors at the ridge before the first shingle comes off; tied off at 6 ft and above.",
            "Loads: no more than four bundles at one spot of the deck.",
            "Power line at the north-east corner: keep 10 ft away with ladders.",
            "Built 1964: lead rules for the fascia; do not sand.",
            "Heat: water and shade every hour above 90 °F.",
        ]),
        included: vec![IncludedAmount {
            what: "Deck sheets".into(),
            quantity: q("2"),
            unit: "sheets".into(),
        }],
        unit_prices: unit_prices(),
        checks: vec![
            check("Deck", "Every sheet walked and probed; photos of what is soft"),
            check("Membrane", "48 in inside the wall line, measured once"),
            check("Wall", "One step a course; kick-out turned into the gutter"),
            check("Ridge", "Slot 1 in each side, ends closed"),
            check("Ground", "Magnet over lawn and drive, twice"),
        ],
    }
}

pub(crate) fn order_list() -> OrderList {
    let line =
        |part: &str, package: &str, count: &str, covers: &str, place: &str, price: &str, amount: &str| {
            OrderLine {
                part: s(part),
                package: s(package),
                count: q(count),
                covers: s(covers),
                place: s(place),
                price: Some(r(price)),
                amount: Some(m(amount)),
            }
        };
    OrderList {
        firm: firm(),
        job: s("Okafor reroof"),
        number: s("A-1042"),
        site: s(SITE),
        date: on(11, 25),
        planned: s("November 30, 2026, as planned; 3.5 crew-days; North crew"),
        vendors: vec![
            VendorOrder {
                vendor: s("Valley Building Supply"),
                number: Some(s("PO 417")),
                ordered_on: Some(on(11, 25)),
                needed_by: Some(on(11, 30)),
                lines: vec![
                    line(
                        "Shingles, weathered gray",
                        "bundle",
                        "84",
                        "33.3 sq ft each",
                        "field",
                        "38.4",
                        "3225.60",
                    ),
                    line("Underlayment", "roll", "3", "10 squares each", "field", "112", "336.00"),
                    line(
                        "Membrane",
                        "roll 36 in × 66 ft",
                        "4",
                        "198 sq ft each",
                        "eave, valley",
                        "96.755",
                        "387.02",
                    ),
                    line(
                        "Drip edge",
                        "piece of 10 ft",
                        "24",
                        "9 ft 10 in each",
                        "eave, rake",
                        "11.2",
                        "268.80",
                    ),
                ],
                total: Some(m("4217.42")),
            },
            VendorOrder {
                vendor: s("Harlow Sheet Metal"),
                number: None,
                ordered_on: None,
                needed_by: Some(on(12, 1)),
                lines: vec![line(
                    "Kick-out diverter",
                    "piece",
                    "1",
                    "one wall end",
                    "roof-to-wall",
                    "31",
                    "31.00",
                )],
                total: Some(m("31.00")),
            },
        ],
        note: Some(s("PO 12 has lines that name no part.")),
        with_prices: true,
    }
}
