//! A made-up firm to import into, and how what was read is looked at.

use desk::{Clock, Desk, NewFirm, OfficeError};
use intake::{Applied, Choices, Kind, Parsed, Preview, Rows};
use jiff::Timestamp;
use ledger::closed_lists::{InvoiceFor, OverheadBy, PremiumTo, Role, TaxRounding, WeekDay};
use ledger::facts::{CostCode, Crew, Customer, Firm, Invoice, InvoiceLine, Job, Person, Vendor};
use ledger::{Fact, Id};
use tempfile::TempDir;
use trade::{Money, Qty, Rate};

/// A made-up firm with two customers, two jobs, two people, three codes and a vendor.
pub(crate) struct Shop {
    pub(crate) desk: Desk,
    pub(crate) ids: Ids,
    _folder: TempDir,
}

/// What tests have to name.
pub(crate) struct Ids {
    pub(crate) ridley: Id,
    pub(crate) moss: Id,
    pub(crate) job_one: Id,
    pub(crate) job_two: Id,
    pub(crate) ada: Id,
    pub(crate) bo: Id,
    pub(crate) deck: Id,
    pub(crate) shingle: Id,
    pub(crate) yard: Id,
    pub(crate) crew: Id,
}

pub(crate) fn money(text: &str) -> Money {
    Money::parse(text).unwrap()
}

pub(crate) fn qty(text: &str) -> Qty {
    Qty::parse(text).unwrap()
}

fn firm(currency: &str) -> NewFirm {
    NewFirm {
        firm: Firm {
            date: "2026-01-01".parse().unwrap(),
            name: "Quarrel & Daughter Roofing".to_owned(),
            town: "Alder Falls".to_owned(),
            state: "OH".to_owned(),
            street: None,
            logo: None,
            zip: None,
            phone: None,
            license: None,
            lead_certificate: None,
            currency: currency.to_owned(),
            week_begins: WeekDay::Monday,
            overtime_over_week: qty("40"),
            overtime_over_day: None,
            premium_to: PremiumTo::Hours,
            sales_tax: Rate::ZERO,
            sales_tax_rounding: TaxRounding::Invoice,
            material_tax_is_cost: true,
            overhead_by: OverheadBy::LaborHours,
            overhead_rate: Rate::ZERO,
            books_see_margin: None,
        },
        owner: "Wren Quarrel".to_owned(),
    }
}

pub(crate) fn customer(name: &str, address: Option<&str>) -> Customer {
    Customer {
        revises: None,
        name: name.to_owned(),
        address: address.map(str::to_owned),
        phone: None,
        email: None,
    }
}

pub(crate) fn person(name: &str) -> Person {
    Person {
        revises: None,
        date: None,
        name: name.to_owned(),
        role: Role::Crew,
        crew: None,
        class: None,
        left_on: None,
        language: None,
    }
}

pub(crate) fn code(word: &str, position: i64) -> CostCode {
    CostCode {
        revises: None,
        code: word.to_owned(),
        title: word.to_owned(),
        unit: None,
        bought_in: None,
        position,
    }
}

pub(crate) fn job(number: &str, customer: Id) -> Job {
    Job {
        revises: None,
        date: "2026-02-01".parse().unwrap(),
        number: number.to_owned(),
        title: "Whole roof".to_owned(),
        customer,
        site: "1 Larch Row".to_owned(),
        crew: None,
        state: None,
        roof_age_years: None,
        roof_state: None,
    }
}

pub(crate) fn vendor(name: &str) -> Vendor {
    Vendor { revises: None, name: name.to_owned(), subcontractor: false, due_days: None }
}

impl Shop {
    pub(crate) fn open() -> Shop {
        Shop::in_currency("USD")
    }

