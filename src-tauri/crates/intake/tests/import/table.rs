//! From bytes to cells.

use intake::table::{NoTable, Table, read};
use intake::{About, Separator};
use proptest::prelude::*;

fn cells(table: &Table) -> Vec<Vec<String>> {
    table.records.iter().map(|record| record.cells().map(str::to_owned).collect()).collect()
}

fn lines(table: &Table) -> Vec<u64> {
    table.records.iter().map(|record| record.line).collect()
}

fn refused(bytes: &[u8]) -> String {
    let NoTable { problems, questions } = read(bytes, None).unwrap_err();
    assert_eq!(questions, []);
    assert_eq!(problems.len(), 1, "{problems:?}");
    problems[0].to_string()
}

#[test]
fn the_examples_of_rfc_4180_are_read() {
    // RFC 4180 section 2: with and without the last line break, quoted line breaks, doubled quotation marks.
    for text in ["aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", "aaa,bbb,ccc\r\nzzz,yyy,xxx"] {
        let table = read(text.as_bytes(), None).unwrap();
        assert_eq!(table.header, ["aaa", "bbb", "ccc"]);
        assert_eq!(cells(&table), [["zzz", "yyy", "xxx"]]);
    }
    let table = read(b"h,i,j\r\n\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx\r\n", None).unwrap();
    assert_eq!(cells(&table), [["aaa", "b\r\nbb", "ccc"], ["zzz", "yyy", "xxx"]]);
    assert_eq!(lines(&table), [2, 4], "the record after a quoted line break begins two lines on");
    let table = read(b"h,i,j\r\n\"aaa\",\"b\"\"bb\",\"ccc\"", None).unwrap();
    assert_eq!(cells(&table), [["aaa", "b\"bb", "ccc"]]);
}

#[test]
fn every_line_break_counts_lines_alike() {
    for line_break in ["\n", "\r\n", "\r"] {
        let text = ["a,b", "1,2", "", "3,\"x", "y\"", "5,6"].join(line_break);
        let table = read(text.as_bytes(), None).unwrap();
        assert_eq!(table.header, ["a", "b"]);
        assert_eq!(lines(&table), [2, 4, 6], "{line_break:?}");
        assert_eq!(table.records[1].cell(1).unwrap(), format!("x{line_break}y"));
    }
}

#[test]
fn a_byte_order_mark_is_no_part_of_the_first_header() {
    let table = read("\u{feff}naïve,b\n1,2\n".as_bytes(), None).unwrap();
    assert_eq!(table.header, ["naïve", "b"]);
}

#[test]
fn another_encoding_is_refused_with_its_line_and_byte() {
    assert_eq!(
        refused(b"name,town\nRidley,Caf\xE9 Row\n"),
        "Line 2: The text is not UTF-8: byte 0xE9 at place 21 of the file. Save the file again as “CSV UTF-8” and \
         choose it once more."
    );
    assert!(
        refused(b"\xEF\xBB\xBFa\r\nb\r\n\x92\r\n")
            .starts_with("Line 3: The text is not UTF-8: byte 0x92 at place 10")
    );
    assert!(refused(b"\xFF\xFEa\0,\0b\0").starts_with("The file is in UTF-16"));
    assert!(refused(b"a,b\n1,\0\n").starts_with("Line 2: There is a zero byte at place 7"));
    assert!(refused(b"").starts_with("The file is empty."));
    assert!(refused(b"\n\r\n").starts_with("The file is empty."));
}

#[test]
fn a_misplaced_quotation_mark_is_named_where_it_stands() {
    let open = refused(b"a,b\n1,2\n3,\"4\n5,6\n7,8\n");
    assert!(open.starts_with("Line 3: A quotation mark that is opened here is never closed"), "{open}");
    let after = refused(b"a,b\n\"1\"x,2\n");
    assert!(after.starts_with("Line 2: Text stands after a closing quotation mark."), "{after}");
    let before = refused(b"a,b\n1, \"2,3\"\n");
    assert!(before.starts_with("Line 2: A blank stands before a quotation mark."), "{before}");
    // A mark within plain text is only a mark: inches are written so.
    let table = read(b"a,b\n2\" nails,6\n", None).unwrap();
    assert_eq!(cells(&table), [["2\" nails", "6"]]);
}

