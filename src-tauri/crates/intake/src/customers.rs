//! Planning customers: known by name and address together.

use crate::known::fold;
use crate::planner::{Duplicate, Planner};
use crate::problem::Note;
use crate::rows::CustomerRow;
use desk::OfficeError;
use ledger::facts::Customer;
use std::collections::{HashMap, HashSet};

fn optional(text: Option<&String>) -> String {
    text.map(|text| fold(text)).unwrap_or_default()
}

/// Says what stands otherwise and is not changed by an import.
fn otherwise(row: &CustomerRow, phone: Option<&String>, email: Option<&String>) -> String {
    let differs =
        |ours: Option<&String>, other: Option<&String>| ours.is_some() && optional(ours) != optional(other);
    match (differs(row.phone.as_ref(), phone), differs(row.email.as_ref(), email)) {
        (false, false) => String::new(),
        (true, false) => " Its telephone is another one, which is left as it was.".to_owned(),
        (false, true) => " Its e-mail is another one, which is left as it was.".to_owned(),
        (true, true) => " Its telephone and e-mail are others, which are left as they were.".to_owned(),
    }
}

pub(crate) fn plan(planner: &mut Planner<'_>, rows: &[CustomerRow]) -> Result<(), OfficeError> {
    let mut seen: HashMap<(String, String), usize> = HashMap::new();
    let mut names: HashSet<String> = HashSet::new();
    let mut namesakes = Vec::new();
    for (place, row) in rows.iter().enumerate() {
        planner.step(place, rows.len())?;
        let key = (fold(&row.name), optional(row.address.as_ref()));
        if let Some(first) = seen.get(&key).and_then(|first| rows.get(*first)) {
            let differs = otherwise(row, first.phone.as_ref(), first.email.as_ref());
            let duplicate = Duplicate {
                lines: vec![row.line],
                same_as_line: Some(first.line),
                same_as: None,
                message: format!("{} is on line {} already.{differs}", row.name, first.line),
            };
            planner.pass_over(&[place], duplicate);
            continue;
        }
        let same = planner.known.customers_named(&key.0).iter().find_map(|id| {
            let known = planner.known.names.customers.get(id)?;
            (optional(known.address.as_ref()) == key.1).then_some((*id, known))
        });
        if let Some((id, known)) = same {
            let differs = otherwise(row, known.phone.as_ref(), known.email.as_ref());
            let duplicate = Duplicate {
                lines: vec![row.line],
                same_as_line: None,
                same_as: Some(id),
                message: format!("{} is recorded already.{differs}", row.name),
            };
            planner.pass_over(&[place], duplicate);
        } else {
            if names.contains(&key.0) || !planner.known.customers_named(&key.0).is_empty() {
                namesakes.push(row.line);
            }
            planner.record(Customer {
                revises: None,
                name: row.name.clone(),
                address: row.address.clone(),
                phone: row.phone.clone(),
                email: row.email.clone(),
            });
        }
        names.insert(key.0.clone());
        seen.insert(key, place);
    }
    if !namesakes.is_empty() {
        let message =
            "A customer of the same name stands there already with another address; this makes a second one.";
        planner.notes.push(Note::new(namesakes, message));
    }
    Ok(())
}
