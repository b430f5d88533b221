//! CSV as RFC 4180 has it: commas, CRLF after every record, quotes where they are needed, UTF-8 without a mark.
//!
//! A spreadsheet takes a cell that begins with `=`, `+`, `-` or `@` for a formula, whoever typed it. So text that
//! begins with one of these, or with a tab, a line break or NUL, gets an apostrophe in front (OWASP ASVS 5.0 §1.2.10,
//! CWE-1236). Text that begins with an apostrophe gets one more, so that taking one away gives back what was typed,
//! always. Numbers and dates are never touched: −12.50 is `-12.50`.

use ::csv::{QuoteStyle, ReaderBuilder, Terminator, WriterBuilder};

/// The characters that a spreadsheet may take for the beginning of something else than text, and our own mark.
const MARKED: &[char] = &['=', '+', '-', '@', '\t', '\r', '\n', '\0', '\''];

/// Text that no spreadsheet takes for a formula.
#[must_use]
pub fn harmless(text: &str) -> String {
    if text.starts_with(MARKED) { format!("'{text}") } else { text.to_owned() }
}

/// The text as it was typed: the exact opposite of [`harmless`].
#[must_use]
pub fn restore(text: &str) -> &str {
    text.strip_prefix('\'').unwrap_or(text)
}

/// When a field stands in quotes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quoting {
    /// Where it holds a comma, a quote or a line break, or is the only field and empty.
    Needed,
    /// Always.
    Always,
}

/// Adds records to a file, each with its CRLF.
pub fn write<R, F>(out: &mut Vec<u8>, records: R, quoting: Quoting)
where
    R: IntoIterator,
    R::Item: IntoIterator<Item = F>,
    F: AsRef<[u8]>,
{
    let style = match quoting {
        Quoting::Needed => QuoteStyle::Necessary,
        Quoting::Always => QuoteStyle::Always,
    };
    let mut writer =
        WriterBuilder::new().terminator(Terminator::CRLF).quote_style(style).flexible(true).from_writer(out);
    for record in records {
        // Writing into memory, to records of any length, has nothing that could fail.
        let _ = writer.write_record(record);
    }
    let _ = writer.flush();
}

/// Reads the records of a file. The last one may or may not end in CRLF.
///
/// # Errors
/// Where the file is not UTF-8, and what was found.
pub fn read(bytes: &[u8]) -> Result<Vec<Vec<String>>, String> {
    let mut reader = ReaderBuilder::new().has_headers(false).flexible(true).from_reader(bytes);
    let mut records = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| error.to_string())?;
        records.push(record.iter().map(str::to_owned).collect());
    }
    Ok(records)
}

#[cfg(test)]
mod tests {
    use super::{Quoting, harmless, read, restore, write};
    use proptest::prelude::*;
    use rstest::rstest;

    const AAA: [&str; 3] = ["aaa", "bbb", "ccc"];
    const ZZZ: [&str; 3] = ["zzz", "yyy", "xxx"];

    /// The examples of RFC 4180 §2, rules 1 to 7: read to the cells they mean, and written back to the same bytes.
    /// Whether a file's last record ends in a line break (rules 1 and 2) and whether a field that need not be quoted
    /// is (rule 5) are free choices of the writer, so each example says which it made.
    #[rstest]
    #[case::rule_1("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", &[(&AAA, Quoting::Needed), (&ZZZ, Quoting::Needed)])]
    #[case::rule_2("aaa,bbb,ccc\r\nzzz,yyy,xxx", &[(&AAA, Quoting::Needed), (&ZZZ, Quoting::Needed)])]
    #[case::rule_3(
        "field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
        &[(&["field_name"; 3], Quoting::Needed), (&AAA, Quoting::Needed), (&ZZZ, Quoting::Needed)],
    )]
    #[case::rule_4("aaa,bbb,ccc", &[(&AAA, Quoting::Needed)])]
    #[case::rule_5("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", &[(&AAA, Quoting::Always), (&ZZZ, Quoting::Needed)])]
    #[case::rule_6(
        "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx",
        &[(&["aaa", "b\r\nbb", "ccc"], Quoting::Always), (&ZZZ, Quoting::Needed)],
    )]
    #[case::rule_7("\"aaa\",\"b\"\"bb\",\"ccc\"", &[(&["aaa", "b\"bb", "ccc"], Quoting::Always)])]
    fn rfc_4180_examples_come_back_byte_for_byte(
        #[case] file: &str,
        #[case] records: &[(&[&str; 3], Quoting)],
    ) {
        let cells: Vec<Vec<String>> = records
            .iter()
            .map(|(fields, _)| fields.iter().map(|field| (*field).to_owned()).collect())
            .collect();
        assert_eq!(read(file.as_bytes()).unwrap(), cells);
        let mut out = Vec::new();
        for (fields, quoting) in records {
            write(&mut out, [*fields], *quoting);
        }
        if !file.ends_with("\r\n") {
            out.truncate(out.len() - 2);
        }
        assert_eq!(String::from_utf8(out).unwrap(), file);
    }

    #[test]
    fn quotes_stand_only_where_they_are_needed() {
        let mut out = Vec::new();
        write(
            &mut out,
            [["plain", "with, comma", "with \" quote", "with\nbreak", " spaces ", ""]],
            Quoting::Needed,
        );
        let file = "plain,\"with, comma\",\"with \"\" quote\",\"with\nbreak\", spaces ,\r\n";
        assert_eq!(String::from_utf8(out).unwrap(), file);
    }

    #[rstest]
    #[case("=HYPERLINK(\"http://x.example\")", "'=HYPERLINK(\"http://x.example\")")]
    #[case("+1 555 0100", "'+1 555 0100")]
    #[case("-x", "'-x")]
    #[case("@x", "'@x")]
    #[case("\tx", "'\tx")]
    #[case("\rx", "'\rx")]
    #[case("\nx", "'\nx")]
    #[case("\0x", "'\0x")]
    #[case("'quoted", "''quoted")]
    #[case("O'Hara, 5 = five", "O'Hara, 5 = five")]
    #[case("", "")]
    fn a_formula_is_made_text_and_given_back(#[case] typed: &str, #[case] written: &str) {
        assert_eq!(harmless(typed), written);
        assert_eq!(restore(written), typed);
    }

    proptest! {
        #[test]
        fn text_always_comes_back(typed in "[=+@'\\-\t\r\n\u{0}]{0,3}.{0,12}") {
            let written = harmless(&typed);
            prop_assert!(!written.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '\0']));
            prop_assert_eq!(restore(&written), typed);
        }

        #[test]
        fn records_return_as_written(typed in prop::collection::vec(prop::collection::vec("(?s).{0,6}", 1..5), 0..6)) {
            // A file begins with its headings: a byte order mark as its very first character would be taken for one.
            let mut records = vec![vec!["heading".to_owned()]];
            records.extend(typed);
            let mut out = Vec::new();
            write(&mut out, &records, Quoting::Needed);
            prop_assert_eq!(read(&out).unwrap(), records);
        }
    }
}
