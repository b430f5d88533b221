//! Which price, production rate, standard and company recipe holds on a day.
//!
//! A later day takes over from an earlier one; of one day, what was recorded last. What was reversed never counts, and
//! what is dated after the day asked about does not count yet.

use crate::error::OfficeError;
use jiff::civil::Date;
use ledger::facts::{PartPrice, ProductionRate, Recipe, Standard};
use ledger::kind::FactRow;
use ledger::{Books, Id};
use std::collections::BTreeMap;
use trade::roof::Setting;
use trade::{Item, Origin, Qty, Rate, Steepness, Topic};

/// What a package of a part costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PriceOn {
    /// Dollars a package, before tax.
    pub price: Rate,
    /// At whom; absent where the firm set the price itself.
    pub vendor: Option<Id>,
    /// From this day.
    pub since: Date,
    /// The price fact.
    pub fact: Id,
}

/// How long one measure of an item takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ProductionOn {
    /// Hours for one measure.
    pub hours: Rate,
    /// The code the hours are charged to.
    pub code: Id,
    /// The height it was set for: of several, the highest that is not above the house.
    pub stories: i64,
    /// From this day.
    pub since: Date,
    /// The production rate's fact.
    pub fact: Id,
}

/// What is asked of a topic.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StandardOn {
    /// The topic.
    pub topic: Topic,
    /// Who asks.
    pub origin: Origin,
    /// How much.
    pub value: Qty,
    /// Where it is written.
    pub source: Option<String>,
    /// From this day.
    pub since: Date,
    /// The standard's fact.
    pub fact: Id,
}

impl StandardOn {
    /// As the takeoff takes it. A company standard without a source is the firm's own rule.
    #[must_use]
    pub fn setting(&self) -> Setting {
        Setting {
            topic: self.topic,
            origin: self.origin,
            value: self.value,
            source: self.source.clone().unwrap_or_else(|| "company rule".to_owned()),
        }
    }
}

/// A fact that stands, in the order in which later ones take over.
#[derive(Clone, Debug)]
pub struct Dated<T> {
    /// Its id.
    pub id: Id,
    /// What it says.
    pub fact: T,
}

/// Live facts of a kind, oldest first: by their day, then by when they were recorded.
///
/// # Errors
/// When they cannot be read.
pub fn dated<T: FactRow>(books: Books<'_>, day: impl Fn(&T) -> Date) -> Result<Vec<Dated<T>>, OfficeError> {
    let mut held = books.all::<T>()?;
    held.sort_by(|left, right| {
        let key =
            |held: &ledger::Entered<T>| (day(&held.fact), held.entry.recorded_at.clone(), held.entry.id);
        key(left).cmp(&key(right))
    });
    Ok(held.into_iter().map(|held| Dated { id: held.entry.id, fact: held.fact }).collect())
}

/// Every price, production rate and standard that stands, read once for many questions.
#[derive(Debug)]
pub struct RateBook {
    /// Prices by part.
    pub prices: BTreeMap<Id, Vec<Dated<PartPrice>>>,
    /// Production rates.
    pub production: Vec<Dated<ProductionRate>>,
    /// What code and company ask.
    pub standards: Vec<Dated<Standard>>,
    /// How the company builds: its own recipes, without those that one job was built with.
    pub recipes: Vec<Dated<Recipe>>,
}

