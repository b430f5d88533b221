//! The facts that move money, as they were booked in the month.

use super::parts::Window;
use desk::OfficeError;
use ledger::Books;
use ledger::booked::Booked;
use ledger::facts::{
    Allocation, Bill, DirectCost, Invoice, OverheadCost, Payment, Refund, RetainageRelease, TimeEntry,
    VendorPayment,
};
use ledger::kind::FactRow;
use trade::Month;

/// The month's facts, kind by kind, each in the order of devices and numbers; reversals among them.
#[derive(Clone, Debug, Default)]
pub(super) struct Facts {
    pub(super) bills: Vec<Booked<Bill>>,
    pub(super) direct_costs: Vec<Booked<DirectCost>>,
    pub(super) times: Vec<Booked<TimeEntry>>,
    pub(super) invoices: Vec<Booked<Invoice>>,
    pub(super) releases: Vec<Booked<RetainageRelease>>,
    pub(super) payments: Vec<Booked<Payment>>,
    pub(super) allocations: Vec<Booked<Allocation>>,
    pub(super) refunds: Vec<Booked<Refund>>,
    pub(super) overhead_costs: Vec<Booked<OverheadCost>>,
    pub(super) vendor_payments: Vec<Booked<VendorPayment>>,
}

impl Facts {
    /// Reads a month.
    pub(super) fn read(books: Books<'_>, month: Month) -> Result<Facts, OfficeError> {
        Ok(Facts {
            bills: books.booked_in(month)?,
            direct_costs: books.booked_in(month)?,
            times: books.booked_in(month)?,
            invoices: books.booked_in(month)?,
            releases: books.booked_in(month)?,
            payments: books.booked_in(month)?,
            allocations: books.booked_in(month)?,
            refunds: books.booked_in(month)?,
            overhead_costs: books.booked_in(month)?,
            vendor_payments: books.booked_in(month)?,
        })
    }

    /// Those of one part.
    pub(super) fn within(&self, window: &Window) -> Facts {
        fn within<T: FactRow + Clone>(booked: &[Booked<T>], window: &Window) -> Vec<Booked<T>> {
            booked.iter().filter(|one| window.holds(&one.entry)).cloned().collect()
        }
        Facts {
            bills: within(&self.bills, window),
            direct_costs: within(&self.direct_costs, window),
            times: within(&self.times, window),
            invoices: within(&self.invoices, window),
            releases: within(&self.releases, window),
            payments: within(&self.payments, window),
            allocations: within(&self.allocations, window),
            refunds: within(&self.refunds, window),
            overhead_costs: within(&self.overhead_costs, window),
            vendor_payments: within(&self.vendor_payments, window),
        }
    }

    /// Whether there are none.
    pub(super) fn is_empty(&self) -> bool {
        self.bills.is_empty()
            && self.direct_costs.is_empty()
            && self.times.is_empty()
            && self.invoices.is_empty()
            && self.releases.is_empty()
            && self.payments.is_empty()
            && self.allocations.is_empty()
            && self.refunds.is_empty()
            && self.overhead_costs.is_empty()
            && self.vendor_payments.is_empty()
    }
}
