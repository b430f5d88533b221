//! A made-up example of each paper from the first condition to the last signature.

use jiff::civil::Date;
use paperwork::papers::*;

use crate::full::{SITE, all, customer, firm, m, on, q, r, roof, s};

fn photo(bytes: Vec<u8>, caption: &str, marks: Vec<Mark>) -> Photo {
    Photo { bytes, caption: s(caption), alt: s("A dark patch on the deck beside a wall."), marks }
}

pub(crate) fn cut_list() -> CutList {
    let piece = |label: &str, at: [&str; 4]| {
        let [x_in, y_in, width_in, height_in] = at.map(q);
        PieceShape { label: s(label), x_in, y_in, width_in, height_in }
    };
    CutList {
        sheets: vec![
            SheetShape {
                pieces: vec![piece("1", ["0", "0", "96", "24"]), piece("2", ["0", "24", "48", "24"])],
            },
            SheetShape {
                pieces: vec![piece("3", ["0", "0", "64", "48"]), piece("4", ["64", "0", "32", "16"])],
            },
            SheetShape { pieces: vec![piece("5", ["0", "0", "96", "48"])] },
        ],
        sheet_width_in: q("96"),
        sheet_height_in: q("48"),
    }
}

pub(crate) fn change_order() -> ChangeOrderPaper {
    let line = |what: &str, quantity: &str, unit: &str, price: &str, amount: &str| PriceLine {
        what: s(what),
        quantity: q(quantity),
        unit: s(unit),
        price: r(price),
        amount: m(amount),
    };
    let mut pinned = roof();
    pinned.pins = vec![Pin { x: q("480"), y: q("24"), label: s("rot, 3 sheets") }];
    ChangeOrderPaper {
        firm: firm(),
        customer: customer(),
        site: s(SITE),
        job: s("Okafor reroof"),
        number: s("A-1042-1"),
        date: on(12, 1),
        title: s("Rotten deck below the north wall"),
        place: s("roof-to-wall, north side, at the lower end"),
        cause: s("missing kick-out: water ran behind the siding"),
        found_on: Some(on(12, 1)),
        photos: vec![
            photo(
                crate::shot::jpeg(900, 600, 40),
                "The patch with the shingles off",
                vec![
                    Mark::Ring { x: r("0.45"), y: r("0.5"), radius: r("0.18") },
                    Mark::Arrow { from_x: r("0.9"), from_y: r("0.1"), to_x: r("0.6"), to_y: r("0.4") },
                    Mark::Note { x: r("0.05"), y: r("0.86"), text: s("soft to the rafter") },
                ],
            ),
            photo(crate::shot::jpeg(600, 800, 90), "Below, from the attic", vec![]),
        ],
        roof: Some(pinned),
        count_words: s(
            "Two patches, 40 × 30 in and 22 × 60 in, grown to the rafters at 24 in and to two spans each.",
        ),
        cut_list: Some(cut_list()),
        lines: vec![
            line("Deck sheets", "3", "sheets", "118.5", "355.50"),
            line("Less what the price covers", "-2", "sheets", "118.5", "-237.00"),
            line("Wall sheathing repaired", "11.5", "sq ft", "9.755", "112.18"),
        ],
        pricing: Pricing::TimeAndMaterial { markup: r("0.2"), not_to_exceed: Some(m("1450.00")) },
        included: Some(IncludedUsed {
            unit: s("sheets"),
            included: q("2"),
            used_before: q("0"),
            used_here: q("2"),
            left: q("0"),
        }),
        tax: Some(TaxAmount { words: s("Sales tax on material"), rate: r("0.06875"), amount: m("8.44") }),
        total: m("239.12"),
        end: EndDate {
            before: Some(on(12, 3)),
            after: Some(on(12, 4)),
            words: s("Half a day for the sheathing, and the siding can only go back the day after."),
        },
        if_left: s(
            "The new shingles would be nailed into wood that no longer holds a nail. Water would go on running \
                    into the wall, and the warranty on workmanship would not cover this spot.",
        ),
        decision: Some(Decision {
            choice: DecisionChoice::Approved,
            by: s("Ines Okafor"),
            how: s("signed on the glass"),
            on: on(12, 1),
            at: s("10:42 a.m."),
            note: s("Asked that the siding be put back by Friday."),
            signature: Some(Photo {
                bytes: crate::shot::signature(),
                caption: String::new(),
                alt: s("Signature of Ines Okafor"),
                marks: vec![],
            }),
        }),
    }
}

