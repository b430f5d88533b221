//! The nails: in shingles, starter, ridge cap and underlayment, each by the piece.

use rust_decimal::Decimal;

use crate::money::Qty;
use crate::roof::given::{Given, TWELVE, short, step, up};
use crate::roof::kinds::{DeckKind, EdgeKind, Item, ShingleKind, Topic};
use crate::roof::line::{Line, Takeoff};

/// Thinner sheathing than this is nailed right through.
const THROUGH_UNDER_IN: Qty = Qty::from_e4(7_500);

/// Inches through a board of a board deck (common practice).
const BOARD_IN: Qty = Qty::from_e4(7_500);

/// How far a roofing nail has to go into the deck.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NailReach {
    /// So many inches into it.
    Into(Qty),
    /// Right through.
    Through,
}

/// Nails go 3/4 in into the deck, and through one that is thinner (IRC R905.2.5): a sheet of 7/16 in is nailed through,
/// and so is one of 15/32.
#[must_use]
pub fn nail_reach(deck_in: Qty) -> NailReach {
    if deck_in < THROUGH_UNDER_IN { NailReach::Through } else { NailReach::Into(THROUGH_UNDER_IN) }
}

/// Nails in each shingle on a slope: what the part's maker asks, never fewer than is asked for. Strips have four, or
/// six over 21 in 12 and in high wind; shingles put up one by one have two (IRC R905.2.6).
///
/// 80 strips a square at 4 are 320 nails, at 6 they are 480 (NAVEDTRA 14044 ch. 3, read, computed); 66 laminated ones
/// are 264 and 396 (computed).
pub(crate) fn in_each_shingle(given: &Given<'_>, slope: Qty) -> Decimal {
    let asked = given.asked;
    let over = asked.value(Topic::NailsSteepOver);
    let very_steep = over.is_positive() && slope > over;
    let strips = if very_steep || given.house.high_wind {
        asked.value(Topic::NailsEach).max(asked.value(Topic::NailsHighWind))
    } else {
        asked.value(Topic::NailsEach)
    };
    let least = match given.recipe.shingle {
        ShingleKind::Laminated | ShingleKind::Strip => strips,
        ShingleKind::Individual => asked.value(Topic::NailsIndividual),
    };
    given.recipe.shingle_nails.unwrap_or_default().max(least).decimal().normalize()
}

/// One line for each thing that is nailed, in whole nails; what is left out has none. Boxes are rounded up once, for
/// the job.
pub(crate) fn lines(given: &Given<'_>, underlayment_sqft: Decimal, left_out: &[Item], out: &mut Takeoff) {
    let laid = |item: Item| !left_out.contains(&item);
    if laid(Item::Shingles) {
        shingles(given, out);
    }
    let recipe = given.recipe;
    for (kind, topic) in [(EdgeKind::Eave, Topic::StarterEave), (EdgeKind::Rake, Topic::StarterRake)] {
        if given.asked.wants(topic) && laid(Item::Starter) {
            let piece = (recipe.starter_piece_in, recipe.starter_nails, "pieces of starter");
            along(given, kind, piece, "in starter", out);
        }
    }
    for kind in [EdgeKind::Ridge, EdgeKind::Hip].into_iter().filter(|_| laid(Item::RidgeCap)) {
        let piece = (recipe.cap_exposure_in, recipe.cap_nails, "cap pieces");
        along(given, kind, piece, "in ridge and hip cap", out);
    }
    if !laid(Item::Underlayment) {
        return;
    }
    let squares = underlayment_sqft / Decimal::ONE_HUNDRED;
    let nails = up(squares * recipe.underlayment_nails.decimal());
    let steps = vec![
        step("underlayment as it is laid", squares, "squares"),
        step(format!("× {} nails a square", recipe.underlayment_nails), nails, "nails"),
    ];
    let rule = "Squares of underlayment × nails in each, as its maker asks (common practice).";
    out.add(Line::new(Item::Fasteners, nails, steps, rule));
}

fn shingles(given: &Given<'_>, out: &mut Takeoff) {
    let per_square = given.recipe.shingles_per_square;
    let (mut net, mut steps) = (Decimal::ZERO, Vec::new());
    for section in &given.shingled.sections {
        let pieces = section.area_sqft.decimal() / Decimal::ONE_HUNDRED * per_square.decimal();
        let each = in_each_shingle(given, section.slope);
        let words = format!(
            "{}: {} sq ft at {per_square} shingles a square are {}, {each} nails in each",
            section.name,
            short(section.area_sqft.decimal()),
            short(pieces)
        );
        steps.push(step(words, pieces * each, "nails"));
        net += pieces * each;
    }
    let net = up(net);
    steps.push(step("all sections together, in whole nails", net, "nails"));
    let source = match given.recipe.shingle {
        ShingleKind::Individual => given.asked.source(Topic::NailsIndividual),
        _ if given.house.high_wind => given.asked.source(Topic::NailsHighWind),
        _ => given.asked.source(Topic::NailsEach),
    };
    let rule = format!("Shingles × nails in each ({source}). {}", reach_words(given));
    out.add(Line::new(Item::Fasteners, net, steps, rule));
}

/// What nail is meant, and how far it goes into this deck.
fn reach_words(given: &Given<'_>) -> String {
    let deck_in = match given.house.deck {
        DeckKind::Plywood | DeckKind::StrandBoard => given.recipe.deck_in,
        DeckKind::Boards | DeckKind::SpacedBoards => BOARD_IN,
    };
    let reach = match nail_reach(deck_in) {
        NailReach::Through => format!("through the deck, which is {deck_in} in"),
        NailReach::Into(least) => format!("at least {least} in into the deck"),
    };
    format!("12 gage, 0.105 in, with a head of 3/8 in, {reach} (IRC R905.2.5).")
}

/// The nails in pieces along all edges of a kind.
fn along(
    given: &Given<'_>,
    kind: EdgeKind,
    (piece_in, nails_each, unit): (Qty, Qty, &'static str),
    what: &str,
    out: &mut Takeoff,
) {
    if !piece_in.is_positive() {
        return;
    }
    let feet = given.shingled.length_ft(kind).decimal();
    let pieces = feet * TWELVE / piece_in.decimal();
    let nails = up(pieces * nails_each.decimal());
    let steps = vec![
        step(format!("{} ft ÷ {piece_in} in", short(feet)), pieces, unit),
        step(format!("× {nails_each} nails in each"), nails, "nails"),
    ];
    let rule = format!("Nails {what}: pieces × nails in each, as the maker asks (common practice).");
    out.add(Line::new(Item::Fasteners, nails, steps, rule).at(kind));
}
