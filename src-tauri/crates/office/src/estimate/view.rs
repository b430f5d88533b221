//! What the calculation of an estimate answers with. Every figure carries what it came from.

use jiff::civil::Date;
use ledger::closed_lists::{CountedIn, Damaged};
use rust_decimal::Decimal;
use serde::Serialize;
use trade::expected::RecordStrength;
use trade::price::Setback;
use trade::roof::{Caution, Line, Measured, Warning, WorkStep};
use trade::{CostKind, Item, Measure, Money, Origin, Qty, Rate, Topic};

/// Something that stands in the way of a figure.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Problem {
    /// The field or part it is about.
    pub field: String,
    /// The section of the roof, where it is about one.
    pub section: Option<String>,
    /// Its edge, counted from 1, where it is about one.
    #[cfg_attr(feature = "ts", ts(type = "number | null"))]
    pub edge: Option<i64>,
    /// What is wrong and what to do, without the place.
    pub words: String,
}

impl Problem {
    /// Its words behind its place on the roof.
    #[must_use]
    pub fn said(&self) -> String {
        trade::roof::before(self.section.as_deref(), self.edge) + &self.words
    }
}

/// A part with what is bought of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct PartLine {
    /// The item.
    pub item: Item,
    /// The part's short word; absent where none is chosen.
    pub part: Option<String>,
    /// What it is.
    pub title: String,
    /// Its product line.
    pub product_line: Option<String>,
    /// The color chosen; absent where it is open, or where there is no choice.
    pub color: Option<String>,
    /// The colors it comes in.
    pub colors: Vec<String>,
    /// The code's word.
    pub code: Option<String>,
    /// Kind of cost.
    pub cost_kind: Option<CostKind>,
    /// Place by place, with the working.
    pub places: Vec<Line>,
    /// Before waste.
    pub net: Qty,
    /// The measure of net and gross.
    pub measure: Measure,
    /// Waste, as a fraction.
    pub waste: Rate,
    /// With waste.
    pub gross: Qty,
    /// What one package covers.
    pub covers: Option<Qty>,
    /// What it is bought in.
    pub package: Option<String>,
    /// Whole packages.
    pub packages: Qty,
    /// The same as people write it: 8 rolls. Empty where there are none.
    pub packages_words: String,
    /// How the packages were found.
    pub steps: Vec<WorkStep>,
    /// Price of a package.
    pub price: Option<Rate>,
    /// Where that price is from.
    pub vendor: Option<String>,
    /// Since when.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub since: Option<Date>,
    /// Packages × price.
    pub amount: Money,
    /// Tax on it, where tax is cost.
    pub tax: Money,
    /// Amount and tax.
    pub cost: Money,
}

/// Work on an item.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct LaborLine {
    /// The item.
    pub item: Item,
    /// The code's word.
    pub code: String,
    /// How much of it.
    pub quantity: Qty,
    /// The measure.
    pub measure: Measure,
    /// Hours.
    pub hours: Qty,
    /// Loaded cost of an hour.
    pub loaded: Rate,
    /// Hours × loaded cost.
    pub cost: Money,
    /// How the hours were found.
    pub steps: Vec<WorkStep>,
}

/// A cost typed by hand.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ExtraLine {
    /// What for.
    pub words: String,
    /// The code's word.
    pub code: String,
    /// Kind of cost.
    pub cost_kind: CostKind,
    /// Hours, for labor.
    pub hours: Option<Qty>,
    /// Cost.
    pub cost: Money,
}

/// What goes into the contract for one code and kind of cost.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BudgetLine {
    /// The code's word.
    pub code: String,
    /// Kind of cost.
    pub cost_kind: CostKind,
    /// Cost.
    pub amount: Money,
    /// How much, where its material is bought in one unit.
    pub quantity: Option<Qty>,
    /// That unit.
    pub unit: Option<String>,
    /// Both as people write them: 42 bundles.
    pub quantity_words: Option<String>,
    /// Hours, for labor.
    pub hours: Option<Qty>,
}

/// How much work the contract holds for a measured code.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct BudgetUnits {
    /// The code's word.
    pub code: String,
    /// Its unit.
    pub unit: String,
    /// How many.
    pub quantity: Qty,
}

/// What a setback would leave of the margin.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Sensitive {
    /// What happens.
    pub setback: Setback,
    /// What it costs.
    pub added: Money,
    /// The margin then: price less cost.
    pub margin: Money,
    /// That ÷ price.
    pub share: Option<Rate>,
    /// By how much that share falls.
    pub share_lost: Option<Rate>,
    /// How its cost was calculated.
    pub steps: Vec<WorkStep>,
}

/// A scheduled payment.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Scheduled {
    /// On what.
    pub title: String,
    /// How much.
    pub amount: Money,
}

