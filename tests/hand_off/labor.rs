//! Labor across parts: pay is calculated by the week, so hours that come later change what earlier ones cost.

use crate::files::money;
use crate::firm::Shop;
use serde_json::json;

/// Bo earns 20.00 an hour. 40 hours in Monday to Thursday: 800.00, no premium. With 8 more on Friday the week has 48
/// hours, and half the rate more for 8 of them is 80.00, spread over the week by hours: a sixth of it, 13.33, to
/// Friday, and 66.67 to the days that were handed off already. A tenth of pay is burden.
#[test]
fn hours_given_before_come_again_with_the_difference_alone() {
    let mut shop = Shop::new();
    for date in ["2026-03-09", "2026-03-10", "2026-03-11", "2026-03-12"] {
        shop.hours("Bo Finch", date, "26-001", "10");
    }
    let first = shop.part("2026-03", 1);
    assert_eq!((first.control("straight"), first.control("premium")), (money("800.00"), money("0.00")));
    shop.hours("Bo Finch", "2026-03-13", "26-001", "8");
    let second = shop.part("2026-03", 2);
    second.is_sound();
    let hours: Vec<_> = second.those("hours_and_pay", "why", "hours").collect();
    assert_eq!(hours.len(), 1);
    assert_eq!((hours[0]["hours"].as_str(), hours[0]["straight"].as_str()), ("8", "160.00"));
    let again: Vec<_> = second.those("hours_and_pay", "why", "calculated-again").collect();
    assert_eq!(again.len(), 4);
    assert!(
        again
            .iter()
            .all(|row| row["hours"].is_empty() && row["straight"] == "0.00" && row["person"] == "Bo Finch")
    );
    let premium: office::Money = again.iter().map(|row| money(&row["premium"])).sum();
    assert_eq!(premium + money(&hours[0]["premium"]), money("80.00"));
    assert_eq!(second.control("premium"), money("80.00"));
    assert_eq!(second.control("burden"), money("104.00"));
    assert_eq!(second.account("wages-payable"), money("-240.00"));
    shop.once_more("2026-03", 2);
}

/// The week of 30 March ends in April. March is handed off and closed with 16 hours of it; the hours of April make
/// overtime, of which a part falls on the days in March. March stays as it was, and April catches up, person by person.
#[test]
fn a_week_across_a_closed_month_is_caught_up_in_the_open_one() {
    let mut shop = Shop::new();
    shop.on("2026-04-01");
    shop.hours("Bo Finch", "2026-03-30", "26-001", "8");
    shop.hours("Bo Finch", "2026-03-31", "26-001", "8");
    shop.part("2026-03", 1);
    shop.close("2026-03", "2026-04-01");
    shop.on("2026-04-06");
    for date in ["2026-04-01", "2026-04-02", "2026-04-03"] {
        shop.hours("Bo Finch", date, "26-002", "10.6666");
    }
    shop.once_more("2026-03", 1);
    let april = shop.part("2026-04", 1);
    april.is_sound();
    let again: Vec<_> = april.those("hours_and_pay", "why", "calculated-again").collect();
    assert_eq!(again.len(), 2);
    assert!(again.iter().all(|row| row["date"].starts_with("2026-03") && row["job"] == "26-001"));
    // 47.9998 hours: 7.9998 of them at half the rate more.
    assert_eq!(april.control("premium"), money("80.00"));
    assert!(
        april.those("hours_and_pay", "why", "caught-up").next().is_none(),
        "each difference has its person"
    );
    // The first job has no fact of its own in April, and its cost is in the report and the journal all the same.
    let first_job = april.those("job_results", "job", "26-001").next().unwrap();
    let caught_up: office::Money =
        april.those("cost_detail", "job", "26-001").map(|row| money(&row["cost"])).sum();
    assert_eq!(money(&first_job["month_cost"]), caught_up);
    assert!(!caught_up.is_zero());
    shop.once_more("2026-04", 1);
}

#[test]
fn a_month_closed_before_its_hand_off_is_given_as_it_was_frozen() {
    let mut shop = Shop::new();
    shop.on("2026-04-01").hours("Bo Finch", "2026-03-30", "26-001", "10");
    shop.hours("Bo Finch", "2026-03-31", "26-001", "10");
    shop.close("2026-03", "2026-04-01");
    shop.on("2026-04-06");
    for date in ["2026-04-01", "2026-04-02", "2026-04-03"] {
        shop.hours("Bo Finch", date, "26-001", "10");
    }
    // The premium of the week is known by now, but March was closed without it.
    let march = shop.part("2026-03", 1);
    march.is_sound();
    assert_eq!((march.control("straight"), march.control("premium")), (money("400.00"), money("0.00")));
    let april = shop.part("2026-04", 1);
    april.is_sound();
    assert_eq!((april.control("straight"), april.control("premium")), (money("600.00"), money("100.00")));
    shop.once_more("2026-03", 1);
    shop.once_more("2026-04", 1);
}

#[test]
fn reversed_hours_take_back_what_was_given_for_them() {
    let mut shop = Shop::new();
    let wrong = shop.hours("Cy Reed", "2026-03-10", "26-001", "8");
    shop.hours("Cy Reed", "2026-03-11", "26-001", "8");
    shop.part("2026-03", 1);
    shop.on("2026-03-20").reverse(wrong, "he was on the other job");
    shop.hours("Cy Reed", "2026-03-10", "26-002", "8");
    // Typed and taken back between two parts: it shows with its hours and without cost.
    let twice = shop.hours("Cy Reed", "2026-03-12", "26-002", "4");
    shop.reverse(twice, "typed twice");
    let second = shop.part("2026-03", 2);
    second.is_sound();
    let reversed: Vec<_> = second.those("hours_and_pay", "why", "reversed").collect();
    assert_eq!((reversed[0]["hours"].as_str(), reversed[0]["straight"].as_str()), ("-8", "-240.00"));
    assert_eq!(reversed[0]["reason"], "he was on the other job");
    assert_eq!((reversed[1]["hours"].as_str(), reversed[1]["straight"].as_str()), ("-4", "0.00"));
    assert_eq!(second.account("cost-labor"), money("0.00"));
    assert_eq!(second.control("straight"), money("480.00"));
    assert_eq!(second.control("hours"), money("16.00"));
    shop.once_more("2026-03", 2);
}

#[test]
fn a_raise_found_later_is_given_as_a_difference() {
    let mut shop = Shop::new();
    shop.hours("Bo Finch", "2026-03-10", "26-001", "8");
    shop.hours("Cy Reed", "2026-03-10", "26-001", "8");
    shop.part("2026-03", 1);
    // One dollar more for one and one less for the other: the job costs the same, the people do not.
    shop.say(json!({"kind": "pay-rate", "date": "2026-03-01", "person": "Bo Finch", "hourly": "21.00"}));
    shop.say(json!({"kind": "pay-rate", "date": "2026-03-01", "person": "Cy Reed", "hourly": "29.00"}));
    let second = shop.part("2026-03", 2);
    second.is_sound();
    let straight: Vec<_> =
        second.those("hours_and_pay", "why", "calculated-again").map(|row| &row["straight"]).collect();
    assert_eq!(straight, ["8.00", "-8.00"]);
    assert_eq!(second.control("straight"), money("400.00"));
    shop.once_more("2026-03", 2);
}
