//! What the law has put in words: the right to cancel a sale made at home, and a state's own notices.

use super::shared::Heading;
use desk::OfficeError;
use desk::settings::notices_on;
use jiff::civil::Date;
use ledger::Books;
use ledger::closed_lists::NoticeOf;
use paperwork::papers::{self, Cancellation};

/// The right to cancel of 16 CFR 429, with the dates of a contract once it is signed. Until then they are left to be
/// filled in: nobody knows on which day a proposal will be signed.
///
/// # Errors
/// When the address of the firm's place of business is not entered. The rule wants it on both copies before they are
/// handed over (16 CFR 429.1(c)); a form without it may leave the right to cancel open for good, so that none is
/// printed.
pub(super) fn cancellation(heading: &Heading, signed_on: Option<Date>) -> Result<Cancellation, OfficeError> {
    let firm = &heading.firm;
    let Some(street) = &firm.street else {
        return Err(OfficeError::refused(
            "street",
            "the notice of cancellation names the seller's street address (16 CFR 429.1), and none is entered",
            "Enter it among the firm's settings; or say that this is not sold at the customer's home, if it is not",
        ));
    };
    let state =
        [Some(firm.state.as_str()), firm.zip.as_deref()].into_iter().flatten().collect::<Vec<_>>().join(" ");
    Ok(Cancellation {
        signed_on,
        last_day: signed_on.map(trade::cancel_by),
        address: format!("{street}, {}, {state}", firm.town),
        phone: firm.phone.clone(),
    })
}

/// The notices of a state as they are printed on a day. That of the right to cancel belongs to a sale made at home.
///
/// # Errors
/// When they cannot be read.
pub(super) fn of_state(
    books: Books<'_>,
    state: &str,
    day: Date,
    sold_at_home: bool,
) -> Result<Vec<papers::Notice>, OfficeError> {
    let printed = notices_on(books, day)?
        .into_iter()
        .filter(|notice| notice.state == state && (sold_at_home || notice.about != NoticeOf::Cancellation));
    Ok(printed
        .map(|notice| papers::Notice {
            about: notice.about.as_str().to_owned(),
            heading: notice.heading,
            text: notice.text,
            copies: notice.copies,
            least_points: notice.least_points,
            bold: notice.bold,
        })
        .collect())
}
