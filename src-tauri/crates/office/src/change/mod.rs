//! Changes: the hidden condition, what the homeowner is asked, the decision, and what it comes to.

pub mod allowance;
pub mod ask;
pub mod contradiction;
pub mod damage;
pub mod settle;
pub mod sheet;
