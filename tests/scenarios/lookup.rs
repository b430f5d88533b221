//! Finding a figure in a decision by its path, so that scenarios need no knowledge of the structs behind it.

use serde_json::Value;

/// Spells a short path out: `job 26-001 step labor-hours` is the amount of that step of that job's walk, and
/// `job 26-001 code tear forecast` a figure of that code.
pub(crate) fn spelled_out(path: &str) -> String {
    let words: Vec<&str> = path.split_whitespace().collect();
    match words.as_slice() {
        ["firm", "step", step] => format!("firm.walk[step={step}].amount"),
        ["firm", rest] => format!("firm.{rest}"),
        ["job", number, "step", step] => format!("jobs[number={number}].walk.steps[step={step}].amount"),
        ["job", number, "code", code, rest] => format!("jobs[number={number}].codes[code={code}].{rest}"),
        ["job", number, rest] => format!("jobs[number={number}].{rest}"),
        ["invoice", number, rest] => format!("owed.invoices[number={number}].{rest}"),
        _ => path.to_owned(),
    }
}

/// The value at a path such as `jobs[number=26-001].walk.sold`, as text; `absent` where a list has no such item or
/// the value is null.
///
/// # Errors
/// When a name on the way is not there: a figure that was renamed must not pass for an absent one.
pub(crate) fn find(json: &Value, path: &str) -> Result<String, String> {
    let mut at = json;
    for part in parts(path) {
        let (name, pick) = match part.split_once('[') {
            Some((name, pick)) => (name, Some(pick.trim_end_matches(']'))),
            None => (part, None),
        };
        let Value::Object(object) = at else {
            return Err(format!("there is nothing inside it to call `{name}`"));
        };
        at = object.get(name).ok_or_else(|| {
            let known: Vec<&str> = object.keys().map(String::as_str).collect();
            format!("there is no `{name}`; there are {}", known.join(", "))
        })?;
        let Some(pick) = pick else { continue };
        let (key, wanted) =
            pick.split_once('=').ok_or_else(|| format!("`[{pick}]` should be [NAME=VALUE]"))?;
        let Value::Array(items) = at else { return Err(format!("`{name}` is no list")) };
        match items.iter().find(|item| item.get(key).is_some_and(|value| text(value) == wanted)) {
            Some(item) => at = item,
            None => return Ok("absent".to_owned()),
        }
    }
    Ok(text(at))
}

/// Splits at dots outside brackets: a job's number may hold one.
fn parts(path: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    let (mut start, mut inside) = (0, false);
    for (at, letter) in path.char_indices() {
        match letter {
            '[' => inside = true,
            ']' => inside = false,
            '.' if !inside => {
                parts.push(&path[start..at]);
                start = at + 1;
            }
            _ => {}
        }
    }
    parts.push(&path[start..]);
    parts
}

fn text(value: &Value) -> String {
    match value {
        Value::Null => "absent".to_owned(),
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}

/// Whether a figure is what was said; `0.333…` stands for anything that begins so, since a share is never rounded.
pub(crate) fn agrees(found: &str, said: &str) -> bool {
    match said.strip_suffix('…') {
        Some(beginning) => found.starts_with(beginning),
        None => found == said,
    }
}

#[test]
fn figures_are_found_by_their_path() {
    let json = serde_json::json!({
        "firm": {"earned": "5.00", "walk": [{"step": "margin-on-changes", "amount": "-1.00"}],
            "hidden": {"recovery": null}},
        "jobs": [{"number": "26.001", "closed": true, "codes": [{"code": "tear", "cost": "3.00"}]}],
    });
    let found = |path: &str| find(&json, &spelled_out(path));
    assert_eq!(found("firm earned").as_deref(), Ok("5.00"));
    assert_eq!(found("firm step margin-on-changes").as_deref(), Ok("-1.00"));
    assert_eq!(found("firm step other").as_deref(), Ok("absent"));
    assert_eq!(found("firm.hidden.recovery").as_deref(), Ok("absent"));
    assert_eq!(found("job 26.001 closed").as_deref(), Ok("true"));
    assert_eq!(found("job 26.001 code tear cost").as_deref(), Ok("3.00"));
    assert!(found("firm spent").is_err_and(|problem| problem.contains("there is no `spent`")));
    assert!(agrees("0.33333", "0.333…") && agrees("5.00", "5.00") && !agrees("5.00", "5.0"));
}
