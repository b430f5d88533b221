//! What is asked of a roof: by the code in force, and by the firm's own standard where that asks more.
//!
//! Every figure here is a setting with its source, and a start only: local code governs, and the firm changes both.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::money::Qty;
use crate::roof::kinds::{Origin, Topic};
use crate::roof::recipe::whole;

/// One figure that is asked, by whom, and where it is written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Setting {
    /// What it is about.
    pub topic: Topic,
    /// Who asks.
    pub origin: Origin,
    /// How much; the topic says in what.
    pub value: Qty,
    /// Where it is written.
    pub source: String,
}

/// What is asked of one roof, topic by topic; a topic that is not set asks nothing.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Asked {
    /// Figure, who asks for it and source by topic.
    values: BTreeMap<Topic, AskedValue>,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
struct AskedValue {
    value: Qty,
    origin: Origin,
    source: String,
}

/// Where the code and what the company asks are not the same.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Difference {
    /// What it is about.
    pub topic: Topic,
    /// What the code asks.
    pub code: Qty,
    /// What the company asks.
    pub company: Qty,
    /// The difference in a sentence.
    pub words: String,
}

/// Which way a figure grows stricter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stricter {
    /// The larger figure asks more.
    Larger,
    /// The smaller figure asks more.
    Smaller,
}

/// Which way a topic grows stricter: the larger figure asks more, but for some. A smaller vent ratio asks for more free
/// area (1/150 is twice 1/300), a smaller upper share or zone lets fewer roofs have the smaller area, a narrower
/// chimney has its cricket sooner, and what counts from a slope counts on more roofs when that is flatter.
#[must_use]
pub const fn stricter(topic: Topic) -> Stricter {
    match topic {
        Topic::VentRatio
        | Topic::VentUpperMost
        | Topic::VentRetarderZone
        | Topic::CricketOver
        | Topic::NailsSteepOver
        | Topic::BarrierEaveAlongFrom => Stricter::Smaller,
        _ => Stricter::Larger,
    }
}

impl Asked {
    /// What is asked under `origin`. The code alone; or the company standard, which is the code wherever the company
    /// asks less or says nothing. Of two settings of one topic and origin, the later in the list holds.
    ///
    /// The company's slope from which the eave barrier has a least width is heeded only with a width of the company's
    /// own: by itself it asks nothing.
    #[must_use]
    pub fn from(settings: &[Setting], origin: Origin) -> Asked {
        let of = |wanted: Origin| -> BTreeMap<Topic, AskedValue> {
            let all = settings.iter().filter(|setting| setting.origin == wanted);
            all.map(|setting| {
                let Setting { topic, origin, value, source } = setting.clone();
                (topic, AskedValue { value, origin, source })
            })
            .collect()
        };
        let mut values = of(Origin::Code);
        if origin == Origin::Code {
            return Asked { values };
        }
        let company = of(Origin::Company);
        let own_width = company.get(&Topic::BarrierEaveAlong).is_some_and(|along| along.value.is_positive());
        for (topic, wanted) in company {
            if topic == Topic::BarrierEaveAlongFrom && !own_width {
                continue;
            }
            let more = values.get(&topic).is_none_or(|code| match stricter(topic) {
                Stricter::Larger => wanted.value > code.value,
                // Zero stands for "not asked", and anything that is asked asks more.
                Stricter::Smaller => {
                    wanted.value.is_positive() && (wanted.value < code.value || code.value.is_zero())
                }
            });
            if more {
                values.insert(topic, wanted);
            }
        }
        Asked { values }
    }

    /// What is asked of a topic; zero where nothing is.
    #[must_use]
    pub fn value(&self, topic: Topic) -> Qty {
        self.values.get(&topic).map_or(Qty::ZERO, |asked| asked.value)
    }

    /// Whether a yes-or-no topic is asked for.
    #[must_use]
    pub fn wants(&self, topic: Topic) -> bool {
        self.value(topic).is_positive()
    }

    /// Who asks for it; nobody where there is no setting, or it asks for nothing.
    #[must_use]
    pub fn origin(&self, topic: Topic) -> Option<Origin> {
        self.values.get(&topic).filter(|asked| asked.value.is_positive()).map(|asked| asked.origin)
    }

