//! A supplier's price list: what it changes, what it leaves, what it cannot say.

use crate::shop::{Shop, qty};
use intake::{Choices, Kind};
use ledger::facts::{Part, PartPrice};
use trade::{CostKind, Item, Rate};

const PRICES: &str = "Part,Vendor,Price,Date,Package,Covers\n";

fn rate(text: &str) -> Rate {
    Rate::parse(text).unwrap()
}

fn stocked() -> Shop {
    let mut shop = Shop::open();
    let (code, yard) = (shop.ids.shingle, shop.ids.yard);
    let part = |name: &str, title: &str, retired| Part {
        revises: None,
        name: name.to_owned(),
        title: title.to_owned(),
        item: Item::Shingles,
        code,
        cost_kind: CostKind::Material,
        package: "bundle".to_owned(),
        covers: qty("33.3333"),
        free_area_sqin: None,
        shingle: None,
        pieces_per_square: None,
        exposure_in: None,
        nails_each: None,
        cfm: None,
        product_line: None,
        colors: Vec::new(),
        retired,
    };
    let made = shop.desk.record(vec![
        part("laminated", "Laminated shingles", false).into(),
        part("strip", "Strip shingles", false).into(),
        part("old", "Old strip shingles", true).into(),
    ]);
    let laminated = made.unwrap()[0];
    let date = "2026-02-01".parse().unwrap();
    let known = PartPrice { date, part: laminated, vendor: Some(yard), price: rate("34.50") };
    shop.desk.record(vec![known.into()]).unwrap();
    shop
}

fn yard(shop: &Shop) -> String {
    let vendors = shop.desk.books().all::<ledger::facts::Vendor>().unwrap();
    vendors.first().map(|held| held.fact.name.clone()).unwrap()
}

#[test]
fn a_list_shows_old_and_new_and_records_only_what_changes() {
    let mut shop = stocked();
    let yard = yard(&shop);
    let text = format!(
        "{PRICES}LAMINATED  shingles,{yard},$36.57,2026-03-02,Bundle,33.3333\nstrip,{yard},29.80,2026-03-02,,\n\
         laminated,{yard},36.57,2026-03-02,,\n"
    );
    let preview = shop.preview(Kind::Prices, &text, &Choices::default());
    assert!(preview.ready, "{:?}", preview.problems);
    assert_eq!((preview.new, preview.duplicate, preview.facts), (2, 1, 2));
    let shown: Vec<_> =
        preview.price_changes.iter().map(|one| (one.line, one.old, one.new, one.change)).collect();
    assert_eq!(
        shown,
        [(2, Some(rate("34.5")), rate("36.57"), Some(rate("0.06"))), (3, None, rate("29.8"), None)]
    );
    shop.apply_twice(Kind::Prices, &text, &Choices::default());
    assert_eq!(shop.desk.books().all::<PartPrice>().unwrap().len(), 3);
    let same = format!("{PRICES}laminated,{yard},36.57,2026-06-01,,\n");
    let later = shop.preview(Kind::Prices, &same, &Choices::default());
    assert_eq!((later.new, later.duplicate), (0, 1), "the same price of a later day changes nothing");
    let fallen = format!("{PRICES}laminated,{yard},3.66,2026-06-01,,\n");
    let notes = shop.preview(Kind::Prices, &fallen, &Choices::default()).notes;
    assert!(notes.iter().any(|note| note.message.contains("falls from 36.57 to 3.66")), "{notes:?}");
}

#[test]
fn what_the_firm_does_not_know_is_named_and_nothing_is_recorded() {
    let mut shop = stocked();
    let yard = yard(&shop);
    let text = format!(
        "{PRICES}lamnated,{yard},36,2026-03-02,,\nold,{yard},20,2026-03-02,,\nlaminated,Nobody,36,2026-03-02,,\n\
         laminated,{yard},36,2026-03-02,pallet,\nlaminated,{yard},36,2026-03-02,bundle,25\n\
         strip,{yard},0,2026-03-02,,\nstrip,{yard},29,2026-03-03,,\nstrip,{yard},30,2026-03-03,,\n"
    );
    let preview = shop.preview(Kind::Prices, &text, &Choices::default());
    let said: Vec<String> = preview.problems.iter().map(ToString::to_string).collect();
    for wanted in [
        "Line 2, column “Part”: There is no part “lamnated”. Near it: laminated",
        "Line 3, column “Part”: There is no part “old”.",
        "Line 4, column “Vendor”: There is no vendor “Nobody”.",
        "Line 5, column “Package”: Laminated shingles is bought by the bundle, and this is the price of a pallet.",
        "Line 6, column “Covers”: A bundle of Laminated shingles covers 33.3333, and here 25.",
        "Line 7, column “Price”: 0 is no price.",
        "Line 9, column “Price”: Line 8 has another price for it of the same day: 29.",
    ] {
        assert!(said.iter().any(|said| said.starts_with(wanted)), "{wanted}\n{said:#?}");
    }
    assert_eq!(said.len(), 7);
    assert!(shop.apply(Kind::Prices, &text, &Choices::default()).is_err());
    assert_eq!(shop.desk.books().all::<PartPrice>().unwrap().len(), 1);
    let make = Choices { make_missing: true, ..Choices::default() };
    let text = format!("{PRICES}laminated,Nobody,36,2026-03-02,,\n");
    assert_eq!(shop.preview(Kind::Prices, &text, &make).makes, ["Nobody"]);
}

#[test]
fn a_list_without_a_date_is_not_dated_by_guess() {
    let shop = stocked();
    let text = format!("Item,Supplier,Net price\nlaminated,{},36\n", yard(&shop));
    let preview = shop.preview(Kind::Prices, &text, &Choices::default());
    let said: Vec<String> = preview.problems.iter().map(ToString::to_string).collect();
    assert!(
        said.iter().any(|said| said.contains("No column was found for the day from which the price counts")),
        "{said:?}"
    );
}
