//! The site view: what a crew lead needs on the roof, and nothing of cost or margin.

use crate::change::allowance::{further_price, price_of};
use crate::change::ask::{if_declined, if_left};
use crate::job::before_work::{before_work, begins, hazards_of};
use crate::job::roof::measured_roof;
use crate::job::snapshot::{ChangeAtMonth, ChangeState, ConditionAtMonth, JobSnapshot, WorkState};
use crate::site::own::{OwnEntry, own_of_today};
use desk::Desk;
use desk::OfficeError;
use desk::names::Names;
use desk::numbering::Numbering;
use jiff::Span;
use jiff::civil::Date;
use ledger::closed_lists::{CountedIn, Course, Damaged, Place, Role};
use ledger::facts::{TimeEntry, UnitPrice, UnitsDone};
use ledger::{Books, Id};
use rust_decimal::Decimal;
use serde::Serialize;
use trade::roof::measure;
use trade::shown::unit_behind;
use trade::{Money, Month, Qty};

/// A price of one for the homeowner.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SitePrice {
    /// Of what.
    pub damaged: Damaged,
    /// Counted in.
    pub counted_in: CountedIn,
    /// Price of one.
    pub price: Money,
}

/// A condition as the crew sees it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SiteCondition {
    /// Its id.
    pub id: String,
    /// Number.
    pub number: String,
    /// The day on which it was found.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub on: Date,
    /// Where.
    pub place: Place,
    /// Which side.
    pub side: Option<String>,
    /// What.
    pub damaged: Damaged,
    /// How many.
    pub count: Qty,
    /// Counted in.
    pub counted_in: CountedIn,
    /// Covered by the price.
    pub covered: Qty,
    /// Beyond.
    pub beyond: Qty,
    /// The work on it.
    pub work: WorkState,
    /// Whether the homeowner is to be asked: it goes beyond what the price covers, and nobody has; or they declined,
    /// and the owner has not decided what becomes of it.
    pub to_ask: bool,
    /// Whether the homeowner declined its repair.
    pub declined: bool,
    /// What the firm's owner decided then.
    pub course: Option<Course>,
    /// Whether work stops there: nothing is laid over it as it is.
    pub stops: bool,
    /// The same in a sentence, where it does.
    pub stop_words: Option<String>,
    /// Whether it may be recorded as repaired.
    pub may_be_repaired: bool,
    /// What the homeowner pays for what is beyond: what they were asked, what they owe once they have agreed, and
    /// before they are asked what the contract's price for one comes to. Absent where they declined, or nothing is
    /// known.
    pub price: Option<Money>,
    /// What happens if it is left, in the usual words.
    pub if_left: String,
    /// The firm's own note.
    pub note: Option<String>,
    /// What the homeowner reads about it.
    pub for_homeowner: Option<String>,
    /// Hashes of its photos.
    pub photos: Vec<String>,
}

/// A change order as the crew sees it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SiteChange {
    /// Its id.
    pub id: String,
    /// Number.
    pub number: String,
    /// What it is about.
    pub title: String,
    /// Price to the homeowner.
    pub price: Money,
    /// State.
    pub state: ChangeState,
    /// Who decided.
    pub decided_by: Option<String>,
    /// Whether two devices hold decisions that contradict each other.
    pub contradicted: bool,
    /// The conditions that it repairs, by id.
    pub conditions: Vec<String>,
}

/// Hours typed today.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SiteHours {
    /// The fact's id.
    pub id: String,
    /// Who.
    pub person: String,
    /// Code.
    pub code: String,
    /// Hours.
    pub hours: Qty,
}

/// Work that is measured, such as squares laid.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SiteMeasured {
    /// The code's word.
    pub code: String,
    /// Its title.
    pub title: String,
    /// What one of it is called.
    pub unit: String,
    /// What several are called.
    pub units: String,
    /// How much is done.
    pub done: Qty,
}

/// What can hurt on a site.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SiteCaution {
    /// What to do.
    pub words: String,
    /// Where it is written; absent where it is common practice.
    pub source: Option<String>,
    /// Whether it matters most now, by how far the work is.
    pub first: bool,
}

