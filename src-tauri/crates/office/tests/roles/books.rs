//! What whoever keeps the books is answered: cost of bills is theirs to see, what a job makes is not.

use super::firm::seated;
use office::billing::invoice;
use office::{Desk, Month, Role};
use serde::Serialize;
use serde_json::Value;

/// Words of figures that say what a job or the firm makes.
const OF_THE_OWNER: &[&str] = &["margin", "profit", "earned", "forecast", "hourly", "change_in"];

/// Every place in an answer under a word of the owner's that says anything but nothing.
fn told(at: &str, value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            for (name, value) in fields {
                let at = format!("{at}.{name}");
                let says_something = match value {
                    Value::String(text) => !["0", "0.00", ""].contains(&text.as_str()),
                    Value::Null => false,
                    Value::Array(list) => !list.is_empty(),
                    _ => true,
                };
                if OF_THE_OWNER.iter().any(|word| name.contains(word)) && says_something {
                    found.push(format!("{at}: {value}"));
                }
                told(&at, value, found);
            }
        }
        Value::Array(list) => list.iter().for_each(|value| told(at, value, found)),
        Value::String(text) if text.to_lowercase().contains("margin") => found.push(format!("{at}: {text}")),
        _ => {}
    }
}

fn look(name: &str, answer: impl Serialize, found: &mut Vec<String>) {
    told(name, &serde_json::to_value(answer).unwrap(), found);
}

/// Every answer that the shell gives to the books, gathered from the made-up firm.
fn answers(desk: &Desk) -> Vec<String> {
    let october = Month::parse("2026-10").unwrap();
    let mut found = Vec::new();
    look("lists", office::lists(desk).unwrap(), &mut found);
    look("month_end", office::month_end(desk, october).unwrap(), &mut found);
    look("overhead", office::overhead(desk, october).unwrap(), &mut found);
    look("payables", office::payables(desk).unwrap(), &mut found);
    look("subcontractors", office::subcontractors(desk, Some(2026)).unwrap(), &mut found);
    look("bill_desk", office::bill_desk(desk).unwrap(), &mut found);
    look("loose_ends", office::loose_ends(desk, october).unwrap(), &mut found);
    look("hand_off_preview", office::hand_off::preview(desk, october).unwrap(), &mut found);
    look("job_names", office::job_names(desk).unwrap(), &mut found);
    for customer in office::month_end(desk, october).unwrap().owed.customers {
        look(
            "customer_statement",
            office::statement(desk, &customer.id, desk.clock.today()).unwrap(),
            &mut found,
        );
    }
    for job in office::job_names(desk).unwrap() {
        look("job_billing", office::job_billing(desk, &job.number).unwrap(), &mut found);
        look("to_bill", invoice::to_bill(desk, &job.number).unwrap(), &mut found);
        look("workmanship", office::workmanship(desk, &job.number).unwrap(), &mut found);
    }
    found
}

#[test]
fn no_answer_to_the_books_says_what_a_job_or_the_firm_makes() {
    let (_home, owner) = seated(Role::Owner);
    assert!(answers(&owner).len() > 100, "the same look at the owner's answers finds them");
    let (_home, books) = seated(Role::Books);
    assert_eq!(answers(&books), Vec::<String>::new());
    let files = office::hand_off::preview(&books, Month::parse("2026-10").unwrap()).unwrap().files;
    let shown = |name: &str| files.iter().any(|file| file.file == name);
    assert!(shown("overhead.csv") && !shown("job_results.csv") && !shown("budget.csv"));
    assert!(!office::loose_ends(&books, Month::parse("2026-10").unwrap()).unwrap().is_empty());
}
