//! Random years: facts of every kind that moves money, some late, some reversed, months closed and handed off in any
//! order in between. Whatever happened, the parts hold each fact once and add up to what SQL conditions in the facts.

use crate::files::{Set, money};
use crate::firm::Shop;
use crate::sums::Raw;
use office::Code;
use office::{Decimal, Money, Month};
use serde_json::json;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// Numbers that look thrown and are the same for the same seed (a 64-bit xorshift).
struct Dice(u64);

impl Dice {
    fn below(&mut self, sides: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % sides
    }

    fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        let place = usize::try_from(self.below(u64::try_from(from.len()).unwrap())).unwrap();
        &from[place]
    }

    fn cents(&mut self, most: u64) -> String {
        Money::from_minor(i64::try_from(self.below(most) + 1).unwrap()).to_string()
    }
}

const JOBS: [&str; 2] = ["26-001", "26-002"];
const CODES: [&str; 3] = ["deck", "shingle", "tear"];
const PEOPLE: [&str; 2] = ["Bo Finch", "Cy Reed"];

/// A year being made up.
struct Year {
    shop: Shop,
    dice: Dice,
    open: Month,
    today: jiff::civil::Date,
    ids: Vec<ledger::Id>,
    invoices: Vec<String>,
    payments: Vec<(String, &'static str)>,
    memos: Vec<String>,
    folders: Vec<PathBuf>,
}

impl Year {
    fn new(seed: u64) -> Year {
        let tax_is_cost = seed.is_multiple_of(2);
        Year {
            shop: Shop::with_tax_as_cost(tax_is_cost),
            dice: Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1),
            open: "2026-03".parse().unwrap(),
            today: "2026-03-02".parse().unwrap(),
            ids: Vec::new(),
            invoices: Vec::new(),
            payments: Vec::new(),
            memos: Vec::new(),
            folders: Vec::new(),
        }
    }

    /// A day up to three weeks back, so that many facts come late.
    fn day(&mut self) -> String {
        let back = i64::try_from(self.dice.below(21)).unwrap();
        let day = self.today - jiff::Span::new().days(back);
        day.max("2026-03-02".parse().unwrap()).to_string()
    }

    fn offer(&mut self, fact: serde_json::Value) -> bool {
        match self.shop.offer(fact) {
            Ok(id) => {
                self.ids.push(id);
                true
            }
            // The books refuse what makes no sense; the year goes on without it.
            Err(refused) => {
                assert_eq!(refused.code, Code::Refused, "{refused}");
                false
            }
        }
    }

    fn costs(&mut self) {
        let (job, other, date) = (*self.dice.pick(&JOBS), *self.dice.pick(&JOBS), self.day());
        let (code, credit) = (*self.dice.pick(&CODES), self.dice.below(6) == 0);
        let sign = if credit { "-" } else { "" };
        let vendor = *self.dice.pick(&["Weir Supply", "Kiln Carpentry"]);
        let kind = *self.dice.pick(&["material", "subcontract", "equipment", "disposal", "permit", "other"]);
        let (amount, tax, second) =
            (self.dice.cents(90_000), self.dice.cents(4_000), self.dice.cents(20_000));
        if self.dice.below(4) == 0 {
            self.offer(
                json!({"kind": "direct-cost", "date": date, "job": job, "code": code, "cost_kind": kind,
                              "description": "Own lift", "amount": amount}),
            );
            return;
        }
        self.offer(json!({"kind": "bill", "date": date, "vendor": vendor, "reference": amount, "credit": credit,
            "lines": [
                {"job": job, "code": code, "cost_kind": kind, "amount": format!("{sign}{amount}"),
                 "tax": format!("{sign}{tax}")},
                {"job": other, "code": "shingle", "cost_kind": "material", "amount": format!("{sign}{second}")}
        ]}));
    }

    fn work(&mut self) {
        let (person, job) = (*self.dice.pick(&PEOPLE), *self.dice.pick(&JOBS));
        let (code, hours) = (*self.dice.pick(&CODES), 4 + self.dice.below(9));
        let date = self.day();
        self.offer(json!({"kind": "time-entry", "date": date, "person": person, "job": job, "code": code,
                          "hours": hours.to_string()}));
    }

