//! Patches grown to their rafters, and divided into pieces. The rules are common practice without a source; every
//! figure here is worked by hand in the comment beside it.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot read its own figures should stop")]

use crate::typed::q;
use proptest::prelude::*;
use rstest::rstest;
use trade::{GrowReason, Grown, Patch, PatchError, Qty, SheetSize, USUAL_KERF, count_sheets, feet_of_board};

const SHEET: SheetSize = SheetSize::FOUR_BY_EIGHT;

fn patch(along: &str, up: &str, from: Option<&str>) -> Patch {
    Patch { along_eave: q(along), up_slope: q(up), from_rafter: from.map(q) }
}

fn grow(patch: Patch, spacing: Qty, sheet: SheetSize) -> Result<Grown, PatchError> {
    Ok(count_sheets(&[patch], spacing, sheet, USUAL_KERF)?.grown.remove(0))
}

/// Spaces = ⌈(offset + length) ÷ spacing⌉, at least 2; without an offset ⌈length ÷ spacing⌉ + 1.
#[rstest]
#[case("20", Some("0"), "24", 2)] // 20/24 → 1, widened to 2
#[case("20", Some("10"), "24", 2)] // 30/24 → 2
#[case("24", Some("0"), "24", 2)] // exactly one space, widened
#[case("24", Some("0.0001"), "24", 2)] // just over the next rafter
#[case("48", Some("0"), "24", 2)] // rafter to rafter: as it is
#[case("48", Some("1"), "24", 3)] // 49/24 → 3
#[case("48", Some("25"), "24", 3)] // 25 past one rafter is 1 past the next
#[case("48", Some("24"), "24", 2)]
#[case("1", None, "24", 2)]
#[case("24", None, "24", 2)]
#[case("24.5", None, "24", 3)] // 0.5 + 24.5 > 24 … over three spaces at worst
#[case("30", None, "16", 3)] // 2 spaces at best, 3 at worst
#[case("32", None, "16", 3)]
#[case("33", None, "16", 4)]
#[case("30", Some("3"), "19.2", 2)] // 33/19.2 → 2
fn a_patch_grows_to_its_rafters(
    #[case] along: &str,
    #[case] from: Option<&str>,
    #[case] spacing: &str,
    #[case] spans: i64,
) {
    let grown = grow(patch(along, "10", from), q(spacing), SHEET).unwrap();
    assert_eq!(grown.spans, spans);
    assert_eq!(grown.along_eave.e4(), spans * q(spacing).e4());
    assert_eq!(grown.up_slope, q("10"));
}

#[test]
fn a_patch_that_grew_says_why() {
    let why = |along, up, from| grow(patch(along, up, from), q("24"), SHEET).unwrap().why;
    assert_eq!(why("48", "20", Some("0")), []);
    assert_eq!(why("40", "20.5", Some("0")), [GrowReason::ToRafters, GrowReason::WholeInch]);
    assert_eq!(why("24", "20", Some("0")), [GrowReason::LeastSpans]);
    assert_eq!(why("24", "20", None), [GrowReason::RaftersUnseen]);
    let forty = grow(patch("120", "20", Some("0")), q("40"), SHEET).unwrap();
    assert_eq!((forty.spans, forty.why), (4, vec![GrowReason::NoLoneSpan]));
    // An even number is made up of pieces of two spaces as it is, from a sheet that is just two long.
    let just_two = SheetSize { along_eave: q("48"), up_slope: q("48") };
    let even = grow(patch("96", "20", Some("0")), q("24"), just_two).unwrap();
    assert_eq!((even.spans, even.why), (4, vec![]));
}

/// 7 spaces of 16 in: a sheet holds 6, but 6 + 1 would leave one space alone, so 5 + 2. 60 in up: 48 + 12.
#[test]
fn long_patches_are_joined_over_rafters_and_high_ones_in_rows() {
    let grown = grow(patch("112", "59.2", Some("0")), q("16"), SHEET).unwrap();
    let sizes: Vec<_> =
        grown.pieces.iter().map(|p| (p.along_eave.to_string(), p.up_slope.to_string())).collect();
    let expected = [("80", "48"), ("32", "48"), ("80", "12"), ("32", "12")];
    assert_eq!(sizes, expected.map(|(a, u)| (a.to_owned(), u.to_owned())));
}

