//! Each kind: what becomes of its rows, and that the same file twice adds nothing.

use crate::shop::{Shop, clean, customer, money, qty};
use desk::Code;
use intake::{About, Choices, Kind, OtherHours, RepeatedLines, RowOutcome, Stage};
use ledger::closed_lists::PaidBy;
use ledger::facts::{
    Allocation, Bill, ClosedThrough, Customer, Job, MonthClosed, Payment, Reversal, Schedule, TimeEntry,
};
use trade::{CostKind, Money, Month};

#[test]
fn customers_are_known_by_name_and_address() {
    let mut shop = Shop::open();
    let text = "Name,Address,Phone,Email\nRidley Vane,4 MILL lane,555-0101,\n\
                Ridley Vane,12 Birch Court,,r@example.com\n\
                Moss Arden,,,\nTeal Osgood,\"2 Elm Street\nAlder Falls\",,\n\
                Teal  Osgood,2 Elm Street Alder Falls,555-0199,\n";
    let preview = shop.preview(Kind::Customers, text, &Choices::default());
    assert_eq!((preview.records, preview.new, preview.duplicate, preview.refused), (5, 2, 3, 0));
    let outcomes: Vec<RowOutcome> = preview.rows.iter().map(|row| row.outcome).collect();
    use RowOutcome::{Duplicate, New};
    assert_eq!(outcomes, [Duplicate, New, Duplicate, New, Duplicate]);
    assert_eq!(preview.duplicates[0].same_as, Some(shop.ids.ridley));
    assert_eq!(
        preview.duplicates[0].message,
        "Ridley Vane is recorded already. Its telephone is another one, which is left as it was."
    );
    assert_eq!((preview.duplicates[2].lines.clone(), preview.duplicates[2].same_as_line), (vec![7], Some(5)));
    let note =
        "A customer of the same name stands there already with another address; this makes a second one.";
    assert!(preview.notes.iter().any(|said| said.message == note && said.lines == [3]));
    let applied = shop.apply_twice(Kind::Customers, text, &Choices::default());
    assert_eq!(applied.facts, 2);
    let customers = shop.desk.books().all::<Customer>().unwrap();
    let wanted = Customer {
        email: Some("r@example.com".to_owned()),
        ..customer("Ridley Vane", Some("12 Birch Court"))
    };
    assert_eq!(customers[2].fact, wanted);
}

#[test]
fn jobs_are_known_by_number() {
    let mut shop = Shop::open();
    let header = "number,title,customer,site,date,crew\n";
    let known = "26-001,Whole roof,Ridley Vane,1 Larch Row,2026-02-01,\n";
    let text = format!(
        "{header}{known}26-002,Back slope,Moss Arden,1 Larch Row,2026-02-01,\n\
         26-010,Porch,Moss Arden,5 Ash Way,2026-03-01,North\n26-010,Porch,Moss Arden,5 Ash Way,2026-03-01,North\n"
    );
    let preview = shop.preview(Kind::Jobs, &text, &Choices::default());
    assert!(preview.ready, "{:?}", preview.problems);
    let said: Vec<&str> = preview.duplicates.iter().map(|duplicate| duplicate.message.as_str()).collect();
    assert_eq!(
        said,
        [
            "Job 26-001 is recorded already.",
            "Job 26-002 is recorded already. Its title is another one, which is left as it was.",
            "Job 26-010 is on line 4 already.",
        ]
    );
    let applied = shop.apply_twice(Kind::Jobs, &text, &Choices::default());
    assert_eq!((applied.facts, applied.rows, applied.duplicates), (1, 1, 3));
    let jobs = shop.desk.books().all::<Job>().unwrap();
    assert_eq!(jobs[2].fact.crew, Some(shop.ids.crew));
    assert_eq!(jobs[2].fact.customer, shop.ids.moss);
    assert!(shop.desk.books().all::<Schedule>().unwrap().is_empty(), "nothing of it is planned");

    let text = format!(
        "{header}26-001,Whole roof,Moss Arden,1 Larch Row,2026-02-01,\n26-011,Porch,Moss Arden,5 Ash Way,2026-03-01,\n\
         26-011,Shed,Moss Arden,5 Ash Way,2026-03-01,\n"
    );
    let said: Vec<String> = shop
        .preview(Kind::Jobs, &text, &Choices::default())
        .problems
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(
        said[0].starts_with("Line 2, column “number”: Job 26-001 is recorded already, for another customer.")
    );
    assert!(said[1].starts_with("Line 4, column “number”: Job 26-011 is on line 3 too, with another title."));
}

