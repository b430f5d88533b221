//! What the customer is sent for payment, and what vendors send.

pub mod bank;
pub mod bill_desk;
pub mod clearing;
pub mod invoice;
pub mod job_billing;
pub(crate) mod matched;
pub mod payables;
pub mod statement;
pub mod subcontractors;
pub(crate) mod terms;
pub mod vendor_statement;
