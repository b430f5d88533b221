//! Whether a sentence has its dates and amounts as people write them: March 4, 2026, and 4,984.00.

use serde_json::Value;

/// What of a sentence is written for a machine. What stands in quotation marks is somebody's own and stays as typed,
/// and “such as” gives an example of what to type.
#[must_use]
pub fn machine_words(sentence: &str) -> Option<String> {
    let (mut own, mut quoted) = (0_u32, false);
    let (mut word, mut cites) = (String::new(), false);
    let examples = sentence.split("such as ").skip(1);
    let examples: Vec<&str> = examples.filter_map(|rest| rest.split_whitespace().next()).collect();
    for letter in sentence.chars().chain([' ']) {
        match letter {
            '“' => own += 1,
            '”' => own = own.saturating_sub(1),
            '"' => quoted = !quoted,
            _ if own > 0 || quoted => {}
            _ if letter.is_ascii_alphanumeric() || matches!(letter, '-' | '.' | ',') => word.push(letter),
            _ => {
                let whole = std::mem::take(&mut word);
                let whole = whole.trim_end_matches(['.', ',', '-']);
                let is_example = examples.iter().any(|example| example.starts_with(whole));
                // Sections of the law follow: 29 CFR 1926.501(b)(4), 1926.502(i).
                cites |= whole == "CFR";
                if !is_example && (is_date(whole) || !cites && is_ungrouped(whole)) {
                    return Some(whole.to_owned());
                }
            }
        }
    }
    None
}

/// What in any sentence of an answer is written for a machine: texts of one word are data.
#[must_use]
pub fn machine_words_in(answer: &Value) -> Option<String> {
    match answer {
        Value::String(text) if text.trim().contains(' ') => {
            machine_words(text).map(|word| format!("“{word}” is not how people write it: {text}"))
        }
        Value::Array(all) => all.iter().find_map(machine_words_in),
        Value::Object(all) => all.values().find_map(machine_words_in),
        _ => None,
    }
}

/// A year, a hyphen and a month, with a day or without.
fn is_date(word: &str) -> bool {
    let parts: Vec<&str> = word.split('-').collect();
    let digits =
        |part: &str, count: usize| part.len() == count && part.bytes().all(|byte| byte.is_ascii_digit());
    match parts.as_slice() {
        [year, month] => digits(year, 4) && digits(month, 2),
        [year, month, day] => digits(year, 4) && digits(month, 2) && digits(day, 2),
        _ => false,
    }
}

/// A figure with decimals from a thousand up, without a comma.
fn is_ungrouped(word: &str) -> bool {
    let word = word.trim_start_matches('-');
    let Some((whole, decimals)) = word.split_once('.') else { return false };
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    whole.len() > 3 && digits(whole) && digits(decimals)
}

#[test]
fn machine_words_are_found_and_peoples_are_not() {
    for bad in [
        "It is of 2026-03-04.",
        "2026-03 is closed",
        "It comes to 4984.00, not more",
        "-1000.00 is left",
        "1976.685 sq ft",
    ] {
        assert!(machine_words(bad).is_some(), "{bad}");
    }
    for good in [
        "It is of March 4, 2026.",
        "Job 26-001 has 4,984.00 left of 984.00",
        "“2026-03-04” is read as month first",
        "condition 019caea2-5601-7000-8000-000000000182",
        "Type it with two, such as 1234.50. Correct it",
        "29 CFR 1926.501(b)(11), 1926.502(i); IRC R905.2.8.2",
    ] {
        assert_eq!(machine_words(good), None, "{good}");
    }
}

#[test]
fn every_sentence_of_an_answer_is_read() {
    let bad =
        serde_json::json!({ "lines": [{ "words": ["attic floor of 1976.685 sq ft"], "size": "1976.685" }] });
    assert!(machine_words_in(&bad).is_some_and(|told| told.contains("1976.685 sq ft")));
    let good =
        serde_json::json!({ "lines": [{ "words": ["attic floor of 1,976.685 sq ft"], "on": "2026-03-04" }] });
    assert_eq!(machine_words_in(&good), None);
}