/// A job as the crew sees it.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SiteJob {
    /// Number.
    pub number: String,
    /// What is done.
    pub title: String,
    /// For whom.
    pub customer: String,
    /// Their telephone.
    pub phone: Option<String>,
    /// Where.
    pub site: String,
    /// The crew that is planned, else the job's own.
    pub crew: Option<String>,
    /// Whether work has begun.
    pub begun: bool,
    /// The first day of work: the one on which it began, else the one that is planned.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub begins: Option<Date>,
    /// The last day, where one is planned.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub ends: Option<Date>,
    /// How many days of a crew are planned.
    pub crew_days: Option<Qty>,
    /// What is to be settled before work begins.
    pub before_work: Vec<String>,
    /// What can hurt there, what matters most now first.
    pub cautions: Vec<SiteCaution>,
    /// Sheets that the price covers, and how many are left.
    pub included_sheets: Qty,
    /// Sheets left.
    pub sheets_left: Qty,
    /// Sheets that cover the whole roof, where it was measured: more than that is asked about.
    pub roof_sheets: Option<Qty>,
    /// Feet of board that the price covers.
    pub included_feet: Qty,
    /// Feet left.
    pub feet_left: Qty,
    /// Unit prices to the homeowner.
    pub prices: Vec<SitePrice>,
    /// Conditions.
    pub conditions: Vec<SiteCondition>,
    /// Change orders.
    pub changes: Vec<SiteChange>,
    /// Hours typed for today.
    pub hours: Vec<SiteHours>,
    /// Codes whose work is measured, and how much of each is done.
    pub measured: Vec<SiteMeasured>,
    /// The next number for a condition.
    pub next_condition: String,
    /// The next number for a change order.
    pub next_change: String,
}

/// Somebody who can be given hours.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SitePerson {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Crew.
    pub crew: Option<String>,
}

/// Hours of somebody on one of the last days, on any job.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SiteWorked {
    /// The person's id.
    pub person: String,
    /// The day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub date: Date,
    /// The job's number.
    pub job: String,
    /// The code.
    pub code: String,
    /// Hours.
    pub hours: Qty,
}

/// A day on site.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct SiteDay {
    /// The day.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub today: Date,
    /// Jobs at work or about to be.
    pub jobs: Vec<SiteJob>,
    /// People of the crews.
    pub people: Vec<SitePerson>,
    /// Codes: word and title.
    pub codes: Vec<(String, String)>,
    /// Hours of the last two weeks: what a second entry for one person and day is held against.
    pub worked: Vec<SiteWorked>,
    /// The longest day of one person that is taken without a question.
    pub long_day: Qty,
    /// What whoever is here recorded today and may take back, the newest first.
    pub own: Vec<OwnEntry>,
}

/// The site view of a day.
///
/// # Errors
/// When the facts cannot be read.
pub fn site_day(desk: &Desk, today: Date) -> Result<SiteDay, OfficeError> {
    desk.books().in_one_read(|books| {
        let calendar = books.calendar()?;
        let names = Names::read(books)?;
        // Facts dated today may be booked later when the month is closed already: look through the later of the two.
        let month = Month::of(today).max(calendar.closed_through().map_or(Month::of(today), Month::next));
        let numbering = Numbering::read(books)?;
        let mut jobs = Vec::new();
        let at_work = books.jobs_at_work(&calendar, month)?;
        JobSnapshot::gather_each(books, &calendar, at_work, month, |standing| {
            if standing.is_ended() || standing.contract.is_none() {
                return Ok(());
            }
            let hours = books.live_at(&calendar, TimeEntry::job, standing.job, month, |fact| fact.date)?;
            let hours = hours.into_iter().filter(|held| held.fact.date == today).map(|held| SiteHours {
                id: held.entry.id.to_string(),
                person: names.person(held.fact.person),
                code: names.code(held.fact.code),
                hours: held.fact.hours,
            });
            jobs.push(site_job(books, &standing, &names, &numbering, hours.collect())?);
            Ok(())
        })?;
        // What is at work first, then in the order in which it is planned; what nobody has planned last.
        let planned = |job: &SiteJob| (!job.begun, job.begins.unwrap_or(Date::MAX), job.number.clone());
        jobs.sort_by_key(planned);
        let people =
            names.people.iter().filter(|(_, person)| person.role == Role::Crew && person.left_on.is_none());
        let mut codes: Vec<_> = names.codes.values().collect();
        codes.sort_by_key(|code| code.position);
        Ok(SiteDay {
            today,
            jobs,
            people: people
                .map(|(id, person)| SitePerson {
                    id: id.to_string(),
                    name: person.name.clone(),
                    crew: person.crew.map(|crew| names.crew(crew)),
                })
                .collect(),
            codes: codes.into_iter().map(|code| (code.code.clone(), code.title.clone())).collect(),
            worked: worked(books, &names, today)?,
            long_day: trade::LONG_DAY,
            own: own_of_today(desk, books, &names, today)?,
        })
    })
}