#[test]
fn a_job_comes_with_its_plan() {
    let mut shop = Shop::open();
    let header = "number,title,customer,site,date,crew,planned start,crew days\n";
    let text = format!("{header}26-010,Porch,Moss Arden,5 Ash Way,2026-03-01,North,2026-03-09,2.5\n");
    let applied = shop.apply_twice(Kind::Jobs, &text, &Choices::default());
    assert_eq!((applied.facts, applied.rows), (2, 1));
    let plan = shop.desk.books().all::<Schedule>().unwrap().remove(0).fact;
    assert_eq!((plan.begins.to_string().as_str(), plan.crew), ("2026-03-09", Some(shop.ids.crew)));
    assert_eq!(plan.crew_days, Some(qty("2.5")));
    let text = format!("{header}26-011,Shed,Moss Arden,5 Ash Way,2026-03-01,,,2\n");
    let problems = shop.preview(Kind::Jobs, &text, &Choices::default()).problems;
    assert_eq!(
        problems[0].to_string(),
        "Line 2, column “crew days”: The days of work stand without the day on which it begins. Fill in when work \
         begins, or leave the days out."
    );
}

const BILLS: &str =
    "date,vendor,reference,job,code,cost kind,description,quantity,unit,unit price,amount,tax,credit\n";

#[test]
fn lines_of_one_bill_form_one_bill() {
    let mut shop = Shop::open();
    let text = format!(
        "{BILLS}2026-03-02,Hollow Creek Supply,B-1,26-001,shingle,,Bundles,40,bundle,32.125,\"1,285.00\",102.80,no\n\
         2026-03-03,Hollow Creek Supply,B-2,26-002,tear,disposal,Container,,,,450.00,,\n\
         2026-03-02,Hollow Creek Supply,b-1,26-002,deck,,Sheets,6,sheet,28,168.00,13.44,\n\
         2026-03-05,Hollow Creek Supply,C-9,26-001,shingle,,Returned,-2,bundle,32.125,(64.25),(5.14),yes\n"
    );
    let preview = shop.preview(Kind::Bills, &text, &Choices::default());
    assert!(preview.ready, "{:?}", preview.problems);
    assert_eq!((preview.new, preview.facts), (4, 3));
    assert_eq!(preview.new_totals.amount, Some(money("1838.75")));
    assert_eq!(preview.new_totals.tax, Some(money("111.10")));
    assert_eq!(preview.rows[0].values[7..12], ["40", "bundle", "32.125", "1285.00", "102.80"]);
    shop.apply_twice(Kind::Bills, &text, &Choices::default());
    let held = shop.desk.books().all::<Bill>().unwrap();
    let first = &held[0].fact;
    assert_eq!((first.reference.as_str(), first.lines.len(), first.credit), ("B-1", 2, false));
    assert_eq!((first.vendor, first.lines[0].cost_kind), (shop.ids.yard, CostKind::Material));
    assert_eq!((first.lines[1].job, first.lines[1].code), (shop.ids.job_two, shop.ids.deck));
    assert_eq!(first.lines[1].quantity, Some(qty("6")));
    assert_eq!(held[1].fact.lines[0].cost_kind, CostKind::Disposal);
    assert!(held[2].fact.credit);
    let after = shop.preview(Kind::Bills, &text, &Choices::default());
    assert_eq!(after.duplicates[0].lines, [2, 4]);
    assert_eq!(after.duplicates[0].same_as, Some(held[0].entry.id));
    assert_eq!(after.new_totals.amount, Some(Money::ZERO));
    assert_eq!(after.file_totals.amount, Some(money("1838.75")));
}

