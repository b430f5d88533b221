//! What must hold of any roof: turning, moving, mirroring and enlarging it, and cutting a section in two.

use proptest::prelude::*;
use rust_decimal::Decimal;
use trade::roof::{Measured, Roof, Typed, TypedEdge, measure};
use trade::{EdgeKind, FeatureKind, Qty};

use crate::roof::plans::{Eave, Rake, Ridge, Transition, ell, feature, gable, hip, roof, section};

fn near(a: Qty, b: Qty) -> bool {
    (a - b).decimal().abs() <= Decimal::new(2, 3)
}

fn same(a: &Measured, b: &Measured) -> Result<(), TestCaseError> {
    prop_assert!(near(a.area_sqft, b.area_sqft), "{} and {}", a.area_sqft, b.area_sqft);
    for kind in EdgeKind::ALL {
        let (a, b) = (a.length_ft(*kind), b.length_ft(*kind));
        prop_assert!(near(a, b), "{kind}: {a} and {b}");
    }
    prop_assert_eq!(a.wall_ends, b.wall_ends);
    Ok(())
}

/// Every corner moved by `to`, which gets and gives inches.
fn moved(roof: &Roof, to: impl Fn(Decimal, Decimal) -> (Decimal, Decimal)) -> Roof {
    let mut roof = roof.clone();
    for corner in roof.sections.iter_mut().flat_map(|section| &mut section.outline) {
        let (x, y) = to(corner.x_in.decimal(), corner.y_in.decimal());
        (corner.x_in, corner.y_in) = (Qty::rounded(x), Qty::rounded(y));
    }
    roof
}

fn any_roof() -> impl Strategy<Value = Roof> {
    let slope = (10_i64..200).prop_map(|tenths| Decimal::new(tenths, 1).to_string());
    (0..3, 4_i64..30, 1_i64..40, slope).prop_map(|(kind, half, more, slope)| match kind {
        0 => gable(half + more, half * 2, &slope),
        1 => hip(half * 2 + more, half * 2, &slope),
        _ => ell(&slope),
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Turned by the angles of 3-4-5 and 7-24-25 and by a quarter, mirrored, and moved.
    #[test]
    fn turning_moving_and_mirroring_change_nothing(
        roof in any_roof(),
        turn in prop::sample::select(vec![(6_i64, 8_i64), (8, 6), (-6, 8), (0, 10), (-10, 0)]),
        mirror: bool,
        by in (-5_000_i64..5_000, -5_000_i64..5_000),
    ) {
        let (cos, sin) = (Decimal::new(turn.0, 1), Decimal::new(turn.1, 1));
        let turned = moved(&roof, |x, y| {
            let x = if mirror { -x } else { x };
            (x * cos - y * sin + Decimal::from(by.0), x * sin + y * cos + Decimal::new(by.1, 2))
        });
        same(&measure(&roof).unwrap(), &measure(&turned).unwrap())?;
    }

    /// The corners named from another one on, and the other way round.
    #[test]
    fn where_a_section_begins_and_which_way_it_runs_change_nothing(roof in any_roof(), from in 0_usize..7) {
        let mut other = roof.clone();
        for section in &mut other.sections {
            let count = section.outline.len();
            section.outline.rotate_left(from % count);
            let kinds: Vec<EdgeKind> = section.outline.iter().map(|corner| corner.edge).collect();
            section.outline.reverse();
            for (index, corner) in section.outline.iter_mut().enumerate() {
                corner.edge = kinds[(2 * count - 2 - index) % count];
            }
        }
        other.sections.reverse();
        same(&measure(&roof).unwrap(), &measure(&other).unwrap())?;
    }

    /// The same roof typed: areas as measured, shared lengths once, wall ends as noted.
    #[test]
    fn a_roof_typed_as_it_was_drawn_measures_the_same(roof in any_roof()) {
        let drawn = measure(&roof).unwrap();
        let mut by_hand = roof.clone();
        for (section, measured) in by_hand.sections.iter_mut().zip(&drawn.sections) {
            let counted = measured.edges.iter().filter(|edge| edge.counted_ft.is_positive());
            let edges = counted.map(|edge| TypedEdge { kind: edge.kind, length_ft: edge.counted_ft }).collect();
            section.outline = Vec::new();
            section.typed = Some(Typed { area_sqft: measured.area_sqft, edges });
        }
        by_hand.features = vec![feature(FeatureKind::WallEnd, drawn.wall_ends)];
        same(&drawn, &measure(&by_hand).unwrap())?;
    }

    #[test]
    fn k_times_as_large_has_k_times_the_lengths_and_k_squared_the_area(roof in any_roof(), k in 2_i64..6) {
        let k = Decimal::from(k);
        let large = measure(&moved(&roof, |x, y| (x * k, y * k))).unwrap();
        let small = measure(&roof).unwrap();
        let off = (large.area_sqft.decimal() - small.area_sqft.decimal() * k * k).abs();
        prop_assert!(off <= Decimal::new(1, 2), "area is off by {off}");
        for kind in EdgeKind::ALL {
            let off = (large.length_ft(*kind).decimal() - small.length_ft(*kind).decimal() * k).abs();
            prop_assert!(off <= Decimal::new(1, 2), "{kind} is off by {off}");
        }
    }

    /// A slope cut along a level line into two, of one slope: the same area and rakes, and a line between them.
    #[test]
    fn a_section_cut_in_two_keeps_its_area(width in 1_i64..60, low in 1_i64..20, high in 1_i64..20, rise in 1_i64..24) {
        let slope = rise.to_string();
        let top = low + high;
        let whole = roof(vec![
            section("all", &slope, &[(0, 0, Eave), (width, 0, Rake), (width, top, Ridge), (0, top, Rake)]),
        ]);
        let cut = roof(vec![
            section("low", &slope, &[(0, 0, Eave), (width, 0, Rake), (width, low, Transition), (0, low, Rake)]),
            section("high", &slope, &[(0, low, Transition), (width, low, Rake), (width, top, Ridge), (0, top, Rake)]),
        ]);
        let (whole, cut) = (measure(&whole).unwrap(), measure(&cut).unwrap());
        prop_assert!(near(whole.area_sqft, cut.area_sqft));
        prop_assert!(near(whole.rake_ft, cut.rake_ft));
        prop_assert_eq!(cut.transition_ft, Qty::from_e4(width * 10_000));
    }

    /// Whatever is typed, it is measured or refused in words; nothing falls over.
    #[test]
    fn no_outline_makes_it_fall_over(
        corners in prop::collection::vec((-40_i64..40, -40_i64..40, prop::sample::select(EdgeKind::ALL)), 0..8),
        more in prop::collection::vec((-40_i64..40, -40_i64..40, prop::sample::select(EdgeKind::ALL)), 0..8),
    ) {
        match measure(&roof(vec![section("a", "7", &corners), section("b", "24", &more)])) {
            Ok(measured) => prop_assert!(measured.area_sqft.is_positive()),
            Err(wrong) => prop_assert!(wrong.iter().all(|problem| problem.to_string().ends_with('.'))),
        }
    }
}
