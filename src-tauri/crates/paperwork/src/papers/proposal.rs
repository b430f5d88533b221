//! The proposal: the roof, the system explained part by part, the choices with their prices, and the signature.

use jiff::civil::Date;
use serde::Serialize;
use trade::{Money, Rate};

use super::press::{self, Kind};
use super::{Firm, Party, RoofPicture};
use crate::PaperError;

/// What a homeowner is offered.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Proposal {
    /// Who offers.
    pub firm: Firm,
    /// To whom.
    pub customer: Party,
    /// Where the roof is.
    pub site: String,
    /// The proposal's number.
    pub number: String,
    /// Its date.
    pub date: Date,
    /// The last day on which the prices stand.
    pub valid_until: Date,
    /// A few sentences before all else; may be empty.
    pub opening: String,
    /// The roof from above.
    pub roof: RoofPicture,
    /// The parts of the system, from the deck up, numbered in this order.
    pub system: Vec<SystemPart>,
    /// The choices.
    pub choices: Vec<Choice>,
    /// What differs between them, line by line.
    pub compared: Vec<ChoiceRow>,
    /// How sales tax is treated, in words; may be empty.
    pub tax_words: String,
    /// What hidden conditions would cost.
    pub unit_prices: Vec<UnitPrice>,
    /// What the price does not cover.
    pub not_included: Vec<String>,
    /// When what is paid.
    pub payments: Vec<PaymentStep>,
    /// The day on which it was signed, once it is a contract; until then the dates are left to be filled in.
    pub signed_on: Option<Date>,
    /// The right to cancel, where law gives one.
    pub cancellation: Option<Cancellation>,
    /// The notices of the state, as the firm entered them.
    pub notices: Vec<Notice>,
    /// The letter chosen, where one is.
    pub chosen: Option<String>,
}

/// Where in the section drawing a part is pointed at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum DrawnAt {
    /// The boards or sheets.
    Deck,
    /// The barrier at the eave.
    Membrane,
    /// The sheet over the whole deck.
    Underlayment,
    /// The metal at the edge.
    DripEdge,
    /// The first strip.
    Starter,
    /// The field.
    Shingles,
    /// The pieces along a wall.
    StepFlashing,
    /// The piece at the wall's lower end.
    KickOut,
    /// Exhaust, at the ridge.
    RidgeVent,
    /// Intake, at the eave.
    IntakeVent,
    /// The cap on the ridge.
    RidgeCap,
    /// On the attic's floor.
    Insulation,
    /// Below the eave.
    Gutter,
    /// Listed, but not pointed at.
    Nowhere,
}

/// One part of the system, with the reasons for it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SystemPart {
    /// Its name.
    pub name: String,
    /// Where it is drawn.
    pub drawn: DrawnAt,
    /// What it is for.
    pub what_for: String,
    /// What code asks; may be empty.
    pub code_asks: String,
    /// What the firm's own standard adds; may be empty.
    pub company_adds: String,
    /// How much of it, in words; may be empty.
    pub quantity_words: String,
}

/// One lettered choice.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Choice {
    /// Its letter.
    pub letter: String,
    /// The firm's title for it.
    pub title: String,
    /// The price before tax.
    pub price: Money,
    /// Sales tax on it.
    pub tax: Money,
    /// What is paid.
    pub total: Money,
}

/// One line of the comparison.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ChoiceRow {
    /// The part or question.
    pub part: String,
    /// What each choice has there, in the choices' order.
    pub offers: Vec<Offer>,
}

/// What a choice has in one line.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Offer {
    /// In words; may be empty.
    pub words: String,
    /// What it adds or takes off, where that is said.
    pub amount: Option<Money>,
}

/// The price of a hidden condition.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct UnitPrice {
    /// What is found.
    pub condition: String,
    /// What it is counted in.
    pub unit: String,
    /// The price of one.
    pub price: Rate,
    /// How many the price already covers, in words: choices may cover more or fewer.
    pub included: String,
}

/// One step of the payment schedule.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PaymentStep {
    /// When.
    pub when: String,
    /// Its share of the total, where it is one.
    pub share: Option<Rate>,
    /// The amount for each choice, in the choices' order.
    pub amounts: Vec<Money>,
}

/// The buyer's right to cancel by 16 CFR 429. The form of 429.1(b) is added at the end, twice.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Cancellation {
    /// The day of signing, once it is signed.
    pub signed_on: Option<Date>,
    /// The last day, once it is signed.
    pub last_day: Option<Date>,
    /// The address of the seller's place of business, on one line.
    pub address: String,
    /// Where the seller can be called.
    pub phone: Option<String>,
}

/// A notice in the words of a state.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Notice {
    /// What it is about, as the word of the fact: `cancellation` stands at the end, the others before the signature.
    pub about: String,
    /// Its heading.
    pub heading: String,
    /// Its text; an empty line begins a paragraph.
    pub text: String,
    /// How many copies.
    pub copies: i64,
    /// The least size of its type.
    pub least_points: i64,
    /// Whether it stands in bold.
    pub bold: bool,
}

impl Proposal {
    /// The paper as a PDF.
    ///
    /// # Errors
    /// If it cannot be set, which is a fault of the program's own.
    pub fn render(&self) -> Result<Vec<u8>, PaperError> {
        press::print(Kind::Proposal, &self.firm, self, &[])
    }
}
