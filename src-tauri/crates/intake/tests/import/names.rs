//! Names in a file: found, not found, near others, or made.

use crate::shop::{Shop, customer};
use intake::{Choices, Kind, RowOutcome};
use ledger::facts::{Bill, Payment, Vendor};

#[test]
fn capitals_and_blanks_do_not_matter() {
    let mut shop = Shop::open();
    let text = "date,person,job,code,hours,crew\n2026-03-02, ada  QUILL,26-001,Deck,8,north\n";
    shop.apply_twice(Kind::Hours, text, &Choices::default());
}

#[test]
fn an_unknown_name_is_a_problem_with_the_names_near_it() {
    let shop = Shop::open();
    let text = "date,person,job,code,hours,crew\n2026-03-02,Ada Qill,26-01,dekc,8,\n\
                2026-03-03,Ada Qill,26-001,deck,8,South\n";
    let preview = shop.preview(Kind::Hours, text, &Choices::default());
    let said: Vec<String> = preview.problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        [
            "Lines 2, 3, column “person”: There is no person “Ada Qill”. Near it: Ada Quill. Record it first, or \
             correct the spelling.",
            "Line 2, column “job”: There is no job “26-01”. Near it: 26-001. Record it first, or correct the \
             spelling.",
            "Line 2, column “code”: There is no cost code “dekc”. Near it: deck. Record it first, or correct the \
             spelling.",
            "Line 3, column “crew”: There is no crew “South”. Record it first, or correct the spelling.",
        ]
    );
    assert_eq!((preview.new, preview.duplicate, preview.refused), (0, 0, 2));
    assert!(!preview.ready);
    assert_eq!(preview.rows[0].outcome, RowOutcome::Refused);
}

#[test]
fn two_customers_of_one_name_are_told_apart_by_address() {
    let mut shop = Shop::open();
    shop.desk.record(vec![customer("Ridley Vane", Some("9 Quarry Road")).into()]).unwrap();
    let text = "date,customer,amount,method\n2026-03-02,Ridley Vane,5.00,cash\n";
    let preview = shop.preview(Kind::Payments, text, &Choices::default());
    assert_eq!(
        preview.problems[0].to_string(),
        "Line 2, column “customer”: More than one customer is called “Ridley Vane”. Near it: Ridley Vane, 4 \
         Mill Lane; Ridley Vane, 9 Quarry Road. Write the name and the address with a comma between."
    );
    let text = "date,customer,amount,method\n2026-03-02,\"ridley vane, 4 mill lane\",5.00,cash\n";
    shop.apply_twice(Kind::Payments, text, &Choices::default());
    let paid = shop.desk.books().all::<Payment>().unwrap();
    assert_eq!(paid[0].fact.customer, shop.ids.ridley);
}

#[test]
fn vendors_are_made_only_when_asked_for() {
    let mut shop = Shop::open();
    let text = "date,vendor,reference,job,code,amount\n2026-03-02,Hollow Creek Suply,B-1,26-001,deck,5.00\n\
                2026-03-03,hollow creek suply,B-2,26-001,deck,6.00\n2026-03-03,Ferris Haul,7,26-002,tear,7.00\n";
    let refused = shop.preview(Kind::Bills, text, &Choices::default());
    assert_eq!(refused.problems.len(), 3);
    assert_eq!(refused.problems[0].near, ["Hollow Creek Supply"]);
    assert_eq!(refused.makes, Vec::<String>::new());

    let choices = Choices { make_missing: true, ..Choices::default() };
    let preview = shop.preview(Kind::Bills, text, &choices);
    assert!(preview.ready, "{:?}", preview.problems);
    assert_eq!(preview.makes, ["Hollow Creek Suply", "Ferris Haul"]);
    assert_eq!(preview.facts, 5);
    let warned = "The vendor “Hollow Creek Suply” will be made; there already is Hollow Creek Supply.";
    assert!(
        preview.notes.iter().any(|note| note.message == warned && note.lines == [2]),
        "{:?}",
        preview.notes
    );
    let applied = shop.apply_twice(Kind::Bills, text, &choices);
    assert_eq!((applied.facts, applied.rows, applied.makes.len()), (5, 3, 2));
    let books = shop.desk.books();
    assert_eq!(books.all::<Vendor>().unwrap().len(), 3);
    let bills = books.all::<Bill>().unwrap();
    assert_eq!(bills[0].fact.vendor, bills[1].fact.vendor);
}
