//! The papers, printed and read back: every amount is there, the same input gives the same bytes, a screen reader
//! finds its way, and whatever was typed comes out as it was typed.
//!
//! With `TEAROFF_PAPERS` set to a folder, the examples are also written there, to be looked at.
#![allow(clippy::unwrap_used, clippy::panic)]

mod after;
mod bare;
mod full;
mod month;
mod read;
mod shot;

use paperwork::PaperError;
use paperwork::papers::*;
use rstest::rstest;
use serde_json::Value;

use crate::full::s;

/// A paper of any kind.
enum Any {
    Proposal(Proposal),
    SiteSheet(SiteSheet),
    OrderList(OrderList),
    ChangeOrder(Box<ChangeOrderPaper>),
    Invoice(InvoicePaper),
    Statement(StatementPaper),
    Completion(CompletionPacket),
    MonthEnd(MonthEndPack),
    Insulation(InsulationReceipt),
    Lead(LeadReceipt),
}

impl Any {
    fn render(&self) -> Result<Vec<u8>, PaperError> {
        match self {
            Any::Proposal(paper) => paper.render(),
            Any::SiteSheet(paper) => paper.render(),
            Any::OrderList(paper) => paper.render(),
            Any::ChangeOrder(paper) => paper.render(),
            Any::Invoice(paper) => paper.render(),
            Any::Statement(paper) => paper.render(),
            Any::Completion(paper) => paper.render(),
            Any::MonthEnd(paper) => paper.render(),
            Any::Insulation(paper) => paper.render(),
            Any::Lead(paper) => paper.render(),
        }
    }

    fn data(&self) -> Value {
        match self {
            Any::Proposal(paper) => serde_json::to_value(paper),
            Any::SiteSheet(paper) => serde_json::to_value(paper),
            Any::OrderList(paper) => serde_json::to_value(paper),
            Any::ChangeOrder(paper) => serde_json::to_value(paper),
            Any::Invoice(paper) => serde_json::to_value(paper),
            Any::Statement(paper) => serde_json::to_value(paper),
            Any::Completion(paper) => serde_json::to_value(paper),
            Any::MonthEnd(paper) => serde_json::to_value(paper),
            Any::Insulation(paper) => serde_json::to_value(paper),
            Any::Lead(paper) => serde_json::to_value(paper),
        }
        .unwrap()
    }
}

fn keep(name: &str, bytes: &[u8]) {
    if let Some(folder) = std::env::var_os("TEAROFF_PAPERS") {
        std::fs::write(std::path::Path::new(&folder).join(format!("{name}.pdf")), bytes).unwrap();
    }
}

#[rstest]
#[case::proposal("proposal", Any::Proposal(full::proposal()))]
#[case::site_sheet("site-sheet", Any::SiteSheet(full::site_sheet()))]
#[case::order_list("order-list", Any::OrderList(full::order_list()))]
#[case::change_order("change-order", Any::ChangeOrder(Box::new(after::change_order())))]
#[case::invoice("invoice", Any::Invoice(after::invoice()))]
#[case::statement("statement", Any::Statement(after::statement()))]
#[case::completion("completion", Any::Completion(after::completion()))]
#[case::month_end("month-end", Any::MonthEnd(month::month_end()))]
#[case::insulation("insulation", Any::Insulation(full::insulation()))]
#[case::lead("lead", Any::Lead(full::lead()))]
fn a_full_paper_holds_all_that_it_was_given(#[case] name: &str, #[case] paper: Any) {
    let bytes = paper.render().unwrap();
    keep(name, &bytes);
    let text = read::text(&bytes);
    let mut data = paper.data();
    if matches!(paper, Any::ChangeOrder(_)) {
        // Its roof is drawn small, for the spot alone; the names on it stand in its words.
        data["roof"]["edges"] = Value::Array(vec![]);
        data["roof"]["sections"] = Value::Array(vec![]);
    }
    for given in read::strings(&data) {
        let shown = read::as_shown(&given);
        assert!(read::holds(&text, &shown), "{name}: {shown:?} is missing in\n{text}");
    }
    read::assert_accessible(&bytes, name);
    assert!(bytes == paper.render().unwrap(), "{name}: the same input gave other bytes");
}

