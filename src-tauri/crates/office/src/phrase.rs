//! Words of the ledger, and counts of damage, as people say them.

use jiff::civil::Date;
use ledger::words::{CountedIn, Damaged};
use trade::Qty;

/// A word of the ledger as people read it: `roof-to-wall` is “roof to wall”. A kick-out keeps its hyphen.
pub(crate) fn plain(word: &str) -> String {
    word.replace('-', " ").replace("kick out", "kick-out")
}

/// The same at the head of a line.
pub(crate) fn headed(word: &str) -> String {
    let text = plain(word);
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + letters.as_str())
}

/// So many of what was damaged: “9 deck sheets”, “12 ft of deck board”.
pub(crate) fn damage(count: Qty, damaged: Damaged, counted_in: CountedIn) -> String {
    let (count, one) = (shown(count), count == Qty::from_e4(10_000));
    let what = plain(damaged.as_str());
    match counted_in {
        CountedIn::Sheet if one => format!("{count} deck sheet"),
        CountedIn::Sheet => format!("{count} deck sheets"),
        CountedIn::Foot => format!("{count} ft of {what}"),
        CountedIn::SquareFoot => format!("{count} sq ft of {what}"),
        CountedIn::Each => format!("{count} × {what}"),
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

/// A day as people write it.
pub(crate) fn day(date: Date) -> String {
    date.strftime("%B %-d, %Y").to_string()
}
