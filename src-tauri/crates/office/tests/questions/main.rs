//! The office and the tablet each write what the other does not know. Nothing of it is refused when it comes together;
//! every contradiction is one question with both sides, on both devices the same, until a fact answers it.

#![cfg(test)]

use jiff::civil::date;
use ledger::closed_lists::QuestionKind;
use ledger::draft::DEVICE;
use ledger::take_in::FOUNDER_KEY;
use ledger::{ChainPart, DeviceKey, HowMuch, Ledger, SignedHead};
use office::{Clock, Desk, LooseEndKind, Month, NewFirm, Question, Recorder};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;

fn key(letter: &str) -> DeviceKey {
    let byte = letter.as_bytes()[0];
    DeviceKey::from_secret([byte; 32])
}

fn clock(hour: i8) -> Clock {
    let at = date(2026, 3, 20).at(hour, 0, 0, 0).to_zoned_datetime(jiff::tz::TimeZone::UTC).unwrap();
    Clock::fixed(at.timestamp())
}

fn record(desk: &mut Desk, facts: &[Value]) {
    for fact in facts {
        Recorder::default().record(desk, fact.clone()).unwrap_or_else(|refused| panic!("{fact}: {refused}"));
    }
}

/// All that a device has, signed where it is its own.
fn parts(desk: &mut Desk) -> Vec<ChainPart> {
    let ledger = desk.ledger().unwrap();
    let (letter, (seq, hash)) = (ledger.device().to_owned(), ledger.own_end());
    let mut heads = vec![SignedHead::of(&key(&letter), &letter, seq, hash)];
    for other in ["A", "B"].into_iter().filter(|other| *other != letter) {
        heads.extend(ledger.reading().signed_head(other).unwrap());
    }
    let whole =
        |head: &SignedHead| ledger.reading().chain_part(head, 1, &mut |_, _, _| Ok(HowMuch::All)).unwrap();
    heads.iter().filter(|head| head.device_seq > 0).map(whole).collect()
}

fn meet(office: &mut Desk, tablet: &mut Desk) {
    let (of_office, of_tablet) = (parts(office), parts(tablet));
    for (desk, parts) in [(office, of_tablet), (tablet, of_office)] {
        let taken =
            desk.ledger().unwrap().take_in(&parts, jiff::Timestamp::UNIX_EPOCH, &|_, _| true).unwrap();
        assert!(taken.refused.is_empty() && taken.waiting.is_empty() && taken.forks.is_empty(), "{taken:?}");
    }
}

/// The firm at the office, with one job under contract.
fn at_the_office(path: &Path) -> Desk {
    let said = json!({"name": "Gable and Eave", "town": "Otter Bend", "state": "LK"});
    let firm = NewFirm::usual("Olive Marsh", said.as_object().unwrap().clone(), date(2026, 1, 1)).unwrap();
    let mut desk = Desk::make(path, &firm, clock(6)).unwrap();
    desk.rise();
    let device = |letter: &str, name: &str| {
        json!({"kind": "device", "date": "2026-03-01", "letter": letter, "name": name, "role": "owner",
            "person": "Olive Marsh", "signs_with": key(letter).public(), "locks_with": format!("age1{letter}")})
    };
    record(
        &mut desk,
        &[
            json!({"kind": "crew", "name": "One", "size": 2, "hours_a_day": "8"}),
            json!({"kind": "person", "name": "Bo Finch", "role": "crew", "crew": "One"}),
            json!({"kind": "cost-code", "code": "tear", "title": "Tear-off", "unit": "square", "position": 1}),
            json!({"kind": "customer", "name": "Ada Birch"}),
            json!({"kind": "job", "date": "2026-03-02", "number": "26-001", "title": "Re-roof", "customer": "Ada Birch",
                "site": "1 Mill Lane"}),
            json!({"kind": "contract", "date": "2026-03-02", "job": "26-001", "price": "900.00", "included_sheets": "0",
                "included_feet": "0", "retainage": "0",
                "lines": [{"code": "tear", "cost_kind": "disposal", "amount": "500.00"}]}),
            json!({"kind": "check-point", "words": "Kick-outs in", "position": 1}),
            json!({"kind": "condition", "date": "2026-03-03", "job": "26-001", "number": "7", "place": "eave",
                "cause": "ice-dam", "damaged": "rafter", "counted_in": "each", "count": "1"}),
            json!({"kind": "change-order", "date": "2026-03-03", "job": "26-001", "number": "7", "title": "Rafter",
                "pricing": "lump-sum", "lines": [{"code": "tear", "cost_kind": "material", "description": "Rafter",
                "price": "80.00", "cost": "40.00"}]}),
            json!({"kind": "change-order", "date": "2026-03-03", "job": "26-001", "number": "6", "title": "Board",
                "pricing": "lump-sum", "lines": [{"code": "tear", "cost_kind": "material", "description": "Board",
                "price": "30.00"}]}),
            json!({"kind": "invoice", "date": "2026-03-03", "job": "26-001", "number": "1001", "purpose": "deposit",
                "due": "2026-03-03", "lines": [{"description": "Deposit", "amount": "300.00"}]}),
            json!({"kind": "payment", "date": "2026-03-04", "customer": "Ada Birch", "amount": "100.00",
                "method": "check", "reference": "77"}),
            device("A", "Office"),
            device("B", "Tablet"),
        ],
    );
    desk
}