    /// Where the figure is written.
    #[must_use]
    pub fn source(&self, topic: Topic) -> &str {
        self.values.get(&topic).map_or("no setting", |asked| asked.source.as_str())
    }
}

/// Topic by topic where the two are not the same, in the order of the topics.
#[must_use]
pub fn compare(code: &Asked, company: &Asked) -> Vec<Difference> {
    let differs = |topic: &&Topic| code.value(**topic) != company.value(**topic);
    let difference = |topic: &Topic| {
        let (less, more) = (code.value(*topic), company.value(*topic));
        Difference { topic: *topic, code: less, company: more, words: sentence(*topic, less, more) }
    };
    Topic::ALL.iter().filter(differs).map(difference).collect()
}

fn sentence(topic: Topic, code: Qty, company: Qty) -> String {
    let what = title(topic);
    match unit(topic) {
        None => {
            let word = |value: Qty| if value.is_positive() { "asked for" } else { "not asked for" };
            format!("{what}: {} by the code, {} by the company standard.", word(code), word(company))
        }
        Some(_) => {
            let (code, company) = (figure(topic, code), figure(topic, company));
            format!("{what}: {code} by the code, {company} by the company standard.")
        }
    }
}

/// What a topic is about, in words.
#[must_use]
pub const fn title(topic: Topic) -> &'static str {
    phrase(topic).0
}

/// What a topic's figure is in; nothing where it is a yes or a no.
#[must_use]
pub const fn unit(topic: Topic) -> Option<&'static str> {
    phrase(topic).1
}

/// What is asked of a topic, in words: a figure with its unit, or yes and no.
#[must_use]
pub fn figure(topic: Topic, value: Qty) -> String {
    match unit(topic) {
        None => (if value.is_positive() { "yes" } else { "no" }).to_owned(),
        Some(_) if value.is_zero() => "nothing".to_owned(),
        Some(unit) => format!("{value} {unit}"),
    }
}

const fn phrase(topic: Topic) -> (&'static str, Option<&'static str>) {
    match topic {
        Topic::BarrierEave => ("Ice barrier at eaves", None),
        Topic::BarrierEaveInside => ("Ice barrier at eaves, level inside the wall line", Some("in")),
        Topic::BarrierEaveAlong => ("Ice barrier at eaves, least width along a steep slope", Some("in")),
        Topic::BarrierEaveAlongFrom => ("That least width counts from", Some("in 12")),
        Topic::BarrierRake => ("Membrane along rakes, width", Some("in")),
        Topic::BarrierValley => ("Membrane in valleys, width", Some("in")),
        Topic::BarrierHip => ("Membrane along hips, width", Some("in")),
        Topic::BarrierRidge => ("Membrane along ridges, width", Some("in")),
        Topic::BarrierWall => ("Membrane along walls, width", Some("in")),
        Topic::BarrierPenetration => ("Membrane round penetrations, each side", Some("in")),
        Topic::LeastSlope => ("Least slope for shingles", Some("in 12")),
        Topic::DoubleUnderlaymentBelow => ("Underlayment doubled under", Some("in 12")),
        Topic::DripEdgeEave => ("Drip edge at eaves", None),
        Topic::DripEdgeRake => ("Drip edge at rakes", None),
        Topic::DripEdgeLap => ("Drip edge lap", Some("in")),
        Topic::StarterEave => ("Starter at eaves", None),
        Topic::StarterRake => ("Starter at rakes", None),
        Topic::ValleyMetalWidth => ("Metal in open valleys, least width", Some("in")),
        Topic::ValleyLining => ("Lining under a closed valley, width", Some("in")),
        Topic::ValleyEdgeStrips => ("Strips over the edges of valley metal", None),
        Topic::StepFlashingSide => ("Step flashing, least side", Some("in")),
        Topic::KickOut => ("Kick-out where an eave ends at a wall", None),
        Topic::CricketOver => ("Cricket behind what is wider than", Some("in")),
        Topic::VentRatio => ("Attic floor for each unit of net free area, at the most", Some("to 1")),
        Topic::VentUpperLeast => ("Vents high in the attic for that, at least", Some("%")),
        Topic::VentUpperMost => ("Vents high in the attic for that, at the most", Some("%")),
        Topic::VentBoth => ("Both that share and a vapor retarder for it", None),
        Topic::VentRetarderZone => ("Vapor retarder for it in climate zone", Some("and colder")),
        Topic::NailsEach => ("Nails in each strip shingle", Some("nails")),
        Topic::NailsIndividual => ("Nails in each single shingle", Some("nails")),
        Topic::NailsHighWind => ("Nails in each strip where very steep or windy", Some("nails")),
        Topic::NailsSteepOver => ("Very steep for nails is over", Some("in 12")),
        Topic::NewFlashings => ("New flashings in place of the old", None),
    }
}

