//! The journal to the cent, worked out by hand.

use crate::files::{Set, money};
use crate::firm::Shop;
use office::Money;
use serde_json::json;
use std::collections::BTreeMap;

fn sums(of: &[(&str, &str)]) -> BTreeMap<String, Money> {
    of.iter().map(|(account, amount)| ((*account).to_owned(), money(amount))).collect()
}

/// A month with one of everything. Worked by hand:
///
/// Cost of 26-001: material 1,000.00 + tax 50.00 − credit 100.00 = 950.00; labor 40 h at 20.00 = 800.00 and a tenth
/// burden 80.00; direct cost 30.00; subcontract 500.00. In all 2,360.00. No code has units, so the forecast of each
/// is the larger of spent and contracted: shingle 4,000.00 (of which 950.00 spent), tear 2,000.00 (1,380.00 spent,
/// with the subcontract's 500.00), deck 30.00. Forecast 6,030.00; earned 10,000 × 2,360 ÷ 6,030 = 3,913.7645 →
/// 3,913.76.
/// Billed 5,000.00 less a credit memo of 200.00: 4,800.00; over-billed 886.24. Tax 5 % of it: 250.00 − 10.00.
fn busy_month(shop: &mut Shop) -> Set {
    shop.bill("2026-03-09", "26-001", "1000.00", "50.00");
    shop.say(json!({"kind": "bill", "date": "2026-03-12", "vendor": "Weir Supply", "reference": "C1",
        "credit": true, "lines": [
            {"job": "26-001", "code": "shingle", "cost_kind": "material", "amount": "-100.00", "quantity": "3"}
    ]}));
    shop.say(
        json!({"kind": "bill", "date": "2026-03-13", "vendor": "Kiln Carpentry", "reference": "K7", "lines": [
            {"job": "26-001", "code": "tear", "cost_kind": "subcontract", "amount": "500.00"}
        ]}),
    );
    shop.say(json!({"kind": "direct-cost", "date": "2026-03-13", "job": "26-001", "code": "deck",
                    "cost_kind": "equipment", "description": "Lift, one day", "amount": "30.00"}));
    for date in ["2026-03-09", "2026-03-10", "2026-03-11", "2026-03-12", "2026-03-13"] {
        shop.hours("Bo Finch", date, "26-001", "8");
    }
    let invoice = json!({"kind": "invoice", "date": "2026-03-16", "job": "26-001", "number": "I-1",
        "purpose": "progress", "due": "2026-04-15", "tax": "250.00", "retainage": "500.00",
        "lines": [{"description": "Progress", "amount": "5000.00", "taxable": true}]});
    shop.say(invoice);
    shop.say(
        json!({"kind": "invoice", "date": "2026-03-18", "job": "26-001", "number": "N-1", "purpose": "credit",
        "due": "2026-03-18", "tax": "-10.00", "credits": "I-1",
        "lines": [{"description": "Gutter not done", "amount": "-200.00", "taxable": true}]}),
    );
    shop.say(json!({"kind": "payment", "date": "2026-03-25", "customer": "Ada Birch", "amount": "3000.00",
                    "method": "check", "reference": "Check 7"}));
    shop.say(json!({"kind": "allocation", "date": "2026-03-25", "payment": "Check 7", "invoice": "I-1",
                    "amount": "2900.00"}));
    shop.say(json!({"kind": "retainage-release", "date": "2026-03-30", "invoice": "I-1", "amount": "100.00",
                    "due": "2026-04-30"}));
    shop.part("2026-03", 1)
}

