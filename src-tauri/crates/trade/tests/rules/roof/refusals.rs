//! Roofs that cannot be: each refused with its section, its edge, the reason and what to do.

use crate::typed::q;
use trade::roof::{Feature, Roof, Section, measure};
use trade::{EdgeKind, FeatureKind, Qty};

use crate::roof::plans::{
    Eave, Headwall, Hip, Rake, Ridge, Transition, Valley, Wall, ell, feature, gable, hip, inches, roof,
    section, typed,
};

/// The one message about a roof, which has every one of these words.
fn refused(roof: &Roof, words: &[&str]) {
    let wrong = measure(roof).unwrap_err();
    let says: Vec<String> = wrong.iter().map(ToString::to_string).collect();
    let found = says.iter().any(|message| words.iter().all(|word| message.contains(word)));
    assert!(found, "{says:#?} lacks {words:?}");
}

fn alone(slope: &str, corners: &[(i64, i64, EdgeKind)]) -> Roof {
    roof(vec![section("front", slope, corners)])
}

#[test]
fn a_roof_with_nothing_drawn_is_refused() {
    refused(&roof(vec![]), &["There is no section", "Draw one"]);
}

#[test]
fn a_section_of_fewer_than_three_corners_is_refused() {
    refused(&alone("6", &[(0, 0, Eave), (10, 0, Rake)]), &["Section \"front\"", "2 corners", "at least 3"]);
}

#[test]
fn an_outline_that_crosses_itself_is_refused() {
    let bow = [(0, 0, Eave), (10, 10, Rake), (10, 0, Rake), (0, 10, Rake)];
    refused(&alone("6", &bow), &["edge 1", "crosses or touches edge 3"]);
}

#[test]
fn an_edge_without_length_is_refused() {
    let twice = [(0, 0, Eave), (10, 0, Rake), (10, 0, Rake), (10, 10, Ridge), (0, 10, Rake)];
    refused(&alone("6", &twice), &["edge 2", "no length"]);
}

#[test]
fn a_corner_off_the_sheet_is_refused() {
    refused(&alone("6", &[(0, 0, Eave), (20_000, 0, Rake), (0, 10, Rake)]), &["edge 2", "extra digits"]);
}

#[test]
fn a_section_with_no_level_edge_is_refused() {
    refused(
        &alone("6", &[(0, 0, Rake), (10, 3, Rake), (5, 10, Rake)]),
        &["No edge is level", "Name its eave"],
    );
}

#[test]
fn a_section_between_transitions_alone_is_refused() {
    let band = [(0, 0, Transition), (10, 0, Rake), (10, 5, Transition), (0, 5, Rake)];
    refused(&alone("6", &band), &["only level edges are transitions"]);
}

#[test]
fn level_edges_that_are_not_parallel_are_refused() {
    let skew = [(0, 0, Eave), (20, 0, Rake), (20, 10, Ridge), (0, 8, Rake)];
    refused(&alone("6", &skew), &["edge 3", "ridge is level", "out of line", "by 24 in"]);
}

#[test]
fn an_eave_above_the_ridge_is_refused() {
    // The longer edge is the eave, so it is the short one that cannot be.
    let up = [(0, 0, Eave), (20, 0, Rake), (18, 10, Eave), (2, 10, Rake)];
    refused(&alone("6", &up), &["edge 3", "eave lies above", "the low edge"]);
    let down = [(0, 0, Eave), (20, 0, Rake), (20, 10, Ridge), (10, 10, Rake), (10, 5, Ridge), (0, 5, Rake)];
    assert!(measure(&alone("6", &down)).is_ok(), "a ridge may be stepped");
    let under = [(0, 0, Eave), (8, 0, Rake), (8, -2, Ridge), (20, -2, Rake), (20, 10, Ridge), (0, 10, Rake)];
    refused(&alone("6", &under), &["edge 3", "ridge lies below its own roof"]);
}

#[test]
fn a_rake_that_is_level_is_refused() {
    let flat = [(0, 0, Eave), (20, 0, Rake), (20, 10, Rake), (0, 10, Rake)];
    refused(&alone("6", &flat), &["edge 3", "rake runs level", "eave or ridge"]);
}

#[test]
fn a_hip_and_a_valley_that_are_level_are_refused() {
    for (kind, better) in [(Hip, "Call it ridge"), (Valley, "Call it transition")] {
        let flat = [(0, 0, Eave), (20, 0, Rake), (20, 10, kind), (0, 10, Rake)];
        refused(&alone("6", &flat), &["edge 3", "runs level", better]);
    }
}

#[test]
fn a_wall_that_is_level_is_a_headwall() {
    let flat = [(0, 0, Eave), (20, 0, Rake), (20, 10, Wall), (0, 10, Rake)];
    refused(&alone("6", &flat), &["edge 3", "wall runs level", "Call it headwall"]);
}

#[test]
fn slopes_that_no_roof_has_are_refused() {
    for slope in ["0", "-3", "24.0001"] {
        refused(&gable(20, 20, slope), &["Section \"back\"", slope, "above 0 and up to 24"]);
    }
    assert!(measure(&gable(20, 20, "24")).is_ok());
}

#[test]
fn sections_that_lie_over_one_another_are_refused() {
    let mut over = gable(40, 28, "6");
    over.sections[1].outline[0].y_in = inches(10);
    over.sections[1].outline[1].y_in = inches(10);
    refused(&over, &["Section \"front\"", "lies over section \"back\"", "by 160 sq ft"]);
    let mut same = gable(40, 28, "6");
    same.sections[1] = Section { name: "twin".to_owned(), ..same.sections[0].clone() };
    refused(&same, &["lies over section \"twin\"", "by 560 sq ft"]);
}

