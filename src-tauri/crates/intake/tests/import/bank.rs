//! A bank's statement, as OFX of both versions and as CSV: what is read, what is asked, and all that is refused.

use crate::shop::{Shop, money, notes, read, says};
use desk::Code;
use intake::{About, Choices, Kind, Parsed, Rows};
use ledger::facts::BankStatement;
use trade::Money;

const HEADER: &str = "OFXHEADER:100\nDATA:OFXSGML\nVERSION:102\nSECURITY:NONE\nENCODING:USASCII\nCHARSET:1252\n\
                      COMPRESSION:NONE\nOLDFILEUID:NONE\nNEWFILEUID:NONE\n\n";

/// A line as version 1 writes it: no value is closed.
fn line(day: &str, amount: &str, id: &str, more: &str) -> String {
    format!("<STMTTRN>\n<TRNTYPE>OTHER\n<DTPOSTED>{day}\n<TRNAMT>{amount}\n<FITID>{id}\n{more}</STMTTRN>\n")
}

fn ofx_of(begins: &str, ends: &str, lines: &[String], balance: &str) -> String {
    format!(
        "{HEADER}<OFX>\n<SIGNONMSGSRSV1><SONRS><STATUS><CODE>0<SEVERITY>INFO</STATUS><DTSERVER>20260402\n\
         <LANGUAGE>ENG</SONRS></SIGNONMSGSRSV1>\n<BANKMSGSRSV1><STMTTRNRS><TRNUID>0\n<STMTRS><CURDEF>USD\n\
         <BANKACCTFROM><BANKID>000000000<ACCTID>000123454471<ACCTTYPE>CHECKING</BANKACCTFROM>\n\
         <BANKTRANLIST><DTSTART>{begins}<DTEND>{ends}\n{}</BANKTRANLIST>\n\
         <LEDGERBAL><BALAMT>{balance}<DTASOF>{ends}</LEDGERBAL>\n</STMTRS></STMTTRNRS></BANKMSGSRSV1></OFX>\n",
        lines.concat()
    )
}

fn march() -> String {
    let lines = [
        line("20260304120000[-5:EST]", "+150.00", "a1", "<NAME>Deposit &amp; more\n"),
        line("20260331", "-50", "a2", "<CHECKNUM>1072\n<NAME>Check\n<MEMO>Weir R&D\n"),
    ];
    ofx_of("20260301", "20260331", &lines, "600.00")
}

fn lines(parsed: &Parsed) -> &[intake::BankRow] {
    let Rows::Bank(rows) = &parsed.rows else { panic!("this is no statement") };
    rows
}

fn refused(text: &str) -> String {
    let said = says(&read(Kind::Bank, text));
    assert_eq!(said.len(), 1, "{said:?}\n{text}");
    assert!(lines(&read(Kind::Bank, text)).is_empty(), "nothing is taken in part");
    said[0].clone()
}

#[test]
fn a_statement_is_read_whole_with_its_balances() {
    let parsed = read(Kind::Bank, &march());
    assert_eq!(says(&parsed), Vec::<String>::new());
    let rows = lines(&parsed);
    assert_eq!(rows.len(), 2);
    assert_eq!((rows[0].date.to_string().as_str(), rows[0].amount), ("2026-03-04", money("150.00")));
    assert_eq!(rows[0].words, "Deposit & more");
    assert_eq!((rows[1].number.as_deref(), rows[1].words.as_str()), (Some("1072"), "Check, Weir R&D"));
    assert_eq!(rows[1].bank_id.as_deref(), Some("a2"));
    let mut shop = Shop::open();
    let applied = shop.apply_twice(Kind::Bank, &march(), &Choices::default());
    assert_eq!((applied.facts, applied.rows), (1, 2));
    let held = &shop.desk.books().all::<BankStatement>().unwrap()[0].fact;
    assert_eq!((held.opening, held.closing), (money("500.00"), money("600.00")));
    assert_eq!((held.begins.to_string(), held.date.to_string()), ("2026-03-01".into(), "2026-03-31".into()));
    assert_eq!(held.account.as_deref(), Some("000123454471"));
}