#[test]
fn every_kind_of_fact_is_booked_where_it_belongs() {
    let mut shop = Shop::new();
    let set = busy_month(&mut shop);
    set.is_sound();
    let expected = sums(&[
        ("bank", "3000.00"),
        // 5,000 + 250 − 500 held − 210 credited − 2,900 paid + 100 released.
        ("receivable", "1740.00"),
        ("retainage-receivable", "400.00"),
        ("customer-credit", "-100.00"),
        ("sales-tax-payable", "-240.00"),
        // 1,050 − 100 + 500.
        ("payable", "-1450.00"),
        ("wages-payable", "-800.00"),
        ("burden-payable", "-80.00"),
        ("costs-applied", "-30.00"),
        ("cost-material", "950.00"),
        ("cost-labor", "880.00"),
        ("cost-subcontract", "500.00"),
        ("cost-equipment", "30.00"),
        ("revenue", "-3913.76"),
        ("over-billed", "-886.24"),
    ]);
    assert_eq!(set.accounts(), expected);
    for (name, amount) in [
        ("cost", "2360.00"),
        ("billed", "4800.00"),
        ("earned", "3913.76"),
        ("over_billed", "886.24"),
        ("under_billed", "0.00"),
        ("straight", "800.00"),
        ("burden", "80.00"),
        ("sales_tax", "240.00"),
        ("retainage_held", "500.00"),
        ("retainage_released", "100.00"),
        ("bank", "3000.00"),
        ("applied", "2900.00"),
        ("receivable", "1640.00"),
        ("retainage", "400.00"),
        ("profit", "1553.76"),
        ("hours", "40.00"),
    ] {
        assert_eq!(set.control(name), money(amount), "{name}");
    }
    // Three bills, a direct cost, a person's week, two invoices, a release, a payment, an allocation, a job's progress.
    let entries: std::collections::BTreeSet<&str> = set.column("journal", "entry").into_iter().collect();
    assert_eq!(entries.len(), 11);
    assert_eq!(set.column("cost_detail", "quantity").iter().filter(|quantity| **quantity == "-3").count(), 1);
    let subcontractor = &set.rows("subcontractors")[0];
    assert_eq!(
        (subcontractor["vendor"].as_str(), subcontractor["billed"].as_str()),
        ("Kiln Carpentry", "500.00")
    );
    let owed = &set.rows("receivables")[0];
    assert_eq!((owed["open"].as_str(), owed["retainage"].as_str()), ("1740.00", "400.00"));
}

/// Credits and refunds, worked by hand. 5,000 billed with 250 tax and 500 held: 4,750 due. A credit memo takes 100 off
/// what is held. 4,750 come and are applied. A second memo of 300 stands to the customer's credit: 120 of it go to an
/// invoice of 200 on the same job, 150 back to the customer, 30 are left. Of a payment of 80 too much, 50 go back.
#[test]
fn credits_and_refunds_are_booked_against_the_customers_credit() {
    let mut shop = Shop::new();
    let bill = |number: &str, amount: &str, tax: &str, held: &str| {
        json!({"kind": "invoice", "date": "2026-03-16", "job": "26-001", "number": number, "purpose": "progress",
            "due": "2026-04-15", "tax": tax, "retainage": held,
            "lines": [{"description": "Progress", "amount": amount, "taxable": true}]})
    };
    shop.say(bill("I-1", "5000.00", "250.00", "500.00"));
    shop.say(bill("I-2", "200.00", "10.00", "20.00"));
    let memo = |number: &str, amount: &str| {
        json!({"kind": "invoice", "date": "2026-03-18", "job": "26-001", "number": number, "purpose": "credit",
            "due": "2026-03-18", "lines": [{"description": "Gutter not done", "amount": amount}]})
    };
    let mut of_held = memo("N-1", "-100.00");
    of_held["credits"] = json!("I-1");
    of_held["retainage"] = json!("-100.00");
    shop.say(of_held);
    shop.say(memo("N-2", "-300.00"));
    for (reference, amount) in [("Check 7", "4750.00"), ("Check 8", "80.00")] {
        shop.say(json!({"kind": "payment", "date": "2026-03-25", "customer": "Ada Birch", "amount": amount,
            "method": "check", "reference": reference}));
    }
    let applied = |of: &str, name: &str, invoice: &str, amount: &str| {
        let mut fact =
            json!({"kind": "allocation", "date": "2026-03-26", "invoice": invoice, "amount": amount});
        fact[of] = json!(name);
        fact
    };
    shop.say(applied("payment", "Check 7", "I-1", "4750.00"));
    shop.say(applied("credit", "N-2", "I-2", "120.00"));
    let back = |of: &str, name: &str, amount: &str| {
        let mut fact = json!({"kind": "refund", "date": "2026-03-27", "customer": "Ada Birch", "amount": amount,
            "method": "check", "reference": "311"});
        fact[of] = json!(name);
        fact
    };
    shop.say(back("credit", "N-2", "150.00"));
    shop.say(back("payment", "Check 8", "50.00"));
    let set = shop.part("2026-03", 1);
    set.is_sound();
    for (account, amount) in [
        ("bank", "4630.00"),
        // 4,750 + 190 due, less 4,750 paid and 120 of the credit memo.
        ("receivable", "70.00"),
        ("retainage-receivable", "420.00"),
        // 30 of the credit memo and 30 of the payment.
        ("customer-credit", "-60.00"),
        ("sales-tax-payable", "-260.00"),
    ] {
        assert_eq!(set.account(account), money(amount), "{account}");
    }
    for (name, amount) in
        [("bank", "4630.00"), ("applied", "4600.00"), ("receivable", "10.00"), ("retainage", "420.00")]
    {
        assert_eq!(set.control(name), money(amount), "{name}");
    }
    let owes = &set.rows("receivables_by_customer")[0];
    let figures = ["customer", "current", "open", "retainage", "credits", "balance"];
    assert_eq!(
        figures.map(|name| owes[name].as_str()),
        ["Ada Birch", "70.00", "70.00", "420.00", "60.00", "430.00"]
    );
    assert_eq!(set.column("refunds", "amount"), ["150.00", "50.00"]);
    assert_eq!(set.column("refunds", "credit"), ["N-2", ""]);
    let held_only = set.rows("receivables").iter().find(|row| row["invoice"] == "I-1").cloned().unwrap();
    assert_eq!((held_only["due"].as_str(), held_only["days_past_due"].as_str()), ("", ""));
}

