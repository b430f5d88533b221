//! A file of many lines comes in whole, quickly, and once. 100,000 lines with TEAROFF_SOAK set, 5,000 without.

use crate::shop::{Shop, code, money, person, qty};
use intake::{Choices, Kind};
use ledger::Fact;
use ledger::facts::{Bill, TimeEntry};
use std::time::{Duration, Instant};

fn line_count() -> usize {
    if std::env::var_os("TEAROFF_SOAK").is_some() { 100_000 } else { 5_000 }
}

/// Reads, previews, applies and applies again, and tells how long each took.
#[allow(clippy::print_stderr, reason = "the times are what this test is run by hand for")]
fn timed(shop: &mut Shop, kind: Kind, text: &str) -> intake::Preview {
    let begun = Instant::now();
    let parsed = intake::read(kind, text.as_bytes(), &Choices::default());
    let read = begun.elapsed();
    let begun = Instant::now();
    let preview = intake::preview(&shop.desk, &parsed).unwrap();
    let previewed = begun.elapsed();
    assert!(preview.ready, "{:?} {:?}", preview.problems, preview.questions);
    let begun = Instant::now();
    let mut last = 0;
    intake::apply(&mut shop.desk, &parsed, &mut |progress| {
        last = progress.done;
        true
    })
    .unwrap();
    let applied = begun.elapsed();
    assert_eq!(last, u64::try_from(preview.facts).unwrap());
    let begun = Instant::now();
    let again = intake::apply(&mut shop.desk, &parsed, &mut |_| true).unwrap();
    assert_eq!((again.facts, again.rows), (0, 0));
    eprintln!(
        "{} lines of {}: read {read:?}, preview {previewed:?}, apply {applied:?}, apply again {:?}",
        preview.records,
        kind.as_str(),
        begun.elapsed()
    );
    let limit = Duration::from_secs(60);
    assert!(cfg!(debug_assertions) || read + previewed + applied < limit, "a large file takes too long");
    preview
}

#[test]
fn many_hours_come_in_once() {
    let mut shop = Shop::open();
    let people = 40;
    let mut facts: Vec<Fact> = (0..people).map(|number| person(&format!("Roofer {number}")).into()).collect();
    facts.extend((0..20).map(|number| Fact::from(code(&format!("code-{number}"), number + 10))));
    shop.desk.record(facts).unwrap();
    let lines = line_count();
    let mut text = "date,person,job,code,hours,crew\n".to_owned();
    let first: jiff::civil::Date = "2026-03-02".parse().unwrap();
    for line in 0..lines {
        let (who, work) = (line % people, line / people);
        let day = first.checked_add(jiff::Span::new().days(i64::try_from(work / 10).unwrap())).unwrap();
        let job = if work % 2 == 0 { "26-001" } else { "26-002" };
        text.push_str(&format!("{day},Roofer {who},{job},code-{},0.75,North\n", work % 10));
    }
    let preview = timed(&mut shop, Kind::Hours, &text);
    assert_eq!((preview.new, preview.facts), (lines, lines));
    let wanted = qty("0.75").decimal() * rust_decimal::Decimal::from(lines);
    assert_eq!(preview.new_totals.hours.unwrap().decimal(), wanted.normalize());
    assert_eq!(shop.desk.books().all::<TimeEntry>().unwrap().len(), lines);
}

#[test]
fn many_bills_come_in_once() {
    let mut shop = Shop::open();
    let lines = line_count();
    let mut text =
        "date,vendor,reference,job,code,description,quantity,unit,unit price,amount,tax\r\n".to_owned();
    for line in 0..lines {
        let bill = line / 4;
        let day = 1 + bill % 28;
        text.push_str(&format!(
            "3/{day}/2026,Hollow Creek Supply,B-{bill},26-001,deck,\"Sheets, \"\"half\"\" inch {line}\",1,sheet,\
             \"1,000.10\",\"$1,000.10\",80.01\r\n"
        ));
    }
    let preview = timed(&mut shop, Kind::Bills, &text);
    assert_eq!((preview.new, preview.facts), (lines, lines / 4));
    let one = money("1000.10").decimal() * rust_decimal::Decimal::from(lines);
    assert_eq!(preview.new_totals.amount.unwrap().decimal(), one);
    let held = shop.desk.books().all::<Bill>().unwrap();
    assert_eq!(held.len(), lines / 4);
    assert_eq!(held[0].fact.lines[3].description.as_deref(), Some("Sheets, \"half\" inch 3"));
}