/// The hours of the last two weeks, whoever typed them.
fn worked(books: Books<'_>, names: &Names, today: Date) -> Result<Vec<SiteWorked>, OfficeError> {
    let first = today.saturating_sub(Span::new().days(14));
    let hours = books.dated_between::<TimeEntry>(first, today)?;
    Ok(hours
        .into_iter()
        .map(|held| SiteWorked {
            person: held.fact.person.to_string(),
            date: held.fact.date,
            job: names.job_number(held.fact.job),
            code: names.code(held.fact.code),
            hours: held.fact.hours,
        })
        .collect())
}

/// Sheets that cover the whole roof, where it was measured and has a shape.
fn roof_sheets(books: Books<'_>, job: Id) -> Result<Option<Qty>, OfficeError> {
    let measured = measured_roof(books, job)?.and_then(|(roof, _)| measure(&roof).ok());
    Ok(measured.map(|measured| trade::sheets_of_whole_roof(measured.area_sqft)))
}

fn site_job(
    books: Books<'_>,
    standing: &JobSnapshot,
    names: &Names,
    numbering: &Numbering,
    hours: Vec<SiteHours>,
) -> Result<SiteJob, OfficeError> {
    let begun = standing.begun.is_some();
    let planned = begins(books, standing.job)?;
    let job = names.jobs.get(&standing.job);
    let customer = job.and_then(|job| names.customers.get(&job.customer));
    let contract = standing.contract.as_ref().map(|held| &held.fact);
    let used = |damaged: Damaged| -> Qty {
        standing
            .conditions
            .iter()
            .filter(|condition| condition.condition.damaged == damaged)
            .map(|condition| condition.used.covered)
            .sum()
    };
    let included_sheets = contract.map_or(Qty::ZERO, |contract| contract.included_sheets);
    let included_feet = contract.map_or(Qty::ZERO, |contract| contract.included_feet);
    let prices = contract.map(|contract| contract.unit_prices.as_slice()).unwrap_or_default();
    Ok(SiteJob {
        number: names.job_number(standing.job),
        title: job.map(|job| job.title.clone()).unwrap_or_default(),
        customer: customer.map(|customer| customer.name.clone()).unwrap_or_default(),
        phone: customer.and_then(|customer| customer.phone.clone()),
        site: job.map(|job| job.site.clone()).unwrap_or_default(),
        crew: planned.crew.map(|crew| names.crew(crew)),
        begun,
        begins: planned.on,
        ends: planned.ends,
        crew_days: planned.crew_days,
        before_work: before_work(books, standing.job)?,
        cautions: cautions(books, standing.job, begun)?,
        included_sheets,
        sheets_left: included_sheets - used(Damaged::DeckSheet),
        roof_sheets: roof_sheets(books, standing.job)?,
        included_feet,
        feet_left: included_feet - used(Damaged::DeckBoard),
        prices: prices
            .iter()
            .map(|unit| SitePrice { damaged: unit.damaged, counted_in: unit.counted_in, price: unit.price })
            .collect(),
        conditions: standing
            .conditions
            .iter()
            .map(|condition| site_condition(condition, &standing.changes, prices))
            .collect(),
        changes: standing.changes.iter().map(site_change).collect(),
        hours,
        measured: measured(books, names, standing.job)?,
        next_condition: numbering
            .next(standing.conditions.iter().map(|condition| condition.condition.number.as_str())),
        next_change: numbering.next(standing.changes.iter().map(|change| change.order.number.as_str())),
    })
}

