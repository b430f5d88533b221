//! The papers: what a homeowner, a crew, a supplier or the owner holds in the hand, as PDF.
//!
//! Each paper is a struct of plain values and one `render`, which gives the bytes of a tagged, accessible PDF
//! (PDF/UA-1) on US Letter with its fonts inside. Nothing is worked out here: every amount, count and date comes in
//! with the struct. The same struct gives the same bytes: the document's date is the paper's own and its id is made
//! from its contents.
//!
//! The looks are in `papers/*.typ`: `common.typ` is common to all, `figures.typ` is the one place where money,
//! quantities and dates become text, and each paper has a template of its own name. Values reach a template as data
//! and never as markup, so that whatever a person typed comes out as it was typed.

pub mod change_order;
pub mod completion;
pub mod insulation;
pub mod invoice;
pub mod lead;
pub mod letters;
pub mod month_end;
pub mod order_list;
pub mod party;
pub mod picture;
mod press;
pub mod proposal;
pub mod site_sheet;
pub mod statement;

pub use change_order::{
    ChangeOrderPaper, Decision, DecisionChoice, EndDate, IncludedUsed, PriceLine, Pricing, TaxAmount,
};
pub use completion::{
    CompletionPacket, Inspection, InstalledPart, OpenPoint, Repaired, Warranty, WorkmanshipCheck,
};
pub use insulation::{Insulated, InsulationReceipt};
pub use invoice::{ContractStanding, InvoiceKind, InvoiceLine, InvoicePaper, InvoiceTax, Payment, Retained};
pub use lead::{LeadReceipt, PamphletGiven};
pub use month_end::{
    AgeBucket, BillingLine, ForecastChange, JobRank, JobRow, JobWalk, LooseEnd, MonthEndPack, MonthFigure,
    RecoveryLine,
};
pub use order_list::{OrderLine, OrderList, VendorOrder};
pub use party::{Firm, Party};
pub use picture::{
    Bar, Bars, CutList, EdgeShape, Mark, Photo, PieceShape, Pin, RoofPicture, SectionShape, SheetShape, Walk,
};
pub use proposal::{
    Cancellation, Choice, ChoiceRow, DrawnAt, Notice, Offer, PaymentStep, Proposal, SystemPart, UnitPrice,
};
pub use site_sheet::{CheckLine, CrewMember, IncludedAmount, PlaceMaterial, Said, SiteSheet};
pub use statement::{StatementInvoice, StatementMove, StatementPaper};