#[test]
fn shares_and_unit_prices_are_exact() {
    let shown = |paper: &Any, wanted: &[&str]| {
        let text = read::text(&paper.render().unwrap());
        for words in wanted {
            assert!(read::holds(&text, words), "{words:?} is missing in\n{text}");
        }
    };
    shown(
        &Any::Invoice(after::invoice()),
        &["6.875 % of $2,615.00", "Retainage held, 5 %", "−$275.73", "−$1,000.00"],
    );
    shown(
        &Any::ChangeOrder(Box::new(after::change_order())),
        &["with 20 % added", "not exceed $1,450.00", "$9.755", "11.5 sq ft"],
    );
    shown(&Any::OrderList(full::order_list()), &["$96.755", "$38.40"]);
    shown(&Any::MonthEnd(month::month_end()), &["33.2 %", "−8.7 %", "74.4 %", "+$848.81", "−$2,310.40"]);
    shown(&Any::Proposal(full::proposal()), &["30 %", "−$120.00", "+$2,555.50"]);
}

#[rstest]
#[case::proposal("bare-proposal", Any::Proposal(bare::proposal()))]
#[case::site_sheet("bare-site-sheet", Any::SiteSheet(bare::site_sheet()))]
#[case::order_list("bare-order-list", Any::OrderList(bare::order_list()))]
#[case::change_order("bare-change-order", Any::ChangeOrder(Box::new(bare::change_order())))]
#[case::invoice("bare-invoice", Any::Invoice(bare::invoice()))]
#[case::statement("bare-statement", Any::Statement(bare::statement()))]
#[case::completion("bare-completion", Any::Completion(bare::completion()))]
#[case::month_end("bare-month-end", Any::MonthEnd(bare::month_end()))]
#[case::insulation("bare-insulation", Any::Insulation(bare::insulation()))]
#[case::lead("bare-lead", Any::Lead(bare::lead()))]
fn a_bare_paper_is_whole_too(#[case] name: &str, #[case] paper: Any) {
    let bytes = paper.render().unwrap();
    keep(name, &bytes);
    read::assert_accessible(&bytes, name);
    assert!(bytes == paper.render().unwrap(), "{name}: the same input gave other bytes");
}

/// What a template language would take for its own, and letters beyond plain ones.
const ODD: &str =
    "Müller & “Søn” <b> #let x = 1 $a$ @ref *bold* _it_ \\n [x] {y} `z` ~ // -- ... 'q' \"r\" = - + /";

#[test]
fn what_was_typed_comes_out_as_typed() {
    let mut paper = after::change_order();
    paper.title = s(ODD);
    paper.cause = s(ODD);
    paper.if_left = s(ODD);
    paper.customer.name = s(ODD);
    paper.lines[0].what = s(ODD);
    paper.photos[0].caption = s(ODD);
    paper.photos[0].alt = s(ODD);
    let bytes = paper.render().unwrap();
    keep("odd", &bytes);
    let text = read::text(&bytes);
    let times = read::bare(&text).matches(&read::bare(ODD)).count();
    // In the head, below it, as the cause, in the table, below the photo, as what happens, and on the line to sign.
    assert!(times >= 6, "found {times} times in\n{text}");
    read::assert_accessible(&bytes, "odd");
}

#[test]
fn letters_that_no_font_has_do_not_stop_a_paper() {
    let mut paper = after::invoice();
    paper.customer.name = s("屋根 Ltd. 😀");
    paper.lines[0].what = s("33⅓ sq ft\tat 4′ 6″\u{0}\u{200f}");
    let text = read::text(&paper.render().unwrap());
    assert!(read::holds(&text, "?? Ltd. ?"), "{text}");
    assert!(read::holds(&text, "331/3 sq ft at 4' 6\""), "{text}");
}

#[test]
fn two_hundred_lines_run_over_pages_and_none_is_lost() {
    let mut paper = after::invoice();
    let line = paper.lines[2].clone();
    paper.lines = (1..=200)
        .map(|at| InvoiceLine { what: format!("Line number {at} of many"), ..line.clone() })
        .collect();
    let bytes = paper.render().unwrap();
    let text = read::text(&bytes);
    for at in 1..=200 {
        assert!(read::holds(&text, &format!("Line number {at} of many")), "line {at} is missing");
    }
    assert!(read::pages(&bytes) > 4);
    assert!(read::holds(&text, &format!("page 2 of {}", read::pages(&bytes))), "{text}");
}

