//! The change order: what was found, what it costs, what happens if it is left, and the decision.

use jiff::civil::Date;
use serde::Serialize;
use trade::{Money, Qty, Rate};

use super::press::{self, Kind};
use super::{CutList, Firm, Party, Photo, RoofPicture};
use crate::PaperError;

/// What a homeowner is asked when the roof is open.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ChangeOrderPaper {
    /// Who asks.
    pub firm: Firm,
    /// Who decisions.
    pub customer: Party,
    /// Where the roof is.
    pub site: String,
    /// The job's name.
    pub job: String,
    /// The change order's number.
    pub number: String,
    /// Its date.
    pub date: Date,
    /// What it is about.
    pub title: String,
    /// Where on the roof.
    pub place: String,
    /// Why it is so.
    pub cause: String,
    /// The day it was found.
    pub found_on: Option<Date>,
    /// What it looks like.
    pub photos: Vec<Photo>,
    /// The roof with the spot pinned.
    pub roof: Option<RoofPicture>,
    /// How it was counted, in words; may be empty.
    pub count_words: String,
    /// How the sheets are cut.
    pub cut_list: Option<CutList>,
    /// The lines of the price.
    pub lines: Vec<PriceLine>,
    /// How it is priced.
    pub pricing: Pricing,
    /// What the contract's included amount covers first.
    pub included: Option<IncludedUsed>,
    /// Sales tax on it.
    pub tax: Option<TaxAmount>,
    /// What it adds to the contract; negative where it takes off.
    pub total: Money,
    /// What it does to the end date.
    pub end: EndDate,
    /// What happens if it is left as it is.
    pub if_left: String,
    /// The decision, where there is one; else lines to sign on.
    pub decision: Option<Decision>,
}

/// One line of a price.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PriceLine {
    /// What.
    pub what: String,
    /// How much.
    pub quantity: Qty,
    /// In what.
    pub unit: String,
    /// The price of one.
    pub price: Rate,
    /// The line's amount.
    pub amount: Money,
}

/// How a change is priced.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Pricing {
    /// By the contract's unit prices.
    UnitPrice,
    /// By hours and bills.
    TimeAndMaterial {
        /// What is added, as a fraction of cost.
        markup: Rate,
        /// The most it may come to.
        not_to_exceed: Option<Money>,
    },
    /// One price for all of it.
    LumpSum,
}

/// The included amount running down.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct IncludedUsed {
    /// What it is counted in, such as "sheets".
    pub unit: String,
    /// What the price covers.
    pub included: Qty,
    /// What was used before.
    pub used_before: Qty,
    /// What is used here.
    pub used_here: Qty,
    /// What is left.
    pub left: Qty,
}

/// Sales tax as one line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct TaxAmount {
    /// On what, in words.
    pub words: String,
    /// At which rate.
    pub rate: Rate,
    /// How much.
    pub amount: Money,
}

/// What a change does to the end date.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct EndDate {
    /// The end without it.
    pub before: Option<Date>,
    /// The end with it.
    pub after: Option<Date>,
    /// A word on it; may be empty.
    pub words: String,
}

/// What was decided.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum DecisionChoice {
    /// Yes.
    Approved,
    /// Yes to some lines.
    PartlyApproved,
    /// No.
    Declined,
    /// Taken back by the firm.
    Withdrawn,
}

/// A decision or a sign-off, with who, how and when.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Decision {
    /// What was decided.
    pub choice: DecisionChoice,
    /// By whom.
    pub by: String,
    /// How: signed on the glass, by phone, by text.
    pub how: String,
    /// The day.
    pub on: Date,
    /// The time of day in words; may be empty.
    pub at: String,
    /// What else was said; may be empty.
    pub note: String,
    /// The signature.
    pub signature: Option<Photo>,
}

impl ChangeOrderPaper {
    /// The paper as a PDF.
    ///
    /// # Errors
    /// If a photo cannot be read, or if the paper cannot be set, which is a fault of the program's own.
    pub fn render(&self) -> Result<Vec<u8>, PaperError> {
        let signature = self.decision.iter().filter_map(|decision| decision.signature.as_ref());
        let photos: Vec<&Photo> = self.photos.iter().chain(signature).collect();
        press::print(Kind::ChangeOrder, &self.firm, self, &photos)
    }
}