fn tablet(path: &Path) -> Desk {
    let mut ledger = Ledger::create(path).unwrap();
    ledger.set_setting(DEVICE, "B").unwrap();
    ledger.set_setting(FOUNDER_KEY, &key("A").public().to_string()).unwrap();
    drop(ledger);
    Desk::open(path, clock(9)).unwrap()
}

/// What each device writes down, with the other's word where they differ.
fn apart(verdict: &str, state: &str, title: &str) -> Vec<Value> {
    let cost = if state == "good" { "20.00" } else { "25.00" };
    vec![
        json!({"kind": "change-cost", "date": "2026-03-06", "change_order": "26-001/6",
            "lines": [{"change_line": 1, "cost": cost}]}),
        json!({"kind": "condition", "date": "2026-03-05", "job": "26-001", "number": "8", "place": "eave",
            "cause": "ice-dam", "damaged": "rafter", "counted_in": "each", "count": "2"}),
        json!({"kind": "repair", "date": "2026-03-06", "condition": "26-001/7", "stage": "done"}),
        json!({"kind": "decision", "date": "2026-03-06", "change_order": "26-001/7", "verdict": verdict,
            "decided_by": "Ada Birch", "method": "phone", "note": "noon"}),
        json!({"kind": "time-entry", "date": "2026-03-05", "person": "Bo Finch", "job": "26-001", "code": "tear",
            "hours": "14"}),
        json!({"kind": "allocation", "date": "2026-03-06", "payment": "77", "invoice": "1001", "amount": "60.00"}),
        json!({"kind": "work-check", "date": "2026-03-06", "job": "26-001", "point": "Kick-outs in", "state": state,
            "person": "Bo Finch"}),
        json!({"kind": "job", "date": "2026-03-06", "number": "26-002", "title": title, "customer": "Ada Birch",
            "site": "2 Mill Lane"}),
        json!({"kind": "job-status", "date": "2026-03-07", "job": "26-001", "stage": "finished"}),
    ]
}

fn asked(desk: &Desk) -> Vec<Question> {
    office::questions(desk, Month::parse("2026-03").unwrap()).unwrap()
}

#[test]
fn every_contradiction_is_one_question_with_both_sides_until_it_is_answered() {
    let home = tempfile::tempdir().unwrap();
    let mut office = at_the_office(&home.path().join("office.tearoff"));
    let mut tablet = tablet(&home.path().join("tablet.tearoff"));
    meet(&mut office, &mut tablet);
    record(&mut office, &apart("approved", "good", "Porch"));
    record(&mut tablet, &apart("declined", "open", "Shed"));
    assert!(asked(&office).is_empty(), "one device alone never contradicts itself");
    meet(&mut office, &mut tablet);
    let questions = asked(&office);
    assert_eq!(questions, asked(&tablet), "both devices ask the same");
    let mut kinds: BTreeMap<QuestionKind, usize> = BTreeMap::new();
    for question in &questions {
        *kinds.entry(question.kind).or_default() += 1;
        let devices: Vec<&str> = question.sides.iter().map(|side| side.device.as_str()).collect();
        assert_eq!(devices, ["A", "B"], "{question:?}");
        assert!(question.sides.iter().all(|side| side.recorded_by == "Olive Marsh" && !side.says.is_empty()));
        assert!(question.sides.iter().all(|side| side.may_go), "{question:?}");
        // More applied than was paid, and decisions that differ, cannot both be so.
        let is_either = matches!(
            question.kind,
            QuestionKind::Allocation | QuestionKind::Decisions | QuestionKind::ChangeCost
        );
        assert_eq!(question.may_stand, !is_either, "{question:?}");
    }
    let expected = [
        (QuestionKind::Decisions, 1),
        (QuestionKind::ChangeCost, 1),
        (QuestionKind::Number, 2),
        (QuestionKind::Allocation, 1),
        (QuestionKind::Repair, 1),
        (QuestionKind::Hours, 1),
        (QuestionKind::Finished, 1),
        (QuestionKind::Checks, 1),
    ];
    assert_eq!(kinds, expected.into());
    let march = Month::parse("2026-03").unwrap();
    let ends = office::loose_ends(&office, march).unwrap();
    assert_eq!(ends.iter().filter(|end| end.kind == LooseEndKind::Question).count(), 8, "{ends:?}");
    assert_eq!(ends.iter().filter(|end| end.kind == LooseEndKind::ContradictingDecisions).count(), 1);
    // The job has ended, and what contradicts itself on it is still to be settled in the months that follow.
    let told = |month: &str| {
        let ends = office::loose_ends(&office, Month::parse(month).unwrap()).unwrap().into_iter();
        let of_decisions = ends.filter(|end| end.kind == LooseEndKind::ContradictingDecisions);
        of_decisions.map(|end| (end.fact, end.job, end.text)).collect::<Vec<_>>()
    };
    assert_eq!(told("2026-05"), told("2026-03"));
    // Each is answered by a fact, at either device: one side is reversed, or both stand.
    for question in questions {
        let kind = question.kind.as_str();
        let fact = if question.kind == QuestionKind::Number {
            let about: Vec<Value> = question.sides.iter().map(|side| json!({"about": side.fact})).collect();
            json!({"kind": "answer", "date": "2026-03-20", "question": kind, "about": about})
        } else {
            json!({"kind": "reversal", "date": "2026-03-20", "reverses": question.sides[1].fact, "reason": "twice"})
        };
        record(&mut tablet, &[fact]);
    }
    assert!(asked(&tablet).is_empty());
    meet(&mut office, &mut tablet);
    assert_eq!(asked(&office), []);
    for desk in [&office, &tablet] {
        let verdict = ledger::verify(&desk.path(), &mut |_| true).unwrap();
        assert!(verdict.is_good(), "{:?}", verdict.problems);
    }
}

