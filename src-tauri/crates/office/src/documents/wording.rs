//! What papers say of items, places and measures, in words that a homeowner reads.

pub(super) use crate::phrase::{damage, shown};
use jiff::civil::Date;
use ledger::closed_lists::{CountedIn, Damaged};
use paperwork::papers::DrawnAt;
pub(super) use trade::shown::{day, in_sentence};
use trade::{EdgeKind, FeatureKind, Item, Measure, Qty, Topic};

/// The unit as it stands behind a quantity: one piece, two pieces.
pub(super) fn unit(quantity: Qty, measure: Measure) -> String {
    trade::shown::unit_behind(quantity.decimal(), measure.label())
}

/// A quantity with its unit, as `432 sq ft` or `1 piece`.
pub(super) fn amount(quantity: Qty, measure: Measure) -> String {
    trade::shown::with_unit(quantity, measure.label())
}

/// Where an item is drawn, and what it is for. The reasons are common practice, no source.
pub(super) fn item(item: Item) -> (DrawnAt, &'static str) {
    match item {
        Item::TearOff => {
            (DrawnAt::Nowhere, "On the bare deck rot can be seen, and repaired before it is covered.")
        }
        Item::Haul => (DrawnAt::Nowhere, "What comes off leaves the site."),
        Item::DeckSheet => (DrawnAt::Deck, "Nails hold in sound wood; soft deck is replaced."),
        Item::DeckBoard => (DrawnAt::Deck, "Nails hold in sound wood; soft boards are replaced."),
        Item::Barrier => (
            DrawnAt::Membrane,
            "It seals round nails where ice and running water stand: at eaves, in valleys, along walls.",
        ),
        Item::Underlayment => {
            (DrawnAt::Underlayment, "The second roof below the shingles: what gets past them runs off on it.")
        }
        Item::DripEdge => (DrawnAt::DripEdge, "It leads water off the edge, away from deck ends and trim."),
        Item::Starter => {
            (DrawnAt::Starter, "It closes the joints of the first course and holds it down in wind.")
        }
        Item::Shingles => (DrawnAt::Shingles, "What is seen, and what takes sun, wind and hail."),
        Item::ValleyMetal => (DrawnAt::Nowhere, "Most water runs where two roofs meet; metal carries it."),
        Item::RollRoofing => (DrawnAt::Nowhere, "It carries the water where two roofs meet."),
        Item::StepFlashing => (
            DrawnAt::StepFlashing,
            "A piece in each course along a wall leads water out over the shingles, and not in behind the siding.",
        ),
        Item::Apron => (DrawnAt::Nowhere, "It covers the joint where a roof ends below a wall."),
        Item::CounterFlashing => {
            (DrawnAt::Nowhere, "Let into the wall, it covers the top of the flashing below.")
        }
        Item::KickOut => (
            DrawnAt::KickOut,
            "Where an eave ends at a wall it throws the water into the gutter, and not in behind the siding.",
        ),
        Item::Cricket => (
            DrawnAt::Nowhere,
            "A small roof behind a wide chimney, so that water and snow run round it and do not stand there.",
        ),
        Item::ChimneyFlashing => (DrawnAt::Nowhere, "It seals a chimney on all four sides."),
        Item::SkylightFlashing => (DrawnAt::Nowhere, "It seals a skylight on all four sides."),
        Item::PipeBoot => (DrawnAt::Nowhere, "They seal each pipe that comes through the roof."),
        Item::RidgeVent | Item::BoxVent | Item::TurbineVent | Item::PowerVent | Item::Intake => vent(item),
        Item::RidgeCap => (DrawnAt::RidgeCap, "It closes ridges and hips, the roof's most windy lines."),
        Item::Fasteners => {
            (DrawnAt::Nowhere, "Enough of them, driven straight and where the shingle wants them.")
        }
        Item::Insulation => (
            DrawnAt::Insulation,
            "It keeps heat in the rooms and the deck colder, so that less snow melts from below.",
        ),
        Item::Baffle => {
            (DrawnAt::Nowhere, "They hold insulation off the intake, so that air still comes in.")
        }
        Item::Gutter => (DrawnAt::Gutter, "They carry water away from walls and foundation."),
        Item::Downspout => (DrawnAt::Nowhere, "They lead it to the ground."),
        Item::Permit => (DrawnAt::Nowhere, "The building office knows of the work, and inspects it."),
        Item::Machine => (DrawnAt::Nowhere, "It brings material up without harm to people or house."),
        Item::Covering => {
            (DrawnAt::Nowhere, "Beds, walks and walls are covered while the old roof comes off.")
        }
        Item::CleanUp => (DrawnAt::Nowhere, "The ground is swept with a magnet."),
        Item::SetUp | Item::Driving | Item::Other => (DrawnAt::Nowhere, ""),
    }
}