fn bill(reference: &str, date: &str, amount: &str, credit: &str) -> String {
    format!("{date},Hollow Creek Supply,{reference},26-001,deck,,,,,,{amount},,{credit}\n")
}

#[test]
fn a_reference_with_another_date_or_sum_is_never_passed_over() {
    let mut shop = Shop::open();
    let first = format!("{BILLS}{}", bill("B-1", "2026-03-02", "10.00", ""));
    shop.apply_twice(Kind::Bills, &first, &Choices::default());
    let text = format!("{BILLS}{}", bill("B-1", "2026-03-02", "11.00", ""));
    let preview = shop.preview(Kind::Bills, &text, &Choices::default());
    assert_eq!((preview.new, preview.duplicate, preview.refused), (0, 0, 1));
    assert!(
        preview.problems[0].to_string().starts_with(
            "Line 2, column “reference”: Hollow Creek Supply B-1 is recorded already with the date March 2, 2026 and \
             the sum 10.00; here it is March 2, 2026 and 11.00."
        ),
        "{}",
        preview.problems[0]
    );
    let text =
        format!("{BILLS}{}{}", bill("B-3", "2026-03-02", "1.00", ""), bill("B-3", "2026-04-02", "2.00", ""));
    let preview = shop.preview(Kind::Bills, &text, &Choices::default());
    let said = preview.problems[0].to_string();
    assert!(said.starts_with(
        "Line 3, column “date”: Hollow Creek Supply B-3 is in the file with the date March 2, 2026 too."
    ));
    // A bill that was reversed stands no longer, and can come in again.
    let id = shop.desk.books().all::<Bill>().unwrap()[0].entry.id;
    shop.desk.reverse(id, "typed twice").unwrap();
    let applied = shop.apply(Kind::Bills, &first, &Choices::default()).unwrap();
    assert_eq!(applied.facts, 1);
    assert_eq!(shop.desk.books().all::<Reversal>().unwrap().len(), 1);
}

#[test]
fn a_line_that_stands_twice_on_a_bill_is_asked_about() {
    let mut shop = Shop::open();
    let line = bill("B-1", "2026-03-02", "10.00", "");
    let text = format!("{BILLS}{line}{}{line}", bill("B-1", "2026-03-02", "12.00", ""));
    let preview = shop.preview(Kind::Bills, &text, &Choices::default());
    assert_eq!(preview.questions[0].about, About::RepeatedLines);
    assert_eq!(preview.questions[0].lines, [4]);
    assert!(
        shop.apply(Kind::Bills, &text, &Choices::default()).unwrap_err().message.contains("1 open question")
    );
    for (choice, sum) in [(RepeatedLines::Skip, "22.00"), (RepeatedLines::Keep, "32.00")] {
        let mut shop = Shop::open();
        let choices = Choices { repeated_lines: Some(choice), ..Choices::default() };
        let applied = shop.apply_twice(Kind::Bills, &text, &choices);
        assert_eq!(applied.totals.amount, Some(money(sum)));
    }
}

#[test]
fn credits_are_what_the_file_says_or_what_their_sum_is() {
    let mut shop = Shop::open();
    let text = format!(
        "{BILLS}{}{}{}{}",
        bill("C-1", "2026-03-02", "10.00", "yes"),
        bill("C-2", "2026-03-02", "-10.00", "no"),
        bill("C-3", "2026-03-02", "-10.00", "yes"),
        bill("C-3", "2026-03-02", "-11.00", "")
    );
    let preview = shop.preview(Kind::Bills, &text, &Choices::default());
    let said: Vec<String> = preview.problems.iter().map(ToString::to_string).collect();
    assert!(said[0].starts_with(
        "Line 2, column “credit”: Hollow Creek Supply C-1 is a credit, but its lines come to 10.00."
    ));
    assert!(
        said[1].starts_with(
            "Line 3, column “credit”: Hollow Creek Supply C-2 comes to −10.00 and is not marked"
        )
    );
    assert!(said[2].starts_with(
        "Line 5, column “credit”: Hollow Creek Supply C-3 is a credit on one line and none on another."
    ));
    let text =
        "date,vendor,reference,job,code,amount\n2026-03-02,Hollow Creek Supply,C-4,26-001,deck,(10.00)\n";
    let preview = shop.preview(Kind::Bills, text, &Choices::default());
    assert!(
        preview
            .notes
            .iter()
            .any(|note| note.message.contains("read as a vendor's credit") && note.lines == [2])
    );
    shop.apply_twice(Kind::Bills, text, &Choices::default());
    assert!(shop.desk.books().all::<Bill>().unwrap()[0].fact.credit);
}

