//! Firms made for measuring: a small one with one job, and a big one with ten years of them.

use jiff::civil::Date;
use jiff::{Timestamp, ToSpan};
use ledger::closed_lists::{
    InvoiceFor, JobStatusWord, OverheadBy, PaidBy, PremiumTo, Role, TaxRounding, WeekDay,
};
use ledger::facts::{
    Allocation, Bill, BillLine, Contract, ContractLine, CostCode, Crew, Customer, Firm, Invoice, InvoiceLine,
    Job, JobStatus, PayRate, Payment, Person, TimeEntry, Vendor,
};
use ledger::{Fact, Id, Ledger, NewFact};
use office::{CostKind, Money, Month, Qty, Rate};
use std::path::Path;

/// How big.
#[derive(Clone, Copy)]
pub(crate) struct Size {
    pub(crate) jobs: u32,
    pub(crate) facts_a_job: u32,
}

pub(crate) const PEOPLE: u32 = 80;
pub(crate) const CODES: [&str; 9] =
    ["deck", "barrier", "underlay", "shingle", "flash", "vent", "ridge", "tear", "haul"];
pub(crate) const FIRST_DAY: Date = Date::constant(2017, 1, 2);
const DAYS: u32 = 3590;

/// A firm with its lists, ready to take facts.
pub(crate) struct Base {
    ledger: Ledger,
    pub(crate) owner: Id,
    people: Vec<Id>,
    codes: Vec<Id>,
    crew: Id,
    vendor: Id,
    made: u64,
    job: Option<Id>,
}

impl Base {
    pub(crate) fn ledger(&mut self) -> &mut Ledger {
        &mut self.ledger
    }

    fn id(&mut self) -> Id {
        self.made += 1;
        Id::made_of(1_700_000_000_000 + self.made / 64, self.made)
    }

    pub(crate) fn make(&mut self, fact: impl Into<Fact>) -> NewFact {
        NewFact { id: self.id(), person: self.owner, fact: fact.into() }
    }

    pub(crate) fn append(&mut self, batch: &[NewFact]) {
        let at = Timestamp::from_millisecond(1_790_000_000_000).unwrap();
        self.ledger.append(batch, at).unwrap();
    }

    /// Hours on the small firm's job: a few on each day for each person, so that weeks are real weeks.
    pub(crate) fn time(&mut self, at: u32) -> NewFact {
        let per_day = PEOPLE * 4;
        let date = FIRST_DAY.checked_add(i64::from(at / per_day).days()).unwrap();
        let person = self.people[usize::try_from((at / 4) % PEOPLE).unwrap()];
        let code = self.codes[usize::try_from(at % 9).unwrap()];
        let job = self.job.unwrap();
        self.make(hours(date, person, job, code))
    }
}

fn hours(date: Date, person: Id, job: Id, code: Id) -> TimeEntry {
    TimeEntry {
        date,
        person,
        job,
        code,
        hours: Qty::from_e4(20_000),
        crew: None,
        caused_overtime: false,
        condition: None,
    }
}