/// Every code whose work is measured, in the firm's order, with what is done of it on a job.
fn measured(books: Books<'_>, names: &Names, job: Id) -> Result<Vec<SiteMeasured>, OfficeError> {
    let entries = books.by(UnitsDone::job, job)?;
    let mut codes: Vec<_> = names.codes.iter().filter(|(_, code)| code.unit.is_some()).collect();
    codes.sort_by_key(|(_, code)| code.position);
    let done = |id: Id| -> Qty {
        let of_code = entries.iter().map(|held| &held.fact).filter(|units| units.code == id);
        of_code.map(|units| units.quantity).sum()
    };
    Ok(codes
        .into_iter()
        .map(|(id, code)| {
            let (unit, done) = (code.unit.clone().unwrap_or_default(), done(*id));
            SiteMeasured {
                code: code.code.clone(),
                title: code.title.clone(),
                units: unit_behind(Decimal::TWO, &unit),
                unit: unit_behind(Decimal::ONE, &unit),
                done,
            }
        })
        .collect())
}

/// What can hurt there, what matters most now first.
fn cautions(books: Books<'_>, job: Id, begun: bool) -> Result<Vec<SiteCaution>, OfficeError> {
    let mut cautions: Vec<SiteCaution> = hazards_of(books, job)?
        .into_iter()
        .map(|hazard| SiteCaution {
            first: hazard.comes_first(begun),
            words: hazard.words,
            source: hazard.source.map(str::to_owned),
        })
        .collect();
    cautions.sort_by_key(|caution| !caution.first);
    Ok(cautions)
}

fn site_condition(
    condition: &ConditionAtMonth,
    changes: &[ChangeAtMonth],
    prices: &[UnitPrice],
) -> SiteCondition {
    SiteCondition {
        id: condition.id.to_string(),
        number: condition.condition.number.clone(),
        on: condition.condition.date,
        place: condition.condition.place,
        side: condition.condition.side.clone(),
        damaged: condition.condition.damaged,
        count: condition.condition.count,
        counted_in: condition.condition.counted_in,
        covered: condition.used.covered,
        beyond: condition.used.beyond,
        work: condition.work,
        to_ask: condition.is_to_ask() || (condition.declined && condition.course.is_none()),
        declined: condition.declined,
        course: condition.course,
        stops: condition.stops,
        stop_words: condition.stops.then(|| stop_words(condition)),
        may_be_repaired: trade::may_be_repaired(
            condition.stops,
            condition.course == Some(Course::ByOthers),
            condition.work == WorkState::Done,
        ),
        price: price_to_homeowner(condition, changes, prices),
        if_left: if_left(condition.condition.cause, condition.condition.damaged),
        note: condition.condition.note.clone(),
        for_homeowner: condition.condition.for_homeowner.clone(),
        photos: condition.condition.photos.iter().map(|photo| photo.photo.to_string()).collect(),
    }
}

/// One figure wherever a condition's price to the homeowner stands: what they owe for it once they have agreed, as on
/// the job's page; while they are asked, what they are asked; before that, the contract's price for what is beyond.
fn price_to_homeowner(
    condition: &ConditionAtMonth,
    changes: &[ChangeAtMonth],
    prices: &[UnitPrice],
) -> Option<Money> {
    if !condition.asked {
        let unit_price = price_of(prices, condition.condition.damaged, condition.condition.counted_in)?;
        return further_price(unit_price, condition.used.beyond).ok();
    }
    let waiting = changes.iter().filter(|change| change.state() == ChangeState::Waiting);
    let lines = waiting.flat_map(|change| &change.order.lines);
    let asked: Money = lines.filter(|line| line.condition == Some(condition.id)).map(|line| line.price).sum();
    (!condition.declined).then(|| condition.approved + asked)
}

/// What a crew reads where work stops.
fn stop_words(condition: &ConditionAtMonth) -> String {
    let then = match condition.course {
        None => "The owner decides what becomes of it.",
        Some(Course::ByOthers) => "The homeowner has somebody else repair it: wait for that.",
        Some(Course::Stop | Course::OwnCost) => "It stays so by the owner's decision.",
    };
    format!("The homeowner declined. {} {then}", if_declined(true))
}

fn site_change(change: &ChangeAtMonth) -> SiteChange {
    SiteChange {
        id: change.id.to_string(),
        number: change.order.number.clone(),
        title: change.order.title.clone(),
        price: price_of_change(change),
        state: change.state(),
        decided_by: change.decision.as_ref().map(|decision| decision.decided_by.clone()),
        contradicted: change.contradicted,
        conditions: {
            let repairs: std::collections::BTreeSet<Id> =
                change.order.lines.iter().filter_map(|line| line.condition).collect();
            repairs.into_iter().map(|condition| condition.to_string()).collect()
        },
    }
}

