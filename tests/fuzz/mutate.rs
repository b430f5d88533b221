//! How what is right is made wrong: bytes that are cut, doubled, flipped and mixed, and JSON whose values change places
//! with others that people and programs get wrong.

use acceptance::dice::Dice;
use serde_json::{Value, json};

/// Bytes altered in one to four ways. What another input has may come in too.
pub(crate) fn bytes(whole: &[u8], other: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = whole.to_vec();
    for _ in 0..=dice.below(3) {
        let (from, length) = (dice.place(bytes.len()), 1 + dice.place(40));
        let to = (from + length).min(bytes.len());
        match dice.below(8) {
            0 => bytes.truncate(from),
            1 => drop(bytes.drain(from..to)),
            2 => {
                let again = bytes[from..to].to_vec();
                bytes.splice(from..from, again);
            }
            3 | 4 => {
                if let Some(byte) = bytes.get_mut(from) {
                    *byte ^= 1 << dice.below(8);
                }
            }
            5 => {
                let start = dice.place(other.len());
                let piece = other[start..(start + length).min(other.len())].to_vec();
                bytes.splice(from..to, piece);
            }
            6 => {
                let sign = *dice.one_of(b"\0\n\r\",;'\t\\=-+.0\x80\xff\x1b");
                bytes.splice(from..from, std::iter::repeat_n(sign, 1 + dice.place(3)));
            }
            _ => {
                let number = dice.one_of(NUMBERS).as_bytes();
                bytes.splice(from..to, number.iter().copied());
            }
        }
    }
    bytes
}

/// What amounts, quantities and dates come to be.
const NUMBERS: &[&str] = &[
    "0",
    "-0",
    "-1",
    "0.005",
    "0.0000001",
    "1e9",
    "NaN",
    "9223372036854775807",
    "-92233720368547758.08",
    "92233720368547758.07",
    "79228162514264337593543950335",
    "99999999999999999999999999999999",
    "1,000.00",
    "1926-02-29",
    "2999-12-31",
    "0000-00-00",
    "-000001-01-01",
    "9999-12-31",
    "13/13/13",
    "2026-02",
];

/// What texts come to be.
const TEXTS: &[&str] =
    &["", " ", "\u{0}", "\u{200b}", "\u{202e}evil", "\u{1b}[2J", "=1+1", "a\nb", "𝔸𝔸", "../../x"];

fn strange(dice: &mut Dice) -> Value {
    match dice.below(10) {
        0 => Value::Null,
        1 => json!(i64::MIN),
        2 => json!(u64::MAX),
        3 => json!([]),
        4 => json!({}),
        5 => json!("x".repeat(1 + dice.place(70_000))),
        6 | 7 => json!(dice.one_of(NUMBERS)),
        _ => json!(dice.one_of(TEXTS)),
    }
}

/// The paths to every value in it.
fn paths(value: &Value, here: &str, found: &mut Vec<String>) {
    let parts: Vec<(String, &Value)> = match value {
        Value::Object(fields) => fields.iter().map(|(name, value)| (name.clone(), value)).collect(),
        Value::Array(list) => list.iter().enumerate().map(|(at, value)| (at.to_string(), value)).collect(),
        _ => Vec::new(),
    };
    for (name, part) in parts {
        let path = format!("{here}/{}", name.replace('~', "~0").replace('/', "~1"));
        paths(part, &path, found);
        found.push(path);
    }
}

/// A JSON value altered in one to three places. A value of another one's may take the place of one of its own.
pub(crate) fn value(whole: &Value, other: &Value, dice: &mut Dice) -> Value {
    let mut value = whole.clone();
    for _ in 0..=dice.below(2) {
        let (mut own, mut others) = (Vec::new(), Vec::new());
        paths(&value, "", &mut own);
        paths(other, "", &mut others);
        let Some(path) = own.get(dice.place(own.len())).cloned() else { break };
        let (parent, name) = path.rsplit_once('/').unwrap_or(("", &path));
        match dice.below(6) {
            0 => match value.pointer_mut(parent) {
                Some(Value::Object(fields)) => drop(fields.remove(name)),
                Some(Value::Array(list)) => drop(list.remove(name.parse().unwrap_or_default())),
                _ => {}
            },
            1 => {
                let from = others.get(dice.place(others.len())).and_then(|path| other.pointer(path)).cloned();
                if let (Some(place), Some(from)) = (value.pointer_mut(&path), from) {
                    *place = from;
                }
            }
            2 => {
                if let Some(Value::Array(list)) = value.pointer_mut(parent) {
                    let again = list[name.parse::<usize>().unwrap_or_default()].clone();
                    list.push(again);
                }
            }
            3 => {
                let nudge = dice.below(3);
                if let Some(Value::String(text)) = value.pointer_mut(&path) {
                    match nudge {
                        0 => text.insert(0, '-'),
                        1 => text.push_str("999999999999"),
                        _ => text.push('0'),
                    }
                }
            }
            _ => {
                let strange = strange(dice);
                if let Some(place) = value.pointer_mut(&path) {
                    *place = strange;
                }
            }
        }
    }
    value
}