#[test]
fn a_month_closed_twice_a_second_contract_and_what_rests_on_a_reversal_are_asked() {
    let home = tempfile::tempdir().unwrap();
    let mut office = at_the_office(&home.path().join("office.tearoff"));
    let mut tablet = tablet(&home.path().join("tablet.tearoff"));
    record(
        &mut office,
        &[
            json!({"kind": "job", "date": "2026-03-06", "number": "26-003", "title": "Porch", "customer": "Ada Birch",
            "site": "3 Mill Lane"}),
        ],
    );
    meet(&mut office, &mut tablet);
    let contract = |price: &str| {
        json!({"kind": "contract", "date": "2026-03-08", "job": "26-003", "price": price, "included_sheets": "0",
            "included_feet": "0", "retainage": "0",
            "lines": [{"code": "tear", "cost_kind": "disposal", "amount": "50.00"}]})
    };
    let order = change_order(&office);
    record(
        &mut office,
        &[
            contract("90.00"),
            json!({"kind": "reversal", "date": "2026-03-09", "reverses": order,
        "reason": "withdrawn"}),
        ],
    );
    record(
        &mut tablet,
        &[
            contract("95.00"),
            json!({"kind": "decision", "date": "2026-03-09",
        "change_order": "26-001/7", "verdict": "approved", "decided_by": "Ada Birch", "method": "text"}),
        ],
    );
    let march = Month::parse("2026-03").unwrap();
    for desk in [&mut office, &mut tablet] {
        office::close(desk, march, date(2026, 4, 2), true).unwrap();
    }
    meet(&mut office, &mut tablet);
    let kinds: Vec<QuestionKind> = asked(&office).iter().map(|question| question.kind).collect();
    assert_eq!(kinds, [QuestionKind::Contract, QuestionKind::Month, QuestionKind::Reversed]);
    assert_eq!(asked(&office), asked(&tablet));
    // The close of the first device counts on both, and its figures still come out.
    for desk in [&office, &tablet] {
        assert_eq!(office::drifts(desk.books()).unwrap(), []);
        let verdict = ledger::verify(&desk.path(), &mut |_| true).unwrap();
        assert!(verdict.is_good(), "{:?}", verdict.problems);
    }
}

fn statement(lines: &[(&str, &str, &str)], closing: &str) -> Value {
    let lines: Vec<Value> = lines
        .iter()
        .map(|(date, amount, words)| json!({"date": date, "amount": amount, "words": words}))
        .collect();
    json!({"kind": "bank-statement", "date": "2026-03-31", "begins": "2026-03-01", "opening": "0.00",
        "closing": closing, "lines": lines})
}

fn said(desk: &mut Desk, place: i64, is: &office::LineIs) {
    office::clear_line(desk, None, place, is).unwrap();
}