    pub(crate) fn in_currency(currency: &str) -> Shop {
        let folder = TempDir::new().unwrap();
        let clock = Clock::fixed("2026-03-01T12:00:00Z".parse::<Timestamp>().unwrap());
        let mut desk = Desk::make(&folder.path().join("shop.tearoff"), &firm(currency), clock).unwrap();
        let mut add = |fact: Fact| desk.record(vec![fact]).unwrap()[0];
        let crew =
            add(Crew { revises: None, date: None, name: "North".to_owned(), size: 3, hours_a_day: qty("8") }
                .into());
        let ridley = add(customer("Ridley Vane", Some("4 Mill Lane")).into());
        let moss = add(customer("Moss Arden", None).into());
        let ids = Ids {
            ridley,
            moss,
            job_one: add(job("26-001", ridley).into()),
            job_two: add(job("26-002", moss).into()),
            ada: add(person("Ada Quill").into()),
            bo: add(person("Bo Tarn").into()),
            deck: add(code("deck", 1).into()),
            shingle: add(code("shingle", 2).into()),
            yard: add(vendor("Hollow Creek Supply").into()),
            crew,
        };
        add(code("tear", 3).into());
        Shop { desk, ids, _folder: folder }
    }

    /// An invoice of a job, with one line.
    pub(crate) fn invoice(&mut self, number: &str, job: Id, amount: &str) -> Id {
        let line = InvoiceLine {
            description: "Deposit".to_owned(),
            amount: money(amount),
            taxable: false,
            change_order: None,
        };
        let invoice = Invoice {
            date: "2026-02-10".parse().unwrap(),
            job,
            number: number.to_owned(),
            purpose: InvoiceFor::Deposit,
            due: "2026-02-20".parse().unwrap(),
            tax: Money::ZERO,
            retainage: Money::ZERO,
            credits: None,
            note: None,
            lines: vec![line],
        };
        self.desk.record(vec![invoice.into()]).unwrap()[0]
    }

    pub(crate) fn preview(&self, kind: Kind, text: &str, choices: &Choices) -> Preview {
        intake::preview(&self.desk, &intake::read(kind, text.as_bytes(), choices)).unwrap()
    }

    pub(crate) fn apply(
        &mut self,
        kind: Kind,
        text: &str,
        choices: &Choices,
    ) -> Result<Applied, OfficeError> {
        let parsed = intake::read(kind, text.as_bytes(), choices);
        intake::apply(&mut self.desk, &parsed, &mut |_| true)
    }

    /// Applies a file, and again, which must add nothing.
    pub(crate) fn apply_twice(&mut self, kind: Kind, text: &str, choices: &Choices) -> Applied {
        let first = self.apply(kind, text, choices).unwrap();
        let before = self.last_seq();
        let second = self.apply(kind, text, choices).unwrap();
        assert_eq!(second.facts, 0, "a second import added facts");
        assert_eq!(second.rows, 0);
        assert_eq!(second.duplicates, first.rows + first.duplicates, "each row is there now");
        assert_eq!(self.last_seq(), before);
        first
    }

    pub(crate) fn last_seq(&mut self) -> i64 {
        self.desk.ledger().unwrap().last_seq()
    }
}

pub(crate) fn read(kind: Kind, text: &str) -> Parsed {
    intake::read(kind, text.as_bytes(), &Choices::default())
}

/// Reads a file that has to be without any problem or question.
pub(crate) fn clean(kind: Kind, text: &str, choices: &Choices) -> Parsed {
    let parsed = intake::read(kind, text.as_bytes(), choices);
    assert_eq!(parsed.problems, [], "{text}");
    assert_eq!(parsed.questions, [], "{text}");
    parsed
}

/// The problems of a file as a person reads them.
pub(crate) fn says(parsed: &Parsed) -> Vec<String> {
    parsed.problems.iter().map(ToString::to_string).collect()
}

pub(crate) fn notes(parsed: &Parsed) -> String {
    parsed.notes.iter().map(|note| note.message.as_str()).collect::<Vec<_>>().join(" ")
}

pub(crate) fn hours(parsed: &Parsed) -> &[intake::HoursRow] {
    let Rows::Hours(rows) = &parsed.rows else { panic!("these are no hours") };
    rows
}

pub(crate) fn bills(parsed: &Parsed) -> &[intake::BillRow] {
    let Rows::Bills(rows) = &parsed.rows else { panic!("these are no bills") };
    rows
}