#[test]
fn a_line_of_another_width_is_named() {
    let NoTable { problems, .. } = read(b"a,b,c\n1,2,3\n1,2\n1,2,3,4\n5,6\n", None).unwrap_err();
    let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(said[0].starts_with("Lines 3, 5: It has 2 cells, and the header has 3."), "{said:?}");
    assert!(said[1].starts_with("Line 4: It has 4 cells, and the header has 3."), "{said:?}");
}

#[test]
fn the_separator_is_what_the_header_line_shows() {
    for (text, separator) in [
        ("a,b\n1,2\n", Separator::Comma),
        ("a;b\n1,5;2\n", Separator::Semicolon),
        ("a\tb\n1,5\t2\n", Separator::Tab),
        ("\"a,b\";c\n1;2\n", Separator::Semicolon),
        ("only\n1\n", Separator::Comma),
    ] {
        let table = read(text.as_bytes(), None).unwrap();
        assert_eq!(table.separator, separator, "{text:?}");
        assert_eq!(table.records.len(), 1);
    }
    let NoTable { problems, questions } = read(b"\na;b,c\n1;2,3\n", None).unwrap_err();
    assert_eq!(problems, []);
    assert_eq!(questions[0].about, About::Separator);
    assert_eq!(questions[0].lines, [2]);
    let words: Vec<&str> = questions[0].answers.iter().map(|answer| answer.word.as_str()).collect();
    assert_eq!(words, ["comma", "semicolon"]);
    let table = read(b"\na;b,c\n1;2,3\n", Some(Separator::Semicolon)).unwrap();
    assert_eq!(cells(&table), [["1", "2,3"]]);
}

/// The line that comes after some text, counted another way than the reader does.
fn line_after(text: &[u8]) -> u64 {
    let text = String::from_utf8(text.to_vec()).unwrap().replace("\r\n", "\n").replace('\r', "\n");
    1 + text.matches('\n').count() as u64
}

fn cell() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => "[a-z0-9 .$-]{0,8}",
        2 => proptest::collection::vec(
            prop_oneof![
                Just("\""), Just(","), Just(";"), Just("\t"), Just("\n"), Just("\r"), Just("\r\n"), Just(" "),
                Just("é"), Just("\u{feff}"), Just("a"), Just("\u{2028}")
            ],
            0..8
        )
        .prop_map(|parts| parts.concat()),
        1 => "\\PC{0,6}",
    ]
}

fn rows() -> impl Strategy<Value = Vec<Vec<String>>> {
    (1_usize..5)
        .prop_flat_map(|width| proptest::collection::vec(proptest::collection::vec(cell(), width), 1..12))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn rows_written_in_any_style_read_back_equal(
        rows in rows(),
        separator in proptest::sample::select(Separator::ALL.to_vec()),
        line_break in proptest::sample::select(vec!["\r\n", "\n", "\r"]),
        quotes in proptest::sample::select(vec![
            csv::QuoteStyle::Necessary, csv::QuoteStyle::Always, csv::QuoteStyle::NonNumeric,
        ]),
        has_mark in any::<bool>(),
        ends_with_break in any::<bool>(),
    ) {
        let terminator = match line_break {
            "\r\n" => csv::Terminator::CRLF,
            other => csv::Terminator::Any(other.as_bytes()[0]),
        };
        let mut bytes = if has_mark { "\u{feff}".as_bytes().to_vec() } else { vec![] };
        let mut expected_lines = Vec::new();
        let header: Vec<String> = (0..rows[0].len()).map(|place| format!("column {place}")).collect();
        for (place, row) in std::iter::once(&header).chain(&rows).enumerate() {
            if place > 0 {
                expected_lines.push(line_after(&bytes));
            }
            let mut writer = csv::WriterBuilder::new()
                .delimiter(separator.byte()).terminator(terminator).quote_style(quotes).from_writer(vec![]);
            writer.write_record(row).unwrap();
            bytes.extend(writer.into_inner().unwrap());
        }
        if !ends_with_break {
            bytes.truncate(bytes.len() - line_break.len());
        }
        let table = read(&bytes, Some(separator)).unwrap();
        prop_assert_eq!(&table.header, &header);
        prop_assert_eq!(cells(&table), rows);
        prop_assert_eq!(lines(&table), expected_lines);
    }
}