#[test]
fn reversing_everything_brings_every_account_back_to_nothing() {
    let mut shop = Shop::new();
    let mut total = busy_month(&mut shop).accounts();
    let ids: Vec<ledger::Id> = {
        let books = shop.desk.books();
        let mut ids = Vec::new();
        // What rests on something is reversed before it.
        ids.extend(books.all::<ledger::facts::Allocation>().unwrap().into_iter().map(|held| held.entry.id));
        ids.extend(
            books.all::<ledger::facts::RetainageRelease>().unwrap().into_iter().map(|held| held.entry.id),
        );
        ids.extend(books.all::<ledger::facts::Payment>().unwrap().into_iter().map(|held| held.entry.id));
        ids.extend(
            books.all::<ledger::facts::Invoice>().unwrap().into_iter().rev().map(|held| held.entry.id),
        );
        ids.extend(books.all::<ledger::facts::Bill>().unwrap().into_iter().map(|held| held.entry.id));
        ids.extend(books.all::<ledger::facts::DirectCost>().unwrap().into_iter().map(|held| held.entry.id));
        ids.extend(books.all::<ledger::facts::TimeEntry>().unwrap().into_iter().map(|held| held.entry.id));
        ids
    };
    shop.on("2026-03-31");
    for id in &ids {
        shop.reverse(*id, "all of it was typed twice");
    }
    let second = shop.part("2026-03", 2);
    second.is_sound();
    for (account, sum) in second.accounts() {
        *total.entry(account).or_default() += sum;
    }
    assert!(total.values().all(|sum| sum.is_zero()), "{total:?}");
    let texts = second.column("journal", "text");
    let reversals =
        texts.iter().filter(|text| text.contains(": reverses A-") && text.ends_with("typed twice")).count();
    assert!(reversals >= ids.len(), "each mirrored entry says what it reverses and why");
    assert_eq!(second.control("cost"), Money::ZERO);
    assert_eq!(second.control("hours"), Money::ZERO);
    shop.once_more("2026-03", 2);
}

#[test]
fn tax_that_is_not_cost_stands_against_sales_tax() {
    let mut shop = Shop::with_tax_as_cost(false);
    shop.bill("2026-03-09", "26-001", "1000.00", "50.00");
    let set = shop.part("2026-03", 1);
    set.is_sound();
    assert_eq!(set.account("cost-material"), money("1000.00"));
    assert_eq!(set.account("sales-tax-payable"), money("50.00"));
    assert_eq!(set.account("payable"), money("-1050.00"));
    let row = &set.rows("cost_detail")[0];
    assert_eq!((row["tax"].as_str(), row["cost"].as_str()), ("50.00", "1000.00"));
}

