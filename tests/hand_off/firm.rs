//! A small made-up firm with pay so round that it can be calculated in the head.

use crate::files::Set;
use jiff::Timestamp;
use jiff::civil::Date;
use ledger::facts::Firm;
use ledger::{Fact, Id};
use office::hand_off::{HandOffDone, hand_off};
use office::{Clock, Desk, Month, NewFirm, OfficeError, Recorder};
use serde_json::{Value, json};
use std::path::PathBuf;
use tempfile::TempDir;

/// The firm, with its ledger open.
pub(crate) struct Shop {
    dir: TempDir,
    pub(crate) desk: Desk,
    recorder: Recorder,
}

pub(crate) fn month(text: &str) -> Month {
    text.parse().unwrap()
}

pub(crate) fn day(text: &str) -> Date {
    text.parse().unwrap()
}

impl Shop {
    /// A firm for which the tax on material is part of cost.
    pub(crate) fn new() -> Shop {
        Shop::with_tax_as_cost(true)
    }

    pub(crate) fn with_tax_as_cost(tax_is_cost: bool) -> Shop {
        let firm = json!({
            "date": "2026-01-01", "name": "Gable & Eave", "town": "Otter Bend", "state": "WI", "currency": "USD",
            "week_begins": "monday", "overtime_over_week": "40", "premium_to": "hours", "sales_tax": "0.05",
            "sales_tax_rounding": "invoice", "material_tax_is_cost": tax_is_cost, "overhead_by": "labor-hours",
            "overhead_rate": "10.00"
        });
        let Ok(Fact::Firm(firm)) = Fact::from_json("firm", firm) else {
            panic!("the firm's settings are sound")
        };
        Shop::of(firm)
    }

    fn of(firm: Firm) -> Shop {
        let dir = tempfile::tempdir().unwrap();
        let clock = Clock::fixed("2026-03-01T13:00:00Z".parse::<Timestamp>().unwrap());
        let new = NewFirm { firm, owner: "Olive Marsh".to_owned() };
        let desk = Desk::make(&dir.path().join("firm.tearoff"), &new, clock).unwrap();
        let mut shop = Shop { dir, desk, recorder: Recorder::default() };
        let people = [("Bo Finch", "20.00"), ("Cy Reed", "30.00")];
        shop.say(json!({"kind": "crew", "name": "One", "size": 2, "hours_a_day": "8"}));
        for (name, hourly) in people {
            shop.say(
                json!({"kind": "person", "name": name, "role": "crew", "crew": "One", "class": "roofing"}),
            );
            shop.say(json!({"kind": "pay-rate", "date": "2026-01-01", "person": name, "hourly": hourly}));
        }
        // A tenth of all pay, so that burden too can be calculated in the head.
        shop.say(
            json!({"kind": "burden-rate", "date": "2026-01-01", "name": "Payroll tax", "calculated_on": "pay",
                        "rate": "0.10", "on_premium": true}),
        );
        for (position, code) in ["deck", "shingle", "tear"].into_iter().enumerate() {
            shop.say(json!({"kind": "cost-code", "code": code, "title": code, "position": position}));
        }
        shop.say(json!({"kind": "vendor", "name": "Weir Supply"}));
        shop.say(json!({"kind": "vendor", "name": "Kiln Carpentry", "subcontractor": true}));
        for (name, number) in [("Ada Birch", "26-001"), ("Ben Cole", "26-002")] {
            shop.say(json!({"kind": "customer", "name": name}));
            shop.say(json!({"kind": "job", "date": "2026-03-02", "number": number, "title": "Re-roof",
                            "customer": name, "site": "1 Mill Lane", "crew": "One"}));
            shop.say(json!({"kind": "contract", "date": "2026-03-02", "job": number, "price": "10000.00",
                            "retainage": "0.1", "lines": [
                {"code": "shingle", "cost_kind": "material", "amount": "4000.00"},
                {"code": "tear", "cost_kind": "labor", "amount": "2000.00", "hours": "80"}
            ]}));
        }
        shop
    }

    /// Moves the clock on to a day.
    pub(crate) fn on(&mut self, date: &str) -> &mut Shop {
        self.desk.clock.set_day(day(date));
        self
    }

    /// Records a fact that the books must take.
    pub(crate) fn say(&mut self, fact: Value) -> Id {
        let told = fact.to_string();
        self.offer(fact).unwrap_or_else(|refused| panic!("{told}: {refused}"))
    }

    /// Offers a fact that the books may refuse.
    pub(crate) fn offer(&mut self, fact: Value) -> Result<Id, OfficeError> {
        self.recorder.record(&mut self.desk, fact).map(|recorded| recorded.id)
    }

    pub(crate) fn reverse(&mut self, id: Id, reason: &str) -> Id {
        let date = self.desk.clock.today().to_string();
        self.say(json!({"kind": "reversal", "date": date, "reverses": id.to_string(), "reason": reason}))
    }

    pub(crate) fn hours(&mut self, person: &str, date: &str, job: &str, hours: &str) -> Id {
        let entry = json!({"kind": "time-entry", "date": date, "person": person, "job": job, "code": "tear",
            "hours": hours});
        self.say(entry)
    }

    pub(crate) fn bill(&mut self, date: &str, job: &str, amount: &str, tax: &str) -> Id {
        self.say(json!({"kind": "bill", "date": date, "vendor": "Weir Supply",
            "reference": format!("R {date} {amount}"), "lines": [
            {"job": job, "code": "shingle", "cost_kind": "material", "amount": amount, "tax": tax}
        ]}))
    }

    pub(crate) fn close(&mut self, of: &str, on: &str) {
        self.on(on);
        office::close(&mut self.desk, month(of), day(on), true).unwrap();
    }

    /// A folder of its own beside the ledger.
    pub(crate) fn folder(&self, name: &str) -> PathBuf {
        self.dir.path().join(name)
    }

    pub(crate) fn hand(&mut self, of: &str, to: &str) -> Result<HandOffDone, OfficeError> {
        let folder = self.folder(to);
        hand_off(&mut self.desk, month(of), &folder, &mut |_| true)
    }

    /// Hands a month off, which must add a part, and reads it.
    pub(crate) fn part(&mut self, of: &str, number: i64) -> Set {
        let done = self.hand(of, "books").unwrap();
        assert_eq!((done.part, done.recorded.is_some()), (number, true), "part {number} of {of}");
        Set::read(&done.folder)
    }

    /// Hands a month off into another folder, which must be the last part once more, and gives its bytes.
    pub(crate) fn once_more(&mut self, of: &str, number: i64) {
        let again = self.hand(of, "books-again").unwrap();
        assert_eq!((again.part, again.recorded), (number, None), "nothing of {of} is new");
        let first = self.folder("books").join(again.folder.file_name().unwrap());
        assert_eq!(Set::bytes(&first), Set::bytes(&again.folder));
    }

    /// How many hand-offs are recorded.
    pub(crate) fn recorded(&self) -> usize {
        self.desk.books().all::<ledger::facts::HandOff>().unwrap().len()
    }
}
