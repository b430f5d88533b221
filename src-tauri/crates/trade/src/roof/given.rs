//! What every family of parts looks at, and the arithmetic that they share: steps, laps, pieces, one rounding up.

use rust_decimal::{Decimal, RoundingStrategy};

use crate::money::Qty;
use crate::roof::kinds::{EdgeKind, FeatureKind, Item, Origin, Topic};
use crate::roof::line::{Line, Takeoff, Warning, WarningCode};
use crate::roof::measured::{Measured, MeasuredEdge, MeasuredSection, WorkStep};
use crate::roof::recipe::Recipe;
use crate::roof::shape::{Feature, House};
use crate::roof::sharing::is_shared;
use crate::roof::standard::Asked;

pub(crate) const TWELVE: Decimal = Decimal::from_parts(12, 0, 0, false, 0);

/// All that a takeoff looks at.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Given<'a> {
    /// The whole roof.
    pub(crate) measured: &'a Measured,
    /// What of it is shingled.
    pub(crate) shingled: &'a Measured,
    pub(crate) house: &'a House,
    /// All that stands on the roof.
    pub(crate) features: &'a [Feature],
    /// What of it stands where the roof is shingled.
    pub(crate) in_shingles: &'a [Feature],
    pub(crate) asked: &'a Asked,
    pub(crate) recipe: &'a Recipe,
}

impl<'a> Given<'a> {
    /// Who asks for a topic, and where it is written.
    pub(crate) fn who_asks(&self, topic: Topic) -> String {
        let source = self.asked.source(topic);
        match self.asked.origin(topic) {
            Some(Origin::Code) => format!("asked for by the code ({source})"),
            Some(Origin::Company) => format!("asked for by the company standard ({source})"),
            None => "asked for by nobody".to_owned(),
        }
    }

    /// Feet of eave that can be vented: all of it, unless somebody says how much, and never more than there is.
    pub(crate) fn vented_eave_ft(&self) -> Decimal {
        let all = self.measured.eave_ft;
        self.recipe.vented_eave_ft.map_or(all, |vented| vented.min(all)).decimal().max(Decimal::ZERO)
    }

    /// How many features of a kind stand where the roof is shingled.
    pub(crate) fn count(&self, kind: FeatureKind) -> i64 {
        self.in_shingles.iter().filter(|feature| feature.kind == kind).map(|feature| feature.count).sum()
    }
}

impl Line {
    /// A line in the field; [`Line::at`] and [`Line::of`] give it a place.
    pub(crate) fn new(item: Item, net: Decimal, steps: Vec<WorkStep>, rule: impl Into<String>) -> Line {
        Line {
            item,
            place: None,
            feature: None,
            net: Qty::rounded(net),
            measure: item.measure(),
            least_packages: None,
            steps,
            rule: rule.into(),
        }
    }

    pub(crate) fn at(mut self, place: EdgeKind) -> Line {
        self.place = Some(place);
        self
    }

    pub(crate) fn of(mut self, feature: FeatureKind) -> Line {
        self.feature = Some(feature);
        self
    }
}

impl Takeoff {
    /// Takes a line in where it asks for anything.
    pub(crate) fn add(&mut self, line: Line) {
        if line.net.is_positive() {
            self.lines.push(line);
        }
    }

    pub(crate) fn warn(&mut self, code: WarningCode, words: impl Into<String>, remedy: impl Into<String>) {
        self.warnings.push(Warning { code, section: None, words: words.into(), remedy: remedy.into() });
    }
}

/// A step whose figure was worked out.
pub(crate) fn step(words: impl Into<String>, figure: Decimal, unit: &'static str) -> WorkStep {
    WorkStep::new(words, Qty::rounded(figure), unit)
}

/// A figure inside a sentence, to two decimals at the most.
pub(crate) fn short(value: Decimal) -> Decimal {
    value.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero).normalize()
}

/// Up to the next whole one.
pub(crate) fn up(value: Decimal) -> Decimal {
    value.round_dp_with_strategy(0, RoundingStrategy::ToPositiveInfinity)
}

/// How many pieces of `each_in` reach along so many feet, rounded up once.
///
/// Feet are kept to four places, which moves a length of whole inches by up to 0.0006 in: 65 in is 5.4167 ft, and that
/// is 65.0004 in. So the length is read to the hundredth of an inch, finer than any tape, before the one rounding up;
/// what the fourth place added never asks for a piece more (company rule).
pub(crate) fn pieces_along(length_ft: Decimal, each_in: Decimal) -> Decimal {
    if each_in <= Decimal::ZERO {
        return Decimal::ZERO;
    }
    up(short(length_ft * TWELVE) / each_in)
}

/// By how much more material than length is needed where pieces of `piece` lap by `lap`, both in one unit. A lap as
/// long as the piece would never get on; it is taken for a slip and left out.
pub(crate) fn lapped(piece: Decimal, lap: Decimal) -> Decimal {
    if lap > Decimal::ZERO && lap < piece { piece / (piece - lap) } else { Decimal::ONE }
}

/// Every edge of a kind that counts towards the total, with its section.
pub(crate) fn edges(
    measured: &Measured,
    kind: EdgeKind,
) -> impl Iterator<Item = (&MeasuredSection, &MeasuredEdge)> {
    measured.sections.iter().flat_map(move |section| {
        let edges = section.edges.iter();
        edges
            .filter(move |edge| edge.kind == kind && edge.counted_ft.is_positive())
            .map(move |edge| (section, edge))
    })
}

/// One line for all edges of a kind, as long as they are, where pieces lap.
pub(crate) fn running(
    measured: &Measured,
    item: Item,
    kind: EdgeKind,
    piece_ft: Qty,
    lap_in: Qty,
    rule: &str,
) -> Line {
    let feet = measured.length_ft(kind).decimal();
    let more = lapped(piece_ft.decimal(), lap_in.decimal() / TWELVE);
    let mut steps = vec![step(format!("all {kind} edges together"), feet, "ft")];
    if more > Decimal::ONE {
        steps.push(step(format!("{piece_ft} ft pieces that lap by {lap_in} in"), feet * more, "ft"));
    }
    Line::new(item, feet * more, steps, rule).at(kind)
}

/// A strip over a line between two sections covers half its width of each; any other lies on its own section.
pub(crate) fn cover(given: &Given<'_>, kind: EdgeKind, width_in: Decimal, covered: &mut [Decimal]) {
    for (section, covered) in given.shingled.sections.iter().zip(covered) {
        for edge in section.edges.iter().filter(|edge| edge.kind == kind) {
            *covered += if is_shared(kind) && edge.shared_with.is_some() {
                edge.length_ft.decimal() * width_in / Decimal::TWO / TWELVE
            } else {
                edge.counted_ft.decimal() * width_in / TWELVE
            };
        }
    }
}