/// Forecast 12,000 on a contract of 10,000: a loss of 2,000 in all. With 3,000 spent, a quarter is done: earned 2,500,
/// booked −500, and 1,500 still to be provided. The other job is billed ahead, and is not netted with the first.
#[test]
fn a_loss_is_provided_for_and_jobs_are_never_netted() {
    let mut shop = Shop::new();
    shop.bill("2026-03-09", "26-001", "3000.00", "0");
    shop.say(json!({"kind": "forecast", "date": "2026-03-20", "job": "26-001", "code": "shingle", "amount": "10000"}));
    shop.say(json!({"kind": "invoice", "date": "2026-03-16", "job": "26-002", "number": "I-2", "purpose": "deposit",
        "due": "2026-04-15", "lines": [{"description": "Deposit", "amount": "2500.00"}]}));
    let first = shop.part("2026-03", 1);
    first.is_sound();
    let expected = sums(&[
        ("cost-material", "3000.00"),
        ("payable", "-3000.00"),
        ("receivable", "2500.00"),
        ("revenue", "-2500.00"),
        ("under-billed", "2500.00"),
        ("over-billed", "-2500.00"),
        ("loss-expense", "1500.00"),
        ("loss-provision", "-1500.00"),
    ]);
    assert_eq!(first.accounts(), expected);
    // A kinder forecast takes part of it back: 10,800 in all is a loss of 800; earned 10,000 × 3,000 ÷ 10,800.
    shop.say(json!({"kind": "forecast", "date": "2026-03-28", "job": "26-001", "code": "shingle", "amount": "8800"}));
    let second = shop.part("2026-03", 2);
    second.is_sound();
    assert_eq!(second.control("earned"), money("2777.78"));
    assert_eq!(second.account("revenue"), money("-277.78"));
    assert_eq!(second.account("loss-provision"), money("922.22"), "1,500.00 less the 577.78 still to come");
}

/// What the firm costs beside its jobs, worked by hand. Rent of 840 with its tax and 60 of fuel on a bill of 360; 500
/// of office pay; a truck's 90 charged to a job; 784 paid of the rent, 16 let off. Overhead: 840 + 60 + 500 − 90 − 16.
#[test]
fn the_firms_own_costs_are_booked_by_account_and_tie_to_net_profit() {
    let mut shop = Shop::new();
    for (number, name) in [("6000", "Rent"), ("6100", "Trucks and fuel"), ("6400", "Office pay")] {
        shop.say(json!({"kind": "overhead-account", "number": number, "name": name}));
    }
    shop.say(json!({"kind": "bill", "date": "2026-03-02", "vendor": "Weir Supply", "reference": "R 3",
        "overhead": [{"account": "Rent", "amount": "800.00", "tax": "40.00"}]}));
    shop.say(json!({"kind": "bill", "date": "2026-03-09", "vendor": "Weir Supply", "reference": "W 1",
        "lines": [{"job": "26-001", "code": "shingle", "cost_kind": "material", "amount": "300.00"}],
        "overhead": [{"account": "Trucks and fuel", "amount": "60.00"}]}));
    shop.say(json!({"kind": "overhead-cost", "date": "2026-03-31", "account": "Office pay",
        "description": "Office pay", "amount": "500.00", "owed_from": "wages"}));
    shop.say(json!({"kind": "direct-cost", "date": "2026-03-10", "job": "26-001", "code": "shingle",
        "cost_kind": "equipment", "description": "Dump truck", "amount": "90.00", "equipment": "Trucks and fuel"}));
    shop.say(
        json!({"kind": "vendor-payment", "date": "2026-03-20", "vendor": "Weir Supply", "method": "check",
        "reference": "501", "bills": [{"bill": "Weir Supply/R 3", "amount": "784.00", "discount": "16.00"}]}),
    );
    let set = shop.part("2026-03", 1);
    set.is_sound();
    for (account, amount) in [
        ("overhead", "1310.00"),
        ("discounts-taken", "-16.00"),
        ("bank", "-784.00"),
        // 840 + 360 less 800.
        ("payable", "-400.00"),
        ("wages-payable", "-500.00"),
        ("cost-material", "300.00"),
        ("cost-equipment", "90.00"),
    ] {
        assert_eq!(set.account(account), money(amount), "{account}");
    }
    for (name, amount) in
        [("overhead", "1294.00"), ("payable", "400.00"), ("bank", "-784.00"), ("cost", "390.00")]
    {
        assert_eq!(set.control(name), money(amount), "{name}");
    }
    assert_eq!(set.control("net_profit"), set.control("profit") - money("1294.00"));
    let numbers: Vec<&str> =
        set.those("journal", "account", "overhead").map(|row| row["account_number"].as_str()).collect();
    assert_eq!(numbers, ["6000", "6100", "6100", "6400"]);
    assert_eq!(set.column("overhead", "cost"), ["840.00", "60.00", "500.00", "-90.00", "-16.00"]);
    assert_eq!(set.column("vendor_payments", "amount"), ["784.00"]);
    let open: Vec<(&str, &str)> =
        set.rows("payables").iter().map(|row| (row["bill"].as_str(), row["open"].as_str())).collect();
    assert_eq!(open, [("R 3", "40.00"), ("W 1", "360.00")]);
}