const HOURS: &str = "date,person,job,code,hours,crew\n";

#[test]
fn the_same_hours_are_there_already_and_other_hours_are_asked_about() {
    let mut shop = Shop::open();
    let text = format!(
        "{HOURS}2026-03-02,Ada Quill,26-001,deck,6,North\n2026-03-02,Ada Quill,26-001,deck,6.00,\n\
         2026-03-02,Ada Quill,26-001,shingle,2,\n2026-03-02,Bo Tarn,26-001,deck,6,\n"
    );
    let applied = shop.apply_twice(Kind::Hours, &text, &Choices::default());
    assert_eq!((applied.facts, applied.duplicates, applied.totals.hours), (3, 1, Some(qty("14"))));
    let held = shop.desk.books().all::<TimeEntry>().unwrap();
    assert_eq!((held[0].fact.crew, held[0].fact.person), (Some(shop.ids.crew), shop.ids.ada));
    assert_eq!((held[1].fact.code, held[2].fact.person), (shop.ids.shingle, shop.ids.bo));

    let other = format!("{HOURS}2026-03-02,Ada Quill,26-001,deck,3,\n2026-03-03,Ada Quill,26-001,deck,8,\n");
    let preview = shop.preview(Kind::Hours, &other, &Choices::default());
    assert_eq!((preview.new, preview.refused), (1, 1));
    let question = &preview.questions[0];
    assert_eq!((question.about, question.lines.clone()), (About::OtherHours, vec![2]));
    assert!(shop.apply(Kind::Hours, &other, &Choices::default()).is_err());
    assert_eq!(shop.desk.books().all::<TimeEntry>().unwrap().len(), 3, "nothing of the file came in");

    let leave_out = Choices { other_hours: Some(OtherHours::LeaveOut), ..Choices::default() };
    let preview = shop.preview(Kind::Hours, &other, &leave_out);
    assert_eq!(
        preview.duplicates[0].message,
        "3 h of Ada Quill on March 2, 2026, 26-001 deck are left out: 6 h stand there already."
    );
    let add = Choices { other_hours: Some(OtherHours::Add), ..Choices::default() };
    let applied = shop.apply_twice(Kind::Hours, &other, &add);
    assert_eq!(applied.totals.hours, Some(qty("11")));
}

#[test]
fn a_day_has_no_more_than_24_hours_with_what_is_recorded() {
    let mut shop = Shop::open();
    shop.apply_twice(
        Kind::Hours,
        &format!("{HOURS}2026-03-02,Ada Quill,26-001,deck,14,\n"),
        &Choices::default(),
    );
    let text =
        format!("{HOURS}2026-03-02,Ada Quill,26-002,deck,10,\n2026-03-02,Ada Quill,26-002,tear,0.5,\n");
    let preview = shop.preview(Kind::Hours, &text, &Choices::default());
    assert_eq!(preview.problems.len(), 1);
    let said = preview.problems[0].to_string();
    assert!(
        said.starts_with(
            "Line 3, column “hours”: With these hours, Ada Quill would have 24.5 hours on March 2, 2026."
        ),
        "{said}"
    );
}

const PAYMENTS: &str = "date,customer,amount,method,reference,invoice\n";