/// The same of vents.
fn vent(item: Item) -> (DrawnAt, &'static str) {
    match item {
        Item::RidgeVent => (
            DrawnAt::RidgeVent,
            "Warm, damp air leaves at the top, so that less of it turns to ice or mold below the deck.",
        ),
        Item::BoxVent => (DrawnAt::Nowhere, "Warm, damp air leaves through them near the ridge."),
        Item::TurbineVent => (DrawnAt::Nowhere, "Wind turns them, and they draw warm, damp air out."),
        Item::PowerVent => (DrawnAt::Nowhere, "A fan draws warm, damp air out."),
        Item::Intake => (
            DrawnAt::IntakeVent,
            "What leaves at the top has to come in at the eaves; without intake, exhaust draws little.",
        ),
        _ => (DrawnAt::Nowhere, "Air has to pass through an attic."),
    }
}

/// What is asked of an item, topic by topic.
pub(super) fn topics(item: Item) -> &'static [Topic] {
    match item {
        Item::Barrier => &[
            Topic::BarrierEave,
            Topic::BarrierEaveInside,
            Topic::BarrierEaveAlong,
            Topic::BarrierRake,
            Topic::BarrierValley,
            Topic::BarrierHip,
            Topic::BarrierRidge,
            Topic::BarrierWall,
            Topic::BarrierPenetration,
        ],
        Item::Underlayment => &[Topic::DoubleUnderlaymentBelow],
        Item::DripEdge => &[Topic::DripEdgeEave, Topic::DripEdgeRake, Topic::DripEdgeLap],
        Item::Starter => &[Topic::StarterEave, Topic::StarterRake],
        Item::Shingles => &[Topic::LeastSlope],
        Item::ValleyMetal => &[Topic::ValleyMetalWidth, Topic::ValleyEdgeStrips],
        Item::RollRoofing => &[Topic::ValleyLining],
        Item::Cricket => &[Topic::CricketOver],
        Item::StepFlashing => &[Topic::StepFlashingSide, Topic::NewFlashings],
        Item::KickOut => &[Topic::KickOut],
        Item::RidgeVent | Item::Intake => &[Topic::VentRatio],
        Item::Fasteners => &[Topic::NailsEach, Topic::NailsHighWind],
        _ => &[],
    }
}

/// How many of what is damaged a price covers, of the sheets and the feet of board that it includes.
pub(super) fn included(damaged: Damaged, counted_in: CountedIn, sheets: Qty, feet: Qty) -> Qty {
    match (damaged, counted_in) {
        (Damaged::DeckSheet, CountedIn::Sheet) => shown(sheets),
        (Damaged::DeckBoard, CountedIn::Foot) => shown(feet),
        _ => Qty::ZERO,
    }
}

/// A place of the roof.
pub(super) fn place(edge: Option<EdgeKind>, feature: Option<FeatureKind>) -> &'static str {
    match (edge, feature) {
        (Some(EdgeKind::Eave), _) => "Eaves",
        (Some(EdgeKind::Rake), _) => "Rakes",
        (Some(EdgeKind::Valley), _) => "Valleys",
        (Some(EdgeKind::Hip), _) => "Hips",
        (Some(EdgeKind::Ridge), _) => "Ridges",
        (Some(EdgeKind::Wall), _) => "Side walls",
        (Some(EdgeKind::Headwall), _) => "Headwalls",
        (Some(EdgeKind::Transition), _) => "Changes of slope",
        (None, Some(FeatureKind::Pipe)) => "Pipes",
        (None, Some(FeatureKind::Chimney)) => "Chimneys",
        (None, Some(FeatureKind::Skylight)) => "Skylights",
        (None, Some(FeatureKind::WallEnd)) => "Where an eave ends at a wall",
        (None, Some(FeatureKind::OldVent)) => "Old vents",
        (None, None) => "Field",
    }
}

/// A date so many days later.
pub(super) fn days_after(date: Date, days: i64) -> Date {
    let span = jiff::Span::new().try_days(days).unwrap_or_default();
    date.checked_add(span).unwrap_or(date)
}
