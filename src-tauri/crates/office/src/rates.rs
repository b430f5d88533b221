//! What the firm builds with and calculates with: parts and their prices, production rates, what code and company ask,
//! what an hour of a crew costs, and the points of the workmanship checklist.
//!
//! **Invariant:** nothing here is a second copy: every figure is a fact, the newest that stands on the day asked about.

mod checklist;
mod loaded;
mod observed;
mod recipes;
mod usual;
mod usual_facts;

pub use checklist::{UsualPoint, begin_checklist, usual_points};
pub use desk::rates::{PriceOn, ProductionOn, RateBook, StandardOn, price_on, production_on, standards_on};
pub use loaded::{LoadedOn, loaded_on};
pub use observed::{Observed, Offered, observed};
pub use recipes::RecipeRow;
pub(crate) use recipes::{recipe_built, recipe_for_job, recipe_to_begin};
pub use usual::{TypedRate, asked_about, far_from_usual, told_at_once};
pub(crate) use usual_facts::usual_facts;

use desk::OfficeError;
use desk::names::Names;
use desk::rates::Dated;
use desk::{Act, Desk};
use jiff::civil::Date;
use ledger::facts::{CheckPoint, Part, Standard};
use ledger::{Books, Id};
use recipes::{recipe_rows, slopes};
use serde::Serialize;
use std::collections::BTreeMap;
use trade::roof::{Recipe, standard};
use trade::{CostKind, Item, Measure, Origin, PartFact, Qty, Rate, ShingleKind, Steepness, Topic};
use usual_facts::UsualFigures;

/// A price of a part.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct PriceRow {
    /// The price fact's id.
    pub id: String,
    /// The vendor's name; absent where the firm set the price itself.
    pub vendor: Option<String>,
    /// The vendor's id.
    pub vendor_id: Option<String>,
    /// Dollars a package, before tax.
    pub price: Rate,
    /// From this day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub since: Date,
}

/// A part as the firm buys it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct PartRow {
    /// The id of its first version.
    pub id: String,
    /// The firm's short word.
    pub name: String,
    /// What it is.
    pub title: String,
    /// The item of a roof that it answers.
    pub item: Item,
    /// That item in words.
    pub item_title: String,
    /// What the item is measured in.
    pub measure: Measure,
    /// One of that measure, in words.
    pub measure_word: String,
    /// The word of the code it is charged to.
    pub code: String,
    /// That code's id.
    pub code_id: String,
    /// Kind of cost.
    pub cost_kind: CostKind,
    /// What it is bought in.
    pub package: String,
    /// How much of the item one package covers, in the measure.
    pub covers: Qty,
    /// What its shingles are.
    pub shingle: Option<ShingleKind>,
    /// Pieces in a square.
    pub pieces_per_square: Option<Qty>,
    /// Inches of a piece that the weather sees; of starter, inches of the edge that a piece runs along.
    pub exposure_in: Option<Qty>,
    /// Nails in each piece; of underlayment, in each square.
    pub nails_each: Option<Qty>,
    /// Net free area of a vent in square inches, each piece or each foot.
    pub free_area_sqin: Option<Qty>,
    /// Cubic feet of air a minute that a power vent moves.
    pub cfm: Option<Qty>,
    /// Its product line.
    pub product_line: Option<String>,
    /// The colors it comes in.
    pub colors: Vec<String>,
    /// No longer offered.
    pub retired: bool,
    /// The newest price at each vendor, the lowest first: the first is the one an estimate takes.
    pub prices: Vec<PriceRow>,
    /// The price that an estimate takes.
    pub best: Option<PriceRow>,
    /// Whether it covers what was offered as usual, so that it is to be checked.
    pub usual: bool,
    /// Every price to this day, newest first.
    pub history: Vec<PriceRow>,
}

/// How long one measure of an item takes.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ProductionRow {
    /// The fact's id.
    pub id: String,
    /// The item.
    pub item: Item,
    /// The item in words.
    pub item_title: String,
    /// One of its measure, in words.
    pub measure_word: String,
    /// How steep.
    pub steepness: Steepness,
    /// How steep, with its slopes by the recipe that estimates begin from.
    pub steepness_title: String,
    /// On houses of this many stories and more.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub stories: i64,
    /// The word of the code the hours are charged to.
    pub code: String,
    /// That code's id.
    pub code_id: String,
    /// Hours for one measure.
    pub hours: Rate,
    /// Whether they are the hours that were offered as usual, so that they are to be checked.
    pub usual: bool,
    /// From this day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub since: Date,
}

/// What one of code and company asks.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct AskedOf {
    /// The fact's id.
    pub id: String,
    /// How much; 1 and 0 stand for yes and no.
    pub value: Qty,
    /// Where it is written.
    pub source: Option<String>,
    /// From this day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub since: Date,
}

