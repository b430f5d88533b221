//! A month in parts: each fact once, a part again byte for byte, and nothing that is not new.

use crate::files::{Set, money};
use crate::firm::{Shop, month};
use office::hand_off::preview;
use serde_json::json;

#[test]
fn a_second_part_holds_only_what_is_new() {
    let mut shop = Shop::new();
    shop.on("2026-03-10").bill("2026-03-09", "26-001", "1000.00", "50.00");
    let first = shop.part("2026-03", 1);
    assert_eq!(first.column("cost_detail", "cost"), ["1050.00"]);
    shop.once_more("2026-03", 1);

    shop.on("2026-03-20").bill("2026-03-19", "26-002", "300.00", "0");
    // What belongs to another month is not new in this one.
    shop.bill("2026-04-01", "26-002", "77.00", "0");
    let second = shop.part("2026-03", 2);
    assert_eq!(second.column("cost_detail", "cost"), ["300.00"]);
    assert!(second.those("journal", "job", "26-001").next().is_none(), "the first job did not move");
    assert_eq!(second.control("cost"), money("1350.00"), "both parts together are the month");
    shop.once_more("2026-03", 2);
    assert_eq!(shop.recorded(), 2);

    let april = shop.part("2026-04", 1);
    assert_eq!(april.column("cost_detail", "cost"), ["77.00"]);
    shop.once_more("2026-03", 2);
}

#[test]
fn the_same_folder_twice_is_already_there() {
    let mut shop = Shop::new();
    shop.bill("2026-03-09", "26-001", "1000.00", "0");
    let done = shop.hand("2026-03", "books").unwrap();
    assert!(!done.already_there && done.folder.ends_with("gable-eave-2026-03-part-1"));
    let again = shop.hand("2026-03", "books").unwrap();
    assert!(again.already_there);
    assert_eq!((again.folder, again.hash, again.recorded), (done.folder, done.hash, None));
}

#[test]
fn what_something_was_called_then_is_kept() {
    let mut shop = Shop::new();
    shop.bill("2026-03-09", "26-001", "1000.00", "0");
    let account = shop.say(json!({"kind": "account", "line": "payable", "name": "2010 Suppliers"}));
    let first = shop.part("2026-03", 1);
    assert_eq!(
        first.those("journal", "account", "payable").next().unwrap()["account_name"],
        "2010 Suppliers"
    );
    // A new name is nothing new for the books, and must not change what they were given.
    shop.on("2026-04-02").reverse(account, "named it wrongly");
    shop.say(json!({"kind": "account", "line": "payable", "name": "2000 Payables"}));
    shop.say(json!({"kind": "vendor", "revises": "Weir Supply", "name": "Weir & Sons"}));
    shop.say(json!({"kind": "customer", "revises": "Ada Birch", "name": "Ada Birch-Cole"}));
    shop.once_more("2026-03", 1);
    shop.say(json!({"kind": "bill", "date": "2026-03-10", "vendor": "Weir & Sons", "reference": "R2",
        "lines": [{"job": "26-001", "code": "shingle", "cost_kind": "material", "amount": "20.00"}]}));
    let second = shop.part("2026-03", 2);
    assert_eq!(
        second.those("journal", "account", "payable").next().unwrap()["account_name"],
        "2000 Payables"
    );
    assert_eq!(second.column("cost_detail", "party"), ["Weir & Sons"]);
    assert_eq!(second.those("jobs", "job", "26-001").next().unwrap()["customer"], "Ada Birch-Cole");
}

#[test]
fn a_late_fact_is_in_the_open_month_and_only_there() {
    let mut shop = Shop::new();
    shop.on("2026-03-31").bill("2026-03-09", "26-001", "1000.00", "0");
    shop.part("2026-03", 1);
    shop.close("2026-03", "2026-04-03");
    let wrong = shop.bill("2026-03-30", "26-001", "222.00", "0");
    shop.once_more("2026-03", 1);
    let april = shop.part("2026-04", 1);
    let rows = april.rows("cost_detail");
    assert_eq!(rows.len(), 1);
    assert_eq!((rows[0]["date"].as_str(), rows[0]["late"].as_str()), ("2026-03-30", "yes"));
    assert_eq!(april.those("journal", "from", "bill").next().unwrap()["date"], "2026-04-01");
    // Reversing it, and something of the closed month, is booked in the open month too.
    let march = april.rows("cost_detail")[0]["fact_id"].clone();
    assert_eq!(march, wrong.to_string());
    shop.on("2026-04-10").reverse(wrong, "typed to the wrong job");
    let second = shop.part("2026-04", 2);
    let row = &second.rows("cost_detail")[0];
    assert_eq!((row["cost"].as_str(), row["reason"].as_str()), ("-222.00", "typed to the wrong job"));
    assert_eq!(row["reverses"], april.rows("cost_detail")[0]["source"]);
    assert_eq!(second.control("cost"), money("0.00"));
    shop.once_more("2026-03", 1);
    shop.once_more("2026-04", 2);
}

