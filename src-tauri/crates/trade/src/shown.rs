//! Figures as people read them: rounded for the eye alone. Nothing is calculated from what stands here (company rule).

use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::money::{Qty, Rate};
use crate::month::Month;

const TWELVE: Decimal = Decimal::from_parts(12, 0, 0, false, 0);

/// A quantity with no more than two decimals; half a hundredth goes to the even one.
#[must_use]
pub fn two_places(quantity: Qty) -> Qty {
    Qty::rounded(quantity.decimal().round_dp(2))
}

/// A count or a length as people read it, with no more than the four decimals that quantities are kept in and no idle
/// zero: 1,976.68.
#[must_use]
pub fn four_places(figure: Decimal) -> String {
    grouped(Qty::rounded(figure).decimal().normalize())
}

/// A statistic with no more than three decimals; half a thousandth goes to the even one.
#[must_use]
pub fn three_places(figure: Decimal) -> Decimal {
    figure.round_dp(3).normalize()
}

/// A share that was worked out, as a rate to the millionth: enough for any percentage that is set.
#[must_use]
pub fn share(exact: Decimal) -> Rate {
    Rate::rounded(exact)
}

/// A share in hundredths with all of its decimals, not rounded: 0.0725 is 7.25.
#[must_use]
pub fn percent(share: Decimal) -> Decimal {
    (share * Decimal::ONE_HUNDRED).normalize()
}

/// A share as a percentage with one decimal and a true minus: `−3.5 %`. Half a tenth goes to the even one.
#[must_use]
pub fn percent_to_tenth(share: Decimal) -> String {
    let shown = (share * Decimal::ONE_HUNDRED).round_dp(1);
    // What is shown as nothing has no sign.
    let shown = if shown.is_zero() { Decimal::ZERO } else { shown };
    format!("{shown:.1} %").replace('-', "−")
}

/// A figure with commas between its thousands and a true minus, with the decimals that it has: 1,239.02.
#[must_use]
pub fn grouped(figure: Decimal) -> String {
    let plain = figure.abs().to_string();
    let (whole, rest) =
        plain.split_once('.').map_or((plain.as_str(), None), |(whole, rest)| (whole, Some(rest)));
    let mut out = String::new();
    if figure < Decimal::ZERO {
        out.push('−');
    }
    for (at, digit) in whole.chars().enumerate() {
        if at > 0 && (whole.len() - at).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    rest.map_or_else(|| out.clone(), |rest| format!("{out}.{rest}"))
}

/// A day in a sentence: October 19, 2026.
#[must_use]
pub fn day(date: Date) -> String {
    date.strftime("%B %-d, %Y").to_string()
}

/// A month in a sentence: October 2026.
#[must_use]
pub fn month(month: Month) -> String {
    month.first_day().strftime("%B %Y").to_string()
}

/// A label in the midst of a sentence: “Roof to wall” is “roof to wall” there.
#[must_use]
pub fn in_sentence(label: &str) -> String {
    let mut letters = label.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_lowercase().collect::<String>() + letters.as_str())
}

/// A quantity with its unit as people write them: no more than two decimals, the unit in the plural but for exactly
/// one, and units that are cut short as they are: 8 rolls, 1 sheet, 19.32 squares, 432 sq ft. A unit may come in either
/// number.
#[must_use]
pub fn with_unit(quantity: Qty, unit: &str) -> String {
    let figure = two_places(quantity).decimal().normalize();
    format!("{} {}", grouped(figure), unit_behind(figure, unit)).trim_end().to_owned()
}

/// The unit alone, as it stands behind a quantity. “2 each” is two of them, and no more is to be said.
#[must_use]
pub fn unit_behind(figure: Decimal, unit: &str) -> String {
    let one = figure.abs().round_dp(2) == Decimal::ONE;
    match unit.trim() {
        "each" => String::new(),
        unit if one => singular(unit),
        unit => plural(unit),
    }
}

/// So many of what is counted in whole: 1 job, 12 jobs.
#[must_use]
pub fn count_of(count: usize, unit: &str) -> String {
    format!("{} {}", grouped(Decimal::from(count)), if count == 1 { singular(unit) } else { plural(unit) })
}

