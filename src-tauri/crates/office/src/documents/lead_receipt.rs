//! The receipt for the pamphlet on lead, for a house built before 1978 and no other (40 CFR 745.84).

use super::document::Document;
use super::shared::Heading;
use crate::job::before_work::{begins, ended, pamphlets, shown_by, site, standing};
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use desk::settings::firm_on;
use jiff::civil::Date;
use ledger::closed_lists::JobStatusWord;
use ledger::facts::LeadPamphlet;
use paperwork::papers::{self, PamphletGiven};
use trade::{PamphletStanding, lead_record_until, pamphlet_days};

/// The receipt for the pamphlet on lead of a job.
///
/// # Errors
/// When there is no such job, its roof is not measured, or the house was not built before 1978.
pub fn lead_receipt(desk: &Desk, job: &str) -> Result<Document, OfficeError> {
    let books = desk.books();
    let id = Directory::default().id(books, "job", "job", job)?;
    let heading = Heading::of(desk, id)?;
    match site(books, id)?.built_before_1978 {
        Some(true) => {}
        Some(false) => {
            return Err(OfficeError::not_found(
                "This house was not built before 1978, by its measured roof.",
                "If it was, say so with the roof and measure it anew; else no receipt is asked for.",
            ));
        }
        None => {
            return Err(OfficeError::not_found(
                "Nobody has said whether this house was built before 1978.",
                "Say so with the measures of its roof.",
            ));
        }
    }
    let today = desk.clock.today();
    let begins = begins(books, id)?.on;
    let days = begins.map(pamphlet_days);
    let finished = ended(books, id)?.filter(|(stage, _)| *stage == JobStatusWord::Finished);
    let paper = papers::LeadReceipt {
        firm: heading.firm.clone(),
        certificate: firm_on(books, today)?.lead_certificate,
        customer: heading.customer.clone(),
        site: heading.job.site.clone(),
        job: heading.job.title.clone(),
        number: heading.job.number.clone(),
        date: today,
        begins,
        earliest: days.map(|(earliest, _)| earliest),
        mailed_by: days.map(|(_, mailed_by)| mailed_by),
        given: pamphlets(books, id)?.iter().map(|pamphlet| given(pamphlet, begins)).collect(),
        kept_until: finished.map(|(_, on)| lead_record_until(on)),
    };
    heading.document("lead pamphlet receipt", paper.render())
}

fn given(pamphlet: &LeadPamphlet, begins: Option<Date>) -> PamphletGiven {
    let standing = begins.map(|begins| match standing(pamphlet, begins) {
        PamphletStanding::InTime => "in time".to_owned(),
        PamphletStanding::TooEarly { days } => format!("{days} days before: more than 60"),
        PamphletStanding::MailedTooLate { days } => format!("mailed {days} days before: fewer than 7"),
        PamphletStanding::AfterTheBeginning => "after work began".to_owned(),
    });
    PamphletGiven {
        on: pamphlet.date,
        to: pamphlet.given_to.clone(),
        how: shown_by(pamphlet.shown_by).to_owned(),
        standing: standing.unwrap_or_else(|| "not planned yet".to_owned()),
    }
}