#[test]
fn version_2_says_the_same_as_version_1() {
    let closed = |text: &str, name: &str| {
        let open = format!("<{name}>");
        text.lines()
            .map(|line| match line.strip_prefix(&open) {
                Some(value) => format!("{open}{value}</{name}>\n"),
                None => format!("{line}\n"),
            })
            .collect::<String>()
    };
    let mut text = march().replacen(HEADER, "", 1);
    for name in ["TRNTYPE", "DTPOSTED", "TRNAMT", "FITID", "NAME", "MEMO", "CHECKNUM"] {
        text = closed(&text, name);
    }
    let text = format!(
        "\u{feff}<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<?OFX OFXHEADER=\"200\" VERSION=\"220\"?>\n{text}"
    );
    let (one, two) = (read(Kind::Bank, &march()), read(Kind::Bank, &text));
    assert_eq!(says(&two), Vec::<String>::new());
    let told = |parsed: &Parsed| {
        lines(parsed).iter().map(|row| (row.date, row.amount, row.words.clone())).collect::<Vec<_>>()
    };
    assert_eq!(told(&one), told(&two));
    assert_eq!(one.statement, two.statement);
}

#[test]
fn a_file_that_was_cut_anywhere_is_refused_whole() {
    let whole = march();
    let ends = whole.rfind("</OFX>").unwrap() + "</OFX>".len();
    for at in (0..ends).filter(|at| whole.is_char_boundary(*at)) {
        let parsed = read(Kind::Bank, &whole[..at]);
        assert!(!parsed.problems.is_empty(), "cut at {at}: {:?}", &whole[at.saturating_sub(30)..at]);
        assert!(lines(&parsed).is_empty(), "cut at {at}");
    }
    assert!(
        refused(&whole[..whole.find("</BANKTRANLIST>").unwrap()]).contains("ends before the statement does")
    );
}

#[test]
fn what_is_no_statement_of_a_bank_account_is_refused_with_the_reason() {
    let swap = |from: &str, to: &str| {
        assert!(march().contains(from), "{from}");
        refused(&march().replacen(from, to, 1))
    };
    assert!(swap("<TRNAMT>-50\n", "<TRNAMT>-50.005\n").contains("“-50.005” is no amount"));
    assert!(swap("<TRNAMT>-50\n", "<TRNAMT>fifty\n").contains("“fifty” is no amount"));
    assert!(swap("<TRNAMT>-50\n", "<TRNAMT>1e5\n").contains("is no amount"));
    assert!(swap("<TRNAMT>-50\n", "").contains("It is missing on this line."));
    assert!(swap("<FITID>a2\n", "").contains("It is missing on this line."));
    assert!(swap("<DTPOSTED>20260331", "<DTPOSTED>20260332").contains("“20260332” is no day."));
    assert!(swap("<DTPOSTED>20260331", "<DTPOSTED>03/31/2026").contains("is no day."));
    assert!(swap("<DTPOSTED>20260331", "<DTPOSTED>２０２６0331").contains("is no day."));
    assert!(swap("<FITID>a2\n", "<FITID>a2\n<FITID>a3\n").contains("stands twice"));
    assert!(swap("<CHECKNUM>", "<CURRENCY>EUR\n<CHECKNUM>").contains("currency of its own"));
    assert!(swap("<STMTRS>", "<CCSTMTRS>").contains("statement of a card"));
    assert!(swap("Weir R&D", "&entity;").contains("a sign that no statement knows"));
    assert!(swap("Weir R&D", "Weir\u{0}").contains("cannot be seen"));
    assert!(swap("<OFX>", "<!DOCTYPE OFX [<!ENTITY a \"b\">]>\n<OFX>").contains("document type of its own"));
    assert!(swap("<LANGUAGE>ENG", "<lang uage>ENG").contains("no element of a statement"));
    assert!(swap("</STMTRS>", "</STMTRS></STMTTRN>").contains("It ends and never began."));
    let two = march().replacen("</STMTRS>", "</STMTRS><STMTRS><CURDEF>USD</STMTRS>", 1);
    assert!(refused(&two).contains("A second account stands in the file."));
    let deep = march().replacen("<LANGUAGE>", &format!("{}<LANGUAGE>", "<A>".repeat(10_000)), 1);
    assert!(refused(&deep).contains("Too many elements"));
    assert!(refused("OFXHEADER:100\nnothing else").contains("holds no statement"));
    // Another encoding is told with its line, and what a person can do.
    let latin: Vec<u8> =
        march().replace("Weir", "W#ir").bytes().map(|byte| if byte == b'#' { 0xE9 } else { byte }).collect();
    let said = says(&intake::read(Kind::Bank, &latin, &Choices::default()));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("the file is not UTF-8") && said[0].starts_with("Line "), "{said:?}");
    let wide: Vec<u8> = march().encode_utf16().flat_map(u16::to_le_bytes).collect();
    assert!(!intake::read(Kind::Bank, &wide, &Choices::default()).problems.is_empty());
}

