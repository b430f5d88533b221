//! A job as whoever keeps the books sees it: what it is billed and what came, without what it costs or makes.

use crate::job::page::{InvoiceView, PaymentView, job_page_of};
use desk::working_month::working_month;
use desk::{Desk, OfficeError};
use serde::Serialize;

/// Which job it is.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BilledJob {
    /// Its number.
    pub number: String,
    /// What is done.
    pub title: String,
    /// For whom.
    pub customer: String,
}

/// A change order that an invoice may bill.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BilledChange {
    /// Its id.
    pub id: String,
    /// Its number.
    pub number: String,
    /// What it is about.
    pub title: String,
}

/// What a job is billed.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct JobBilling {
    /// Which job.
    pub figures: BilledJob,
    /// Its change orders.
    pub changes: Vec<BilledChange>,
    /// Its invoices and credit memos.
    pub invoices: Vec<InvoiceView>,
    /// What came for it, and what was given back.
    pub payments: Vec<PaymentView>,
}

/// What a job is billed.
///
/// # Errors
/// When there is no such job, or the facts cannot be read.
pub fn job_billing(desk: &Desk, number: &str) -> Result<JobBilling, OfficeError> {
    desk.books().in_one_read(|books| {
        let month = working_month(desk, &books.calendar()?);
        let page = job_page_of(books, number, month)?;
        let result = page.figures.result;
        Ok(JobBilling {
            figures: BilledJob { number: result.number, title: result.title, customer: result.customer },
            changes: page
                .changes
                .into_iter()
                .map(|change| BilledChange { id: change.id, number: change.number, title: change.title })
                .collect(),
            invoices: page.invoices,
            payments: page.payments,
        })
    })
}