/// The list that a new firm starts with. The code's figures name their section; local code governs, and a firm where
/// no ice forms along eaves sets the code's eave barrier to 0.
#[must_use]
pub fn usual() -> Vec<Setting> {
    let code = CODE.iter().map(|(topic, value, source)| (Origin::Code, *topic, *value, *source));
    let company = COMPANY.iter().map(|(topic, value, source)| (Origin::Company, *topic, *value, *source));
    code.chain(company)
        .map(|(origin, topic, value, source)| Setting {
            topic,
            origin,
            value: whole(value),
            source: source.to_owned(),
        })
        .collect()
}

const CODE: &[(Topic, i64, &str)] = &[
    (Topic::BarrierEave, 1, "IRC R905.1.2, where ice has formed along eaves"),
    (Topic::BarrierEaveInside, 24, "IRC R905.1.2"),
    (Topic::BarrierEaveAlong, 36, "IRC R905.1.2, 2015 to 2021; taken out in 2024"),
    (Topic::BarrierEaveAlongFrom, 8, "IRC R905.1.2, 2015 to 2021; taken out in 2024"),
    (Topic::LeastSlope, 2, "IRC R905.2.2"),
    (Topic::DoubleUnderlaymentBelow, 4, "IRC R905.2.2"),
    (Topic::DripEdgeEave, 1, "IRC R905.2.8.5"),
    (Topic::DripEdgeRake, 1, "IRC R905.2.8.5"),
    (Topic::DripEdgeLap, 2, "IRC R905.2.8.5"),
    (Topic::StarterEave, 1, "common practice, no source"),
    (Topic::ValleyMetalWidth, 24, "IRC R905.2.8.2"),
    (Topic::ValleyLining, 36, "IRC R905.2.8.2"),
    (Topic::StepFlashingSide, 4, "IRC R905.2.8.3"),
    (Topic::KickOut, 1, "IRC R903.2.1"),
    (Topic::CricketOver, 30, "IRC R903.2.2"),
    (Topic::VentRatio, 300, "IRC R806.2; 1/150 where its conditions for 1/300 are not met"),
    (Topic::VentUpperLeast, 40, "IRC R806.2, from 2012 on"),
    (Topic::VentUpperMost, 50, "IRC R806.2, from 2012 on"),
    (Topic::VentBoth, 1, "IRC R806.2, from 2012 on"),
    (Topic::VentRetarderZone, 6, "IRC R806.2, from 2012 on"),
    (Topic::NailsEach, 4, "IRC R905.2.6"),
    (Topic::NailsIndividual, 2, "IRC R905.2.6"),
    (Topic::NailsHighWind, 6, "IRC R905.2.6, as the maker asks; six is common practice"),
    (Topic::NailsSteepOver, 21, "IRC R905.2.6"),
];

const COMPANY: &[(Topic, i64, &str)] = &[
    (Topic::BarrierEave, 1, "company rule"),
    (Topic::BarrierEaveInside, 48, "company rule"),
    (Topic::BarrierRake, 18, "company rule"),
    (Topic::BarrierValley, 36, "company rule"),
    (Topic::BarrierHip, 18, "company rule"),
    (Topic::BarrierRidge, 18, "company rule"),
    (Topic::BarrierWall, 18, "company rule"),
    (Topic::BarrierPenetration, 12, "company rule"),
    (Topic::StarterRake, 1, "company rule"),
    (Topic::ValleyEdgeStrips, 1, "company rule"),
    (Topic::KickOut, 1, "company rule"),
    (Topic::NailsEach, 6, "company rule"),
    (Topic::NewFlashings, 1, "company rule"),
];