#[test]
fn long_words_and_long_texts_stay_on_the_page() {
    let mut paper = full::proposal();
    paper.system[0].what_for = "A sentence that goes on. ".repeat(200);
    paper.choices[0].title = "x".repeat(120);
    paper.compared[0].part = "y".repeat(90);
    paper.unit_prices[0].unit = "z".repeat(90);
    let bytes = paper.render().unwrap();
    keep("long", &bytes);
    let text = read::bare(&read::text(&bytes));
    for letter in ["x".repeat(120), "y".repeat(90), "z".repeat(90)] {
        assert!(text.contains(&letter), "{letter} is missing");
    }
    assert_eq!(text.matches("Asentencethatgoeson.").count(), 200);
}

#[test]
fn a_site_sheet_shows_no_cost_and_an_order_without_prices_none() {
    let mut order = full::order_list();
    order.with_prices = false;
    let text = read::text(&order.render().unwrap());
    assert!(!text.contains('$'), "{text}");
    assert!(read::holds(&text, "bundle") && read::holds(&text, "84"));
    // What the homeowner pays for a condition is on the site sheet; nothing else of money is.
    let sheet = full::site_sheet();
    let text = read::text(&sheet.render().unwrap());
    assert_eq!(text.matches('$').count(), sheet.unit_prices.len(), "{text}");
}

/// The rule's own words (16 CFR 429.1(a), (b)), typed anew from the rule, where the seller and the dates are filled in.
const NOTICE: &[&str] = &[
    "NOTICE OF CANCELLATION",
    "You may CANCEL this transaction, without any Penalty or Obligation, within THREE BUSINESS DAYS from the above \
     date.",
    "If you cancel, any property traded in, any payments made by you under the contract or sale, and any negotiable \
     instrument executed by you will be returned within TEN BUSINESS DAYS following receipt by the seller of your \
     cancellation notice, and any security interest arising out of the transaction will be cancelled.",
    "If you cancel, you must make available to the seller at your residence, in substantially as good condition as \
     when received, any goods delivered to you under this contract or sale, or you may, if you wish, comply with the \
     instructions of the seller regarding the return shipment of the goods at the seller's expense and risk.",
    "If you do make the goods available to the seller and the seller does not pick them up within 20 days of the date \
     of your Notice of Cancellation, you may retain or dispose of the goods without any further obligation. If you \
     fail to make the goods available to the seller, or if you agree to return the goods to the seller and fail to do \
     so, then you remain liable for performance of all obligations under the contract.",
    "To cancel this transaction, mail or deliver a signed and dated copy of this Cancellation Notice or any other \
     written notice, or send a telegram, to Alder Creek Roofing, at 3 Mill Road, Harlow Falls, LK 00000-0001 NOT LATER \
     THAN MIDNIGHT OF",
    "I HEREBY CANCEL THIS TRANSACTION.",
    "(Buyer's signature)",
];

/// Quotation marks are set as the page sets them.
fn straight(text: &str) -> String {
    read::bare(text).replace(['’', '‘'], "'")
}

#[test]
fn the_notice_of_cancellation_is_there_twice_in_the_rules_own_words_or_not_at_all() {
    let mut paper = full::proposal();
    let text = straight(&read::text(&paper.render().unwrap()));
    for words in NOTICE {
        assert_eq!(text.matches(&straight(words)).count(), 2, "{words:?} in\n{text}");
    }
    let beside = "You, the buyer, may cancel this transaction at any time prior to midnight of the third business day \
                  after the date of this transaction. See the attached notice of cancellation form for an explanation \
                  of this right.";
    assert_eq!(text.matches(&straight(beside)).count(), 1, "{text}");
    let midnight = straight("NOT LATER THAN MIDNIGHT OF November 28, 2026.");
    assert_eq!(text.matches(&midnight).count(), 2, "{text}");
    paper.cancellation = None;
    paper.notices.clear();
    let text = read::text(&paper.render().unwrap());
    assert!(!read::holds(&text, "cancel"), "{text}");
}