#[rstest]
#[case(patch("0", "10", None), "24", "along_eave: It is 0 in")]
#[case(patch("-3", "10", None), "24", "along_eave: It is -3 in")]
#[case(patch("10", "0", None), "24", "up_slope: It is 0 in")]
#[case(patch("1200.1", "10", None), "24", "along_eave: It is 1200.1 in, over 100 ft")]
#[case(patch("10", "1201", None), "24", "up_slope: It is 1201 in, over 100 ft")]
#[case(patch("10", "10", Some("-1")), "24", "from_rafter: It is -1 in")]
#[case(patch("10", "10", Some("1300")), "24", "from_rafter: It is 1300 in")]
#[case(patch("10", "10", None), "0", "rafter_spacing: It is 0 in")]
#[case(patch("10", "10", None), "48.5", "does not reach over two spaces")]
fn what_cannot_be_is_refused_by_name(#[case] patch: Patch, #[case] spacing: &str, #[case] said: &str) {
    let refused = grow(patch, q(spacing), SHEET).unwrap_err();
    let message = format!("{}: {refused}", refused.field());
    assert!(message.contains(said), "{message}");
}

/// 30 in at 24 in, rafters unseen: 3 spaces = 72 in = 6 ft. 11 in of 5½ in boards: 2 rows. 12 ft.
/// 20 in at 16 in from a rafter: 2 spaces = 32 in, 3 ft a row. 12 in: 3 rows. 9 ft.
#[test]
fn boards_are_counted_in_feet() {
    let patches = [patch("30", "11", None), patch("20", "12", Some("0"))];
    let first = feet_of_board(&patches[..1], q("24"), q("5.5")).unwrap();
    assert_eq!((first.runs[0].rows, first.runs[0].feet_a_row, first.feet), (2, q("6"), q("12")));
    let second = feet_of_board(&patches[1..], q("16"), q("5.5")).unwrap();
    assert_eq!((second.runs[0].rows, second.runs[0].feet_a_row, second.feet), (3, q("3"), q("9")));
    let both = feet_of_board(&patches, q("24"), q("5.5")).unwrap();
    assert_eq!(both.feet, q("24")); // 12 + 3 rows of 48 in
    assert_eq!(feet_of_board(&[], q("24"), q("5.5")).unwrap().feet, Qty::ZERO);
    let refused = feet_of_board(&patches, q("24"), Qty::ZERO).unwrap_err();
    assert_eq!(refused, PatchError::NotPositive { field: "board_width".to_owned(), value: Qty::ZERO });
    let refused = feet_of_board(&[patches[0], patch("5", "0", None)], q("24"), q("5.5")).unwrap_err();
    assert_eq!(refused.field(), "patches[1].up_slope");
}

proptest! {
    /// The cut covers the damage wherever the rafters are; without an offset it is the most over all offsets.
    #[test]
    fn the_cut_covers_the_damage(along in 1_i64..12_000_000, up in 1_i64..2_000_000, offset in 0_i64..240_000,
                                 wide in any::<bool>()) {
        let gap = if wide { 240_000 } else { 160_000 };
        let offset = offset % gap;
        let seen = Patch { along_eave: Qty::from_e4(along), up_slope: Qty::from_e4(up),
                           from_rafter: Some(Qty::from_e4(offset)) };
        let known = grow(seen, Qty::from_e4(gap), SHEET).unwrap();
        prop_assert!(known.along_eave.e4() >= offset + along);
        prop_assert!(known.spans == 2 || known.along_eave.e4() - gap < offset + along);
        let unseen = grow(Patch { from_rafter: None, ..seen }, Qty::from_e4(gap), SHEET).unwrap();
        prop_assert!(known.spans <= unseen.spans);
        let worst = Patch { from_rafter: Some(Qty::from_e4(gap - 1)), ..seen };
        let worst = grow(worst, Qty::from_e4(gap), SHEET).unwrap();
        // At the finest offset that can be typed the worst place is all but reached.
        prop_assert!(unseen.spans - worst.spans <= i64::from(along % gap == 1));
        let area: i64 = known.pieces.iter().map(|p| p.along_eave.e4() / gap * (p.up_slope.e4() / 10_000)).sum();
        prop_assert_eq!(area, known.spans * (known.up_slope.e4() / 10_000));
        for piece in &known.pieces {
            prop_assert!(piece.along_eave <= SHEET.along_eave && piece.up_slope <= SHEET.up_slope);
            prop_assert!(piece.along_eave.e4() >= 2 * gap && piece.along_eave.e4() % gap == 0);
        }
    }
}
