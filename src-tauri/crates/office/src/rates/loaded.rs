//! What an hour of a crew costs the firm: pay, and the labor burden on it.

use desk::OfficeError;
use desk::rates::dated;
use desk::settings::Settings;
use jiff::civil::Date;
use ledger::facts::{BurdenRate, PayRate, Person};
use ledger::{Books, Id};
use std::collections::BTreeMap;
use trade::{BurdenPart, Earned, Money, Qty, Rate, week_burden};

/// An hour of a crew, on the average of its people.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LoadedOn {
    /// The crew; absent for everybody of the firm who has a crew and pay.
    pub crew: Option<Id>,
    /// People calculated with: those of the crew who have pay on that day.
    pub people: usize,
    /// Hours in the usual day.
    pub hours_a_day: Qty,
    /// Pay an hour.
    pub pay: Rate,
    /// Taxes, insurance and benefits an hour.
    pub burden: Rate,
    /// Both.
    pub loaded: Rate,
}

#[derive(Default)]
struct Sum {
    people: usize,
    hours: Qty,
    pay: Money,
    burden: Money,
}

impl Sum {
    fn add(&mut self, hours: Qty, pay: Money, burden: Money) {
        self.people += 1;
        self.hours += hours;
        self.pay += pay;
        self.burden += burden;
    }

    fn row(&self, crew: Option<Id>, hours_a_day: Qty) -> Option<LoadedOn> {
        let hourly = |amount: Money| trade::hourly(amount, self.hours);
        Some(LoadedOn {
            crew,
            people: self.people,
            hours_a_day,
            pay: hourly(self.pay)?,
            burden: hourly(self.burden)?,
            loaded: hourly(self.pay + self.burden)?,
        })
    }
}

/// What an hour of each crew costs on a day, and at the end of the list an hour of all crews together.
///
/// It is calculated from a usual week of each person (company rule): five of the crew's days, but no more hours than
/// are worked without overtime, and with every tax due as it is before its wage base runs out, so that an estimate is
/// never short by a tax. The burden is [`week_burden`]'s. Crews in which nobody has pay are left out.
///
/// # Errors
/// When people or rates cannot be read.
pub fn loaded_on(books: Books<'_>, date: Date) -> Result<Vec<LoadedOn>, OfficeError> {
    let calendar = books.calendar()?;
    let settings = Settings::read(books, &calendar)?;
    let crews = settings.crews_on(date);
    let people = books.people(&calendar)?;
    let people = people.iter().filter_map(|(id, versions)| Some((*id, &versions.on(date)?.fact)));
    let people: BTreeMap<Id, &Person> = people.collect();
    let no_overtime = settings.firm(date).fact.overtime_over_week;
    let mut hourly: BTreeMap<Id, Rate> = BTreeMap::new();
    for pay in dated(books, |pay: &PayRate| pay.date)? {
        // The first one counts from the beginning.
        let is_first = !hourly.contains_key(&pay.fact.person);
        if is_first || pay.fact.date <= date {
            hourly.insert(pay.fact.person, pay.fact.hourly);
        }
    }
    let parts = burden_on(books, date)?;
    let mut firm = Sum::default();
    let mut rows = Vec::new();
    for (id, crew) in &crews {
        let mut sum = Sum::default();
        let week = trade::usual_week(crew.hours_a_day, no_overtime);
        let members = people
            .iter()
            .filter(|(_, person)| person.crew == Some(*id) && person.left_on.is_none_or(|day| day > date));
        for (person, of) in members {
            let Some(rate) = hourly.get(person) else { continue };
            let pay = trade::line_amount(*rate, week);
            let earned = Earned { straight: pay, premium: Money::ZERO, hours: week };
            let burden = week_burden(&parts, of.class.as_deref(), earned, Earned::default());
            let burden: Money = burden.iter().sum();
            sum.add(week, pay, burden);
            firm.add(week, pay, burden);
        }
        rows.extend(sum.row(Some(*id), crew.hours_a_day));
    }
    let usual_day = rows.iter().map(|row| row.hours_a_day).max().unwrap_or(Qty::from_e4(80_000));
    rows.extend(firm.row(None, usual_day));
    Ok(rows)
}

/// The parts of the burden on a day: of each name and class, the newest. Those of the first day count from the
/// beginning.
fn burden_on(books: Books<'_>, date: Date) -> Result<Vec<BurdenPart>, OfficeError> {
    let mut newest: BTreeMap<(String, Option<String>), BurdenRate> = BTreeMap::new();
    let rates = dated(books, |rate: &BurdenRate| rate.date)?;
    let date = rates.first().map_or(date, |first| date.max(first.fact.date));
    for rate in rates.into_iter().filter(|rate| rate.fact.date <= date) {
        newest.insert((rate.fact.name.clone(), rate.fact.class.clone()), rate.fact);
    }
    Ok(newest.values().map(BurdenRate::part).collect())
}