#[test]
fn payments_are_applied_to_the_invoice_they_name() {
    let mut shop = Shop::open();
    let invoice = shop.invoice("1001", shop.ids.job_one, "1500.00");
    let text = format!(
        "{PAYMENTS}2026-03-02,Ridley Vane,\"$1,000.00\",Check,771,1001\n2026-03-04,Ridley Vane,500.00,wire,,1001\n\
         2026-03-04,Moss Arden,80.00,cash,,\n2026-03-04,Moss Arden,80.00,cash,,\n"
    );
    let preview = shop.preview(Kind::Payments, &text, &Choices::default());
    assert!(preview.ready, "{:?}", preview.problems);
    assert_eq!((preview.new, preview.duplicate, preview.facts), (3, 1, 5));
    assert_eq!(
        (preview.new_totals.amount, preview.new_totals.applied),
        (Some(money("1580")), Some(money("1500")))
    );
    assert_eq!(preview.file_totals.amount, Some(money("1660")));
    shop.apply_twice(Kind::Payments, &text, &Choices::default());
    let books = shop.desk.books();
    let payments = books.all::<Payment>().unwrap();
    assert_eq!((payments[1].fact.method, payments[1].fact.reference.clone()), (PaidBy::Transfer, None));
    let applied = books.all::<Allocation>().unwrap();
    assert_eq!(applied.len(), 2);
    assert_eq!((applied[0].fact.payment, applied[0].fact.invoice), (Some(payments[0].entry.id), invoice));
    assert_eq!(applied[1].fact.amount, money("500"));
}

#[test]
fn a_payment_that_does_not_fit_its_invoice_is_refused() {
    let mut shop = Shop::open();
    shop.invoice("1001", shop.ids.job_one, "1500.00");
    let text = format!(
        "{PAYMENTS}2026-03-02,Ridley Vane,1000.00,check,1,1001\n2026-03-03,Ridley Vane,600.00,check,2,1001\n\
         2026-03-02,Moss Arden,5.00,cash,,1001\n2026-03-02,Moss Arden,6.00,cash,,999\n\
         2026-03-02,Ridley Vane,1000.00,check,1,\n"
    );
    let preview = shop.preview(Kind::Payments, &text, &Choices::default());
    let said: Vec<String> = preview.problems.iter().map(ToString::to_string).collect();
    for (said, wanted) in said.iter().zip([
        "Line 3, column “invoice”: 600.00 is more than the 500.00 that is open on invoice 1001.",
        "Line 4, column “invoice”: Invoice 1001 is another customer's.",
        "Line 5, column “invoice”: There is no invoice “999”.",
        "Line 6, column “invoice”: Line 2 is the same payment, applied to another invoice.",
    ]) {
        assert!(said.starts_with(wanted), "{said}");
    }
    assert_eq!(said.len(), 4);
}

#[test]
fn nothing_comes_in_by_half() {
    let mut shop = Shop::open();
    let before = shop.last_seq();
    let text = format!("{HOURS}2026-03-02,Ada Quill,26-001,deck,8,\n2026-03-02,Nobody,26-001,deck,8,\n");
    let refused = shop.apply(Kind::Hours, &text, &Choices::default()).unwrap_err();
    assert_eq!(refused.code, Code::Refused);
    assert_eq!(
        refused.to_string(),
        "The file has 1 problem and was not imported. The first: Line 3, column “person”: There is no person “Nobody”. \
         Record it first, or correct the spelling. Nothing was recorded: settle these and import it again."
    );
    assert_eq!(shop.last_seq(), before);
    // A preview records nothing either.
    shop.preview(Kind::Hours, &format!("{HOURS}2026-03-02,Ada Quill,26-001,deck,8,\n"), &Choices::default());
    assert_eq!(shop.last_seq(), before);
}