#[test]
fn amounts_at_the_edge_are_taken_and_those_beyond_are_refused() {
    let of = |amount: &str, balance: &str| {
        ofx_of("20260301", "20260331", &[line("20260304", amount, "a1", "<NAME>Deposit\n")], balance)
    };
    for (amount, balance, opening) in [
        (".01", "0.01", "0.00"),
        ("-.01", "0.00", "0.01"),
        ("1,50", "1,50", "0.00"),
        ("+1.5", "1.5", "0.00"),
        ("999999999.99", "999999999.99", "0.00"),
    ] {
        let mut shop = Shop::open();
        shop.apply(Kind::Bank, &of(amount, balance), &Choices::default()).unwrap();
        let held = &shop.desk.books().all::<BankStatement>().unwrap()[0].fact;
        assert_eq!(held.opening, money(opening), "{amount}");
    }
    for amount in ["99999999999999999999.00", "1,234.50", "1.234,50", "--1", "1-", "", "NaN", "0x10", "1 000"]
    {
        assert!(!read(Kind::Bank, &of(amount, "0.00")).problems.is_empty(), "{amount}");
    }
    // A line on which nothing moved is refused with its line, and so is the file.
    let mut shop = Shop::open();
    let error = shop.apply(Kind::Bank, &of("0.00", "5.00"), &Choices::default()).unwrap_err();
    assert_eq!(error.code, Code::Refused);
    // Sums beyond what a ledger keeps are refused, not wrapped.
    let most = Money::MOST.to_string();
    let lines = [line("20260304", &most, "a1", ""), line("20260304", &most, "a2", "")];
    let text = ofx_of("20260301", "20260331", &lines, "0.00");
    let preview = shop.preview(Kind::Bank, &text, &Choices::default());
    assert!(!preview.ready, "{preview:?}");
    assert!(shop.desk.books().all::<BankStatement>().unwrap().is_empty());
}