/// A topic with what code and company ask of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct StandardRow {
    /// The topic.
    pub topic: Topic,
    /// The topic in plain words.
    pub title: String,
    /// What the figure is in; empty where it is a yes or a no.
    pub unit: String,
    /// What the code asks.
    pub code: Option<AskedOf>,
    /// What the company asks.
    pub company: Option<AskedOf>,
}

/// What an hour of a crew costs.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct LoadedRow {
    /// The crew's name; absent for all crews together.
    pub crew: Option<String>,
    /// People calculated with.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub people: usize,
    /// Pay an hour.
    pub pay: Rate,
    /// Taxes, insurance and benefits an hour.
    pub burden: Rate,
    /// Both.
    pub loaded: Rate,
}

/// A point of the workmanship checklist.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CheckPointRow {
    /// The id of its first version.
    pub id: String,
    /// The part of the roof it belongs to; absent for the job as a whole.
    pub item: Option<Item>,
    /// That item in words.
    pub item_title: String,
    /// What is looked at.
    pub words: String,
    /// Whether the completion packet waits for it.
    pub blocks: bool,
    /// Place in the list.
    #[cfg_attr(feature = "ts", ts(type = "number"))]
    pub position: i64,
    /// No longer asked.
    pub retired: bool,
}

/// An item that a part or a rate can be for.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ItemRow {
    /// The item.
    pub item: Item,
    /// In words.
    pub title: String,
    /// One of its measure, in words.
    pub measure_word: String,
    /// What a part for it says of itself.
    pub facts: Vec<PartFact>,
}

/// What the firm builds with and calculates with, on a day.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Rates {
    /// The day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub on: Date,
    /// Parts, in the order of the items and then by name.
    pub parts: Vec<PartRow>,
    /// Production rates, in the order of the items, of steepness and of height.
    pub production: Vec<ProductionRow>,
    /// What finished jobs took.
    pub observed: Vec<Observed>,
    /// One row for each topic, in their order.
    pub standards: Vec<StandardRow>,
    /// How the firm builds: the usual recipe first, then the others on offer, then those that were retired.
    pub recipes: Vec<RecipeRow>,
    /// What a new recipe begins with: the usual one, or common practice.
    pub recipe_to_begin: Recipe,
    /// Crews, then all crews together.
    pub loaded: Vec<LoadedRow>,
    /// The checklist, in its order; retired points at its end.
    pub check_points: Vec<CheckPointRow>,
    /// Every item there is.
    pub items: Vec<ItemRow>,
}

/// What the firm builds with and calculates with, on a day.
///
/// # Errors
/// When the facts cannot be read.
pub fn rates(desk: &Desk, on: Date) -> Result<Rates, OfficeError> {
    let sees_pay = desk.may(Act::SeePay)?;
    desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let book = RateBook::read(books)?;
        let (_, recipe_to_begin) = recipe_to_begin(&book, on, None)?;
        let loaded = loaded_on(books, on)?.into_iter().map(|row| LoadedRow {
            crew: row.crew.map(|crew| names.crew(crew)),
            people: row.people,
            pay: row.pay,
            burden: row.burden,
            loaded: row.loaded,
        });
        let loaded = if sees_pay { loaded.collect() } else { Vec::new() };
        let item = |item: &Item| ItemRow {
            item: *item,
            title: item.label().to_owned(),
            measure_word: item.measure().single().to_owned(),
            facts: item.part_facts(),
        };
        Ok(Rates {
            on,
            parts: part_rows(books, &names, &book, on)?,
            production: production_rows(&names, &book, &recipe_to_begin, on),
            observed: observed(books)?,
            standards: standard_rows(&book, on),
            recipes: recipe_rows(&book, on),
            recipe_to_begin,
            loaded,
            check_points: point_rows(books)?,
            items: Item::ALL.iter().map(item).collect(),
        })
    })
}

