//! The papers: what leaves the building as a PDF, made from the facts (or from an estimate) and set by `paperwork`.
//!
//! Each is the same to the byte for the same facts and the same day.

mod change_order;
mod completion;
mod document;
mod insulation_receipt;
mod invoice;
mod lead_receipt;
mod month_pack;
mod notices;
mod order_list;
mod proposal;
mod shared;
mod site_sheet;
mod statement;
mod wording;

pub use change_order::change_order_paper;
pub use completion::completion_packet;
pub use document::Document;
pub use insulation_receipt::insulation_receipt;
pub use invoice::invoice_paper;
pub use lead_receipt::lead_receipt;
pub use month_pack::month_pack;
pub use order_list::order_list;
pub use proposal::proposal;
pub(crate) use proposal::signed_on;
pub use site_sheet::site_sheet;
pub use statement::customer_statement;

use crate::estimate::Estimate;
use desk::OfficeError;
use desk::names::Directory;
use desk::{Act, Desk};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use trade::Month;

/// Which paper is wanted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(tag = "paper", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Wanted {
    /// The proposal of an estimate.
    Proposal {
        /// The job's number.
        job: String,
        /// The estimate as it stands.
        estimate: Box<Estimate>,
        /// The letter that was taken, if one is.
        chosen: Option<String>,
    },
    /// The proposal as it was signed, kept since.
    SignedProposal {
        /// The job's number.
        job: String,
    },
    /// What the crew takes to the roof.
    SiteSheet {
        /// The job's number.
        job: String,
    },
    /// What is bought, vendor by vendor.
    OrderList {
        /// The job's number.
        job: String,
        /// Whether prices stand on it.
        with_prices: bool,
    },
    /// A change order.
    ChangeOrder {
        /// Its id, or `JOB/NUMBER`.
        id: String,
    },
    /// An invoice.
    Invoice {
        /// Its id, or its number.
        id: String,
    },
    /// What a customer owes, as of a day.
    Statement {
        /// The customer's id, or their name.
        customer: String,
        /// The day; today when left out.
        #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
        on: Option<Date>,
    },
    /// What the homeowner gets at the end.
    Completion {
        /// The job's number.
        job: String,
        /// Whether open points stand in it, where they would block it otherwise.
        listing_open: bool,
    },
    /// What the homeowner is told of the insulation that was put in.
    InsulationReceipt {
        /// The job's number.
        job: String,
    },
    /// The receipt for the pamphlet on lead.
    LeadReceipt {
        /// The job's number.
        job: String,
    },
    /// The owner's month end.
    MonthPack {
        /// The month.
        month: Month,
    },
}

impl Wanted {
    /// What whoever asks for it comes for: cost and margin are the owner's, the whole price is not the crew's.
    #[must_use]
    pub fn act(&self) -> Act {
        match self {
            Wanted::SiteSheet { .. }
            | Wanted::ChangeOrder { .. }
            | Wanted::Completion { .. }
            | Wanted::InsulationReceipt { .. }
            | Wanted::LeadReceipt { .. } => Act::PrintForSite,
            Wanted::Invoice { .. } | Wanted::Statement { .. } => Act::PrintInvoice,
            Wanted::Proposal { .. }
            | Wanted::SignedProposal { .. }
            | Wanted::OrderList { .. }
            | Wanted::MonthPack { .. } => Act::PrintForOwner,
        }
    }
}

/// The proposal that was signed, as it was kept then.
///
/// # Errors
/// When none was kept with the contract, or its file is gone or damaged.
fn signed_proposal(desk: &Desk, job: &str) -> Result<Document, OfficeError> {
    let id = Directory::default().id(desk.books(), "job", "job", job)?;
    let contract = site_sheet::contract_of(desk, id)?;
    let hash = contract.fact.proposal.ok_or_else(|| {
        OfficeError::not_found(
            "No proposal was kept with this contract.",
            "Look at the paper that was signed.",
        )
    })?;
    let (bytes, _) = desk::attachments::paper(desk, &hash.to_string())?;
    shared::document(&format!("{job} proposal as signed.pdf"), Ok(bytes))
}

/// Prints a paper.
///
/// # Errors
/// When what it is about is not there, or stands in its way.
pub fn print(desk: &Desk, wanted: &Wanted) -> Result<Document, OfficeError> {
    desk.check(wanted.act())?;
    match wanted {
        Wanted::Proposal { job, estimate, chosen } => proposal(desk, job, estimate, chosen.as_deref()),
        Wanted::SignedProposal { job } => signed_proposal(desk, job),
        Wanted::SiteSheet { job } => site_sheet(desk, job),
        Wanted::OrderList { job, with_prices } => order_list(desk, job, *with_prices),
        Wanted::ChangeOrder { id } => change_order_paper(desk, id),
        Wanted::Invoice { id } => invoice_paper(desk, id),
        Wanted::Statement { customer, on } => {
            customer_statement(desk, customer, on.unwrap_or_else(|| desk.clock.today()))
        }
        Wanted::Completion { job, listing_open } => completion_packet(desk, job, *listing_open),
        Wanted::InsulationReceipt { job } => insulation_receipt(desk, job),
        Wanted::LeadReceipt { job } => lead_receipt(desk, job),
        Wanted::MonthPack { month } => month_pack(desk, *month),
    }
}
