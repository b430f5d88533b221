//! Whether a sentence has its dates and amounts as people write them: March 4, 2026, and 4,984.00.

/// What of a sentence is written for a machine. What stands in quotation marks is somebody's own and stays as typed,
/// and “such as” gives an example of what to type.
#[must_use]
pub fn machine_words(sentence: &str) -> Option<String> {
    let (mut own, mut quoted) = (0_u32, false);
    let mut word = String::new();
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
                if examples.iter().any(|example| example.starts_with(whole)) {
                    continue;
                }
                if is_date(whole) || is_ungrouped(whole) {
                    return Some(whole.to_owned());
                }
            }
        }
    }
    None
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
        "29 CFR “1926.501”, IRC R905.2.8.2",
    ] {
        assert_eq!(machine_words(good), None, "{good}");
    }
}