pub(crate) fn invoice() -> InvoicePaper {
    let line = |what: &str, counted: Option<(&str, &str, &str)>, amount: &str| InvoiceLine {
        what: s(what),
        quantity: counted.map(|(quantity, _, _)| q(quantity)),
        unit: counted.map(|(_, unit, _)| s(unit)).unwrap_or_default(),
        price: counted.map(|(_, _, price)| r(price)),
        amount: m(amount),
    };
    InvoicePaper {
        firm: firm(),
        customer: customer(),
        site: s(SITE),
        job: s("Okafor reroof"),
        number: s("A-218"),
        date: on(12, 7),
        due: Some(on(12, 21)),
        kind: InvoiceKind::Final,
        lines: vec![
            line("Last part of choice B", None, "4926.00"),
            line("Change order A-1042-1: rotten deck below the north wall", None, "230.68"),
            line("Further fascia board", Some(("12.5", "ft", "14.25")), "178.13"),
        ],
        subtotal: m("5334.81"),
        tax: Some(InvoiceTax {
            words: s("Sales tax on material"),
            rate: r("0.06875"),
            base: m("2615.00"),
            amount: m("179.78"),
        }),
        total: m("5514.59"),
        retained: Some(Retained { rate: r("0.05"), amount: m("275.73") }),
        payments: vec![Payment { on: on(12, 9), how: s("check 2071"), amount: m("1000.00") }],
        balance: m("4238.86"),
        how_to_pay: s(
            "By check to Alder Creek Roofing, 3 Mill Road, Harlow Falls.\nPlease write the invoice's number on it.",
        ),
        standing: ContractStanding {
            signed: m("16420.00"),
            changes: m("408.81"),
            contract: m("16828.81"),
            billed: m("16828.81"),
            left: m("0.00"),
            retainage_held: Some(m("841.44")),
        },
    }
}

pub(crate) fn statement() -> StatementPaper {
    let invoice = |number: &str, due: Option<Date>, [total, paid, held, open]: [&str; 4]| StatementInvoice {
        number: s(number),
        job: s("A-1042"),
        date: on(11, 30),
        due,
        total: m(total),
        paid: m(paid),
        held: m(held),
        open: m(open),
    };
    let moved = |day: i8, what: &str, amount: &str, balance: &str| StatementMove {
        on: on(12, day),
        what: s(what),
        amount: m(amount),
        balance: m(balance),
    };
    let age = |label: &str, amount: &str| AgeBucket { label: s(label), amount: m(amount) };
    StatementPaper {
        firm: firm(),
        customer: customer(),
        date: on(12, 31),
        invoices: vec![
            invoice("A-218", Some(on(12, 21)), ["5514.59", "1000.00", "275.73", "4238.86"]),
            invoice("A-207", None, ["11900.00", "11305.00", "595.00", "0.00"]),
        ],
        ages: vec![
            age("Not yet due", "0.00"),
            age("1–30 days", "4238.86"),
            age("31–60 days", "0.00"),
            age("61–90 days", "0.00"),
            age("Over 90 days", "0.00"),
        ],
        open: m("4238.86"),
        past_due: m("4238.86"),
        held: m("870.73"),
        credits: m("120.50"),
        balance: m("4989.09"),
        moves: vec![
            moved(7, "Invoice A-218, job A-1042", "5514.59", "6109.59"),
            moved(9, "Payment, check 2071", "-1000.00", "5109.59"),
            moved(20, "Credit memo A-219, job A-1042", "-120.50", "4989.09"),
        ],
        how_to_pay: s("By check to Alder Creek Roofing."),
    }
}

