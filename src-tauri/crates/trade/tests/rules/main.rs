//! The trade's rules as whoever calls them meets them. One program, not fifteen: nearly all of the time of a change to
//! a rule went into linking them.
#![allow(clippy::unwrap_used, reason = "a test that cannot read its own figures should stop")]

mod amounts;
mod burden;
mod company_rules;
mod cut_list;
mod expected;
mod figures;
mod hidden_price;
mod identities;
mod job_cost;
mod money_in;
mod patch;
mod pay;
mod roof;
mod site;
mod typed;
mod week;
