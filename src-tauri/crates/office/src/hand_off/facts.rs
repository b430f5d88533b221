//! The facts that move money, as they were booked in the month.

use super::parts::Window;
use crate::error::OfficeError;
use ledger::Books;
use ledger::booked::Booked;
use ledger::facts::{Application, Charge, Invoice, Payment, Receipt, RetainageRelease, Time};
use ledger::kind::FactRow;
use trade::Month;

/// The month's facts, kind by kind, each in the order of devices and numbers; reversals among them.
#[derive(Clone, Debug, Default)]
pub(super) struct Facts {
    pub(super) receipts: Vec<Booked<Receipt>>,
    pub(super) charges: Vec<Booked<Charge>>,
    pub(super) times: Vec<Booked<Time>>,
    pub(super) invoices: Vec<Booked<Invoice>>,
    pub(super) releases: Vec<Booked<RetainageRelease>>,
    pub(super) payments: Vec<Booked<Payment>>,
    pub(super) applications: Vec<Booked<Application>>,
}

impl Facts {
    /// Reads a month.
    pub(super) fn read(books: Books<'_>, month: Month) -> Result<Facts, OfficeError> {
        Ok(Facts {
            receipts: books.booked_in(month)?,
            charges: books.booked_in(month)?,
            times: books.booked_in(month)?,
            invoices: books.booked_in(month)?,
            releases: books.booked_in(month)?,
            payments: books.booked_in(month)?,
            applications: books.booked_in(month)?,
        })
    }

    /// Those of one part.
    pub(super) fn within(&self, window: &Window) -> Facts {
        fn some<T: FactRow + Clone>(booked: &[Booked<T>], window: &Window) -> Vec<Booked<T>> {
            booked.iter().filter(|one| window.holds(&one.entry)).cloned().collect()
        }
        Facts {
            receipts: some(&self.receipts, window),
            charges: some(&self.charges, window),
            times: some(&self.times, window),
            invoices: some(&self.invoices, window),
            releases: some(&self.releases, window),
            payments: some(&self.payments, window),
            applications: some(&self.applications, window),
        }
    }

    /// Whether there are none.
    pub(super) fn is_empty(&self) -> bool {
        self.receipts.is_empty()
            && self.charges.is_empty()
            && self.times.is_empty()
            && self.invoices.is_empty()
            && self.releases.is_empty()
            && self.payments.is_empty()
            && self.applications.is_empty()
    }
}
