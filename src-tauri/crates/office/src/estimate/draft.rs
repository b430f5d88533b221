//! The estimate while it is being worked on: a draft, kept as typed, that becomes facts when a choice is accepted.

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use trade::roof::{Recipe, Roof};
use trade::{CostKind, Item, Money, Origin, Qty, Rate};

use ledger::closed_lists::{CountedIn, Damaged};

/// An estimate being worked on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(deny_unknown_fields)]
pub struct Estimate {
    /// The roof as measured.
    pub roof: Roof,
    /// Degrees clockwise from the top of the sheet to north.
    #[serde(default)]
    pub north_deg: i64,
    /// Miles from the shop to the job; 0 where the way is not calculated.
    #[serde(default)]
    pub miles: Qty,
    /// What the homeowner may choose from, lettered A, B, C.
    pub choices: Vec<Choice>,
    /// What holds for every choice.
    pub terms: Terms,
}

/// One of the choices.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(deny_unknown_fields)]
pub struct Choice {
    /// Its letter.
    pub letter: String,
    /// The firm's title for it.
    pub title: String,
    /// Whether it is built to the code alone, or to the company standard.
    pub standard: Origin,
    /// How it is built.
    pub recipe: Recipe,
    /// The company's recipe that this was begun from; absent where the firm has kept none.
    #[serde(default)]
    pub recipe_name: Option<String>,
    /// The firm's part for each item, by its short word.
    pub parts: Vec<ChosenPart>,
    /// Items that are not part of it.
    #[serde(default)]
    pub left_out: Vec<Item>,
    /// What the roof's measures do not ask for by themselves.
    #[serde(default)]
    pub extras: Vec<Extra>,
    /// How its price is found.
    pub price: PriceBy,
}

/// The firm's part for an item.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(deny_unknown_fields)]
pub struct ChosenPart {
    /// The item.
    pub item: Item,
    /// The part's short word.
    pub part: String,
    /// Its color, where the homeowner has chosen it.
    #[serde(default)]
    pub color: Option<String>,
}

/// A cost typed by hand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(deny_unknown_fields)]
pub struct Extra {
    /// What for.
    pub words: String,
    /// The code's word.
    pub code: String,
    /// Kind of cost.
    pub cost_kind: CostKind,
    /// What it costs the firm; for labor, leave it zero and type the hours.
    #[serde(default)]
    pub amount: Money,
    /// Hours, for labor.
    pub hours: Option<Qty>,
}

/// How a price is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(tag = "by", content = "value", rename_all = "kebab-case")]
pub enum PriceBy {
    /// The share of the price that is left over cost and overhead.
    Margin(Rate),
    /// The share of cost and overhead that is added to them.
    Markup(Rate),
    /// A price the firm sets.
    Price(Money),
}

/// What holds for every choice.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(deny_unknown_fields)]
pub struct Terms {
    /// What a further sheet, foot or piece costs the homeowner.
    pub unit_prices: Vec<TermPrice>,
    /// When the homeowner pays, as shares of the price that come to one.
    pub payments: Vec<TermPayment>,
    /// Retainage: the fraction of each invoice that is held until the end.
    #[serde(default)]
    pub retainage: Rate,
    /// Tax that the firm pays on what it buys, as a fraction; it is cost where the firm's setting says so.
    #[serde(default)]
    pub material_tax: Rate,
    /// What the price does not cover.
    pub exclusions: Vec<String>,
    /// Signed at the customer's home, so that the cancellation rule of 16 CFR 429 may hold.
    pub sold_at_home: bool,
    /// Days for which the proposal stands.
    pub valid_days: i64,
}

/// A price of one for the homeowner.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(deny_unknown_fields)]
pub struct TermPrice {
    /// Of what.
    pub damaged: Damaged,
    /// Counted in.
    pub counted_in: CountedIn,
    /// Price of one.
    pub price: Money,
}

/// A payment of the schedule.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(deny_unknown_fields)]
pub struct TermPayment {
    /// On what.
    pub title: String,
    /// Share of the price.
    pub share: Rate,
}

/// A choice taken by the homeowner.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
#[serde(deny_unknown_fields)]
pub struct Acceptance {
    /// The letter.
    pub letter: String,
    /// Signed on.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// The first day of work, where it is planned already.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub begins: Option<Date>,
    /// A note.
    pub note: Option<String>,
    /// Hash of the proposal as it was signed, where it was kept already; else it is set and kept.
    pub proposal: Option<String>,
}
