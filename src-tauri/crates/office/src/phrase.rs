//! Counts of damage as people say them.

use ledger::closed_lists::{CountedIn, Damaged};
use trade::Qty;
use trade::shown::in_sentence;

/// So many of what was damaged: “9 deck sheets”, “12 ft of deck board”, “3 rafters”.
pub(crate) fn damage(count: Qty, damaged: Damaged, counted_in: CountedIn) -> String {
    let (count, one) = (shown(count), count == Qty::from_e4(10_000));
    let what = in_sentence(damaged.label());
    match counted_in {
        CountedIn::Sheet if one => format!("{count} deck sheet"),
        CountedIn::Sheet => format!("{count} deck sheets"),
        CountedIn::Foot => format!("{count} ft of {what}"),
        CountedIn::SquareFoot => format!("{count} sq ft of {what}"),
        CountedIn::Each if damaged == Damaged::Rafter && one => format!("{count} rafter"),
        CountedIn::Each if damaged == Damaged::Rafter => format!("{count} rafters"),
        CountedIn::Each if one => format!("{count} piece of {what}"),
        CountedIn::Each => format!("{count} pieces of {what}"),
    }
}

/// A part with its product line and its color, as it is ordered: “Laminated shingles, Hedgeline, slate gray”.
pub(crate) fn with_line_and_color(title: &str, product_line: Option<&str>, color: Option<&str>) -> String {
    [Some(title), product_line, color].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// A quantity with no more decimals than a person wants to read.
pub(crate) fn shown(quantity: Qty) -> Qty {
    trade::shown::two_places(quantity)
}
