//! The order list: what is ordered for a job, an order a page, and what is still to be ordered, vendor by vendor.

use super::document::Document;
use super::shared::Heading;
use super::site_sheet::contract_of;
use super::wording;
use crate::job::before_work::{Begins, begins};
use crate::job::colors::{ColoredPart, colored_parts};
use crate::job::order::{ToBuy, by_hand_in_words, not_ordered, orders};
use crate::phrase::with_line_and_color;
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use ledger::Id;
use ledger::facts::{ColorChoice, OrderLine as Ordered, Part, PurchaseOrder};
use paperwork::papers::{OrderLine, OrderList, VendorOrder};
use std::collections::BTreeMap;
use trade::{Item, Money, Qty};

/// Under whom stands what no vendor has a price for.
const NO_VENDOR: &str = "Vendor to be chosen";

/// The order list of a job: its orders as they were placed, and what its contract names beyond them at today's lowest
/// prices.
///
/// # Errors
/// When there is no such job, or it has no contract yet, or nothing is bought for it.
pub fn order_list(desk: &Desk, job: &str, with_prices: bool) -> Result<Document, OfficeError> {
    let id = Directory::default().id(desk.books(), "job", "job", job)?;
    let heading = Heading::of(desk, id)?;
    let contract = contract_of(desk, id)?.fact;
    let books = desk.books();
    let parts: BTreeMap<Id, Part> = books.current(|part: &Part| part.revises)?;
    let choices: Vec<ColorChoice> =
        books.by(ColorChoice::job, id)?.into_iter().map(|held| held.fact).collect();
    let colored = colored_parts(books, &contract, &choices)?;
    let items: BTreeMap<Id, Item> =
        contract.parts.iter().filter_map(|part| Some((part.part?, part.item))).collect();
    let mut pages: Vec<VendorOrder> = Vec::new();
    for (_, order) in orders(books, id)? {
        let vendor = heading.names.vendor(order.vendor);
        pages.push(placed(&order, vendor, &parts, &items, with_prices));
    }
    let mut open: BTreeMap<String, Vec<OrderLine>> = BTreeMap::new();
    let left = not_ordered(books, id, &contract, desk.clock.today())?;
    for buy in left.buy {
        let Some(part) = parts.get(&buy.part) else { continue };
        let vendor = buy.vendor.map_or_else(|| NO_VENDOR.to_owned(), |vendor| heading.names.vendor(vendor));
        open.entry(vendor).or_default().push(open_line(&buy, part, &colored, with_prices));
    }
    pages.extend(open.into_iter().map(|(vendor, lines)| page(vendor, lines, with_prices)));
    if pages.is_empty() {
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
        planned: planned(&begins(books, id)?, &heading),
        vendors: pages,
        note: by_hand_in_words(&left.by_hand),
        with_prices,
    };
    heading.document("order list", paper.render())
}

/// When work begins, how long it takes and who does it.
fn planned(begins: &Begins, heading: &Heading) -> String {
    let crew = begins.crew.map(|crew| heading.names.crew(crew));
    [Some(begins.words()), begins.days_words(), crew].into_iter().flatten().collect::<Vec<_>>().join("; ")
}

fn page(vendor: String, lines: Vec<OrderLine>, with_prices: bool) -> VendorOrder {
    let total: Money = lines.iter().filter_map(|line| line.amount).sum();
    VendorOrder {
        vendor,
        number: None,
        ordered_on: None,
        needed_by: None,
        lines,
        total: with_prices.then_some(total),
    }
}

/// An order as it was placed, at the amounts that stand in it.
fn placed(
    order: &PurchaseOrder,
    vendor: String,
    parts: &BTreeMap<Id, Part>,
    items: &BTreeMap<Id, Item>,
    with_prices: bool,
) -> VendorOrder {
    let lines = order.lines.iter().map(|line| placed_line(line, parts, items, with_prices)).collect();
    VendorOrder {
        number: Some(order.number.clone()),
        ordered_on: Some(order.date),
        needed_by: order.expected_on,
        ..page(vendor, lines, with_prices)
    }
}

fn placed_line(
    line: &Ordered,
    parts: &BTreeMap<Id, Part>,
    items: &BTreeMap<Id, Item>,
    with_prices: bool,
) -> OrderLine {
    let part = line.part.and_then(|id| parts.get(&id));
    let place = line.part.and_then(|id| items.get(&id)).map(|item| item.label()).unwrap_or_default();
    let quantity = line.quantity.filter(|quantity| !quantity.is_zero());
    OrderLine {
        part: line.description.clone().or_else(|| part.map(|part| part.title.clone())).unwrap_or_default(),
        package: line.unit.clone().unwrap_or_default(),
        count: quantity.unwrap_or(Qty::from_e4(10_000)),
        covers: part.map(|part| wording::amount(part.covers, part.item.measure())).unwrap_or_default(),
        place: place.to_owned(),
        price: quantity.filter(|_| with_prices).map(|quantity| trade::price_behind(line.amount, quantity)),
        amount: with_prices.then_some(line.amount),
    }
}

fn open_line(buy: &ToBuy, part: &Part, colored: &[ColoredPart], with_prices: bool) -> OrderLine {
    let price = buy.price.filter(|_| with_prices);
    let colored = colored.iter().find(|colored| colored.part == buy.part);
    let open = colored.is_some_and(ColoredPart::is_open).then_some("COLOR OPEN: do not order yet");
    let color = colored.and_then(|colored| colored.color.as_deref()).or(open);
    OrderLine {
        part: with_line_and_color(&part.title, part.product_line.as_deref(), color),
        package: part.package.clone(),
        count: buy.packages,
        covers: wording::amount(part.covers, part.item.measure()),
        place: buy.item.label().to_owned(),
        price,
        amount: price.map(|price| trade::line_amount(price, buy.packages)),
    }
}