fn base(path: &Path) -> Base {
    let ledger = Ledger::create(path).unwrap();
    let owner = Id::made_of(1_600_000_000_000, 1);
    let mut base = Base {
        ledger,
        owner,
        people: Vec::new(),
        codes: Vec::new(),
        crew: owner,
        vendor: owner,
        made: 1,
        job: None,
    };
    let person = |name: String, role, crew| Person {
        revises: None,
        date: None,
        name,
        role,
        crew,
        class: None,
        left_on: None,
        language: None,
    };
    let mut batch =
        vec![NewFact { id: owner, person: owner, fact: person("Owner".into(), Role::Owner, None).into() }];
    batch.push(base.make(Firm {
        date: FIRST_DAY,
        name: "Measured Roofing".into(),
        town: "Plumb".into(),
        state: "OH".into(),
        street: None,
        logo: None,
        zip: None,
        phone: None,
        license: None,
        lead_certificate: None,
        currency: "USD".into(),
        week_begins: WeekDay::Monday,
        overtime_over_week: Qty::from_e4(400_000),
        overtime_over_day: None,
        premium_to: PremiumTo::Hours,
        sales_tax: Rate::default(),
        sales_tax_rounding: TaxRounding::Invoice,
        material_tax_is_cost: true,
        overhead_by: OverheadBy::LaborHours,
        overhead_rate: Rate::parse("9.50").unwrap(),
        books_see_margin: None,
    }));
    let crew = base.make(Crew {
        revises: None,
        date: None,
        name: "Crew".into(),
        size: 4,
        hours_a_day: Qty::from_e4(80_000),
    });
    base.crew = crew.id;
    batch.push(crew);
    for at in 0..PEOPLE {
        let new = base.make(person(format!("Person {at}"), Role::Crew, Some(base.crew)));
        let pay =
            base.make(PayRate { date: FIRST_DAY, person: new.id, hourly: Rate::parse("27.50").unwrap() });
        base.people.push(new.id);
        batch.extend([new, pay]);
    }
    for (code, position) in CODES.iter().zip(1..) {
        let new = base.make(CostCode {
            revises: None,
            code: (*code).into(),
            title: (*code).into(),
            unit: None,
            bought_in: Some("each".into()),
            position,
        });
        base.codes.push(new.id);
        batch.push(new);
    }
    let vendor =
        base.make(Vendor { revises: None, name: "Supply".into(), subcontractor: false, due_days: None });
    base.vendor = vendor.id;
    batch.push(vendor);
    base.append(&batch);
    base
}

/// A firm with one contracted job.
pub(crate) fn small(path: &Path) -> Base {
    let mut base = base(path);
    let job = base.contracted_job(1, FIRST_DAY);
    base.job = Some(job.0);
    base.append(&job.1);
    base
}

impl Base {
    fn contracted_job(&mut self, number: u32, date: Date) -> (Id, Vec<NewFact>) {
        let customer = self.make(Customer {
            revises: None,
            name: format!("Customer {number}"),
            address: None,
            phone: None,
            email: None,
        });
        let job = self.make(Job {
            revises: None,
            date,
            number: format!("{number:05}"),
            title: "Re-roof".into(),
            customer: customer.id,
            site: "1 Ridge Road".into(),
            crew: Some(self.crew),
            roof_age_years: None,
            state: None,
            roof_state: None,
        });
        let line = |code: Id, cost_kind, amount: i64, hours| ContractLine {
            code,
            cost_kind,
            description: None,
            amount: Money::from_minor(amount),
            quantity: None,
            unit: None,
            hours,
        };
        let mut lines = Vec::new();
        for code in &self.codes {
            lines.push(line(*code, CostKind::Material, 60_000, None));
            lines.push(line(*code, CostKind::Labor, 80_000, Some(Qty::from_e4(300_000))));
        }
        let contract = self.make(Contract {
            date,
            job: job.id,
            price: Money::from_minor(2_000_000),
            included_sheets: Qty::from_e4(20_000),
            included_feet: Qty::ZERO,
            retainage: Rate::default(),
            note: None,
            choice: None,
            choice_title: None,
            roof: None,
            sold_at_home: None,
            recipe: None,
            proposal: None,
            lines,
            units: Vec::new(),
            unit_prices: Vec::new(),
            payments: Vec::new(),
            parts: Vec::new(),
            places: Vec::new(),
        });
        (job.id, vec![customer, job, contract])
    }

    fn bill(&mut self, date: Date, job: Id, at: u32) -> NewFact {
        let code = self.codes[usize::try_from(at % 9).unwrap()];
        let line = |amount: i64| BillLine {
            job,
            code,
            cost_kind: CostKind::Material,
            description: None,
            quantity: Some(Qty::from_e4(30_000)),
            unit: Some("each".into()),
            unit_price: None,
            amount: Money::from_minor(amount),
            tax: Money::from_minor(amount / 12),
            condition: None,
            came: None,
            part: None,
        };
        let reference = format!("R{}", self.made);
        let vendor = self.vendor;
        self.make(Bill {
            date,
            vendor,
            reference,
            purchase_order: None,
            completes_order: false,
            credit: false,
            note: None,
            due: None,
            picture: None,
            lines: vec![line(12_345), line(6_789)],
            overhead: Vec::new(),
        })
    }

