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
        assert_eq!([in_sentence("Roof to wall"), in_sentence("")], ["roof to wall", ""]);
    }
}
