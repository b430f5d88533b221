//! Ordering what a contract names: an order for each vendor, of what is not ordered yet.

use crate::rates::RateBook;
use desk::Desk;
use desk::OfficeError;
use desk::names::{Directory, Names};
use desk::numbering::Numbering;
use jiff::civil::Date;
use ledger::facts::{ColorChoice, Contract, OrderLine, Part, PurchaseOrder};
use ledger::{Books, Fact, Id};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use trade::{CostKind, Item, Money, Qty, Rate};

use super::before_work::begins;
use super::colors::{ColoredPart, colored_parts};
use crate::phrase::with_line_and_color;
use trade::shown::day;

/// An order that was placed.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct PlacedOrder {
    /// Its id.
    pub id: String,
    /// Its number.
    pub number: String,
    /// From whom.
    pub vendor: String,
    /// By when it is wanted on site.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub needed_by: Date,
    /// What it comes to, before tax.
    pub amount: Money,
    /// What is to be checked about the job's orders.
    pub cautions: Vec<String>,
}

/// A part that a contract names, with how many packages of it.
pub(crate) struct ToBuy {
    /// The item of the roof.
    pub(crate) item: Item,
    /// The part.
    pub(crate) part: Id,
    /// The color that was chosen.
    pub(crate) color: Option<String>,
    /// Whole packages.
    pub(crate) packages: Qty,
    /// The lowest price of a package, where there is one.
    pub(crate) price: Option<Rate>,
    /// Whose price that is.
    pub(crate) vendor: Option<Id>,
}

/// A line of an order.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OrderedLine {
    /// The code.
    pub code: String,
    /// The kind of cost.
    pub cost_kind: CostKind,
    /// What.
    pub description: Option<String>,
    /// How many.
    pub quantity: Option<Qty>,
    /// Of what unit.
    pub unit: Option<String>,
    /// For how much.
    pub amount: Money,
    /// The id of the firm's part, where it names one.
    pub part: Option<String>,
}

/// The lines of an order, as they are billed and ticked.
pub(crate) fn ordered_lines(lines: &[OrderLine], names: &Names) -> Vec<OrderedLine> {
    let view = |line: &OrderLine| OrderedLine {
        code: names.code(line.code),
        cost_kind: line.cost_kind,
        description: line.description.clone(),
        quantity: line.quantity,
        unit: line.unit.clone(),
        amount: line.amount,
        part: line.part.map(|part| part.to_string()),
    };
    lines.iter().map(view).collect()
}

/// The live orders of a job, oldest first.
pub(crate) fn orders(books: Books<'_>, job: Id) -> Result<Vec<(Id, PurchaseOrder)>, OfficeError> {
    let mut orders: Vec<(Id, PurchaseOrder)> =
        books.by(PurchaseOrder::job, job)?.into_iter().map(|held| (held.entry.id, held.fact)).collect();
    orders.sort_by_key(|(_, order)| order.date);
    Ok(orders)
}

/// What is left to order for a job.
pub(crate) struct Left {
    /// Part by part, with prices.
    pub(crate) buy: Vec<ToBuy>,
    /// The numbers of live orders with material under a line that names no part.
    pub(crate) by_hand: Vec<String>,
}

/// What a contract names and no live order of the job has: material alone, at the lowest price of a day. Where a line
/// of an order names no part, nobody can say what of its code is on it: all that the contract names under that code is
/// taken to be, so that nothing is bought twice unsaid.
pub(crate) fn not_ordered(
    books: Books<'_>,
    job: Id,
    contract: &Contract,
    day: Date,
) -> Result<Left, OfficeError> {
    let mut ordered: BTreeMap<Id, Qty> = BTreeMap::new();
    let (mut codes, mut by_hand) = (BTreeSet::new(), Vec::new());
    for (_, order) in orders(books, job)? {
        for line in &order.lines {
            match (line.part, line.quantity) {
                (Some(part), Some(quantity)) => *ordered.entry(part).or_default() += quantity,
                (None, _) if line.cost_kind == CostKind::Material => {
                    codes.insert(line.code);
                    by_hand.push(order.number.clone());
                }
                _ => {}
            }
        }
    }
    by_hand.dedup();
    let parts: BTreeMap<Id, Part> = books.current(|part: &Part| part.revises)?;
    let rates = RateBook::read(books)?;
    let choices: Vec<ColorChoice> =
        books.by(ColorChoice::job, job)?.into_iter().map(|held| held.fact).collect();
    let colored = colored_parts(books, contract, &choices)?;
    let mut left = Vec::new();
    for contracted in &contract.parts {
        let Some(id) = contracted.part else { continue };
        let is_left = |part: &Part| part.cost_kind == CostKind::Material && !codes.contains(&part.code);
        if !parts.get(&id).is_some_and(is_left) {
            continue;
        }
        let had = ordered.entry(id).or_default();
        let covered = (*had).min(contracted.packages);
        *had -= covered;
        let packages = contracted.packages - covered;
        if packages.is_positive() {
            let price = rates.price(id, day);
            left.push(ToBuy {
                item: contracted.item,
                part: id,
                color: colored.iter().find(|part| part.part == id).and_then(|part| part.color.clone()),
                packages,
                price: price.map(|price| price.price),
                vendor: price.and_then(|price| price.vendor),
            });
        }
    }
    Ok(Left { buy: left, by_hand })
}

