//! The papers: what leaves the building as a PDF, made from the facts (or from an estimate) and set by `paperwork`.
//!
//! Each is the same to the byte for the same facts and the same day.

mod change_order;
mod completion;
mod invoice;
mod month_pack;
mod order_list;
mod proposal;
mod shared;
mod site_sheet;
mod words;

pub use change_order::change_order_paper;
pub use completion::completion_packet;
pub use invoice::invoice_paper;
pub use month_pack::month_pack;
pub use order_list::order_list;
pub use proposal::proposal;
pub use site_sheet::site_sheet;

/// A paper, ready to be saved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Document {
    /// A name for its file.
    pub name: String,
    /// The PDF.
    pub bytes: Vec<u8>,
}