/// A choice, calculated.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct CalculatedChoice {
    /// Its letter.
    pub letter: String,
    /// Its title.
    pub title: String,
    /// Whose standard it is built to.
    pub standard: Origin,
    /// What stands in the way of accepting it.
    pub problems: Vec<Problem>,
    /// What to think of before it is offered, though nothing of it stands in the way.
    pub doubts: Vec<Problem>,
    /// What is missing or doubtful about the roof as it would be built.
    pub warnings: Vec<Warning>,
    /// Parts.
    pub parts: Vec<PartLine>,
    /// Work.
    pub labor: Vec<LaborLine>,
    /// Costs typed by hand.
    pub extras: Vec<ExtraLine>,
    /// The contract's costs.
    pub budget: Vec<BudgetLine>,
    /// The contract's work by measured code.
    pub units: Vec<BudgetUnits>,
    /// Deck sheets that the price covers.
    pub included_sheets: Qty,
    /// Feet of board that the price covers.
    pub included_feet: Qty,
    /// Cost, the sum of the budget.
    pub cost: Money,
    /// Hours.
    pub hours: Qty,
    /// Crew-days.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub crew_days: Decimal,
    /// Overhead by the firm's base.
    pub overhead: Money,
    /// Cost and overhead.
    pub full_cost: Money,
    /// Price before sales tax.
    pub price: Money,
    /// Price less cost: the margin sold.
    pub margin: Money,
    /// That ÷ price.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub margin_ratio: Option<Decimal>,
    /// Price less cost and overhead.
    pub after_overhead: Money,
    /// That ÷ price.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub after_overhead_ratio: Option<Decimal>,
    /// How the price was found.
    pub price_steps: Vec<WorkStep>,
    /// Sales tax on the price.
    pub sales_tax: Money,
    /// Price and tax.
    pub total: Money,
    /// When the homeowner pays.
    pub payments: Vec<Scheduled>,
    /// What would move the margin.
    pub sensitivity: Vec<Sensitive>,
}

/// A part over the choices, line by line.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ComparedRow {
    /// The item.
    pub item: Item,
    /// For each choice in order, what it has; absent where it has none.
    pub cells: Vec<Option<ComparedCell>>,
}

/// What a choice has of an item.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ComparedCell {
    /// The part.
    pub title: String,
    /// Before waste.
    pub net: Qty,
    /// Its measure.
    pub measure: Measure,
    /// Material and work.
    pub cost: Money,
}

/// What the company standard adds on one topic, priced by itself.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct PricedDifference {
    /// The topic.
    pub topic: Topic,
    /// What the code asks.
    pub code: Qty,
    /// Where that is written.
    pub code_source: String,
    /// What the company asks.
    pub company: Qty,
    /// The difference in a sentence.
    pub words: String,
    /// The items that change, with how much more is needed.
    pub items: Vec<MoreOf>,
    /// What it adds to the cost.
    pub cost: Money,
    /// What it adds to the price, at the margin of the choice.
    pub price: Money,
}

/// How much more of an item.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct MoreOf {
    /// The item.
    pub item: Item,
    /// More, or less.
    pub net: Qty,
    /// Its measure.
    pub measure: Measure,
}

/// How many sheets to include, from the firm's own finished jobs.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SheetAdvice {
    /// Finished jobs of like age and state that the figures rest on.
    pub jobs: usize,
    /// Finished jobs in all.
    pub all_jobs: usize,
    /// How much that record can say.
    pub record: RecordStrength,
    /// The band of age and the state that were taken as like.
    pub like: String,
    /// Sheets to expect on this roof.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub mean: Option<Decimal>,
    /// How many cover 8 jobs in 10.
    pub covers_eight_in_ten: Option<usize>,
    /// The chance of 0, 1, 2, … sheets.
    #[cfg_attr(feature = "ts", ts(as = "Vec<String>"))]
    pub chances: Vec<Decimal>,
    /// How it was calculated.
    pub steps: Vec<WorkStep>,
    /// What was found on the jobs it rests on.
    pub basis: Vec<AdviceJob>,
}

/// A finished job in the record.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct AdviceJob {
    /// Its number.
    pub job: String,
    /// Squares.
    pub squares: Qty,
    /// Deck sheets found.
    pub sheets: Qty,
}

/// The price at which to offer one more piece of deck.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OfferedPrice {
    /// What is repaired.
    pub damaged: Damaged,
    /// What it is counted in.
    pub counted_in: CountedIn,
    /// The price of one to the homeowner, in whole dollars.
    pub price: Money,
    /// How it was found.
    pub steps: Vec<WorkStep>,
}

/// An estimate, calculated.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Calculated {
    /// The roof's true measures; absent while it is not a roof.
    pub measured: Option<Measured>,
    /// Why it is not.
    pub problems: Vec<Problem>,
    /// The choices.
    pub choices: Vec<CalculatedChoice>,
    /// Line by line.
    pub compared: Vec<ComparedRow>,
    /// What the company standard adds to the code.
    pub differences: Vec<PricedDifference>,
    /// Unit prices that the terms may take over.
    pub unit_prices: Vec<OfferedPrice>,
    /// How many sheets to include.
    pub advice: SheetAdvice,
    /// Where the work can hurt.
    pub cautions: Vec<Caution>,
    /// Signed today at the customer's home, the last day to cancel.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub cancel_by: Option<Date>,
}