/// What they are asked while it waits, and what they owe for it once it is decided.
fn price_of_change(change: &ChangeAtMonth) -> Money {
    match change.state() {
        ChangeState::Approved | ChangeState::PartlyApproved => change.owed(),
        ChangeState::Waiting | ChangeState::Declined | ChangeState::Withdrawn => {
            change.order.lines.iter().map(|line| line.price).sum()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::change::allowance::further;
    use crate::change::ask::{Asking, ask_for};
    use desk::Clock;
    use desk::record::Recorder;
    use ledger::closed_lists::Pricing;
    use serde_json::json;

    fn sample() -> (tempfile::TempDir, Desk) {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("firm.tearoff");
        drop(crate::file::sample::write(&path, &mut |_, _| true).unwrap());
        let desk = Desk::open(&path, Clock::System).unwrap();
        (home, desk)
    }

    fn qty(text: &str) -> Qty {
        Qty::parse(text).unwrap()
    }

    /// A job whose contract has a price for a further sheet.
    fn priced(day: &SiteDay) -> SiteJob {
        let has =
            |price: &SitePrice| price.damaged == Damaged::DeckSheet && price.counted_in == CountedIn::Sheet;
        day.jobs.iter().find(|job| job.prices.iter().any(has)).unwrap().clone()
    }

    #[test]
    fn included_sheets_go_first_and_the_rest_is_at_the_unit_price() {
        let (_home, desk) = sample();
        let job = priced(&site_day(&desk, desk.clock.today()).unwrap());
        let ask = |count| further(&desk, &job.number, Damaged::DeckSheet, CountedIn::Sheet, count);
        let within = ask(job.sheets_left).unwrap();
        assert_eq!((within.covered, within.beyond, within.price), (job.sheets_left, Qty::ZERO, None));
        let beyond = ask(job.sheets_left + qty("2")).unwrap();
        let unit_price = beyond.unit_price.unwrap();
        assert_eq!((beyond.beyond, beyond.price), (qty("2"), Some(unit_price + unit_price)));
        let unpriced = further(&desk, &job.number, Damaged::Rafter, CountedIn::Each, qty("3")).unwrap();
        assert_eq!((unpriced.beyond, unpriced.price), (qty("3"), None));
        assert_eq!(ask(qty("-1")).unwrap_err().field.as_deref(), Some("count"));
    }

    #[test]
    fn the_crew_asks_at_the_contracts_price_alone_and_keeps_its_own_entries_in_reach() {
        let (_home, mut desk) = sample();
        let today = desk.clock.today();
        let job = priced(&site_day(&desk, today).unwrap());
        let crew = desk::people::people(&desk).unwrap().into_iter().find(|person| person.role == Role::Crew);
        let crew = Id::parse(&crew.unwrap().id).unwrap();
        desk.sit(crew);
        assert_eq!(site_day(&desk, today).unwrap().own, []);
        let count = (job.sheets_left + qty("2")).to_string();
        let condition = Recorder::default()
            .record(
                &mut desk,
                json!({
                    "kind": "condition", "date": today.to_string(), "job": job.number,
                    "number": job.next_condition, "place": "valley", "cause": "not-said",
                    "damaged": "deck-sheet", "counted_in": "sheet", "count": count,
                }),
            )
            .unwrap()
            .id;
        let usual = crate::change::ask::asking(&desk, condition).unwrap();
        let credit = crate::change::ask::Deduct {
            description: "Gutter".to_owned(),
            credit: Money::parse("4999.00").unwrap(),
        };
        let lump =
            Asking { pricing: Pricing::LumpSum, price: Some(Money::parse("1.00").unwrap()), ..usual.clone() };
        let deducted = Asking { deducts: vec![credit], ..usual.clone() };
        for refused in [lump, deducted] {
            let code = crate::change::ask::ask(&desk, condition, &refused).unwrap_err().code;
            assert_eq!(code, desk::Code::NotAllowed);
        }
        assert_eq!(crate::change::ask::ask(&desk, condition, &usual).unwrap().lines.len(), 1);
        let own = site_day(&desk, today).unwrap().own;
        assert_eq!(own.len(), 1);
        assert_eq!(own[0].id, condition.to_string());
        assert!(own[0].says.starts_with(&format!("Condition {} on {}", job.next_condition, job.number)));
        desk::record::take_back(&mut desk, condition, "Counted twice").unwrap();
        assert_eq!(site_day(&desk, today).unwrap().own, []);
    }

    fn found(today: Date, job: &SiteJob, count: Qty, more: &serde_json::Value) -> serde_json::Value {
        let mut fact = json!({
            "kind": "condition", "date": today.to_string(), "job": job.number, "number": job.next_condition,
            "place": "valley", "cause": "not-said", "damaged": "deck-sheet", "counted_in": "sheet",
            "count": count.to_string(),
        });
        fact.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        fact
    }

    /// The firm's own note stays in the firm; the homeowner's stands on the sheet. Neither goes on without end.
    #[test]
    fn of_two_notes_the_homeowner_reads_one_and_both_are_bounded() {
        let (_home, mut desk) = sample();
        let today = desk.clock.today();
        let job = priced(&site_day(&desk, today).unwrap());
        let count = job.sheets_left + qty("2");
        let mut recorder = Recorder::default();
        for field in ["note", "for_homeowner"] {
            let long = found(today, &job, count, &json!({field: "x".repeat(501)}));
            let refused = recorder.record(&mut desk, long).unwrap_err();
            assert_eq!(refused.field.as_deref(), Some(field), "{refused}");
        }
        let notes =
            json!({"note": "They are slow to pay", "for_homeowner": "The leak came in at the valley"});
        let condition = recorder.record(&mut desk, found(today, &job, count, &notes)).unwrap().id;
        let order = ask_for(&desk, condition).unwrap();
        let change = desk.record(vec![order.into()]).unwrap()[0];
        let sheet = serde_json::to_string(&crate::change_sheet(&desk, change).unwrap()).unwrap();
        assert!(
            sheet.contains("The leak came in at the valley") && !sheet.contains("slow to pay"),
            "{sheet}"
        );
        // The crew sees both, each under whom it is for.
        let day = site_day(&desk, today).unwrap();
        let job = day.jobs.into_iter().find(|each| each.number == job.number).unwrap();
        let seen = job.conditions.iter().find(|each| each.id == condition.to_string()).unwrap();
        assert_eq!(seen.note.as_deref(), Some("They are slow to pay"));
        assert_eq!(seen.for_homeowner.as_deref(), Some("The leak came in at the valley"));
    }

    #[test]
    fn what_was_declined_can_be_asked_again_under_the_next_number() {
        let (_home, mut desk) = sample();
        let today = desk.clock.today();
        let job = priced(&site_day(&desk, today).unwrap());
        let mut recorder = Recorder::default();
        let condition = found(today, &job, job.sheets_left + qty("2"), &json!({}));
        let condition = recorder.record(&mut desk, condition).unwrap().id;
        let first = ask_for(&desk, condition).unwrap();
        let number = first.number.clone();
        let change = desk.record(vec![first.into()]).unwrap()[0];
        let seen = |desk: &Desk| {
            let day = site_day(desk, today).unwrap();
            let job = day.jobs.into_iter().find(|each| each.number == job.number).unwrap();
            job.conditions.into_iter().find(|each| each.id == condition.to_string()).unwrap()
        };
        assert!(!seen(&desk).to_ask, "it waits for the homeowner");
        let declined = json!({"kind": "decision", "date": today.to_string(), "change_order": change.to_string(),
            "verdict": "declined", "method": "phone", "decided_by": "Ada", "caution_given": true});
        recorder.record(&mut desk, declined).unwrap();
        let stands = seen(&desk);
        assert!(stands.declined && stands.to_ask);
        let again = ask_for(&desk, condition).unwrap();
        assert_ne!(again.number, number);
        desk.record(vec![again.into()]).unwrap();
        assert!(!seen(&desk).to_ask, "it is asked again");
    }

    #[test]
    fn a_crew_logs_boards_at_the_edge_and_what_lay_hidden_and_draws_up_no_price_by_hand() {
        let (_home, mut desk) = sample();
        let today = desk.clock.today();
        let crew = desk::people::people(&desk).unwrap().into_iter().find(|person| person.role == Role::Crew);
        desk.sit(Id::parse(&crew.unwrap().id).unwrap());
        let mut recorder = Recorder::default();
        let number = priced(&site_day(&desk, today).unwrap()).number;
        for damaged in [Damaged::Fascia, Damaged::Soffit, Damaged::Trim, Damaged::HiddenLayer] {
            let day = site_day(&desk, today).unwrap();
            let job = day.jobs.iter().find(|each| each.number == number).unwrap();
            let counted = damaged.usually_counted_in();
            let fact = found(
                today,
                job,
                qty("4"),
                &json!({"damaged": damaged.as_str(), "counted_in": counted.as_str()}),
            );
            recorder.record(&mut desk, fact).unwrap_or_else(|refused| panic!("{damaged}: {refused}"));
        }
        let order = json!({"kind": "change-order", "date": today.to_string(), "job": number, "number": "99",
            "title": "A credit", "pricing": "lump-sum",
            "lines": [{"code": "tear", "cost_kind": "other", "description": "Less", "price": "-4999.00",
                "cost": "0"}]});
        assert_eq!(recorder.record(&mut desk, order).unwrap_err().code, desk::Code::NotAllowed);
    }

    #[test]
    fn jobs_stand_in_the_order_in_which_they_are_planned_with_what_is_done_of_each() {
        let (_home, mut desk) = sample();
        let today = desk.clock.today();
        let day = site_day(&desk, today).unwrap();
        let order: Vec<(bool, Option<Date>)> = day.jobs.iter().map(|job| (!job.begun, job.begins)).collect();
        assert!(order.is_sorted_by_key(|(waits, begins)| (*waits, begins.unwrap_or(Date::MAX))), "{order:?}");
        assert!(order.iter().any(|(waits, _)| *waits) && order.iter().any(|(waits, _)| !waits), "{order:?}");
        let of = |day: &SiteDay, number: &str| {
            let job = day.jobs.iter().find(|job| job.number == number).unwrap();
            job.measured.iter().find(|line| line.unit == "square").unwrap().clone()
        };
        let number = day.jobs[0].number.clone();
        let before = of(&day, &number);
        let crew = desk::people::people(&desk).unwrap().into_iter().find(|person| person.role == Role::Crew);
        desk.sit(Id::parse(&crew.unwrap().id).unwrap());
        Recorder::default()
            .record(
                &mut desk,
                json!({"kind": "units-done", "date": today.to_string(), "job": number, "code": before.code,
                    "quantity": "4.5"}),
            )
            .unwrap();
        let after = of(&site_day(&desk, today).unwrap(), &number);
        assert_eq!(after.done, before.done + qty("4.5"));
        assert_eq!((before.units.as_str(), before.unit.as_str()), ("squares", "square"));
    }

    #[test]
    fn a_change_order_names_the_conditions_that_it_repairs_and_its_decision_can_be_taken_back() {
        let (_home, mut desk) = sample();
        let today = desk.clock.today();
        let job = priced(&site_day(&desk, today).unwrap());
        let count = (job.sheets_left + qty("2")).to_string();
        let mut recorder = Recorder::default();
        let condition = recorder
            .record(
                &mut desk,
                json!({
                    "kind": "condition", "date": today.to_string(), "job": job.number, "number": job.next_condition,
                    "place": "valley", "cause": "old-leak", "damaged": "deck-sheet", "counted_in": "sheet",
                    "count": count,
                }),
            )
            .unwrap()
            .id;
        let order = ask_for(&desk, condition).unwrap();
        let change = desk.record(vec![order.into()]).unwrap()[0];
        let now = |desk: &Desk| {
            let day = site_day(desk, today).unwrap();
            day.jobs.into_iter().find(|each| each.number == job.number).unwrap()
        };
        let asked = now(&desk).changes.into_iter().find(|each| each.id == change.to_string()).unwrap();
        assert_eq!(asked.conditions, [condition.to_string()]);
        recorder
            .record(
                &mut desk,
                json!({
                    "kind": "decision", "date": today.to_string(), "change_order": change.to_string(),
                    "verdict": "withdrawn", "decided_by": "Ruth Quill",
                }),
            )
            .unwrap();
        let page = |desk: &Desk| {
            let page = crate::job_page(desk, &job.number, Month::of(today)).unwrap();
            page.changes.into_iter().find(|each| each.id == change.to_string()).unwrap()
        };
        let withdrawn = page(&desk);
        assert_eq!((withdrawn.state, withdrawn.decisions.len()), (ChangeState::Withdrawn, 1));
        desk.reverse(Id::parse(&withdrawn.decisions[0].source.id).unwrap(), "by mistake").unwrap();
        let again = page(&desk);
        assert_eq!((again.state, again.decisions.len()), (ChangeState::Waiting, 0));
    }
}