    fn bill(&mut self) {
        let (job, number) = (*self.dice.pick(&JOBS), format!("I-{}", self.invoices.len() + 1));
        let (amount, tax) = (self.dice.cents(300_000), self.dice.cents(5_000));
        let date = self.day();
        let held = if self.dice.below(2) == 0 { "0.01" } else { "0" };
        let invoice = json!({"kind": "invoice", "date": date, "job": job, "number": number, "purpose": "progress",
            "due": "2026-12-31", "tax": tax, "retainage": held,
            "lines": [{"description": "Progress", "amount": amount, "taxable": true}]});
        if self.offer(invoice) {
            self.invoices.push(number);
        }
    }

    fn credit_or_release(&mut self) {
        if self.invoices.is_empty() {
            return;
        }
        let invoice = self.dice.pick(&self.invoices).clone();
        let (date, amount) = (self.day(), self.dice.cents(9_000));
        if self.dice.below(2) == 0 {
            self.offer(
                json!({"kind": "retainage-release", "date": date, "invoice": invoice, "amount": "0.01",
                              "due": "2026-12-31"}),
            );
            return;
        }
        let job = *self.dice.pick(&JOBS);
        let number = format!("N-{}", self.ids.len());
        let mut memo = json!({"kind": "invoice", "date": date, "job": job, "number": number,
            "purpose": "credit", "due": "2026-12-31",
            "lines": [{"description": "Not done", "amount": format!("-{amount}")}]});
        if self.dice.below(3) == 0 {
            memo["credits"] = json!(invoice);
        }
        if self.offer(memo) {
            self.memos.push(number);
        }
    }

    /// A credit is applied to an invoice or given back, and a payment given back.
    fn settle_credit(&mut self) {
        let date = self.day();
        let amount = self.dice.cents(5_000);
        let customer = *self.dice.pick(&["Ada Birch", "Ben Cole"]);
        if let (false, false) = (self.memos.is_empty(), self.invoices.is_empty()) {
            let (memo, invoice) =
                (self.dice.pick(&self.memos).clone(), self.dice.pick(&self.invoices).clone());
            self.offer(json!({"kind": "allocation", "date": date, "credit": memo, "invoice": invoice,
                "amount": amount}));
            self.offer(json!({"kind": "refund", "date": date, "customer": customer, "credit": memo,
                "amount": amount, "method": "check"}));
        }
        if !self.payments.is_empty() {
            let payment = self.dice.pick(&self.payments).0.clone();
            self.offer(json!({"kind": "refund", "date": date, "customer": customer, "payment": payment,
                "amount": amount, "method": "cash"}));
        }
    }

    fn pay(&mut self) {
        let reference = format!("Check {}", self.ids.len());
        let customer = *self.dice.pick(&["Ada Birch", "Ben Cole"]);
        let (date, amount) = (self.day(), self.dice.cents(200_000));
        let payment = json!({"kind": "payment", "date": date, "customer": customer, "amount": amount,
                             "method": "check", "reference": reference});
        if self.offer(payment) {
            self.payments.push((reference, customer));
        }
        if let (false, false) = (self.invoices.is_empty(), self.payments.is_empty()) {
            let payment = self.dice.pick(&self.payments).0.clone();
            let (invoice, amount) = (self.dice.pick(&self.invoices).clone(), self.dice.cents(50_000));
            let date = self.day();
            self.offer(json!({"kind": "allocation", "date": date, "payment": payment, "invoice": invoice,
                              "amount": amount}));
        }
    }

    fn change_rates(&mut self) {
        let person = *self.dice.pick(&PEOPLE);
        let (date, hourly) = (self.day(), 18 + self.dice.below(20));
        let (job, amount) = (*self.dice.pick(&JOBS), self.dice.cents(900_000));
        match self.dice.below(3) {
            0 => self.offer(
                json!({"kind": "pay-rate", "date": date, "person": person, "hourly": hourly.to_string()}),
            ),
            1 => self.offer(json!({"kind": "bonus", "date": date, "person": person, "amount": "50.00"})),
            _ => self.offer(
                json!({"kind": "forecast", "date": date, "job": job, "code": "shingle", "amount": amount}),
            ),
        };
    }

    fn reverse(&mut self) {
        if self.ids.is_empty() {
            return;
        }
        let id = *self.dice.pick(&self.ids);
        let date = self.today.to_string();
        let reversal =
            json!({"kind": "reversal", "date": date, "reverses": id.to_string(), "reason": "a mistake"});
        if self.shop.offer(reversal).is_ok() {
            self.ids.retain(|known| *known != id);
        }
    }