#[test]
fn stopping_writes_nothing_and_the_file_can_be_imported_after() {
    let mut shop = Shop::open();
    let mut text = "name,address\n".to_owned();
    for number in 0..2500 {
        text.push_str(&format!("Customer {number},{number} Long Road\n"));
    }
    let before = shop.last_seq();
    let parsed = clean(Kind::Customers, &text, &Choices::default());
    for stop_at in [Stage::Checking, Stage::Recording] {
        let mut told = 0;
        let stopped = intake::apply(&mut shop.desk, &parsed, &mut |progress| {
            told += 1;
            assert!(progress.done <= progress.total);
            assert_eq!(progress.total, 2500);
            !(progress.stage == stop_at && progress.done > 900)
        });
        assert_eq!(stopped.unwrap_err().code, Code::Stopped);
        assert!(told > 1);
        assert_eq!(shop.last_seq(), before);
    }
    let applied = shop.apply_twice(Kind::Customers, &text, &Choices::default());
    assert_eq!(applied.facts, 2500);
}

#[test]
fn a_file_for_a_closed_month_says_where_it_is_booked() {
    let mut shop = Shop::open();
    let close = MonthClosed {
        date: "2026-03-01".parse().unwrap(),
        month: Month::parse("2026-02").unwrap(),
        devices: vec![ClosedThrough { device: "A".to_owned(), through_seq: shop.last_seq() }],
        labor: vec![],
        jobs: vec![],
    };
    shop.desk.record(vec![close.into()]).unwrap();
    let text = format!("{HOURS}2026-02-27,Ada Quill,26-001,deck,8,\n2026-03-02,Ada Quill,26-001,deck,8,\n");
    let preview = shop.preview(Kind::Hours, &text, &Choices::default());
    let wanted = "The books are closed through February 2026: what is dated before March 2026 is booked in that month.";
    assert!(
        preview.notes.iter().any(|note| note.message == wanted && note.lines == [2]),
        "{:?}",
        preview.notes
    );
    assert!(preview.ready);
}

#[test]
fn dollars_do_not_go_into_books_of_another_currency() {
    let shop = Shop::in_currency("EUR");
    let text =
        format!("{PAYMENTS}2026-03-02,Ridley Vane,10.00,cash,,\n2026-03-02,Ridley Vane,$9.00,cash,,\n");
    let preview = shop.preview(Kind::Payments, &text, &Choices::default());
    let said = preview.problems[0].to_string();
    assert!(said.starts_with("Line 3: Amounts stand in dollars, and the books are in EUR."), "{said}");
}

#[test]
fn how_a_file_was_read_is_remembered_for_the_next_with_its_header() {
    let mut shop = Shop::open();
    let text = "Tag,Wer,Job,Code,Hours\n3/4/2026,Ada Quill,26-001,deck,8\n";
    assert_eq!(intake::recall(&shop.desk, Kind::Hours, text.as_bytes()).unwrap(), None);
    let json = r#"{"date_order":"day-first","mapping":
        {"date":"Tag","person":"Wer","job":"Job","code":"Code","hours":"Hours"}}"#;
    let choices: Choices = serde_json::from_str(json).unwrap();
    shop.apply_twice(Kind::Hours, text, &choices);
    let next = "TAG,Wer,job,Code,Hours\n5/4/2026,Ada Quill,26-001,deck,8\n";
    let recalled = intake::recall(&shop.desk, Kind::Hours, next.as_bytes()).unwrap().unwrap();
    assert!(recalled.remembered);
    let parsed = clean(Kind::Hours, next, &recalled);
    assert_eq!(crate::shop::hours(&parsed)[0].date.to_string(), "2026-04-05");
    assert!(crate::shop::notes(&parsed).contains("as the last time a file with these headers came in"));
    assert_eq!(intake::recall(&shop.desk, Kind::Payments, next.as_bytes()).unwrap(), None);
    assert_eq!(intake::recall(&shop.desk, Kind::Hours, b"Tag,Wer\n").unwrap(), None);
    let preview = intake::preview(&shop.desk, &parsed).unwrap();
    assert_eq!(preview.columns[0].header.as_deref(), Some("TAG"));
    assert_eq!(preview.columns[5].header, None);
}