#[test]
fn a_hip_whose_planes_do_not_meet_is_refused() {
    let mut steep = hip(40, 28, "6");
    steep.sections[1].slope = q("7");
    // Over a run of 14 ft the end rises 14 in more than the front does.
    refused(&steep, &["Section \"front\", edge 2", "section \"right\"", "miss each other by 14 in"]);
}

#[test]
fn planes_that_meet_line_by_line_but_not_round_about_are_refused() {
    // Two levels of one slope side by side, drawn with one ridge: each pair meets, the ring of them does not.
    let ring = roof(vec![
        section("a", "6", &[(0, 0, Eave), (20, 0, Rake), (20, 10, Ridge), (0, 10, Rake)]),
        section("b", "6", &[(0, 10, Ridge), (10, 10, Rake), (10, 22, Transition), (0, 22, Rake)]),
        section("c", "3", &[(10, 10, Ridge), (20, 10, Rake), (20, 22, Transition), (10, 22, Rake)]),
        section("d", "6", &[(0, 22, Transition), (20, 22, Rake), (20, 30, Eave), (0, 30, Rake)]),
    ]);
    // Over 12 ft, 6 in 12 falls 72 in and 3 in 12 falls 36.
    refused(&ring, &["do", "same height", "by 36 in"]);
}

#[test]
fn a_hip_of_one_section_alone_is_refused() {
    let mut half = hip(40, 28, "6");
    half.sections.remove(1);
    refused(&half, &["Section \"front\", edge 2", "A hip belongs to two sections", "237.6 in"]);
}

#[test]
fn a_line_of_two_names_is_refused() {
    let mut named = hip(40, 28, "6");
    named.sections[1].outline[2].edge = Valley;
    refused(&named, &["named hip here and valley in section \"right\""]);
}

#[test]
fn a_hip_called_a_valley_is_refused() {
    let mut called = hip(40, 28, "6");
    called.sections[0].outline[1].edge = Valley;
    called.sections[1].outline[2].edge = Valley;
    refused(&called, &["it is a hip and not a valley"]);
}

#[test]
fn a_valley_called_a_hip_is_refused() {
    let mut called = ell("6");
    assert!(measure(&called).is_ok(), "as it is");
    for edge in called.sections.iter_mut().flat_map(|section| &mut section.outline) {
        if edge.edge == Valley {
            edge.edge = Hip;
        }
    }
    refused(&called, &["it is a valley and not a hip"]);
}

#[test]
fn names_that_repeat_and_sizes_that_cannot_be_are_refused() {
    let mut names = gable(20, 20, "6");
    names.sections[1].name = "front".to_owned();
    refused(&names, &["Section \"front\"", "same name"]);
    names.sections[1].name = " ".to_owned();
    refused(&names, &["has no name"]);
    refused(&roof(vec![typed("shed", "4", "0", &[])]), &["Section \"shed\"", "area is 0", "above zero"]);
    refused(&roof(vec![typed("shed", "4", "9", &[(Eave, "-1")])]), &["edge 1", "length of the eave is -1"]);
    let mut both = typed("shed", "4", "9", &[]);
    both.outline = gable(20, 20, "6").sections[0].outline.clone();
    refused(&roof(vec![both]), &["both drawn and typed"]);
    let mut low = gable(20, 20, "6");
    low.house.overhang_in = q("-1");
    low.house.layers = 11;
    refused(&low, &["overhang is -1", "below zero"]);
    refused(&low, &["number of layers is 11, more than 10"]);
    let mut lost = gable(20, 20, "6");
    lost.features = vec![Feature { section: Some("side".to_owned()), ..feature(FeatureKind::Chimney, 1) }];
    refused(&lost, &["chimney", "section \"side\", which is not there"]);
    lost.features =
        vec![Feature { width_in: Some(Qty::from_e4(-1)), ..feature(FeatureKind::Pipe, i64::MAX) }];
    refused(&lost, &["width of a feature is -0.0001"]);
    refused(&lost, &["count of a feature", "extra digits"]);
}

#[test]
fn all_that_is_wrong_comes_at_once() {
    let two = roof(vec![
        section("one", "0", &[(0, 0, Eave), (9, 0, Rake), (0, 9, Rake)]),
        section("two", "6", &[(0, 0, Headwall), (9, 0, Rake)]),
    ]);
    assert_eq!(measure(&two).unwrap_err().len(), 2);
}

#[test]
fn two_eaves_back_to_back_and_a_ridge_against_a_rake_are_no_roof() {
    let pair = |lower: EdgeKind, upper: EdgeKind, far: EdgeKind| {
        roof(vec![
            section("a", "6", &[(0, 0, Ridge), (20, 0, Rake), (20, 10, lower), (0, 10, Rake)]),
            section("b", "6", &[(0, 10, upper), (20, 10, Rake), (20, 20, far), (0, 20, Rake)]),
        ])
    };
    let wrong = measure(&pair(Eave, Eave, Ridge)).unwrap_err();
    assert!(wrong[0].to_string().contains("meets the eave of section \"b\""), "{}", wrong[0]);
    let beside = roof(vec![
        section("a", "6", &[(0, 0, Eave), (20, 0, Rake), (20, 10, Ridge), (0, 10, Rake)]),
        section("b", "6", &[(0, 10, Rake), (20, 10, Eave), (20, 20, Rake), (0, 20, Ridge)]),
    ]);
    let wrong = measure(&beside).unwrap_err();
    assert!(wrong[0].to_string().contains("named ridge here and rake in section \"b\""), "{}", wrong[0]);
}