pub(crate) fn completion() -> CompletionPacket {
    let part =
        |part: &str, material: &str, place: &str, lot: &str, quantity: &str, unit: &str| InstalledPart {
            part: s(part),
            material: s(material),
            place: s(place),
            lot: s(lot),
            quantity: q(quantity),
            unit: s(unit),
            on: Some(on(12, 2)),
        };
    CompletionPacket {
        firm: firm(),
        customer: customer(),
        site: s(SITE),
        job: s("Okafor reroof"),
        number: s("A-1042"),
        date: on(12, 8),
        finished_on: Some(on(12, 4)),
        parts: vec![
            part("Membrane", "self-sticking sheet", "eaves, valleys", "7A 3310", "4", "rolls"),
            part("Underlayment", "synthetic sheet", "field", "22-0915", "3", "rolls"),
            part("Shingles", "laminated, weathered gray", "field", "M4 118 / M4 121", "84", "bundles"),
            part("Step flashing", "painted steel, 4 × 4 in", "roof-to-wall, north", "", "39", "pieces"),
            part("Kick-out diverter", "painted steel", "roof-to-wall, north", "", "1", "piece"),
        ],
        inspections: vec![Inspection {
            what: s("Dry-in, by the building inspector"),
            by: s("the town's inspector"),
            on: on(12, 2),
            result: s("Passed"),
            note: s("Asked for two more nails at the rake; done the same day."),
            photos: vec![photo(crate::shot::jpeg(800, 500, 10), "Membrane at the eave", vec![])],
        }],
        repaired: vec![Repaired {
            title: s("Rotten deck below the north wall"),
            place: s("Roof-to-wall, north side"),
            found_on: on(12, 1),
            repaired_on: Some(on(12, 2)),
            words: s(
                "Three sheets replaced, the wall's sheathing repaired, and a kick-out put in where there was none.",
            ),
            before: vec![photo(crate::shot::jpeg(900, 600, 40), "soft deck", vec![])],
            after: vec![photo(crate::shot::jpeg(900, 600, 160), "new sheets", vec![])],
        }],
        checks: vec![
            WorkmanshipCheck {
                part: s("Shingles"),
                words: s("Six nails each, none through the joint"),
                who: s("Tomas Reyes"),
                on: Some(on(12, 3)),
                photos: vec![photo(crate::shot::jpeg(700, 500, 90), "Nails on the line", vec![])],
            },
            WorkmanshipCheck {
                part: s("Ridge"),
                words: s("Laps away from the wind"),
                who: s("Tomas Reyes"),
                on: Some(on(12, 4)),
                photos: vec![],
            },
            WorkmanshipCheck {
                part: s("Gutter"),
                words: s("Runs clear with a hose"),
                who: String::new(),
                on: None,
                photos: vec![],
            },
        ],
        open_points: vec![OpenPoint {
            words: s("Touch-up paint where the siding was loosened"),
            who: s("Ada Lind"),
            by: Some(on(12, 18)),
        }],
        warranty: vec![Warranty {
            title: s("Workmanship"),
            words: s(
                "For ten years from the day the work was finished we repair, without charge, any leak that comes from \
                      how we laid the roof.\n\nThis does not cover storms beyond what code calculates with, or work \
                      done on the roof by others.",
            ),
        }],
        care: all(&[
            "Have leaves taken out of valleys and gutters each fall.",
            "Look along the eaves from the ground after a hard storm; do not walk the roof.",
            "Call us before anything is fixed to the roof.",
        ]),
        sign_off: None,
    }
}
