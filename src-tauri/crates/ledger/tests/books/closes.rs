//! In which month a fact is booked, and what a closed month keeps.

use crate::sample::{
    DECK, JOB, Place, TEAR, add, books, close, codes_of, direct_cost, id, labor_through, money, month, pay,
    place, problems, refusal, reversal, time,
};
use jiff::civil::Date;
use ledger::draft::DEVICE;
use ledger::facts::{DirectCost, TimeEntry};
use ledger::kind::FactRow;
use ledger::{Books, Calendar, Entered, Id, Ledger};
use trade::{Money, Month};

/// What a job's tear-off equipment came to in each month.
fn spent(ledger: &Ledger, through: &str) -> Money {
    let totals = codes_of(ledger, JOB, through);
    totals.get(&id(TEAR)).map(|sums| sums.equipment).unwrap_or_default()
}

fn closed_march(at: &Place) -> Ledger {
    let mut ledger = books(&at.path);
    add(&mut ledger, direct_cost(100, "2026-03-05", JOB, "10.00"));
    add(&mut ledger, direct_cost(101, "2026-03-06", JOB, "20.00"));
    let march = close(&ledger, 102, "2026-04-02", month("2026-03"));
    add(&mut ledger, march);
    ledger
}

#[test]
fn a_fact_of_a_closed_month_is_booked_in_the_open_one() {
    let at = place();
    let mut ledger = closed_march(&at);
    add(&mut ledger, direct_cost(103, "2026-03-28", JOB, "5.00"));
    assert_eq!((spent(&ledger, "2026-03"), spent(&ledger, "2026-04")), (money("30.00"), money("35.00")));
    // One of an earlier month still than any that was closed is booked there too.
    add(&mut ledger, direct_cost(104, "2026-01-28", JOB, "1.00"));
    assert_eq!((spent(&ledger, "2026-03"), spent(&ledger, "2026-04")), (money("30.00"), money("36.00")));
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_reversal_takes_the_month_of_its_fact_while_that_is_open_to_it() {
    let at = place();
    let mut ledger = closed_march(&at);
    add(&mut ledger, direct_cost(103, "2026-04-10", JOB, "4.00"));
    add(&mut ledger, reversal(104, "2026-04-20", 100));
    add(&mut ledger, reversal(105, "2026-05-03", 103));
    assert_eq!(spent(&ledger, "2026-03"), money("30.00"), "the closed month never changes");
    assert_eq!(spent(&ledger, "2026-04"), money("20.00"));
    assert_eq!(spent(&ledger, "2026-05"), money("20.00"));
    assert!(problems(&at.path).is_empty());
}

#[test]
fn months_are_closed_in_their_order_and_once() {
    let at = place();
    let mut ledger = closed_march(&at);
    let again = close(&ledger, 110, "2026-04-03", month("2026-03"));
    let again = refusal(&mut ledger, again);
    assert!(again.contains("March 2026 is already closed"), "{again}");
    let too_far = close(&ledger, 111, "2026-06-03", month("2026-05"));
    let too_far = refusal(&mut ledger, too_far);
    assert!(too_far.contains("April 2026 is still open. Close the months in their order"), "{too_far}");
    let april = close(&ledger, 112, "2026-05-02", month("2026-04"));
    add(&mut ledger, april);
    assert!(problems(&at.path).is_empty());
}

#[test]
fn the_first_close_sees_what_its_own_batch_booked_earlier() {
    let at = place();
    let mut ledger = books(&at.path);
    let mut batch = vec![direct_cost(100, "2026-02-05", JOB, "10.00")];
    let mut march = close(&ledger, 101, "2026-04-02", month("2026-03"));
    if let ledger::Fact::MonthClosed(fact) = &mut march.fact {
        fact.devices[0].through_seq += 1;
    }
    batch.push(march);
    let refused = ledger.append(&batch, crate::sample::moment()).expect_err("February is open").to_string();
    assert!(refused.contains("facts are booked in February 2026, which is still open"), "{refused}");
}

#[test]
fn labor_across_a_closed_months_end_is_caught_up_in_the_open_month() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, pay(100, "2026-01-05", "20.00"));
    // The week of Monday 30 March to Sunday 5 April 2026.
    add(&mut ledger, time(101, "2026-03-30", JOB, DECK, "10"));
    add(&mut ledger, time(102, "2026-03-31", JOB, DECK, "10"));
    let march = close(&ledger, 103, "2026-04-01", month("2026-03"));
    add(&mut ledger, march);
    for (n, date) in (104..).zip(["2026-04-01", "2026-04-02", "2026-04-03"]) {
        add(&mut ledger, time(n, date, JOB, DECK, "10"));
    }
    // 50 hours at 20.00: 1,000.00 straight, and half of 20.00 on each of 10 hours over 40. Of the premium, two fifths
    // fall on March's hours by the rule “over the week by hours”, and are booked in April all the same.
    let labor = |through: &str| labor_through(&ledger, JOB, through);
    assert_eq!((labor("2026-03").straight, labor("2026-03").premium), (money("400.00"), money("0.00")));
    assert_eq!((labor("2026-04").straight, labor("2026-04").premium), (money("1000.00"), money("100.00")));
    let booked = ledger.reading().booked_labor(month("2026-04")).expect("April's labor");
    let april = &booked[&(id(JOB), id(DECK), None)];
    assert_eq!((april.straight, april.premium), (money("600.00"), money("100.00")));
    assert!(problems(&at.path).is_empty());
}

