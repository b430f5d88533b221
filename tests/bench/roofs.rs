//! The takeoff of 500 roofs, against reading the same roofs from JSON: what a page has to wait for at a keystroke,
//! held against what handing the roof over costs by itself.

use crate::times::{median, ratio};
use std::time::Instant;
use trade::roof::{Asked, Corner, House, Recipe, Roof, Section, measure, takeoff, usual};
use trade::{CutUp, DeckKind, EdgeKind, Origin, Qty};

const ROOFS: i64 = 500;

fn inches(whole: i64) -> Qty {
    Qty::from_e4(whole * 10_000)
}

fn section(name: &str, slope: i64, corners: &[(i64, i64, EdgeKind)]) -> Section {
    let outline =
        corners.iter().map(|(x, y, edge)| Corner { x_in: inches(*x), y_in: inches(*y), edge: *edge });
    Section { name: name.to_owned(), slope: inches(slope), outline: outline.collect(), typed: None }
}

/// A gable of its own length and span, with a lean-to against its wall on every third.
fn roof(number: i64) -> Roof {
    let (length, half, slope) = (360 + number % 60 * 12, 120 + number % 24 * 6, 4 + number % 8);
    let mut sections = vec![
        section(
            "front",
            slope,
            &[
                (0, 0, EdgeKind::Eave),
                (length, 0, EdgeKind::Rake),
                (length, half, EdgeKind::Ridge),
                (0, half, EdgeKind::Rake),
            ],
        ),
        section(
            "back",
            slope,
            &[
                (length, half * 2, EdgeKind::Eave),
                (0, half * 2, EdgeKind::Rake),
                (0, half, EdgeKind::Ridge),
                (length, half, EdgeKind::Rake),
            ],
        ),
    ];
    if number % 3 == 0 {
        sections.push(section(
            "porch",
            3,
            &[
                (length + 24, 0, EdgeKind::Eave),
                (length + 144, 0, EdgeKind::Rake),
                (length + 144, 96, EdgeKind::Headwall),
                (length + 24, 96, EdgeKind::Wall),
            ],
        ));
    }
    Roof {
        sections,
        features: Vec::new(),
        house: House {
            stories: 1 + number % 2,
            deck: DeckKind::Plywood,
            rafter_spacing_in: inches(24),
            overhang_in: inches(12),
            wall_thickness_in: inches(6),
            layers: 1,
            attic_floor_sqft: Some(inches(1200)),
            climate_zone: Some(5),
            vapor_retarder: false,
            high_wind: false,
            cut_up: Some(CutUp::Plain),
            built_before_1978: false,
        },
    }
}

/// Measures 500 roofs and takes off every part of them; the same roofs are written to JSON and read back.
pub(crate) fn take_off() {
    let roofs: Vec<Roof> = (0..ROOFS).map(roof).collect();
    let (recipe, asked) = (Recipe::usual(), Asked::from(&usual(), Origin::Company));
    let (mut ours, mut reference) = (Vec::new(), Vec::new());
    let mut lines = 0;
    for _ in 0..7 {
        let began = Instant::now();
        lines = 0;
        for roof in &roofs {
            let measured = measure(roof).expect("a roof");
            lines += takeoff(&measured, &roof.house, &roof.features, &asked, &recipe).lines.len();
        }
        ours.push(began.elapsed());
        let began = Instant::now();
        for roof in &roofs {
            let text = serde_json::to_string(roof).expect("JSON");
            let back: Roof = serde_json::from_str(&text).expect("a roof");
            assert_eq!(back.sections.len(), roof.sections.len());
        }
        reference.push(began.elapsed());
    }
    let (ours, reference) = (median(ours), median(reference));
    println!(
        "takeoff of {ROOFS} roofs     {ours:>10.1?}   to JSON and back {reference:>10.1?}   {:.2} of its speed, \
         {lines} lines",
        ratio(ours, reference)
    );
}