    fn hand_off(&mut self, month: Month) {
        match self.shop.hand(&month.to_string(), "books") {
            Ok(done) if done.recorded.is_some() => self.folders.push(done.folder),
            Ok(done) => assert!(done.already_there, "nothing new is the folder that is there"),
            Err(refused) => assert_eq!(refused.code, Code::NotFound, "{refused}"),
        }
    }

    fn month_before(&mut self) -> Month {
        let mut month = Month::of(self.today);
        for _ in 0..self.dice.below(3) {
            month = month.prev();
        }
        month.max("2026-03".parse().unwrap())
    }

    fn live(&mut self) {
        let last = "2026-07-10".parse().unwrap();
        while self.today < last {
            self.today = self.today.tomorrow().unwrap();
            self.shop.on(&self.today.to_string());
            for _ in 0..self.dice.below(3) {
                self.work();
            }
            match self.dice.below(12) {
                0..=2 => self.costs(),
                3 => self.bill(),
                4 => self.pay(),
                5 => {
                    self.credit_or_release();
                    self.settle_credit();
                }
                6 => self.change_rates(),
                7 | 8 => self.reverse(),
                9 if self.dice.below(2) == 0 => {
                    let month = self.month_before();
                    self.hand_off(month);
                }
                10 if self.open < Month::of(self.today) && self.dice.below(3) == 0 => {
                    let month = self.open.to_string();
                    self.shop.close(&month, &self.today.to_string());
                    self.open = self.open.next();
                }
                _ => {}
            }
        }
    }
}

#[test]
fn a_random_year_is_handed_off_once_and_whole() {
    let (mut parts, seeds) = (0, if std::env::var_os("TEAROFF_SOAK").is_some() { 60 } else { 4 });
    for seed in 1..=seeds {
        let mut year = Year::new(seed);
        year.live();
        let months =
            || ["2026-03", "2026-04", "2026-05", "2026-06", "2026-07"].map(|text| text.parse().unwrap());
        for month in months() {
            year.hand_off(month);
        }
        for month in months() {
            let again = year.shop.hand(&month.to_string(), "books-again").unwrap();
            assert_eq!(again.recorded, None, "seed {seed}: nothing of {month} is new");
            let first = year.shop.folder("books").join(again.folder.file_name().unwrap());
            assert_eq!(Set::bytes(&first), Set::bytes(&again.folder), "seed {seed}");
        }
        let sets: Vec<Set> = year.folders.iter().map(|folder| Set::read(folder)).collect();
        sets.iter().for_each(Set::is_sound);
        holds_every_fact_once(&year.shop.desk.path(), &sets);
        parts += sets.len();
    }
    assert!(
        parts > usize::try_from(seeds).unwrap() * 5,
        "months were handed off in more than one part: {parts}"
    );
}

