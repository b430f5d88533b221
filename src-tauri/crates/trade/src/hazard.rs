//! Where work on a roof can hurt, as a crew is told of it, each with the rule that it comes from. None of it is a
//! safety plan: what the law asks on a site, and who may decide it there, stands in the rules themselves.

use rust_decimal::Decimal;

use crate::money::Qty;

/// A slope above this many inches in 12 is steep (29 CFR 1926.500(b)).
const STEEP_OVER: i64 = 4;

/// What is known of a site.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Site {
    /// The steepest slope, in inches of rise in 12; absent where the roof was not measured.
    pub steepest: Option<Qty>,
    /// Whether the house was built before 1978; absent where nobody said.
    pub built_before_1978: Option<bool>,
}

/// What can hurt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HazardKind {
    /// Falls from the edge.
    Falls,
    /// Falls through holes, skylights and soft deck.
    Holes,
    /// Ladders.
    Ladders,
    /// Power lines.
    PowerLines,
    /// Asbestos in what is torn off.
    Asbestos,
    /// Lead in old paint.
    Lead,
    /// Dust of masonry and fiber cement.
    Silica,
    /// Heat.
    Heat,
    /// Loads on the deck.
    Loads,
}

/// Something that can hurt, in words, with where it is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hazard {
    /// What it is.
    pub kind: HazardKind,
    /// What to do.
    pub words: String,
    /// Where it is written; absent where it is common practice.
    pub source: Option<&'static str>,
}

impl Hazard {
    /// Whether it matters most before the tear-off: what is in the old roof is found out before it is torn.
    #[must_use]
    pub fn comes_first(&self, begun: bool) -> bool {
        match self.kind {
            HazardKind::Falls | HazardKind::Holes | HazardKind::PowerLines => true,
            HazardKind::Asbestos | HazardKind::Lead | HazardKind::Ladders => !begun,
            HazardKind::Silica | HazardKind::Heat | HazardKind::Loads => begun,
        }
    }
}

/// What can hurt on a site, in the order in which a crew meets it.
#[must_use]
pub fn hazards(site: Site) -> Vec<Hazard> {
    let mut found = vec![
        falls(site.steepest),
        Hazard {
            kind: HazardKind::Holes,
            words: "Holes: a skylight is a hole. Guard it, or cover it with what carries twice the load that may come \
                    on it, fixed and marked HOLE or COVER. Test soft deck before you step on it."
                .to_owned(),
            source: Some("29 CFR 1926.501(b)(4), 1926.502(i)"),
        },
        Hazard {
            kind: HazardKind::Ladders,
            words: "Ladders: side rails 3 ft above the landing, or tied off with a grab rail; the foot out a quarter \
                    of the working length."
                .to_owned(),
            source: Some("29 CFR 1926.1053(b)(1), (b)(5)"),
        },
        Hazard {
            kind: HazardKind::PowerLines,
            words: "Power lines: find the service drop before ladders, lifts and metal edges go up. Nobody works where \
                    they could touch it unless it is dead or covered; have the utility do that."
                .to_owned(),
            source: Some("29 CFR 1926.416(a)"),
        },
        Hazard {
            kind: HazardKind::Asbestos,
            words: "Asbestos: old shingles, felts and cements may hold it. Where in doubt stop, and have it tested \
                    before it is torn; do not cut, sand or sweep it dry."
                .to_owned(),
            source: Some("29 CFR 1926.1101"),
        },
    ];
    found.extend(lead(site.built_before_1978));
    found.extend([
        Hazard {
            kind: HazardKind::Silica,
            words: "Silica: cutting masonry or fiber cement makes dust that harms the lungs. Use the saw's water or \
                    its dust collector, and a respirator where table 1 asks for one."
                .to_owned(),
            source: Some("29 CFR 1926.1153, table 1"),
        },
        Hazard {
            kind: HazardKind::Heat,
            words: "Heat: water, shade and rest; a roof is hotter than the air. Stop when somebody turns dizzy or \
                    confused, and call for help."
                .to_owned(),
            source: None,
        },
        Hazard {
            kind: HazardKind::Loads,
            words: "Loads: spread bundles along the ridge, none over rot or a cut deck.".to_owned(),
            source: None,
        },
    ]);
    found
}

/// At 6 ft and more: guardrail, net or personal arrest; where none can be used, a written plan for the site (29 CFR
/// 1926.501(b)(13)). Over 4 in 12 neither a warning line nor a monitor does (29 CFR 1926.501(b)(11)).
fn falls(steepest: Option<Qty>) -> Hazard {
    let words = "Falls: at 6 ft and more above what is below, a guardrail, a net or a harness that is tied off; where \
                 none of them can be used, a written plan for this site.";
    match steepest {
        Some(slope) if slope.decimal() > Decimal::from(STEEP_OVER) => Hazard {
            kind: HazardKind::Falls,
            words: format!(
                "{words} At {} in 12 this roof is steep, which is over 4 in 12: a warning line or a monitor is not \
                 enough.",
                slope.decimal().normalize()
            ),
            source: Some("29 CFR 1926.501(b)(11), (b)(13)"),
        },
        _ => Hazard {
            kind: HazardKind::Falls,
            words: words.to_owned(),
            source: Some("29 CFR 1926.501(b)(13)"),
        },
    }
}

/// Nothing where the house is known to be younger. Where its age was not said, the crew is told to ask.
fn lead(built_before_1978: Option<bool>) -> Option<Hazard> {
    let begins = match built_before_1978 {
        Some(false) => return None,
        Some(true) => "Lead: the house was built before 1978.",
        None => "Lead: find out whether the house was built before 1978; if so,",
    };
    let rest = if built_before_1978.is_some() {
        "More than 20 sq ft of old paint disturbed outside asks for a certified renovator: signs up, openings within \
         20 ft shut, the ground covered 10 ft out."
    } else {
        "more than 20 sq ft of old paint disturbed outside asks for a certified renovator: signs up, openings within \
         20 ft shut, the ground covered 10 ft out."
    };
    Some(Hazard {
        kind: HazardKind::Lead,
        words: format!("{begins} {rest}"),
        source: Some("40 CFR 745.83, 745.85(a)"),
    })
}