fn part_rows(
    books: Books<'_>,
    names: &Names,
    book: &RateBook,
    on: Date,
) -> Result<Vec<PartRow>, OfficeError> {
    let price_row = |price: PriceOn| PriceRow {
        id: price.fact.to_string(),
        vendor: price.vendor.map(|vendor| names.vendor(vendor)),
        vendor_id: price.vendor.map(|vendor| vendor.to_string()),
        price: price.price,
        since: price.since,
    };
    let history = |part: Id| {
        let known = book.prices.get(&part).into_iter().flatten().rev();
        known
            .filter(|price| price.fact.date <= on)
            .map(|Dated { id, fact }| {
                price_row(PriceOn { price: fact.price, vendor: fact.vendor, since: fact.date, fact: *id })
            })
            .collect()
    };
    let usual = UsualFigures::read();
    let row = |(id, part): (Id, Part)| {
        let prices: Vec<PriceRow> = book.prices(id, on).into_iter().map(price_row).collect();
        PartRow {
            id: id.to_string(),
            item_title: part.item.label().to_owned(),
            measure: part.item.measure(),
            measure_word: part.item.measure().single().to_owned(),
            code: names.code(part.code),
            code_id: part.code.to_string(),
            best: prices.first().cloned(),
            prices,
            history: history(id),
            usual: usual.is_coverage(&part.title, part.item, part.covers),
            name: part.name,
            title: part.title,
            item: part.item,
            cost_kind: part.cost_kind,
            package: part.package,
            covers: part.covers,
            shingle: part.shingle,
            pieces_per_square: part.pieces_per_square,
            exposure_in: part.exposure_in,
            nails_each: part.nails_each,
            free_area_sqin: part.free_area_sqin,
            cfm: part.cfm,
            product_line: part.product_line,
            colors: part.colors.into_iter().map(|color| color.color).collect(),
            retired: part.retired,
        }
    };
    let mut rows: Vec<PartRow> = books.current(|part: &Part| part.revises)?.into_iter().map(row).collect();
    rows.sort_by(|left, right| (left.item, &left.name).cmp(&(right.item, &right.name)));
    Ok(rows)
}

fn production_rows(names: &Names, book: &RateBook, recipe: &Recipe, on: Date) -> Vec<ProductionRow> {
    let usual = UsualFigures::read();
    let mut newest: BTreeMap<(Item, Steepness, i64), ProductionRow> = BTreeMap::new();
    for Dated { id, fact } in book.production.iter().filter(|rate| rate.fact.date <= on) {
        newest.insert(
            (fact.item, fact.steepness, fact.stories),
            ProductionRow {
                id: id.to_string(),
                item: fact.item,
                item_title: fact.item.label().to_owned(),
                measure_word: fact.item.measure().single().to_owned(),
                steepness: fact.steepness,
                steepness_title: slopes(fact.steepness, recipe),
                stories: fact.stories,
                code: names.code(fact.code),
                code_id: fact.code.to_string(),
                hours: fact.hours,
                usual: usual.are_hours(fact.item, fact.steepness, fact.hours),
                since: fact.date,
            },
        );
    }
    newest.into_values().collect()
}

fn standard_rows(book: &RateBook, on: Date) -> Vec<StandardRow> {
    let standing = book.standards(on);
    let asked = |topic: Topic, origin: Origin| {
        let found = standing.iter().find(|asked| asked.topic == topic && asked.origin == origin);
        found.map(|asked| AskedOf {
            id: asked.fact.to_string(),
            value: asked.value,
            source: asked.source.clone(),
            since: asked.since,
        })
    };
    let row = |topic: &Topic| StandardRow {
        topic: *topic,
        title: standard::title(*topic).to_owned(),
        unit: standard::unit(*topic).unwrap_or_default().to_owned(),
        code: asked(*topic, Origin::Code),
        company: asked(*topic, Origin::Company),
    };
    Topic::ALL.iter().map(row).collect()
}

fn point_rows(books: Books<'_>) -> Result<Vec<CheckPointRow>, OfficeError> {
    let points = books.current(|point: &CheckPoint| point.revises)?;
    let row = |(id, point): (Id, CheckPoint)| CheckPointRow {
        id: id.to_string(),
        item: point.item,
        item_title: point.item.map_or("The whole job", Item::label).to_owned(),
        words: point.words,
        blocks: point.blocks,
        position: point.position,
        retired: point.retired,
    };
    let mut rows: Vec<CheckPointRow> = points.into_iter().map(row).collect();
    rows.sort_by(|left, right| {
        (left.retired, left.position, &left.words).cmp(&(right.retired, right.position, &right.words))
    });
    Ok(rows)
}

/// Records those of the usual standards whose topic and origin the firm has set nothing for. Answers how many.
///
/// # Errors
/// When they cannot be recorded.
pub fn begin_standards(desk: &mut Desk, on: Date) -> Result<usize, OfficeError> {
    let known = RateBook::read(desk.books())?.standards;
    let is_set = |topic, origin| known.iter().any(|set| (set.fact.topic, set.fact.origin) == (topic, origin));
    let missing = trade::roof::usual().into_iter().filter(|usual| !is_set(usual.topic, usual.origin));
    let facts: Vec<ledger::Fact> = missing
        .map(|usual| {
            Standard {
                date: on,
                topic: usual.topic,
                origin: usual.origin,
                value: usual.value,
                source: Some(usual.source),
            }
            .into()
        })
        .collect();
    let count = facts.len();
    if count > 0 {
        desk.record(facts)?;
    }
    Ok(count)
}