/// Each booked fact stands in exactly one part, and the parts together come to what SQL conditions in the facts.
pub(crate) fn holds_every_fact_once(path: &Path, sets: &[Set]) {
    let raw = Raw::open(path);
    for (table, kind) in [
        ("invoices", "invoice"),
        ("payments", "payment"),
        ("payment_allocations", "allocation"),
        ("refunds", "refund"),
        ("retainage_released", "retainage-release"),
    ] {
        assert_eq!(sources(sets, table, |_| true), raw.entries(kind), "{kind}");
    }
    let hours = |row: &BTreeMap<String, String>| row["why"] == "hours" || row["why"] == "reversed";
    assert_eq!(sources(sets, "hours_and_pay", hours), raw.entries("time-entry"), "time-entry");
    each_stands_in_one_part(&raw, sets);
    let account = |name: &str| sets.iter().map(|set| set.account(name)).sum::<Money>();
    let bills = |sum: &str| raw.standing_lines("bill_line", sum, "true");
    what_vendors_and_the_firm_itself_come_to(&raw, &account, bills("amount_cents") + bills("tax_cents"));
    assert_eq!(account("costs-applied"), -raw.standing("direct_cost", "amount_cents"));
    let (paid, refunded) = (raw.standing("payment", "amount_cents"), raw.standing("refund", "amount_cents"));
    let to_vendors = raw.standing_lines("vendor_payment_bill", "amount_cents", "true");
    assert_eq!(account("bank"), paid - refunded - to_vendors - raw.of_overhead_costs("bank"));
    let applied = raw.standing("allocation", "amount_cents");
    // A credit memo that lowers no invoice stands to the customer's credit, below zero.
    let on_account = "(SELECT i.purpose = 'credit' AND i.credits IS NULL FROM invoice i WHERE i.id = t.fact)";
    let memos = raw.standing_lines("invoice_line", "amount_cents", on_account);
    assert_eq!(account("customer-credit"), memos + applied + refunded - paid);
    let (tax, held) = (raw.standing("invoice", "tax_cents"), raw.standing("invoice", "retainage_cents"));
    let released = raw.standing("retainage_release", "amount_cents");
    let net = raw.standing_lines("invoice_line", "amount_cents", "true");
    assert_eq!(account("retainage-receivable"), held - released);
    assert_eq!(account("receivable"), net + tax - held + released - applied - memos);
    assert_eq!(account("cost-labor"), raw.labor());
    let materials = raw.standing_lines("bill_line", "amount_cents + tax_cents", "cost_kind = 'material'");
    let bare = raw.standing_lines("bill_line", "amount_cents", "cost_kind = 'material'");
    let charged = raw.charged("material");
    let taxed = account("sales-tax-payable") == -tax;
    let expected = if taxed { materials } else { bare } + charged;
    assert_eq!(account("cost-material"), expected);
    if !taxed {
        assert_eq!(account("sales-tax-payable"), bills("tax_cents") - tax);
    }
    let hours: Decimal = sets
        .iter()
        .flat_map(|set| set.column("hours_and_pay", "hours"))
        .filter(|hours| !hours.is_empty())
        .map(|hours| hours.parse::<Decimal>().unwrap())
        .sum();
    assert_eq!(hours, Decimal::new(raw.hours(), 4));
    let earned: Money = sets
        .iter()
        .flat_map(|set| set.those("control_totals", "name", "earned"))
        .map(|row| money(&row["this_part"]))
        .sum();
    assert_eq!(account("revenue"), -earned);
    assert_eq!(
        account("under-billed") + account("over-billed"),
        earned - net,
        "what is not billed, and what is ahead"
    );
}

/// Bills, costs and payments to vendors have rows in tables of more than one kind.
fn each_stands_in_one_part(raw: &Raw, sets: &[Set]) {
    let any = "";
    for (kind, places) in [
        ("bill", &[("cost_detail", "bill"), ("overhead", "bill")][..]),
        ("direct-cost", &[("cost_detail", "direct-cost")]),
        ("overhead-cost", &[("overhead", "overhead-cost")]),
        ("vendor-payment", &[("vendor_payments", any)]),
    ] {
        let named = |sets: &[Set]| -> BTreeSet<String> {
            let is = |from: &str, row: &BTreeMap<String, String>| from == any || row["from"] == from;
            places.iter().flat_map(|(table, from)| sources(sets, table, |row| is(from, row))).collect()
        };
        // A bill has a row for each line, all of them in one part.
        let parts: Vec<BTreeSet<String>> = sets.iter().map(|set| named(std::slice::from_ref(set))).collect();
        let all = named(sets);
        assert_eq!(parts.iter().map(BTreeSet::len).sum::<usize>(), all.len(), "a {kind} stands in two parts");
        assert_eq!(all.into_iter().collect::<Vec<_>>(), raw.entries(kind), "{kind}");
    }
}

/// What is owed to vendors, and what the firm costs beside its jobs.
fn what_vendors_and_the_firm_itself_come_to(raw: &Raw, account: &dyn Fn(&str) -> Money, of_jobs: Money) {
    let overhead = raw.standing_lines("bill_overhead", "amount_cents + tax_cents", "true");
    let to_vendors = |sum: &str| raw.standing_lines("vendor_payment_bill", sum, "true");
    let billed = of_jobs + overhead;
    assert_eq!(account("payable"), to_vendors("amount_cents + discount_cents") - billed);
    let own = |owed_from: &str| raw.of_overhead_costs(owed_from);
    let by_itself = own("bank") + own("wages") + own("set-aside");
    let charged_to_jobs = raw.equipment_charged();
    assert_eq!(account("overhead"), overhead + by_itself - charged_to_jobs);
    assert_eq!(account("discounts-taken"), -to_vendors("discount_cents"));
}

fn sources(sets: &[Set], table: &str, of: impl Fn(&BTreeMap<String, String>) -> bool) -> Vec<String> {
    let rows = sets.iter().flat_map(|set| set.rows(table)).filter(|row| of(row));
    let mut sources: Vec<String> = rows.map(|row| row["source"].clone()).collect();
    sources.sort();
    sources
}
