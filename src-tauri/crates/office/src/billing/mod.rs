//! What the customer is sent for payment.

pub mod invoice;
pub(crate) mod terms;
