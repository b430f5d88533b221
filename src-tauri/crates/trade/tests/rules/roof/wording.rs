//! The working is read by people: no figure in it trails zeros, and one of a thing is one piece and not 1 pieces.

use crate::typed::q;
use rust_decimal::Decimal;
use trade::roof::{Asked, Recipe, Roof, buy, measure, takeoff, usual};
use trade::shown::unit_behind;
use trade::{EdgeKind, FeatureKind, Origin, Qty, Rate, ValleyMethod};

use crate::roof::plans::{ell, feature, gable, hip, roof, typed};

/// All that a person can read of a roof's working, of what it asks for and of what is bought.
fn all_words(roof: &Roof, recipe: &Recipe) -> Vec<String> {
    let measured = measure(roof).unwrap();
    let mut words = Vec::new();
    let mut say = |steps: &[trade::roof::WorkStep]| {
        words.extend(steps.iter().flat_map(|step| [step.words.clone(), step.figure.clone()]));
    };
    say(&measured.working);
    let mut warnings = Vec::new();
    for origin in [Origin::Code, Origin::Company] {
        let takeoff = takeoff(&measured, &roof.house, &roof.features, &Asked::from(&usual(), origin), recipe);
        for line in &takeoff.lines {
            say(&line.steps);
            warnings.push(line.rule.clone());
        }
        for item in takeoff.lines.iter().map(|line| line.item) {
            for covers in ["1", "33.33"] {
                let waste = Rate::parse("0.1").unwrap();
                say(&buy(&takeoff.lines, item, waste, q(covers)).unwrap().unwrap().steps);
            }
        }
        let told = takeoff.warnings.iter();
        warnings.extend(told.flat_map(|warning| [warning.words.clone(), warning.remedy.clone()]));
    }
    words.extend(warnings);
    words
}

/// Figures with zeros behind the point that say nothing.
fn trails_zeros(words: &str) -> bool {
    let figures = words.split(|letter: char| !letter.is_ascii_digit() && letter != '.');
    figures.map(|figure| figure.trim_matches('.')).any(|figure| figure.contains('.') && figure.ends_with('0'))
}

/// A one before a word in the plural.
fn is_one_of_many(words: &str) -> bool {
    let all: Vec<&str> =
        words.split_whitespace().map(|word| word.trim_end_matches([',', '.', ':'])).collect();
    all.windows(2).any(|pair| pair[0] == "1" && pair[1].len() > 2 && pair[1].ends_with('s'))
}

fn roofs() -> Vec<Roof> {
    let mut busy = ell("8.5");
    busy.features = vec![
        feature(FeatureKind::Pipe, 1),
        feature(FeatureKind::Chimney, 1),
        feature(FeatureKind::Skylight, 2),
        feature(FeatureKind::WallEnd, 1),
        feature(FeatureKind::OldVent, 1),
    ];
    let edges =
        [(EdgeKind::Eave, "1"), (EdgeKind::Wall, "1"), (EdgeKind::Valley, "1"), (EdgeKind::Ridge, "1")];
    let mut porch = roof(vec![typed("porch", "3", "100", &edges)]);
    porch.house.layers = 1;
    porch.features = vec![feature(FeatureKind::WallEnd, 1)];
    vec![gable(40, 28, "6"), hip(40, 28, "12"), busy, porch]
}

fn recipes() -> Vec<Recipe> {
    let mut all = Recipe::usual();
    all.valley = ValleyMethod::OpenThreeLayer;
    all.valley_edge_strip_in = Qty::from_e4(120_000);
    all.gutters = true;
    all.gutter_corners = 1;
    all.downspouts = Some(1);
    all.permits = 1;
    all.machine_days = q("1.0000");
    all.container_tons = q("1");
    all.insulation_depth_in = Some(q("12.50"));
    vec![Recipe::usual(), all]
}

#[test]
fn figures_are_plain_and_one_is_one() {
    let mut heard = 0;
    for roof in roofs() {
        for recipe in recipes() {
            for words in all_words(&roof, &recipe) {
                assert!(!trails_zeros(&words), "{words}");
                assert!(!is_one_of_many(&words), "{words}");
                heard += 1;
            }
        }
    }
    assert!(heard > 500, "{heard}");
}

#[test]
fn what_is_looked_for_is_found() {
    for bad in ["× centered strip of 36.0000 in", "12.50 sq ft", "with 10.0 % waste"] {
        assert!(trails_zeros(bad), "{bad}");
    }
    for good in ["36 in", "100 sq ft", "10.05 ft", "12.5 in.", "R905.2.8.5"] {
        assert!(!trails_zeros(good), "{good}");
    }
    assert!(is_one_of_many("net, 1 lines together") && is_one_of_many("1 pieces"));
    assert!(!is_one_of_many("1 piece") && !is_one_of_many("11 pieces"));
}

#[test]
fn a_unit_follows_its_figure() {
    assert_eq!(unit_behind(Decimal::ONE, "pieces"), "piece");
    assert_eq!(unit_behind(Decimal::TWO, "pieces"), "pieces");
    assert_eq!(unit_behind(Decimal::new(15, 1), "squares"), "squares");
    assert_eq!(unit_behind(Decimal::ONE, "sq ft"), "sq ft");
}