#[test]
fn a_raise_dated_back_is_caught_up_in_the_open_month() {
    let at = place();
    let mut ledger = books(&at.path);
    add(&mut ledger, pay(100, "2026-01-05", "20.00"));
    add(&mut ledger, time(101, "2026-03-16", JOB, DECK, "10"));
    let march = close(&ledger, 102, "2026-04-01", month("2026-03"));
    add(&mut ledger, march);
    add(&mut ledger, pay(103, "2026-03-02", "22.00"));
    let labor = |ledger: &Ledger, through: &str| labor_through(ledger, JOB, through).straight;
    let (march, april) = (labor(&ledger, "2026-03"), labor(&ledger, "2026-04"));
    assert_eq!((march, april), (money("200.00"), money("220.00")));
    let april = close(&ledger, 104, "2026-05-01", month("2026-04"));
    add(&mut ledger, april);
    add(&mut ledger, reversal(105, "2026-05-02", 103));
    let (april, may) = (labor(&ledger, "2026-04"), labor(&ledger, "2026-05"));
    assert_eq!((april, may), (money("220.00"), money("200.00")));
    assert!(problems(&at.path).is_empty());
}

#[test]
fn each_devices_facts_are_late_by_its_own_mark() {
    let at = place();
    let mut ledger = closed_march(&at);
    ledger.set_setting(DEVICE, "B").expect("another letter");
    drop(ledger);
    let mut ledger = Ledger::open(&at.path).expect("the ledger");
    assert_eq!((ledger.device(), ledger.last_seq()), ("B", 0));
    // Number 1 of device B was not in when March was closed, though A's numbers 1 to 13 were.
    add(&mut ledger, direct_cost(103, "2026-03-28", JOB, "5.00"));
    assert_eq!((spent(&ledger, "2026-03"), spent(&ledger, "2026-04")), (money("30.00"), money("35.00")));
    let april = close(&ledger, 104, "2026-05-02", month("2026-04"));
    add(&mut ledger, april);
    assert!(problems(&at.path).is_empty());
}

#[test]
fn what_is_booked_in_a_month_is_what_booking_every_fact_by_itself_comes_to() {
    let at = place();
    let mut ledger = closed_march(&at);
    // Late to March by A and by B, late to March and April, and in time; hours too, which are looked for otherwise.
    add(&mut ledger, direct_cost(110, "2026-03-20", JOB, "7.00"));
    add(&mut ledger, time(111, "2026-03-19", JOB, DECK, "3"));
    ledger.set_setting(DEVICE, "B").expect("another letter");
    drop(ledger);
    let mut ledger = Ledger::open(&at.path).expect("the ledger");
    add(&mut ledger, direct_cost(112, "2026-03-28", JOB, "5.00"));
    let april = close(&ledger, 113, "2026-05-02", month("2026-04"));
    add(&mut ledger, april);
    add(&mut ledger, direct_cost(114, "2026-03-29", JOB, "1.00"));
    add(&mut ledger, direct_cost(115, "2026-05-01", JOB, "2.00"));
    add(&mut ledger, time(116, "2026-04-30", JOB, DECK, "4"));
    let books = ledger.reading();
    let (costs, hours) = (
        booked_one_by_one(books, |cost: &DirectCost| cost.date),
        booked_one_by_one(books, |time: &TimeEntry| time.date),
    );
    assert!(costs > 5 && hours == 2, "{costs} and {hours}");
}

/// Holds what is booked in each month against booking each fact of a kind by itself, and answers how many there are.
fn booked_one_by_one<T: FactRow>(books: Books<'_>, date: impl Fn(&T) -> Date) -> usize {
    let calendar = books.calendar().expect("the closes");
    let all = books.all_with_reversed::<T>().expect("all of them");
    let mut seen = 0;
    for asked in ["2026-02", "2026-03", "2026-04", "2026-05", "2026-06"].map(month) {
        let is_here = |held: &&Entered<T>| {
            calendar.booked(date(&held.fact), &held.entry.device, held.entry.device_seq) == asked
        };
        let expected: Vec<Id> = all.iter().filter(is_here).map(|held| held.entry.id).collect();
        let found = books.booked_in::<T>(asked).expect("those of the month");
        let found: Vec<Id> =
            found.into_iter().filter(|booked| booked.sign > 0).map(|booked| booked.id).collect();
        assert_eq!(found, expected, "{} in {asked}", T::KIND);
        seen += found.len();
    }
    assert_eq!(seen, all.len());
    seen
}

#[test]
fn the_calendar_says_where_a_date_is_booked() {
    let mut calendar = Calendar::default();
    let date = |text: &str| crate::sample::day(text);
    let march = || month("2026-03");
    assert_eq!(calendar.booked(date("2026-03-31"), "A", 7), march());
    calendar.close(march(), [("A".to_owned(), 7)]);
    calendar.close(month("2026-04"), [("A".to_owned(), 9), ("B".to_owned(), 2)]);
    let booked = |device: &str, seq: i64| -> Month { calendar.booked(date("2026-03-31"), device, seq) };
    assert_eq!(booked("A", 7), march());
    assert_eq!(booked("A", 8), month("2026-04"));
    assert_eq!(booked("A", 10), month("2026-05"));
    assert_eq!((booked("B", 1), booked("B", 3)), (month("2026-04"), month("2026-05")));
    assert_eq!(calendar.booked(date("2026-07-01"), "A", 10), month("2026-07"));
    assert_eq!(calendar.closed_through(), Some(month("2026-04")));
}
