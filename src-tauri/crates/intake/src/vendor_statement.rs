//! The lines of a vendor's statement as they are typed, pasted or saved: a bill's number first and what is open of it
//! last; dates and words between them are passed over.

use crate::amounts::{NoNumber, NumberStyle, read};
use desk::OfficeError;
use trade::{ListedBill, Money};

/// What to do with a line that cannot be read.
const REMEDY: &str = "Write a bill a line: its number, then what is open of it, like TF-7983 1,240.50.";

/// The cells of a line: apart by TABs or semicolons, else by spaces, else by commas.
fn cells(line: &str) -> Vec<&str> {
    let by = |mark: fn(char) -> bool| -> Vec<&str> {
        line.split(mark)
            .map(|cell| cell.trim().trim_end_matches(','))
            .filter(|cell| !cell.is_empty())
            .collect()
    };
    let marks: [fn(char) -> bool; 3] = [|sign| sign == '\t', |sign| sign == ';', char::is_whitespace];
    marks.into_iter().map(by).find(|cells| cells.len() > 1).unwrap_or_else(|| by(|sign| sign == ','))
}

/// Whether commas may have torn an amount of thousands apart: `TF-1,4,278.40` could be 278.40 or 4,278.40.
fn is_torn(line: &str, cells: &[&str]) -> bool {
    let are_digits = |text: &str, most: usize| {
        (1..=most).contains(&text.len()) && text.bytes().all(|sign| sign.is_ascii_digit())
    };
    let [_, .., before, last] = cells else { return false };
    let whole = last.split('.').next().unwrap_or_default();
    line.contains(&format!("{before},{last}"))
        && are_digits(before, 3)
        && whole.len() == 3
        && are_digits(whole, 3)
}

/// The bills that a vendor's statement lists. A first line that names the columns is passed over.
///
/// # Errors
/// When a line has no number or no amount: the line is named, and nothing is taken.
pub fn vendor_statement(text: &str) -> Result<Vec<ListedBill>, OfficeError> {
    let mut bills = Vec::new();
    let lines = (1_usize..).zip(text.lines()).filter(|(_, line)| !line.trim().is_empty());
    for (at, line) in lines {
        let cells = cells(line);
        let refused = |what: &str| {
            OfficeError::refused("lines", &format!("line {at}, “{}”: {what}", line.trim()), REMEDY)
        };
        let (Some(number), Some(amount)) = (cells.first(), cells.last().filter(|_| cells.len() > 1)) else {
            return Err(refused("a number and an amount are needed"));
        };
        if bills.is_empty() && at == 1 && !amount.chars().any(|sign| sign.is_ascii_digit()) {
            continue;
        }
        if is_torn(line, &cells) {
            return Err(refused("its amount could be two numbers"));
        }
        let plain = match read(amount, Some(NumberStyle::Point)) {
            Ok(plain) => plain,
            Err(NoNumber::Wrong(what, _)) => return Err(refused(what.trim_end_matches('.'))),
            Err(NoNumber::Open) => return Err(refused("its amount could be two numbers")),
        };
        let open = Money::parse(&plain).map_err(|problem| refused(&problem.to_string()))?;
        bills.push(ListedBill { number: (*number).to_owned(), open });
    }
    if bills.is_empty() {
        return Err(OfficeError::refused("lines", "there is no line of the statement", REMEDY));
    }
    Ok(bills)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Vec<(String, String)> {
        let bills = vendor_statement(text).unwrap();
        bills.into_iter().map(|bill| (bill.number, bill.open.to_string())).collect()
    }

    fn pair(number: &str, open: &str) -> (String, String) {
        (number.to_owned(), open.to_owned())
    }

    #[test]
    fn a_number_comes_first_and_what_is_open_last_however_they_stand_apart() {
        let both = [pair("TF-7983", "4278.40"), pair("CR-12", "-35.00")];
        for text in [
            "TF-7983 4,278.40\nCR-12 (35.00)\n",
            "TF-7983 10/15/2026 11/14/2026 $4,278.40\n\nCR-12 10/20/2026 -35\n",
            "Number\tDate\tOpen\nTF-7983\tOct 15, 2026\t4,278.40\nCR-12\tOct 20, 2026\t-35.00",
            "TF-7983;4278.40\nCR-12;-35.00",
            "TF-7983, 4,278.40\nCR-12, -35.00",
            "TF-7983,2026-10-15,4278.40\r\nCR-12,2026-10-20,-35.00\r\n",
        ] {
            assert_eq!(read(text), both, "{text}");
        }
        assert_eq!(read("Invoice 1204\t12.00"), [pair("Invoice 1204", "12.00")]);
    }

    #[test]
    fn what_cannot_be_read_is_named_by_its_line_and_nothing_is_taken() {
        for (text, says) in [
            ("TF-1 10.00\nTF-2 ten", "line 2, “TF-2 ten”: “ten” is not a number"),
            ("TF-1,4,278.40", "line 1, “TF-1,4,278.40”: its amount could be two numbers"),
            ("TF-1", "line 1, “TF-1”: a number and an amount are needed"),
            ("Number Open", "there is no line"),
            (" \n", "there is no line"),
        ] {
            let refused = vendor_statement(text).unwrap_err();
            assert_eq!(refused.field.as_deref(), Some("lines"));
            assert!(refused.message.contains(says), "{}", refused.message);
        }
    }
}