#[test]
fn what_is_not_signed_yet_leaves_its_dates_to_be_filled_in() {
    let mut paper = full::proposal();
    paper.signed_on = None;
    paper.cancellation =
        paper.cancellation.map(|cancel| Cancellation { signed_on: None, last_day: None, ..cancel });
    let bytes = paper.render().unwrap();
    keep("unsigned", &bytes);
    let text = read::text(&bytes);
    assert!(read::holds(&text, "The day of signing and the last day to cancel are filled in when you sign."));
    assert!(!read::holds(&text, "Signed on"), "{text}");
    assert!(!read::holds(&text, "November 28, 2026"), "{text}");
    assert!(read::holds(&text, "NOT LATER THAN MIDNIGHT OF ."), "{text}");
    read::assert_accessible(&bytes, "unsigned");
}

#[test]
fn a_states_own_notice_has_its_copies_size_and_weight() {
    let paper = full::proposal();
    let bytes = paper.render().unwrap();
    let text = read::text(&bytes);
    let times = |words: &str| read::bare(&text).matches(&read::bare(words)).count();
    assert_eq!(times("Your right to cancel under the law of Lake"), 2, "{text}");
    assert_eq!(times("Words of the state about cancellation"), 2);
    assert_eq!(times("Words of the state about lien"), 1);
    // What is to be read before signing stands before the signature.
    let (lien, agreement) = (text.find("about lien").unwrap(), text.find("Agreement").unwrap());
    assert!(lien < agreement, "{text}");
    let words = |text: &str| read::bare(text).chars().count();
    let own =
        words("Words of the state about cancellation, as the firm entered them. A second paragraph of them.");
    let page = "Words of the state about cancellation";
    assert!(read::bold_letters(&bytes, page, 12.0) >= own, "{}", read::bold_letters(&bytes, page, 12.0));
    assert!(read::bold_letters(&bytes, page, 12.5) < own, "its size is the least that is asked");
    let rule: usize = NOTICE.iter().map(|text| words(text)).sum();
    let page = "I HEREBY CANCEL THIS TRANSACTION";
    assert!(read::bold_letters(&bytes, page, 10.0) >= rule, "{}", read::bold_letters(&bytes, page, 10.0));
}

#[test]
fn parts_of_a_house_are_never_added_up() {
    let text = read::text(&full::insulation().render().unwrap());
    for number in ["1,526", "1526", "80", "65", "51"] {
        let words: Vec<&str> = text.split_whitespace().collect();
        assert!(!words.contains(&number), "{number} is a sum:\n{text}");
    }
}

#[test]
fn a_credit_is_called_one_and_its_amounts_have_a_true_minus() {
    let mut paper = bare::invoice();
    paper.kind = InvoiceKind::Credit;
    paper.balance = trade::Money::from_minor(-123_456);
    let text = read::text(&paper.render().unwrap());
    assert!(read::holds(&text, "Credit memo") && read::holds(&text, "−$1,234.56"), "{text}");
}

#[rstest]
#[case::not_a_picture(b"not a picture".to_vec())]
#[case::cut_short(shot::jpeg(300, 200, 30)[..60].to_vec())]
#[case::empty(Vec::new())]
fn a_photo_that_cannot_be_read_is_named(#[case] bytes: Vec<u8>) {
    let mut paper = after::change_order();
    paper.decision = None;
    paper.firm.logo = None;
    paper.photos.truncate(1);
    paper.photos[0].bytes = bytes;
    let error = paper.render().unwrap_err();
    assert_eq!(
        error,
        PaperError::Photo { paper: "change order", photo: s("“The patch with the shingles off”") }
    );
    assert!(error.to_string().starts_with("The change order was not made: its photo “The patch"));
}

#[test]
fn the_firms_mark_stands_at_the_head_where_there_is_one() {
    let mut paper = after::invoice();
    assert_eq!(read::pictures(&paper.render().unwrap()), 1);
    if let Some(mark) = &mut paper.firm.logo {
        mark.bytes = b"not a picture".to_vec();
    }
    let photo = s("“Alder Creek Roofing’s mark”");
    assert_eq!(paper.render().unwrap_err(), PaperError::Photo { paper: "invoice", photo });
    paper.firm.logo = None;
    assert_eq!(read::pictures(&paper.render().unwrap()), 0);
}

#[test]
fn another_photo_gives_another_paper() {
    let mut paper = after::change_order();
    let before = paper.render().unwrap();
    paper.photos[1].bytes = shot::jpeg(600, 800, 91);
    assert!(before != paper.render().unwrap());
}