/// What is said of orders whose lines name no part.
pub(crate) fn by_hand_in_words(numbers: &[String]) -> Option<String> {
    let (first, others) = numbers.split_first()?;
    let orders = others.iter().fold(first.clone(), |all, number| format!("{all}, {number}"));
    let verb = if others.is_empty() { "has lines" } else { "have lines" };
    Some(format!(
        "{orders} {verb} that name no part: what the contract names under their codes is taken to be ordered there. \
         Check that it is."
    ))
}

/// Places the orders of a job: of each vendor one, with a number of its own, for what the contract names and no order
/// has yet. Without a day on which it is needed, it is needed on the day on which work is planned to begin.
///
/// # Errors
/// When there is no such job or contract, nothing is left to order, or nobody said when it is needed.
pub fn place_orders(
    desk: &mut Desk,
    job: &str,
    on: Date,
    needed_by: Option<Date>,
) -> Result<Vec<PlacedOrder>, OfficeError> {
    let (drawn, by_hand) = desk.books().in_one_read(|books| draw_up(books, job, on, needed_by))?;
    let ids = desk.record(drawn.iter().map(|(order, _)| Fact::from(order.clone())).collect())?;
    let placed = drawn.into_iter().zip(ids).map(|((order, vendor), id)| PlacedOrder {
        id: id.to_string(),
        number: order.number,
        vendor,
        needed_by: order.expected_on.unwrap_or(on),
        amount: order.lines.iter().map(|line| line.amount).sum(),
        cautions: by_hand_in_words(&by_hand).into_iter().collect(),
    });
    Ok(placed.collect())
}

/// Orders with their vendors' names.
type Drawn = Vec<(PurchaseOrder, String)>;

/// The orders as they will be; and the numbers of those whose lines name no part.
fn draw_up(
    books: Books<'_>,
    job: &str,
    on: Date,
    needed_by: Option<Date>,
) -> Result<(Drawn, Vec<String>), OfficeError> {
    let id = Directory::default().id(books, "job", "job", job)?;
    let Some(contract) = books.by(Contract::job, id)?.into_iter().next() else {
        return Err(OfficeError::not_found(
            "This job has no contract yet.",
            "Accept a choice of its estimate first.",
        ));
    };
    let Some(needed_by) = needed_by.or(begins(books, id)?.on) else {
        return Err(OfficeError::refused(
            "needed_by",
            "nobody has said when the material is needed on site",
            "Plan the day on which work begins, or say the day",
        ));
    };
    if needed_by < on {
        return Err(OfficeError::refused(
            "needed_by",
            &format!("{} is before the day of the order, {}", day(needed_by), day(on)),
            "Check both days",
        ));
    }
    let Left { buy: left, by_hand } = not_ordered(books, id, &contract.fact, on)?;
    no_open_color(books, id, &contract.fact, &left)?;
    let mut by_vendor: BTreeMap<Id, Vec<ToBuy>> = BTreeMap::new();
    for buy in left {
        if let (Some(vendor), Some(_)) = (buy.vendor, buy.price) {
            by_vendor.entry(vendor).or_default().push(buy);
        }
    }
    if by_vendor.is_empty() {
        return Err(OfficeError::not_found(
            "Nothing is left to order: what the contract names is ordered, or no vendor has a price for it.",
            by_hand_in_words(&by_hand).unwrap_or_else(|| {
                "Look at the order list: what has no vendor stands at its end.".to_owned()
            }),
        ));
    }
    let names = Names::read(books)?;
    let parts: BTreeMap<Id, Part> = books.current(|part: &Part| part.revises)?;
    let mut used: Vec<String> =
        books.all_with_reversed::<PurchaseOrder>()?.into_iter().map(|held| held.fact.number).collect();
    let numbering = Numbering::read(books)?;
    let mut orders = Vec::new();
    for (vendor, bought) in by_vendor {
        let number = numbering.next(used.iter().map(String::as_str));
        used.push(number.clone());
        let lines = bought.iter().filter_map(|buy| order_line(buy, parts.get(&buy.part)?)).collect();
        let order = PurchaseOrder { date: on, job: id, vendor, number, expected_on: Some(needed_by), lines };
        orders.push((order, names.vendor(vendor)));
    }
    Ok((orders, by_hand))
}

/// Refuses to order while the homeowner still has to choose a color of what is left to order: all of them are named, so
/// that one question settles them.
fn no_open_color(books: Books<'_>, job: Id, contract: &Contract, left: &[ToBuy]) -> Result<(), OfficeError> {
    let choices: Vec<ColorChoice> =
        books.by(ColorChoice::job, job)?.into_iter().map(|held| held.fact).collect();
    let colored = colored_parts(books, contract, &choices)?;
    let is_left = |part: &&ColoredPart| left.iter().any(|buy| buy.part == part.part);
    let open: Vec<String> = colored
        .iter()
        .filter(|part| part.is_open())
        .filter(is_left)
        .map(|part| format!("{} ({})", part.title, part.offered.join(", ")))
        .collect();
    if open.is_empty() {
        return Ok(());
    }
    Err(OfficeError::refused(
        "color",
        &format!(
            "the homeowner has still to choose the color of {}; nothing was ordered",
            open.join(" and of ")
        ),
        "Record the color that they choose, then order",
    ))
}

fn order_line(buy: &ToBuy, part: &Part) -> Option<OrderLine> {
    Some(OrderLine {
        code: part.code,
        cost_kind: part.cost_kind,
        description: Some(with_line_and_color(
            &part.title,
            part.product_line.as_deref(),
            buy.color.as_deref(),
        )),
        quantity: Some(buy.packages),
        unit: Some(part.package.clone()),
        amount: trade::line_amount(buy.price?, buy.packages),
        part: Some(buy.part),
    })
}
