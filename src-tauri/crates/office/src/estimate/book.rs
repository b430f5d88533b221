//! The firm's rate book on a day, as an estimate needs it: what `rates` answers, with the lists that names come from.

use crate::rates::{LoadedOn, PriceOn, ProductionOn, RateBook, loaded_on, recipe_built, recipe_to_begin};
use desk::OfficeError;
use desk::settings::Settings;
use jiff::civil::Date;
use ledger::facts::{Bill, CostCode, Crew, Firm, Part, Vendor};
use ledger::{Books, Id};
use std::collections::BTreeMap;
use trade::roof::{Recipe, Setting};
use trade::{CostKind, Item, Money, Rate, Steepness};

/// The firm's rates on a day.
#[derive(Debug)]
pub(super) struct DayBook {
    day: Date,
    rates: RateBook,
    loaded: Vec<LoadedOn>,
    pub(super) firm: Firm,
    parts: BTreeMap<Id, Part>,
    pub(super) vendors: BTreeMap<Id, Vendor>,
    pub(super) codes: BTreeMap<Id, CostCode>,
    pub(super) crews: BTreeMap<Id, Crew>,
}

impl DayBook {
    pub(super) fn read(books: Books<'_>, day: Date) -> Result<DayBook, OfficeError> {
        let settings = Settings::read(books, &books.calendar()?)?;
        Ok(DayBook {
            day,
            rates: RateBook::read(books)?,
            loaded: loaded_on(books, day)?,
            firm: settings.firm(day).fact.clone(),
            parts: books.current(|part: &Part| part.revises)?,
            vendors: books.current(|vendor: &Vendor| vendor.revises)?,
            codes: books.current(|code: &CostCode| code.revises)?,
            crews: settings.crews_on(day),
        })
    }

    /// The hours for one measure of an item on a roof so steep of a house so high.
    pub(super) fn production(&self, item: Item, steepness: Steepness, stories: i64) -> Option<ProductionOn> {
        self.rates.production(item, steepness, stories.max(1), self.day)
    }

    /// What a package of a part costs.
    pub(super) fn price(&self, part: Id) -> Option<PriceOn> {
        self.rates.price(part, self.day)
    }

    /// What is asked of roofs: the firm's own settings over the usual ones of the code. A firm that has set no house
    /// standard yet has the usual one to begin with.
    pub(super) fn settings(&self) -> Vec<Setting> {
        let own = self.rates.standards(self.day);
        let has_company = own.iter().any(|standard| standard.origin == trade::Origin::Company);
        let mut settings = trade::roof::usual();
        settings.retain(|setting| setting.origin == trade::Origin::Code || !has_company);
        for standard in own {
            settings.retain(|known| !(known.topic == standard.topic && known.origin == standard.origin));
            settings.push(standard.setting());
        }
        settings
    }

    /// The recipe that an estimate begins from, with the company's name for it.
    pub(super) fn recipe_to_begin(
        &self,
        name: Option<&str>,
    ) -> Result<(Option<String>, Recipe), OfficeError> {
        recipe_to_begin(&self.rates, self.day, name)
    }

    /// The company's recipe of a name, where it is what a choice is built with.
    pub(super) fn recipe_built(&self, name: Option<&str>, built: &Recipe) -> Option<Id> {
        recipe_built(&self.rates, self.day, name, built)
    }

    /// The part called so, with its id.
    pub(super) fn part_named(&self, name: &str) -> Option<(Id, &Part)> {
        self.parts.iter().find(|(_, part)| part.name == name).map(|(id, part)| (*id, part))
    }

    /// The first part on offer for an item, by its short word.
    pub(super) fn part_for(&self, item: Item) -> Option<(Id, &Part)> {
        let on_offer = self.parts.iter().filter(|(_, part)| part.item == item && !part.retired);
        on_offer.min_by(|(_, left), (_, right)| left.name.cmp(&right.name)).map(|(id, part)| (*id, part))
    }

    /// What an hour of a crew costs with its burden; of everybody, where there is no crew or nobody in it has pay. The
    /// second value is how many people it is the mean of.
    pub(super) fn loaded_hour(&self, crew: Option<Id>) -> Option<(Rate, usize)> {
        let of = |crew: Option<Id>| self.loaded.iter().find(|row| row.crew == crew);
        of(crew).or_else(|| of(None)).map(|row| (row.loaded, row.people))
    }
}

/// The tax that the firm has paid on materials, as a share of what they cost, over all its bills: where a new
/// estimate begins.
pub(super) fn tax_paid(books: Books<'_>) -> Result<Rate, OfficeError> {
    let (mut bought, mut tax) = (Money::ZERO, Money::ZERO);
    for held in books.all::<Bill>()? {
        for line in held.fact.lines.iter().filter(|line| line.cost_kind == CostKind::Material) {
            bought += line.amount;
            tax += line.tax;
        }
    }
    if !bought.is_positive() || !tax.is_positive() {
        return Ok(Rate::ZERO);
    }
    Ok(trade::rate_behind(tax, bought))
}