    fn invoice(&mut self, date: Date, job: Id, customer: Id, part: u32) -> Vec<NewFact> {
        let amount = Money::from_minor(600_000);
        let invoice = self.make(Invoice {
            date,
            job,
            number: format!("{job}-{part}"),
            purpose: InvoiceFor::Progress,
            due: date.checked_add(30.days()).unwrap(),
            tax: Money::ZERO,
            retainage: Money::ZERO,
            credits: None,
            note: None,
            lines: vec![InvoiceLine {
                description: "Progress".into(),
                amount,
                taxable: false,
                change_order: None,
            }],
        });
        let payment = self.make(Payment { date, customer, amount, method: PaidBy::Check, reference: None });
        let applied = self.make(Allocation {
            date,
            payment: Some(payment.id),
            credit: None,
            invoice: invoice.id,
            amount,
        });
        vec![invoice, payment, applied]
    }
}

/// Ten years of jobs.
pub(crate) struct BigFirm {
    pub(crate) facts: u32,
    pub(crate) last_month: Month,
}

/// Days on which a job is worked on.
const JOB_DAYS: u32 = 10;

impl BigFirm {
    pub(crate) fn write(path: &Path, size: Size) -> BigFirm {
        let mut base = base(path);
        let hours_a_day = size.jobs * (size.facts_a_job - 46) / DAYS;
        let mut active: Vec<(u32, Id, Id)> = Vec::new();
        let mut next_job = 0;
        let mut batch: Vec<NewFact> = Vec::new();
        let mut last = FIRST_DAY;
        for day in 0..DAYS {
            let date = FIRST_DAY.checked_add(i64::from(day).days()).unwrap();
            last = date;
            while next_job < size.jobs && next_job * DAYS / size.jobs <= day {
                next_job += 1;
                let (job, facts) = base.contracted_job(next_job, date);
                let customer = facts[0].id;
                batch.extend(facts);
                batch.push(base.make(JobStatus { date, job, stage: JobStatusWord::Begun }));
                active.push((day, job, customer));
            }
            for at in 0..hours_a_day {
                let (_, job, _) = active[usize::try_from(at).unwrap() % active.len()];
                let person = base.people[usize::try_from(at / 4 % PEOPLE).unwrap()];
                let code = base.codes[usize::try_from((at + day) % 9).unwrap()];
                batch.push(base.make(hours(date, person, job, code)));
            }
            for (began, job, customer) in active.clone() {
                for at in 0..3 {
                    batch.push(base.bill(date, job, day + at));
                }
                if (day - began).is_multiple_of(4) {
                    batch.extend(base.invoice(date, job, customer, day - began));
                }
                if day - began >= JOB_DAYS - 1 {
                    batch.push(base.make(JobStatus { date, job, stage: JobStatusWord::Finished }));
                }
            }
            active.retain(|(began, _, _)| day - began < JOB_DAYS - 1);
            if batch.len() > 40_000 {
                base.append(&std::mem::take(&mut batch));
            }
        }
        base.append(&batch);
        let facts = u32::try_from(base.ledger.last_seq()).unwrap();
        BigFirm { facts, last_month: Month::of(last) }
    }
}

/// A firm that took all its jobs on in one year, each with a step, a bill and a first bill, so that no two jobs
/// next to each other have the same figures.
#[cfg(feature = "window")]
pub(crate) fn full_year(path: &Path, jobs: u32) -> BigFirm {
    let first = Date::constant(2026, 1, 5);
    let days = 290;
    let mut base = base(path);
    let mut batch = Vec::new();
    let mut last = first;
    for number in 0..jobs {
        last = first.checked_add(i64::from(number * days / jobs).days()).unwrap();
        let (job, facts) = base.contracted_job(number + 1, last);
        let customer = facts[0].id;
        batch.extend(facts);
        batch.push(base.make(JobStatus { date: last, job, stage: JobStatusWord::Begun }));
        // As far from each other as a prime takes them, and the same in every run.
        for at in 0..=(number * 7919 % 23) {
            batch.push(base.bill(last, job, number + at));
        }
        batch.extend(base.invoice(last, job, customer, 1));
    }
    base.append(&batch);
    let facts = u32::try_from(base.ledger.last_seq()).unwrap();
    BigFirm { facts, last_month: Month::of(last) }
}
