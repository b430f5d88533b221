//! What is asked about before or after it is recorded, since it can hardly be meant: hours, prices and coverages far
//! from what the trade knows, hours of somebody who has no pay, and settings that count later than they say.

use desk::names::Names;
use desk::{Desk, OfficeError};
use jiff::civil::Date;
use ledger::facts::{Part, PayRate, TimeEntry};
use ledger::{Books, Fact, Id};
use serde::Deserialize;
use trade::shown::{day, in_sentence, with_unit};
use trade::{Item, Qty, Rate, UsualRange, unusual_price, usual_coverage, usual_hours};

/// What is typed of a part of the roof; what is not typed is not asked about.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct TypedRate {
    /// Which part of the roof.
    pub item: Item,
    /// Hours for one measure.
    pub hours: Option<Rate>,
    /// Dollars a package.
    pub price: Option<Rate>,
    /// How much a package covers.
    pub covers: Option<Qty>,
}

/// What of it lies far from what is usual, in sentences.
#[must_use]
pub fn far_from_usual(typed: &TypedRate) -> Vec<String> {
    let measure = typed.item.measure();
    let (one, what) = (measure.single(), in_sentence(typed.item.label()));
    let told = |figure: String, range: UsualRange, remedy: &str| {
        let (least, most) = (range.least(), range.most());
        format!("{figure} is far from the usual {least} to {most} (common practice). {remedy}")
    };
    let mut sentences = Vec::new();
    if let (Some(hours), Some(range)) = (typed.hours, usual_hours(typed.item))
        && !hours.is_zero()
        && !range.holds(hours.decimal())
    {
        // What is laid by the square foot is worked by the square, as roofers count.
        let by_square = measure == trade::Measure::SquareFoot;
        let (one, hours, range) = match by_square {
            true => ("square", trade::of_a_square(hours), range.of_a_square()),
            false => (one, hours.decimal(), range),
        };
        let remedy = if by_square {
            "A record holds the hours of one sq ft: a square is 100 sq ft.".to_owned()
        } else {
            measured_in(typed.item)
        };
        sentences.push(told(format!("{} h for one {one} of {what}", hours.normalize()), range, &remedy));
    }
    if let (Some(covers), Some(range)) = (typed.covers, usual_coverage(typed.item))
        && !range.holds(covers.decimal())
    {
        let figure = format!("A package of {what} that covers {}", with_unit(covers, measure.label()));
        sentences.push(told(figure, range, &measured_in(typed.item)));
    }
    if let (Some(price), Some(covers)) = (typed.price, typed.covers)
        && let Some((of_one, range)) = unusual_price(typed.item, price, covers)
    {
        let figure = format!("${} for one {one} of {what}", trade::shown::four_places(of_one.decimal()));
        let remedy = format!(
            "It is ${} over the {} that a package covers.",
            price,
            with_unit(covers, measure.label())
        );
        sentences.push(told(figure, range, &remedy));
    }
    sentences
}

/// What to look at where a figure is far off: the measure is what is mistaken most.
fn measured_in(item: Item) -> String {
    let measure = item.measure();
    match measure {
        trade::Measure::SquareFoot => "It is asked for one sq ft; a square is 100 sq ft.".to_owned(),
        _ => format!("It is asked in {}.", measure.label()),
    }
}

/// What is to be asked about a fact just recorded.
///
/// # Errors
/// When the facts cannot be read.
pub fn asked_about(desk: &Desk, fact: Id) -> Result<Vec<String>, OfficeError> {
    desk.books().in_one_read(|books| {
        let Some(held) = books.fact(fact)? else { return Ok(Vec::new()) };
        let typed = match held.fact {
            Fact::ProductionRate(rate) => {
                TypedRate { item: rate.item, hours: Some(rate.hours), price: None, covers: None }
            }
            Fact::Part(part) => {
                TypedRate { item: part.item, hours: None, price: None, covers: Some(part.covers) }
            }
            Fact::PartPrice(price) => {
                let Some(part) = books.newest::<Part>(price.part)? else { return Ok(Vec::new()) };
                TypedRate {
                    item: part.item,
                    hours: None,
                    price: Some(price.price),
                    covers: Some(part.covers),
                }
            }
            _ => return told_at_once(desk, fact),
        };
        Ok(far_from_usual(&typed))
    })
}

/// What nobody could be asked before a fact was recorded and is to be said at once: that nobody is paid for these
/// hours, or that a setting counts from a later day than its own.
///
/// # Errors
/// When the facts cannot be read.
pub fn told_at_once(desk: &Desk, fact: Id) -> Result<Vec<String>, OfficeError> {
    desk.books().in_one_read(|books| match books.fact(fact)?.map(|held| held.fact) {
        Some(Fact::TimeEntry(time)) => unpaid(books, &time),
        Some(_) => Ok(books.counts_later(fact)?.map(counts_later).into_iter().collect()),
        None => Ok(Vec::new()),
    })
}

/// The months before it were closed or handed off, and what they say stays as it is.
fn counts_later(from: Date) -> String {
    format!(
        "This counts from {}: the months before are closed or handed off, and their figures stay as they are.",
        day(from)
    )
}

/// Hours of somebody who has no pay cost nothing, and the margin looks fine: that is told at once.
fn unpaid(books: Books<'_>, time: &TimeEntry) -> Result<Vec<String>, OfficeError> {
    if !books.by(PayRate::person, time.person)?.is_empty() {
        return Ok(Vec::new());
    }
    let name = Names::read(books)?.person(time.person);
    Ok(vec![format!(
        "{name} has no pay yet, so these hours cost nothing so far. Record what an hour of theirs is paid."
    )])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_for_another_measure_is_asked_about_with_the_usual_range() {
        let typed = |item, hours: Option<&str>, price: Option<&str>, covers: Option<i64>| TypedRate {
            item,
            hours: hours.map(|text| text.parse().unwrap()),
            price: price.map(|text| text.parse().unwrap()),
            covers: covers.map(Qty::from_e4),
        };
        assert_eq!(
            far_from_usual(&typed(Item::Shingles, Some("1.2"), None, None)),
            ["120 h for one square of field shingles is far from the usual 0.4 to 10 (common practice). \
                 A record holds the hours of one sq ft: a square is 100 sq ft."]
        );
        assert_eq!(far_from_usual(&typed(Item::Shingles, Some("0.012"), None, None)), [""; 0]);
        // In the hours of another part.
        assert_eq!(far_from_usual(&typed(Item::Shingles, Some("0"), None, None)), [""; 0]);
        let nails = far_from_usual(&typed(Item::Fasteners, None, Some("49.00"), Some(10_000)));
        assert_eq!(nails.len(), 2, "{nails:?}");
        assert!(
            nails[0].starts_with("A package of fasteners that covers 1 piece is far from the usual 100 to")
        );
        assert!(nails[1].starts_with("$49 for one piece of fasteners is far from the usual 0.001 to 0.15"));
        assert_eq!(far_from_usual(&typed(Item::Fasteners, None, Some("49"), Some(72_000_000))), [""; 0]);
    }
}