#[test]
fn one_statement_taken_in_twice_is_a_question_and_counts_once_until_one_goes() {
    let home = tempfile::tempdir().unwrap();
    let mut office = at_the_office(&home.path().join("office.tearoff"));
    let mut tablet = tablet(&home.path().join("tablet.tearoff"));
    meet(&mut office, &mut tablet);
    let whole = statement(&[("2026-03-05", "100.00", "Deposit")], "100.00");
    record(&mut office, std::slice::from_ref(&whole));
    record(&mut tablet, &[whole]);
    said(&mut tablet, 1, &office::LineIs::AsProposed);
    assert!(asked(&office).is_empty() && asked(&tablet).is_empty());
    meet(&mut office, &mut tablet);
    let questions = asked(&office);
    assert_eq!(questions, asked(&tablet));
    assert_eq!(questions.len(), 1, "{questions:?}");
    assert_eq!((questions[0].kind, questions[0].may_stand), (QuestionKind::Bank, false));
    assert!(questions[0].text.contains("were taken in 2 times. The statement of device A counts."));
    for desk in [&office, &tablet] {
        let bank = office::bank(desk, None).unwrap();
        assert_eq!((bank.statements.len(), bank.statements[0].open), (1, 1), "the office's counts");
        let balances = bank.balances.unwrap();
        assert_eq!(balances.by_books.to_string(), "100.00");
        assert!(balances.unexplained.is_zero(), "{balances:?}");
    }
    // The tablet's has something said of its line, so that the office's own goes.
    let reversal =
        |fact: &str| json!({"kind": "reversal", "date": "2026-03-20", "reverses": fact, "reason": "twice"});
    let refused = Recorder::default().record(&mut office, reversal(&questions[0].sides[1].fact)).unwrap_err();
    assert!(refused.message.contains("rest on it"), "{refused}");
    record(&mut office, &[reversal(&questions[0].sides[0].fact)]);
    meet(&mut office, &mut tablet);
    for desk in [&office, &tablet] {
        assert_eq!(asked(desk), []);
        assert_eq!(
            office::bank(desk, None).unwrap().statements[0].open,
            0,
            "what the tablet said of it counts"
        );
        assert!(ledger::verify(&desk.path(), &mut |_| true).unwrap().is_good());
    }
}

#[test]
fn a_line_that_two_devices_say_two_things_of_is_a_question_and_the_same_said_twice_is_none() {
    let home = tempfile::tempdir().unwrap();
    let mut office = at_the_office(&home.path().join("office.tearoff"));
    let mut tablet = tablet(&home.path().join("tablet.tearoff"));
    let lines = [
        ("2026-03-05", "100.00", "Deposit"),
        ("2026-03-06", "-12.00", "Fee"),
        ("2026-03-07", "100.00", "Deposit"),
        ("2026-03-09", "50.00", "Put in"),
    ];
    record(&mut office, &[statement(&lines, "238.00")]);
    meet(&mut office, &mut tablet);
    let payment = office::bank(&office, None).unwrap().free[0].source.id.clone();
    let other = |is| office::LineIs::Other(is, None);
    use ledger::closed_lists::OtherBankLine::{Loan, Owner, Taxes};
    said(&mut office, 1, &office::LineIs::Payments(vec![payment.clone()]));
    said(&mut office, 2, &other(Taxes));
    said(&mut tablet, 2, &other(Loan));
    said(&mut tablet, 3, &office::LineIs::Payments(vec![payment]));
    // The same said twice is no contradiction.
    said(&mut office, 4, &other(Owner));
    said(&mut tablet, 4, &other(Owner));
    meet(&mut office, &mut tablet);
    let questions = asked(&office);
    assert_eq!(questions, asked(&tablet));
    let texts: Vec<&str> = questions.iter().map(|question| question.text.as_str()).collect();
    assert_eq!(
        texts,
        [
            "One payment was matched with two lines of the bank.",
            "−12.00 at the bank on March 6, 2026 was said to be two things."
        ]
    );
    assert!(questions.iter().all(|question| question.kind == QuestionKind::Bank && !question.may_stand));
    for desk in [&office, &tablet] {
        let bank = office::bank(desk, None).unwrap();
        let open: Vec<i64> =
            bank.lines.iter().filter(|line| line.matched.is_none()).map(|line| line.place).collect();
        assert_eq!(open, [3], "the office's word counts, and nothing clears twice");
        assert_eq!(bank.lines[1].other, Some(Taxes));
        assert!(bank.balances.unwrap().unexplained.is_zero());
    }
    let reversals: Vec<Value> = questions
        .iter()
        .map(|question| {
            let fact = &question.sides.iter().find(|side| side.device == "B").unwrap().fact;
            json!({"kind": "reversal", "date": "2026-03-20", "reverses": fact, "reason": "wrong"})
        })
        .collect();
    record(&mut office, &reversals);
    meet(&mut office, &mut tablet);
    for desk in [&office, &tablet] {
        assert_eq!(asked(desk), []);
        assert!(ledger::verify(&desk.path(), &mut |_| true).unwrap().is_good());
    }
}

/// The one change order there is.
fn change_order(desk: &Desk) -> String {
    desk.books().all::<ledger::facts::ChangeOrder>().unwrap()[0].entry.id.to_string()
}
