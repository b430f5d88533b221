//! The order list: what is bought of whom, a vendor a page.

use jiff::civil::Date;
use serde::Serialize;
use trade::{Money, Qty, Rate};

use super::Firm;
use super::press::{self, Kind};
use crate::PaperError;

/// What is ordered for a job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OrderList {
    /// Who orders.
    pub firm: Firm,
    /// The job's name.
    pub job: String,
    /// The job's number.
    pub number: String,
    /// Where it is delivered.
    pub site: String,
    /// The list's date.
    pub date: Date,
    /// When work begins and who does it, in words.
    pub planned: String,
    /// A page for each vendor.
    pub vendors: Vec<VendorOrder>,
    /// What is to be known before anything is ordered.
    pub note: Option<String>,
    /// Whether prices are shown.
    pub with_prices: bool,
}

/// What one vendor delivers.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct VendorOrder {
    /// The vendor.
    pub vendor: String,
    /// The order's number; absent while it is not placed.
    pub number: Option<String>,
    /// When it was placed.
    pub ordered_on: Option<Date>,
    /// By when it is wanted on site.
    pub needed_by: Option<Date>,
    /// What is ordered.
    pub lines: Vec<OrderLine>,
    /// The sum, where prices are known.
    pub total: Option<Money>,
}

/// One line of an order.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OrderLine {
    /// The part.
    pub part: String,
    /// The package it comes in.
    pub package: String,
    /// How many packages.
    pub count: Qty,
    /// What one package, or all of them, covers, in words.
    pub covers: String,
    /// For which place.
    pub place: String,
    /// The price of a package.
    pub price: Option<Rate>,
    /// The line's amount.
    pub amount: Option<Money>,
}

impl OrderList {
    /// The paper as a PDF.
    ///
    /// # Errors
    /// If it cannot be set, which is a fault of the program's own.
    pub fn render(&self) -> Result<Vec<u8>, PaperError> {
        press::print(Kind::OrderList, &self.firm, self, &[])
    }
}
