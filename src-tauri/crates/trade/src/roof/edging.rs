//! What runs along edges: drip edge, starter, and the cap over ridges and hips.

use rust_decimal::Decimal;

use crate::money::Qty;
use crate::roof::given::{Given, pieces_along, running, step};
use crate::roof::kinds::{EdgeKind, Item, Topic};
use crate::roof::line::{Line, Takeoff};

/// Drip edge and starter, along eaves and rakes as each is asked for. Drip edge laps, so that a piece reaches less far
/// than it is long.
pub(crate) fn lines(given: &Given<'_>, out: &mut Takeoff) {
    let asked = given.asked;
    for (kind, topic) in [(EdgeKind::Eave, Topic::DripEdgeEave), (EdgeKind::Rake, Topic::DripEdgeRake)] {
        if asked.wants(topic) {
            let rule = format!("Length, with laps ({}).", asked.source(topic));
            let (piece, lap) = (given.recipe.drip_edge_piece_ft, asked.value(Topic::DripEdgeLap));
            out.add(running(given.shingled, Item::DripEdge, kind, piece, lap, &rule));
        }
    }
    for (kind, topic) in [(EdgeKind::Eave, Topic::StarterEave), (EdgeKind::Rake, Topic::StarterRake)] {
        if asked.wants(topic) {
            let rule = format!("Length ({}).", asked.source(topic));
            out.add(running(given.shingled, Item::Starter, kind, Qty::ZERO, Qty::ZERO, &rule));
        }
    }
}

/// Cap over ridges and hips: their length; the number of pieces, length ÷ exposure, stands in the working. It is laid
/// against the prevailing wind.
pub(crate) fn caps(given: &Given<'_>, out: &mut Takeoff) {
    for kind in [EdgeKind::Ridge, EdgeKind::Hip] {
        let rule = "Length, laid against the prevailing wind (common practice).";
        let mut line: Line = running(given.shingled, Item::RidgeCap, kind, Qty::ZERO, Qty::ZERO, rule);
        let exposure = given.recipe.cap_exposure_in;
        if exposure.is_positive() {
            let pieces: Decimal = pieces_along(line.net.decimal(), exposure.decimal());
            line.steps.push(step(format!("÷ {exposure} in of exposure"), pieces, "cap pieces"));
        }
        out.add(line);
    }
}