#[test]
fn a_changed_forecast_alone_is_a_part_without_entries() {
    let mut shop = Shop::new();
    shop.bill("2026-03-09", "26-002", "1000.00", "0");
    shop.part("2026-03", 1);
    // Nothing was spent on this job yet, so its forecast moves no revenue; but its result is another.
    shop.say(json!({"kind": "forecast", "date": "2026-03-20", "job": "26-001", "code": "shingle", "amount": "4500"}));
    let second = shop.part("2026-03", 2);
    assert!(second.rows("journal").is_empty() && second.rows("cost_detail").is_empty());
    assert_eq!(second.those("job_results", "job", "26-001").next().unwrap()["forecast"], "6500.00");
    shop.once_more("2026-03", 2);
}

#[test]
fn closing_a_month_changes_nothing_that_was_given() {
    let mut shop = Shop::new();
    shop.on("2026-03-12").hours("Bo Finch", "2026-03-10", "26-001", "8");
    shop.part("2026-03", 1);
    shop.close("2026-03", "2026-04-03");
    shop.once_more("2026-03", 1);
}

#[test]
fn a_preview_shows_what_a_hand_off_then_writes() {
    let mut shop = Shop::new();
    shop.bill("2026-03-09", "26-001", "1000.00", "50.00");
    let before = preview(&shop.desk, month("2026-03")).unwrap();
    assert!(before.new && !before.closed && before.part == 1 && before.earlier.is_empty());
    assert_eq!(shop.recorded(), 0, "looking records nothing");
    assert!(before.warnings.iter().any(|text| text.contains("payable")), "accounts without a name are told");
    let done = shop.hand("2026-03", "books").unwrap();
    assert_eq!(
        (before.files, before.control_totals, before.entries),
        (done.files, done.control_totals, done.entries)
    );
    assert_eq!(before.folder, done.folder.file_name().unwrap().to_str().unwrap());
    let after = preview(&shop.desk, month("2026-03")).unwrap();
    assert!(!after.new && after.earlier.len() == 1 && after.earlier[0].debits == done.debits);
    let set = Set::read(&done.folder);
    assert_eq!(done.debits, set.sum("journal", "debit"));
    assert_eq!(done.debits, set.sum("journal", "credit"));
}

#[test]
fn settings_after_a_hand_off_change_nothing_that_was_given() {
    let mut shop = Shop::new();
    shop.on("2026-03-10").bill("2026-03-09", "26-001", "1000.00", "50.00");
    shop.hours("Bo Finch", "2026-03-09", "26-001", "8");
    let first = shop.part("2026-03", 1);
    assert!(first.column("cost_detail", "cost").contains(&"1050.00"));

    // The tax is taken out of cost, and overhead costs more, from a day in the month that was handed off.
    let mut settings = serde_json::to_value(office::lists(&shop.desk).unwrap().firm).unwrap();
    for (field, value) in [
        ("kind", json!("firm")),
        ("date", json!("2026-03-01")),
        ("material_tax_is_cost", json!(false)),
        ("overhead_rate", json!("99.00")),
    ] {
        settings[field] = value;
    }
    let before = office::month_end(&shop.desk, month("2026-03")).unwrap();
    let changed = shop.on("2026-03-12").say(settings);
    assert!(office::month_end(&shop.desk, month("2026-03")).unwrap() == before, "March moved");
    shop.once_more("2026-03", 1);

    // What comes in after it goes by the settings that were handed off too, so that both parts are one month.
    shop.on("2026-03-20").bill("2026-03-19", "26-002", "300.00", "15.00");
    let second = shop.part("2026-03", 2);
    assert_eq!(second.column("cost_detail", "cost"), ["315.00"]);
    shop.on("2026-04-02").bill("2026-04-01", "26-002", "200.00", "10.00");
    let april = shop.part("2026-04", 1);
    assert_eq!(april.column("cost_detail", "cost"), ["200.00"]);

    // Taken back after April was handed off, the settings still were April's.
    let before = office::month_end(&shop.desk, month("2026-04")).unwrap();
    shop.reverse(changed, "they were not meant so");
    assert!(office::month_end(&shop.desk, month("2026-04")).unwrap() == before, "April moved");
    shop.once_more("2026-04", 1);
    shop.on("2026-05-02").bill("2026-05-01", "26-002", "100.00", "5.00");
    assert_eq!(shop.part("2026-05", 1).column("cost_detail", "cost"), ["105.00"]);
}