impl RateBook {
    /// Reads them.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn read(books: Books<'_>) -> Result<RateBook, OfficeError> {
        let mut prices: BTreeMap<Id, Vec<Dated<PartPrice>>> = BTreeMap::new();
        for price in dated(books, |price: &PartPrice| price.date)? {
            prices.entry(price.fact.part).or_default().push(price);
        }
        Ok(RateBook {
            prices,
            production: dated(books, |rate: &ProductionRate| rate.date)?,
            standards: dated(books, |standard: &Standard| standard.date)?,
            recipes: dated(books, |recipe: &Recipe| recipe.date)?
                .into_iter()
                .filter(|recipe| recipe.fact.job.is_none())
                .collect(),
        })
    }

    /// The newest price of a part at each vendor on a day, the lowest first; of equal prices, the newer first. On days
    /// before a part's first price, that one counts: an estimate signed yesterday is priced by what was found today
    /// (company rule).
    #[must_use]
    pub fn prices(&self, part: Id, date: Date) -> Vec<PriceOn> {
        let mut newest: BTreeMap<Option<Id>, PriceOn> = BTreeMap::new();
        let known = self.prices.get(&part).map_or(&[] as &[_], Vec::as_slice);
        let date = known.first().map_or(date, |first| date.max(first.fact.date));
        for Dated { id, fact } in known.iter().filter(|price| price.fact.date <= date) {
            newest.insert(
                fact.vendor,
                PriceOn { price: fact.price, vendor: fact.vendor, since: fact.date, fact: *id },
            );
        }
        let mut prices: Vec<PriceOn> = newest.into_values().collect();
        prices.sort_by(|left, right| (left.price, right.since).cmp(&(right.price, left.since)));
        prices
    }

    /// What a part costs on a day: see [`price_on`].
    #[must_use]
    pub fn price(&self, part: Id, date: Date) -> Option<PriceOn> {
        self.prices(part, date).first().copied()
    }

    /// How long one measure of an item takes on a day: see [`production_on`]. On days before the item's first rate of
    /// that steepness, that one counts.
    #[must_use]
    pub fn production(
        &self,
        item: Item,
        steepness: Steepness,
        stories: i64,
        date: Date,
    ) -> Option<ProductionOn> {
        let of_item = |fact: &ProductionRate| {
            fact.item == item && fact.steepness == steepness && fact.stories <= stories
        };
        let first = self.production.iter().find(|rate| of_item(&rate.fact));
        let date = first.map_or(date, |first| date.max(first.fact.date));
        let fits = self.production.iter().filter(|Dated { fact, .. }| of_item(fact) && fact.date <= date);
        // Of equal heights the last one wins, and they stand oldest first.
        fits.max_by_key(|rate| rate.fact.stories).map(|Dated { id, fact }| ProductionOn {
            hours: fact.hours,
            code: fact.code,
            stories: fact.stories,
            since: fact.date,
            fact: *id,
        })
    }

    /// What is asked on a day: see [`standards_on`]. The standards of the first day on which there are any count from
    /// the beginning.
    #[must_use]
    pub fn standards(&self, date: Date) -> Vec<StandardOn> {
        let mut newest: BTreeMap<(Topic, Origin), StandardOn> = BTreeMap::new();
        let date = self.standards.first().map_or(date, |first| date.max(first.fact.date));
        for Dated { id, fact } in self.standards.iter().filter(|standard| standard.fact.date <= date) {
            newest.insert(
                (fact.topic, fact.origin),
                StandardOn {
                    topic: fact.topic,
                    origin: fact.origin,
                    value: fact.value,
                    source: fact.source.clone(),
                    since: fact.date,
                    fact: *id,
                },
            );
        }
        newest.into_values().collect()
    }

    /// The company's recipes on a day, the newest of each name, in the order in which they were set; retired ones too.
    /// Those of the first day on which there are any count from the beginning.
    #[must_use]
    pub fn recipes(&self, date: Date) -> Vec<&Dated<Recipe>> {
        let date = self.recipes.first().map_or(date, |first| date.max(first.fact.date));
        let known: Vec<&Dated<Recipe>> =
            self.recipes.iter().filter(|recipe| recipe.fact.date <= date).collect();
        let is_newest = |at: usize, name: &str| known[at + 1..].iter().all(|later| later.fact.name != name);
        let newest = known.iter().enumerate().filter(|(at, recipe)| is_newest(*at, &recipe.fact.name));
        newest.map(|(_, recipe)| *recipe).collect()
    }

    /// The recipe that estimates begin from on a day: of those on offer that are said to be the usual one, the one that
    /// was set last (company rule). None where the firm has kept none.
    #[must_use]
    pub fn usual_recipe(&self, date: Date) -> Option<&Dated<Recipe>> {
        self.recipes(date).into_iter().rfind(|recipe| recipe.fact.usual && !recipe.fact.retired)
    }
}

/// What a part costs on a day: the newest price of each vendor, and of these the lowest (company rule; the estimate
/// shows the vendor, so that a person can choose another). A part with one vendor costs what that one asks. A price
/// that the firm set itself stands beside the vendors' as one more. None where no price is known yet.
///
/// # Errors
/// When prices cannot be read.
pub fn price_on(books: Books<'_>, part: Id, date: Date) -> Result<Option<PriceOn>, OfficeError> {
    Ok(RateBook::read(books)?.price(part, date))
}

/// How long one measure of an item takes on a day, on a roof so steep of a house so high: the newest rate of the
/// highest height that is not above the house's. None where the firm has no rate for that steepness.
///
/// # Errors
/// When rates cannot be read.
pub fn production_on(
    books: Books<'_>,
    item: Item,
    steepness: Steepness,
    stories: i64,
    date: Date,
) -> Result<Option<ProductionOn>, OfficeError> {
    Ok(RateBook::read(books)?.production(item, steepness, stories, date))
}

/// What code and company ask on a day, one row a topic and origin, in the order of the topics; see
/// [`StandardOn::setting`] for the takeoff.
///
/// # Errors
/// When standards cannot be read.
pub fn standards_on(books: Books<'_>, date: Date) -> Result<Vec<StandardOn>, OfficeError> {
    Ok(RateBook::read(books)?.standards(date))
}
