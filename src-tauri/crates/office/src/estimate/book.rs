//! The firm's rate book on a day: parts with their prices, hours of work, standards, and what an hour costs.

use crate::error::OfficeError;
use crate::month_end::firm_at;
use jiff::civil::Date;
use ledger::facts::{
    BurdenRate, CostCode, Crew, Firm, Part, PartPrice, PayRate, Person, ProductionRate, Receipt, Standard,
    Vendor,
};
use ledger::kind::FactRow;
use ledger::words::BurdenOn;
use ledger::{Books, Id};
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use trade::{BurdenBasis, BurdenPart, CostKind, Item, Money, Month, Origin, Qty, Rate, Steepness, Topic};

/// What a package of a part costs, and where that is from.
#[derive(Clone, Debug)]
pub(super) struct Priced {
    pub(super) price: Rate,
    pub(super) vendor: Option<Id>,
    pub(super) since: Date,
}

/// The firm's rates on a day.
#[derive(Debug)]
pub(super) struct RateBook {
    pub(super) firm: Firm,
    pub(super) parts: BTreeMap<Id, Part>,
    pub(super) prices: BTreeMap<Id, Priced>,
    pub(super) vendors: BTreeMap<Id, Vendor>,
    pub(super) codes: BTreeMap<Id, CostCode>,
    pub(super) crews: BTreeMap<Id, Crew>,
    production: BTreeMap<(Item, Steepness, i64), ProductionRate>,
    pub(super) standards: BTreeMap<(Topic, Origin), (Qty, String)>,
    people: BTreeMap<Id, Person>,
    pay: BTreeMap<Id, Rate>,
    burden: Vec<BurdenPart>,
}

/// The facts of a kind that stand and count on a day, the older ones first.
fn until<T: FactRow>(books: Books<'_>, day: Date, date: impl Fn(&T) -> Date) -> Result<Vec<T>, OfficeError> {
    let standing =
        books.all::<T>()?.into_iter().filter(|held| held.reversed_by.is_none()).map(|held| held.fact);
    let mut facts: Vec<T> = standing.filter(|fact| date(fact) <= day).collect();
    // The sort keeps the order of recording among those of one day.
    facts.sort_by_key(|fact| date(fact));
    Ok(facts)
}

impl RateBook {
    pub(super) fn read(books: Books<'_>, day: Date) -> Result<RateBook, OfficeError> {
        let mut production = BTreeMap::new();
        for rate in until(books, day, |rate: &ProductionRate| rate.date)? {
            production.insert((rate.item, rate.steepness, rate.storeys), rate);
        }
        let mut standards = BTreeMap::new();
        for standard in until(books, day, |standard: &Standard| standard.date)? {
            let source = standard.source.clone().unwrap_or_default();
            standards.insert((standard.topic, standard.origin), (standard.value, source));
        }
        let mut pay = BTreeMap::new();
        for rate in until(books, day, |rate: &PayRate| rate.date)? {
            pay.insert(rate.person, rate.hourly);
        }
        let mut burden = BTreeMap::new();
        for rate in until(books, day, |rate: &BurdenRate| rate.date)? {
            burden.insert((rate.name.clone(), rate.class.clone()), rate);
        }
        Ok(RateBook {
            firm: firm_at(books, Month::of(day))?,
            parts: books.current(|part: &Part| part.revises)?,
            prices: prices(until(books, day, |price: &PartPrice| price.date)?),
            vendors: books.current(|vendor: &Vendor| vendor.revises)?,
            codes: books.current(|code: &CostCode| code.revises)?,
            crews: books.current(|crew: &Crew| crew.revises)?,
            production,
            standards,
            people: books.current(|person: &Person| person.revises)?,
            pay,
            burden: burden.into_values().map(burden_part).collect(),
        })
    }

    /// The hours for one measure of an item: the rate of that steepness for the most storeys not above the house's.
    pub(super) fn production(
        &self,
        item: Item,
        steepness: Steepness,
        storeys: i64,
    ) -> Option<&ProductionRate> {
        let of_item = (item, steepness, 0)..=(item, steepness, storeys.max(1));
        self.production.range(of_item).next_back().map(|(_, rate)| rate)
    }

