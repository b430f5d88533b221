//! The order list: what is bought for a job, vendor by vendor.

use super::document::Document;
use super::shared::Heading;
use super::site_sheet::contract_of;
use super::wording;
use crate::rates::{RateBook, item_title};
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use ledger::Id;
use ledger::facts::{ContractPart, Part};
use paperwork::papers::{OrderLine, OrderList, VendorOrder};
use std::collections::BTreeMap;
use trade::{CostKind, Money, Rate};

/// The order list of a job's contract, at today's lowest prices.
///
/// # Errors
/// When there is no such job, or it has no contract yet, or nothing is bought for it.
pub fn order_list(desk: &Desk, job: &str, with_prices: bool) -> Result<Document, OfficeError> {
    let id = Directory::default().id(desk.books(), "job", "job", job)?;
    let heading = Heading::of(desk, id)?;
    let contract = contract_of(desk, id)?.fact;
    let parts: BTreeMap<Id, Part> = desk.books().current(|part: &Part| part.revises)?;
    let (rates, today) = (RateBook::read(desk.books())?, desk.clock.today());
    let mut vendors: BTreeMap<String, Vec<OrderLine>> = BTreeMap::new();
    for contracted in contract.parts.iter().filter(|part| !part.packages.is_zero()) {
        let Some((id, part)) = contracted.part.and_then(|id| Some((id, parts.get(&id)?))) else { continue };
        if part.cost_kind != CostKind::Material {
            continue;
        }
        let price = rates.price(id, today);
        let vendor = price.and_then(|price| price.vendor).map(|vendor| heading.names.vendor(vendor));
        let line = order_line(contracted, part, price.map(|price| price.price).filter(|_| with_prices));
        vendors.entry(vendor.unwrap_or_else(|| "Vendor to be chosen".to_owned())).or_default().push(line);
    }
    if vendors.is_empty() {
        return Err(OfficeError::not_found(
            "Nothing is bought for this job: its contract names no parts.",
            "Contracts made from an estimate do; this one was typed.",
        ));
    }
    let paper = OrderList {
        firm: heading.firm.clone(),
        job: heading.job.title.clone(),
        number: heading.job.number.clone(),
        site: heading.job.site.clone(),
        date: desk.clock.today(),
        vendors: vendors
            .into_iter()
            .map(|(vendor, lines)| vendor_order(vendor, lines, with_prices))
            .collect(),
        with_prices,
    };
    heading.document("order list", paper.render())
}

fn order_line(contracted: &ContractPart, part: &Part, price: Option<Rate>) -> OrderLine {
    OrderLine {
        part: part.title.clone(),
        package: part.package.clone(),
        count: contracted.packages,
        covers: wording::amount(part.covers, part.item.measure()),
        place: item_title(part.item).to_owned(),
        price,
        amount: price.map(|price| trade::line_amount(price, contracted.packages)),
    }
}

fn vendor_order(vendor: String, lines: Vec<OrderLine>, with_prices: bool) -> VendorOrder {
    let total: Money = lines.iter().filter_map(|line| line.amount).sum();
    VendorOrder {
        vendor,
        order_by: None,
        deliver_on: None,
        delivery_words: String::new(),
        lines,
        total: with_prices.then_some(total),
    }
}