/// Units that are written the same of one and of many, whatever stands before them: sq ft, cu yd.
const SAME_OF_MANY: [&str; 8] = ["ft", "in", "h", "lb", "sq", "mi", "yd", "gal"];

/// What is counted, and what it is of or in which time: “sq in” and “ of free area”, “cu ft” and “ a minute”.
fn head_of(unit: &str) -> (&str, &str) {
    unit.split_at([" of ", " a "].iter().filter_map(|word| unit.find(word)).min().unwrap_or(unit.len()))
}

fn plural(unit: &str) -> String {
    let (unit, rest) = head_of(unit);
    let (before, last) = unit.rsplit_once(' ').map_or(("", unit), |(before, last)| (before, last));
    let many = match last {
        _ if SAME_OF_MANY.contains(&last) || last.is_empty() || last.ends_with('s') => last.to_owned(),
        "foot" | "feet" => "feet".to_owned(),
        _ if ["x", "ch", "sh"].iter().any(|end| last.ends_with(end)) => format!("{last}es"),
        _ => format!("{last}s"),
    };
    format!("{before} {many}{rest}").trim_start().to_owned()
}

fn singular(unit: &str) -> String {
    let (unit, rest) = head_of(unit);
    let (before, last) = unit.rsplit_once(' ').map_or(("", unit), |(before, last)| (before, last));
    let one = match last {
        "feet" => "foot",
        _ => match ["xes", "ches", "shes"].iter().find(|end| last.ends_with(**end)) {
            Some(_) => last.strip_suffix("es").unwrap_or(last),
            None => last.strip_suffix('s').unwrap_or(last),
        },
    };
    format!("{before} {one}{rest}").trim_start().to_owned()
}

/// A length in feet as it is read off a tape, to the inch: 24 ft 6 in. Half an inch goes to the even one.
#[must_use]
pub fn feet_and_inches(feet: Qty) -> String {
    let inches = (feet.decimal() * TWELVE).round();
    let (whole, rest) = ((inches / TWELVE).floor(), inches % TWELVE);
    if rest.is_zero() { format!("{whole} ft") } else { format!("{whole} ft {rest} in") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn what_stands_in_a_sentence_has_no_machines_look() {
        let of = |text: &str| grouped(text.parse().unwrap());
        assert_eq!([of("999"), of("1239.02"), of("-1234567.5")], ["999", "1,239.02", "−1,234,567.5"]);
        assert_eq!(day(date(2026, 10, 9)), "October 9, 2026");
        assert_eq!(month(Month::of(date(2026, 10, 9))), "October 2026");
        let amount = |figure: &str, unit| with_unit(figure.parse().unwrap(), unit);
        assert_eq!([amount("8", "roll"), amount("1", "sheets")], ["8 rolls", "1 sheet"]);
        assert_eq!([amount("19.3196", "square"), amount("1.5", "box")], ["19.32 squares", "1.5 boxes"]);
        assert_eq!([amount("432", "sq ft"), amount("3", "each")], ["432 sq ft", "3"]);
        assert_eq!(
            [amount("1", "boxes"), amount("0", "foot"), amount("1", "feet")],
            ["1 box", "0 feet", "1 foot"]
        );
        assert_eq!([amount("7200", "piece"), amount("2", "")], ["7,200 pieces", "2"]);
        assert_eq!(
            [
                amount("552.96", "sq in of free area"),
                amount("806.4", "cu ft a minute"),
                amount("2", "box of 40")
            ],
            ["552.96 sq in of free area", "806.4 cu ft a minute", "2 boxes of 40"]
        );
        assert_eq!([amount("1", "boxes of 40"), amount("1", "hours a day")], ["1 box of 40", "1 hour a day"]);
        assert_eq!([count_of(1, "jobs"), count_of(12, "job")], ["1 job", "12 jobs"]);
        assert_eq!([in_sentence("Roof to wall"), in_sentence("")], ["roof to wall", ""]);
    }
}
