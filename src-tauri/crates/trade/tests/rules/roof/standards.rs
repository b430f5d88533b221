//! Code and company standard side by side.

use crate::typed::q;
use trade::roof::{Asked, Setting, compare, usual};
use trade::{Origin, Qty, Topic};

fn with(topic: Topic, origin: Origin, value: &str) -> Asked {
    let mut settings = usual();
    settings.push(Setting { topic, origin, value: q(value), source: "company rule".to_owned() });
    Asked::from(&settings, Origin::Company)
}

#[test]
fn the_house_never_asks_less_than_the_code() {
    assert_eq!(
        with(Topic::BarrierEaveInside, Origin::Company, "12").value(Topic::BarrierEaveInside),
        q("24")
    );
    assert_eq!(with(Topic::BarrierEaveInside, Origin::Code, "60").value(Topic::BarrierEaveInside), q("60"));
    // A smaller ratio asks for more free area, so that it is the stricter.
    assert_eq!(with(Topic::VentRatio, Origin::Company, "150").value(Topic::VentRatio), q("150"));
    assert_eq!(with(Topic::VentRatio, Origin::Company, "600").value(Topic::VentRatio), q("300"));
    assert_eq!(with(Topic::VentRatio, Origin::Company, "0").value(Topic::VentRatio), q("300"));
    // The slope from which a least width counts asks nothing without a width.
    assert_eq!(
        with(Topic::BarrierEaveAlongFrom, Origin::Company, "4").value(Topic::BarrierEaveAlongFrom),
        q("8")
    );
}

#[test]
fn the_code_is_not_touched_by_the_house() {
    let code = Asked::from(&usual(), Origin::Code);
    assert_eq!(code.value(Topic::BarrierEaveInside), q("24"));
    assert_eq!(code.value(Topic::BarrierRake), Qty::ZERO);
    assert!(code.source(Topic::BarrierEaveInside).contains("R905.1.2"));
    assert!(!code.wants(Topic::NewFlashings));
}

#[test]
fn differences_are_said_in_sentences() {
    let all = usual();
    let differences = compare(&Asked::from(&all, Origin::Code), &Asked::from(&all, Origin::Company));
    let words: Vec<&str> = differences.iter().map(|difference| difference.words.as_str()).collect();
    assert!(words.contains(
        &"Ice barrier at eaves, level inside the wall line: 24 in by the code, 48 in by the company standard."
    ));
    assert!(
        words.contains(&"Membrane along rakes, width: nothing by the code, 18 in by the company standard.")
    );
    assert!(
        words.contains(&"Starter at rakes: not asked for by the code, asked for by the company standard.")
    );
    assert!(differences.iter().all(|difference| difference.topic != Topic::BarrierEave), "both ask for it");
    let inside = differences.iter().find(|d| d.topic == Topic::BarrierEaveInside).unwrap();
    assert_eq!((inside.code, inside.company), (q("24"), q("48")));
}

#[test]
fn every_usual_setting_has_a_source_and_stands_once() {
    let all = usual();
    for (index, setting) in all.iter().enumerate() {
        assert!(!setting.source.is_empty());
        let again = all[..index].iter().any(|s| s.topic == setting.topic && s.origin == setting.origin);
        assert!(!again, "{} stands twice", setting.topic);
    }
}