#[test]
fn days_that_are_there_already_are_refused_and_a_gap_is_said() {
    let mut shop = Shop::open();
    shop.apply(Kind::Bank, &march(), &Choices::default()).unwrap();
    let before = shop.last_seq();
    // Two weeks of it again, beside two new ones: which lines are which, nobody can tell.
    let lines = [
        line("20260331", "-50.00", "a2", "<CHECKNUM>1072\n<NAME>Check\n"),
        line("20260410", "20.00", "b1", "<NAME>Deposit\n"),
    ];
    let text = ofx_of("20260320", "20260415", &lines, "620.00");
    let preview = shop.preview(Kind::Bank, &text, &Choices::default());
    assert!(!preview.ready);
    let said: Vec<String> = preview.problems.iter().map(ToString::to_string).collect();
    assert!(said[0].contains("the days of both overlap"), "{said:?}");
    assert!(shop.apply(Kind::Bank, &text, &Choices::default()).is_err());
    assert_eq!(shop.last_seq(), before);
    // The days after it, with another balance before them: one between is missing.
    let text = ofx_of("20260401", "20260415", &lines[1..], "720.00");
    let preview = shop.preview(Kind::Bank, &text, &Choices::default());
    assert!(preview.ready, "{:?}", preview.problems);
    assert!(
        preview.notes.iter().any(|note| note.message.contains("one between is missing")),
        "{:?}",
        preview.notes
    );
    // Another account, and another currency.
    let text = ofx_of("20260401", "20260415", &lines[1..], "620.00").replace("000123454471", "9");
    assert!(
        shop.preview(Kind::Bank, &text, &Choices::default()).problems[0].message.contains("another account")
    );
    let text = ofx_of("20260401", "20260415", &lines[1..], "620.00").replace("<CURDEF>USD", "<CURDEF>CAD");
    let preview = shop.preview(Kind::Bank, &text, &Choices::default());
    assert!(preview.problems[0].message.contains("The account is in CAD, and the books are in USD."));
    shop.apply(Kind::Bank, &ofx_of("20260401", "20260415", &lines[1..], "620.00"), &Choices::default())
        .unwrap();
}

#[test]
fn a_csv_with_a_running_balance_needs_no_answer_either_way_up() {
    let heads = "Posting Date,Description,Debit,Credit,Check Number,Running Balance\n";
    let oldest = ["3/4/2026,Deposit,,150.00,,650.00\n", "3/31/2026,Check,50.00,,1072,600.00\n"];
    for text in [format!("{heads}{}{}", oldest[0], oldest[1]), format!("{heads}{}{}", oldest[1], oldest[0])] {
        let mut shop = Shop::open();
        let applied = shop.apply_twice(Kind::Bank, &text, &Choices::default());
        assert_eq!((applied.facts, applied.rows), (1, 2), "{text}");
        let held = &shop.desk.books().all::<BankStatement>().unwrap()[0].fact;
        assert_eq!((held.opening, held.closing), (money("500.00"), money("600.00")));
        assert_eq!(held.lines[1].amount, money("-50.00"));
    }
    let missing = format!("{heads}{}3/31/2026,Check,50.00,,1072,590.00\n", oldest[0]);
    let preview = Shop::open().preview(Kind::Bank, &missing, &Choices::default());
    assert!(preview.problems[0].message.contains("not the one before it with the line's amount"));
    let both = format!("{heads}3/31/2026,Check,50.00,50.00,1072,590.00\n");
    assert!(says(&read(Kind::Bank, &both))[0].contains("The line has no amount, or more than one."));
}

#[test]
fn a_csv_that_tells_no_balance_is_asked_for_it() {
    let mut shop = Shop::open();
    let text = "Date,Words,Amount\n2026-03-04,Deposit,150.00\n2026-03-31,Check,-50.00\n";
    let preview = shop.preview(Kind::Bank, text, &Choices::default());
    assert!(!preview.ready);
    let question = &preview.questions[0];
    assert_eq!((question.about, question.answers.len()), (About::ClosingBalance, 0));
    assert_eq!(question.message, "What stood at the bank after March 31, 2026? The file does not say.");
    let choices = Choices { closing_balance: Some(money("600.00")), ..Choices::default() };
    assert_eq!(shop.apply_twice(Kind::Bank, text, &choices).facts, 1);
    // The next one follows from it, and is asked for all the same.
    let next = "Date,Words,Amount\n2026-04-04,Deposit,20.00\n";
    let answers = shop.preview(Kind::Bank, next, &Choices::default()).questions.remove(0).answers;
    assert_eq!(answers.len(), 1);
    assert_eq!(answers[0].word, "620.00");
    assert!(answers[0].meaning.contains("as follows from the statement through March 31, 2026"));
    assert_eq!(notes(&read(Kind::Bank, next)), "");
}