    /// The part called so, with its id.
    pub(super) fn part_named(&self, name: &str) -> Option<(Id, &Part)> {
        self.parts.iter().find(|(_, part)| part.name == name).map(|(id, part)| (*id, part))
    }

    /// The first part on offer for an item, by its short word.
    pub(super) fn part_for(&self, item: Item) -> Option<&Part> {
        let on_offer = self.parts.values().filter(|part| part.item == item && !part.retired);
        on_offer.min_by(|left, right| left.name.cmp(&right.name))
    }

    /// What an hour of the crew costs with its burden: the mean over its members of pay and of a usual week's burden
    /// (40 hours, no overtime, no wage base used up), so a little more than what the end of the year will show (house
    /// rule). Without a crew, all who have pay count. The second value is how many people it is the mean of.
    pub(super) fn loaded_hour(&self, crew: Option<Id>) -> Option<(Rate, usize)> {
        let week = Qty::from_e4(400_000);
        let of_crew = |person: &&Person| person.left_on.is_none() && (crew.is_none() || person.crew == crew);
        let loaded: Vec<Decimal> = self
            .people
            .iter()
            .filter(|(_, person)| of_crew(person))
            .filter_map(|(id, person)| {
                let hourly = *self.pay.get(id)?;
                let straight = trade::line_amount(hourly, week);
                let class = person.class.as_deref();
                let burden: Money =
                    trade::week_burden(&self.burden, class, straight, Money::ZERO, week, Money::ZERO)
                        .iter()
                        .sum();
                Some((straight + burden).decimal() / week.decimal())
            })
            .collect();
        if loaded.is_empty() {
            return if crew.is_some() { self.loaded_hour(None) } else { None };
        }
        let people = loaded.len();
        Some((Rate::rounded(loaded.iter().sum::<Decimal>() / Decimal::from(people)), people))
    }
}

/// The newest price of each vendor; of those the lowest, since that is where the firm would buy (house rule).
fn prices(dated: Vec<PartPrice>) -> BTreeMap<Id, Priced> {
    let mut by_vendor: BTreeMap<(Id, Option<Id>), PartPrice> = BTreeMap::new();
    for price in dated {
        by_vendor.insert((price.part, price.vendor), price);
    }
    let mut lowest: BTreeMap<Id, Priced> = BTreeMap::new();
    for ((part, vendor), price) in by_vendor {
        let found = Priced { price: price.price, vendor, since: price.date };
        match lowest.get(&part) {
            Some(best) if best.price <= found.price => {}
            _ => {
                lowest.insert(part, found);
            }
        }
    }
    lowest
}

fn burden_part(rate: BurdenRate) -> BurdenPart {
    let basis = match rate.reckoned_on {
        BurdenOn::Pay => BurdenBasis::PercentOfPay { rate: rate.rate, wage_base: rate.wage_base },
        BurdenOn::HundredOfPay => BurdenBasis::PerHundredOfPay {
            rate: rate.rate,
            class: rate.class,
            premium_included: rate.on_premium,
        },
        BurdenOn::Hour => BurdenBasis::PerHour { amount: rate.rate },
    };
    BurdenPart { name: rate.name, basis }
}

/// The tax that the firm has paid on materials, as a share of what they cost, over all its receipts: where a new
/// estimate begins.
pub(super) fn tax_paid(books: Books<'_>) -> Result<Rate, OfficeError> {
    let (mut bought, mut tax) = (Money::ZERO, Money::ZERO);
    for held in books.all::<Receipt>()?.into_iter().filter(|held| held.reversed_by.is_none()) {
        for line in held.fact.lines.iter().filter(|line| line.cost_kind == CostKind::Material) {
            bought += line.amount;
            tax += line.tax;
        }
    }
    if !bought.is_positive() || !tax.is_positive() {
        return Ok(Rate::ZERO);
    }
    // A tax rate has a few decimals; the receipts' own rounding stands behind them.
    Ok(Rate::rounded((tax.decimal() / bought.decimal()).round_dp(4)))
}
