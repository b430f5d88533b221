//! The command line, driven as a script would drive it: words in, text or JSON out, and an exit code.
//!
//! The program is named by `TEAROFF_PROGRAM`; `cargo xtask test` builds it and sets that.

#![allow(clippy::unwrap_used, clippy::panic)]

mod devices;
mod ends;
mod examples;
mod program;

use program::{bad, bad_input, firm, good, json, piped_in, ready, run_in, text};
use serde_json::Value;
use std::path::Path;
use tempfile::TempDir;

/// Cents out of a money string.
fn cents(value: &Value) -> i64 {
    office::Money::parse(value.as_str().unwrap()).unwrap().minor()
}

#[test]
fn the_sample_is_never_written_over_another_file() {
    let folder = firm();
    let error = bad(folder.path(), &["sample", "firm.tearoff"], 3);
    assert_eq!(error["code"], "exists");
}

#[test]
fn the_month_end_sums_over_its_jobs_and_its_walk_arrives() {
    let folder = firm();
    for month in ["2026-03", "2026-06", "2026-09", "2026-10"] {
        let report = json(folder.path(), &["month-end", "firm.tearoff", "--month", month]);
        let jobs = report["jobs"].as_array().unwrap();
        assert!(!jobs.is_empty(), "{month}");
        for figure in
            ["contract", "cost", "forecast", "earned", "billed", "over_billed", "under_billed", "margin"]
        {
            let sum: i64 = jobs.iter().map(|job| cents(&job[figure])).sum();
            assert_eq!(sum, cents(&report["firm"][figure]), "{figure} of {month}");
        }
        for job in jobs {
            let steps: i64 =
                job["walk"]["steps"].as_array().unwrap().iter().map(|step| cents(&step["amount"])).sum();
            assert_eq!(
                cents(&job["margin_sold"]) + steps,
                cents(&job["margin"]),
                "{} in {month}",
                job["number"]
            );
        }
        assert_eq!(report["closed"], month != "2026-10");
    }
    let shown = good(folder.path(), &["month-end", "firm.tearoff", "--month", "2026-10"]);
    assert!(shown.contains("From the margin sold to the margin made"), "{shown}");
}

/// The facts behind a working, those of its terms' workings included.
fn facts_of(working: &Value) -> Vec<&Value> {
    let terms = working["terms"].as_array().unwrap().iter();
    terms
        .flat_map(|term| match term["behind"]["is"].as_str().unwrap() {
            "facts" => term["behind"]["facts"].as_array().unwrap().iter().collect(),
            "working" => facts_of(&term["behind"]["working"]),
            _ => Vec::new(),
        })
        .collect()
}

#[test]
fn every_figure_opens_and_sums_of_facts_come_to_it() {
    let folder = firm();
    for figure in office::Figure::all_of_jobs() {
        let word = figure.as_str();
        let open = json(folder.path(), &["job", "firm.tearoff", "26-013", "--explain", word]);
        assert_eq!((&open["figure"], &open["label"]), (&word.into(), &figure.label().into()));
        assert!(open["rule"].as_str().unwrap().len() > 10, "{word}");
        assert!(!open["source"].as_str().unwrap().is_empty(), "{word}");
        // Figures that are plain sums of facts must be just that.
        if ["price", "cost", "billed", "received", "changes", "hidden-price"].contains(&word) {
            let facts = facts_of(&open["working"]);
            let sum: i64 = facts.into_iter().map(|fact| cents(&fact["amount"])).sum();
            assert_eq!(sum, cents(&open["value"]), "{word}");
        }
    }
    for word in ["contract", "cost", "earned", "margin", "unrecovered", "recovery", "labor-hours"] {
        let open =
            json(folder.path(), &["month-end", "firm.tearoff", "--month", "2026-10", "--explain", word]);
        assert!(!open["working"]["terms"].as_array().unwrap().is_empty(), "{word}");
    }
    let shown = good(folder.path(), &["job", "firm.tearoff", "26-013", "--explain", "cost/deck"]);
    assert!(shown.contains("Cost, deck of 26-013"), "{shown}");
}

#[test]
fn a_figure_that_is_not_there_is_refused_with_those_that_are() {
    let folder = firm();
    let remedy = |line: &[&str]| bad(folder.path(), line, 3)["remedy"].as_str().unwrap().to_owned();
    assert!(remedy(&["job", "firm.tearoff", "26-013", "--explain", "luck"]).contains("margin-sold"));
    assert!(remedy(&["job", "firm.tearoff", "26-013", "--explain", "earned/deck"]).contains("forecast"));
    assert!(remedy(&["job", "firm.tearoff", "26-013", "--explain", "cost/luck"]).contains("deck"));
    let firm = ["month-end", "firm.tearoff", "--month", "2026-10", "--explain"];
    assert!(remedy(&[&firm[..], &["complete"]].concat()).contains("earned"));
    assert!(remedy(&[&firm[..], &["luck"]].concat()).contains("earned"));
}

#[test]
fn a_job_that_is_not_there_and_a_file_that_is_not_ours_are_said_in_words() {
    let folder = firm();
    assert_eq!(bad(folder.path(), &["job", "firm.tearoff", "99-999"], 3)["code"], "not-found");
    assert_eq!(bad(folder.path(), &["verify", "nothing.tearoff"], 4)["code"], "missing");
    std::fs::write(folder.path().join("letter.txt"), "Dear bookkeeper, this is only a letter.").unwrap();
    assert_eq!(bad(folder.path(), &["month-end", "letter.txt"], 4)["code"], "foreign");
    // Words that clap does not know.
    assert_eq!(
        run_in(folder.path(), &["month-end", "firm.tearoff", "--month", "October"]).status.code(),
        Some(2)
    );
    assert_eq!(run_in(folder.path(), &["conjure"]).status.code(), Some(2));
}

#[test]
fn a_month_with_loose_ends_closes_only_when_they_are_accepted_and_then_never_changes() {
    let folder = firm();
    let at = ["--month", "2026-10"];
    let ends = json(folder.path(), &["loose-ends", "firm.tearoff", at[0], at[1]]);
    assert!(ends.as_array().unwrap().len() >= 4, "{ends}");
    let close = ["close", "firm.tearoff", at[0], at[1], "--on", "2026-11-05"];
    assert_eq!(bad(folder.path(), &close, 3)["code"], "loose-ends");
    let before = json(folder.path(), &["month-end", "firm.tearoff", at[0], at[1]]);
    let closed = json(folder.path(), &[&close[..], &["--accept-loose-ends"]].concat());
    assert_eq!(closed["accepted"].as_array().unwrap().len(), ends.as_array().unwrap().len());
    // A late bill dated in the closed month is booked in the open one.
    let late = r#"{"kind": "bill", "date": "2026-10-20", "vendor": "Stilt Lift Rental", "reference": "LATE 1",
        "lines": [{"job": "26-020", "code": "sundry", "cost_kind": "equipment", "amount": "321.09"}]}"#;
    good(folder.path(), &["record", "firm.tearoff", late]);
    let after = json(folder.path(), &["month-end", "firm.tearoff", at[0], at[1]]);
    assert_eq!(before["firm"], after["firm"]);
    let november = json(folder.path(), &["month-end", "firm.tearoff", "--month", "2026-11"]);
    assert_eq!(cents(&november["firm"]["month"]["cost"]), 32_109);
    assert_eq!(bad(folder.path(), &close, 3)["code"], "refused");
    good(folder.path(), &["verify", "firm.tearoff"]);
}

#[test]
fn a_final_invoice_over_an_open_condition_is_recorded_with_a_caution() {
    let folder = firm();
    let bill = |number: &str, purpose: &str| {
        format!(
            r#"{{"kind": "invoice", "date": "2026-11-03", "job": "26-022", "number": "{number}",
            "purpose": "{purpose}", "due": "2026-12-03", "tax": "0", "retainage": "0",
            "lines": [{{"description": "The work", "amount": "10.00"}}]}}"#
        )
        .replace('\n', " ")
    };
    let last = json(folder.path(), &["record", "firm.tearoff", &bill("X-1", "final")]);
    let said = last[0]["cautions"][0].as_str().unwrap();
    assert!(said.starts_with("Condition 1 (7 deck sheets"), "{said}");
    let part = json(folder.path(), &["record", "firm.tearoff", &bill("X-2", "progress")]);
    assert!(part[0]["cautions"].is_null(), "{part}");
    let told = good(folder.path(), &["record", "firm.tearoff", &bill("X-3", "final")]);
    assert!(told.contains("\nCaution: Condition 1 (7 deck sheets"), "{told}");
}

#[test]
fn a_setting_of_a_closed_month_says_from_when_it_counts() {
    let folder = firm();
    let crew = |date: &str| {
        format!(
            r#"{{"kind": "crew", "date": "{date}", "revises": "North", "name": "North", "size": 4,
            "hours_a_day": "7"}}"#
        )
        .replace('\n', " ")
    };
    let late = json(folder.path(), &["record", "firm.tearoff", &crew("2026-03-02")]);
    let said = late[0]["cautions"][0].as_str().unwrap();
    assert!(said.starts_with("This counts from October 1, 2026:"), "{said}");
    let ahead = json(folder.path(), &["record", "firm.tearoff", &crew("2026-12-01")]);
    assert!(ahead[0]["cautions"].is_null(), "{ahead}");
}

#[test]
fn no_file_name_and_no_table_gives_the_terminal_an_order() {
    let folder = firm();
    let table = folder.path().join("\u{1b}[2J.csv");
    std::fs::write(&table, "name,town\n\u{9b}31mRed Barn,\u{1b}]0;x\u{7}Otter Bend\n").unwrap();
    for words in
        [["import", "firm.tearoff", "customers", "\u{1b}[2J.csv"], ["verify", "\u{1b}[2J.csv", "", ""]]
    {
        let words: Vec<&str> = words.into_iter().filter(|word| !word.is_empty()).collect();
        let output = program::run_in(folder.path(), &words);
        let said = [output.stdout, output.stderr].concat();
        let said = String::from_utf8(said).unwrap();
        assert!(!said.is_empty() && !said.contains(['\u{1b}', '\u{9b}', '\u{7}']), "{said:?}");
    }
}

#[test]
fn facts_come_in_by_line_with_the_line_named_when_one_is_refused() {
    let folder = firm();
    let twice = r#"{"kind": "payment", "id": "0199aaaa-0000-7000-8000-000000000001", "date": "2026-10-30",
        "customer": "Otter Bend Grange", "amount": "10.00", "method": "check"}"#;
    let first = json(folder.path(), &["record", "firm.tearoff", twice]);
    let again = json(folder.path(), &["record", "firm.tearoff", twice]);
    assert_eq!((&first[0]["repeated"], &again[0]["repeated"]), (&Value::Bool(false), &Value::Bool(true)));
    let other = twice.replace("10.00", "11.00");
    assert_eq!(bad(folder.path(), &["record", "firm.tearoff", &other], 6)["code"], "alarm");
    let wrong = r#"{"kind": "payment", "date": "2026-10-30", "customer": "Nobody", "amount": "10.00",
        "method": "check"}"#
        .replace('\n', " ");
    let error = bad(folder.path(), &["record", "firm.tearoff", &wrong], 3);
    assert_eq!(error["field"], "customer");
    assert!(error["message"].as_str().unwrap().starts_with("there is no customer “Nobody”"), "{error}");
}

#[test]
fn a_new_firm_is_made_with_what_the_window_begins_with_and_can_be_worked_in() {
    let folder = TempDir::new().unwrap();
    let words = ["new", "own.tearoff", "--name", "Quill Roofing", "--town", "Ashby", "--state", "LK"];
    let named = [&words[..], &["--owner", " Ruth Quill "]].concat();
    let made = json(folder.path(), &[&named[..], &["--from", "2026-03-01"]].concat());
    assert_eq!((&made["firm"], &made["owner"]), (&"Quill Roofing".into(), &"Ruth Quill".into()));
    assert_eq!(made["from"], "2026-03-01");
    let person = r#"{"kind": "person", "name": "Nell Abara", "role": "books"}"#;
    good(folder.path(), &["record", "own.tearoff", person, "--person", "Ruth Quill"]);
    good(folder.path(), &["verify", "own.tearoff"]);
    assert_eq!(bad(folder.path(), &named, 3)["code"], "exists");
}

#[test]
fn a_new_firm_with_a_wrong_setting_leaves_no_file() {
    let folder = TempDir::new().unwrap();
    let words = ["new", "own.tearoff", "--name", "Quill Roofing", "--town", "Ashby", "--owner", "Ruth Quill"];
    let refused = |more: &[&str]| bad(folder.path(), &[&words[..], more].concat(), 3)["field"].clone();
    assert_eq!(refused(&["--state", "Wis"]), "state");
    assert_eq!(refused(&["--state", " "]), "state");
    assert_eq!(refused(&["--state", "LK", "--week-begins", "noday"]), "week_begins");
    assert_eq!(refused(&["--state", "LK", "--overtime-over-week", "0"]), "overtime_over_week");
    assert_eq!(run_in(folder.path(), &words).status.code(), Some(2));
    assert!(!folder.path().join("own.tearoff").exists());
}

#[test]
fn an_estimate_takes_its_draft_from_a_file_or_from_standard_input() {
    let folder = firm();
    let words = ["estimate", "firm.tearoff", "26-024"];
    let draft = good(folder.path(), &words);
    std::fs::write(folder.path().join("draft.json"), &draft).unwrap();
    let of_file = good(folder.path(), &[&words[..], &["--draft", "draft.json"]].concat());
    let piped = piped_in(folder.path(), &[&words[..], &["--draft", "-"]].concat(), &draft);
    assert_eq!(of_file, piped);
    std::fs::write(folder.path().join("draft.json"), draft.replacen("\"roof\"", "\"house\"", 1)).unwrap();
    let error = bad(folder.path(), &[&words[..], &["--draft", "draft.json"]].concat(), 3);
    assert_eq!(error["field"], "draft");
    assert_eq!(bad(folder.path(), &[&words[..], &["--draft", "none.json"]].concat(), 1)["code"], "io");
    // A choice can be accepted only of a draft.
    assert_eq!(run_in(folder.path(), &[&words[..], &["--accept", "A"]].concat()).status.code(), Some(2));
    assert!(good(folder.path(), &["estimate", "--help"]).contains("- for standard input"));
}

#[test]
fn a_refused_import_names_the_line_and_the_reason_in_json() {
    let folder = firm();
    let csv = "Date,Person,Job,Code,Hours\n2026-11-02,Petra Lundgate,26-013,tear,2\n\
        2026-11-02,Petra Lundgat,26-013,tear,2\n2026-11-02,Petra Lundgate,26-013,tear,two\n";
    std::fs::write(folder.path().join("hours.csv"), csv).unwrap();
    let words = ["import", "firm.tearoff", "hours", "hours.csv"];
    let error = bad(folder.path(), &words, 3);
    assert_eq!((&error["code"], &error["problem_count"]), (&"refused".into(), &2.into()), "{error}");
    for (line, column, near) in [(3, "Person", "Petra Lundgate"), (4, "Hours", "")] {
        let problems = error["problems"].as_array().unwrap();
        let problem = problems.iter().find(|problem| problem["lines"] == serde_json::json!([line])).unwrap();
        assert_eq!(problem["column"], column, "{error}");
        assert_eq!(problem["near"][0].as_str().unwrap_or_default(), near, "{error}");
        assert!(problem["message"].as_str().is_some_and(|message| message.len() > 10), "{error}");
        assert!(problem["remedy"].as_str().is_some_and(|remedy| remedy.len() > 10), "{error}");
    }
    let ordered = "Date,Person,Job,Code,Hours\n3/4/2026,Petra Lundgate,26-013,tear,2\n";
    std::fs::write(folder.path().join("hours.csv"), ordered).unwrap();
    let question = bad(folder.path(), &words, 3)["questions"][0].clone();
    assert_eq!((&question["about"], &question["lines"][0]), (&"date_order".into(), &2.into()), "{question}");
    // The shape is written where a person looks for it.
    assert!(good(folder.path(), &["import", "--help"]).contains("\"problem_count\""));
}

#[test]
fn an_import_asks_shows_and_records_once() {
    let folder = firm();
    let csv = "Date,Person,Job,Code,Hours\n3/4/2026,Petra Lundgate,26-013,tear,2\n";
    std::fs::write(folder.path().join("hours.csv"), csv).unwrap();
    let words = ["import", "firm.tearoff", "hours", "hours.csv"];
    let error = bad(folder.path(), &words, 3);
    assert!(error["message"].as_str().unwrap().contains("1 question"), "{error}");
    let chosen = [&words[..], &["--date-order", "month-first"]].concat();
    let preview = json(folder.path(), &[&chosen[..], &["--preview"]].concat());
    assert_eq!((&preview["ready"], &preview["new"]), (&Value::Bool(true), &Value::from(1)));
    assert_eq!(json(folder.path(), &chosen)["facts"], 1);
    // The order was remembered with the header, and the line is already there.
    let again = json(folder.path(), &words);
    assert_eq!((&again["facts"], &again["duplicates"]), (&Value::from(0), &Value::from(1)));
}

#[test]
fn a_price_list_shows_what_it_changes_and_says_what_it_does_not_know() {
    let folder = firm();
    let list = |lines: &str| {
        let csv = format!("Part,Vendor,Price,Date\n{lines}");
        std::fs::write(folder.path().join("list.csv"), csv).unwrap();
    };
    let words = ["import", "firm.tearoff", "prices", "list.csv"];
    list("slates,Three Forks Roofing Wholesale,9,2026-11-03\n");
    let error = bad(folder.path(), &words, 3);
    assert!(error["message"].as_str().unwrap().contains("1 problem"), "{error}");
    list(
        "laminated,Three Forks Roofing Wholesale,37.485,2026-11-03\n\
         Laminated shingles,Otter Bend Building Supply,36.25,2026-11-03\n",
    );
    let preview = json(folder.path(), &[&words[..], &["--preview"]].concat());
    assert_eq!((&preview["new"], &preview["duplicate"]), (&Value::from(1), &Value::from(1)), "{preview}");
    let change = &preview["price_changes"][0];
    assert_eq!(
        (&change["old"], &change["new"], &change["change"]),
        (&"35.7".into(), &"37.485".into(), &"0.05".into())
    );
    assert_eq!(json(folder.path(), &words)["facts"], 1);
    assert_eq!(json(folder.path(), &words)["facts"], 0);
}

#[test]
fn a_hand_off_is_the_same_to_the_byte_when_repeated() {
    let folder = firm();
    let words = ["hand-off", "firm.tearoff", "--month", "2026-09", "--to"];
    let first = json(folder.path(), &[&words[..], &["one"]].concat());
    let second = json(folder.path(), &[&words[..], &["two"]].concat());
    assert_eq!(first["hash"], second["hash"]);
    assert!(first["control_totals"].as_array().unwrap().iter().all(|total| total["ties"] == true));
    let name = Path::new(first["folder"].as_str().unwrap()).file_name().unwrap().to_owned();
    for entry in std::fs::read_dir(folder.path().join("one").join(&name)).unwrap() {
        let file = entry.unwrap().file_name();
        let read = |part: &str| std::fs::read(folder.path().join(part).join(&name).join(&file)).unwrap();
        assert_eq!(read("one"), read("two"), "{file:?}");
    }
}

#[test]
fn verify_names_the_entry_that_was_altered() {
    let folder = firm();
    good(folder.path(), &["verify", "firm.tearoff"]);
    let path = folder.path().join("firm.tearoff");
    let bytes = std::fs::read(&path).unwrap();
    // Every copy of the words, since a page may hold remains of rows that were moved.
    let found = bytes.windows(14).enumerate().filter(|(_, window)| window == b"Building permi");
    let places: Vec<usize> = found.map(|(at, _)| at).collect();
    assert!(!places.is_empty());
    let mut altered = bytes;
    for at in places {
        altered[at] = b'b';
    }
    std::fs::write(&path, altered).unwrap();
    let error = bad(folder.path(), &["verify", "firm.tearoff"], 6);
    assert!(error["message"].as_str().unwrap().contains("\"entry\": \"A-"), "{error}");
    // Its back-up is made, since it may be the best there is, and is no good one.
    assert_eq!(bad(folder.path(), &["back-up", "firm.tearoff", "copy.tearoff"], 6)["code"], "damaged");
    assert!(folder.path().join("copy.tearoff").exists());
}

#[test]
fn a_paper_is_written_over_a_file_only_when_told_and_over_a_ledger_never() {
    let folder = firm();
    let path = |name: &str| folder.path().join(name);
    std::fs::write(path("sheet.pdf"), "mine").unwrap();
    let paper = ["paper", "firm.tearoff", "change-order", "26-002/1", "--to"];
    let to = |name, more: &[&'static str]| [&paper[..], &[name], more].concat();
    assert_eq!(bad(folder.path(), &to("sheet.pdf", &[]), 1)["code"], "occupied");
    assert_eq!(std::fs::read(path("sheet.pdf")).unwrap(), b"mine");
    good(folder.path(), &to("sheet.pdf", &["--replace"]));
    assert!(std::fs::read(path("sheet.pdf")).unwrap().starts_with(b"%PDF"));
    good(folder.path(), &["back-up", "firm.tearoff", "copy.tearoff"]);
    for ledger in ["firm.tearoff", "copy.tearoff"] {
        let before = std::fs::read(path(ledger)).unwrap();
        assert_eq!(bad(folder.path(), &to(ledger, &["--replace"]), 3)["code"], "exists");
        assert_eq!(std::fs::read(path(ledger)).unwrap(), before, "{ledger}");
    }
    assert_eq!(bad(folder.path(), &to("firm.tearoff-wal", &["--replace"]), 3)["code"], "exists");
    good(folder.path(), &["verify", "firm.tearoff"]);
}

#[test]
fn the_log_tells_what_ran_and_nothing_of_anybody() {
    let folder = firm();
    good(folder.path(), &["job", "firm.tearoff", "26-013"]);
    let mut log = String::new();
    for entry in std::fs::read_dir(folder.path().join("log")).unwrap() {
        log.push_str(&std::fs::read_to_string(entry.unwrap().path()).unwrap());
    }
    assert!(log.contains("Job") && log.contains("ok"), "{log}");
    for private in ["26-013", "Grange", "Petra", "firm.tearoff"] {
        assert!(!log.contains(private), "{private} is in the log: {log}");
    }
}

#[test]
fn each_role_is_answered_what_is_theirs_and_the_owners_pin_is_asked_for() {
    let folder = TempDir::new().unwrap();
    good(folder.path(), &["sample", "firm.tearoff"]);
    let file = folder.path().join("firm.tearoff");
    let desk = office::Desk::read(&file, office::Clock::System).unwrap();
    let people = office::people(&desk).unwrap();
    drop(desk);
    let name_of = |role| people.iter().find(|person| person.role == role).unwrap().name.clone();
    let (crew, books) = (name_of(office::Role::Crew), name_of(office::Role::Books));
    for words in
        [&["job", "firm.tearoff", "26-013"][..], &["loose-ends", "firm.tearoff"], &["verify", "firm.tearoff"]]
    {
        let refused = bad(folder.path(), &[words, &["--person", &crew]].concat(), 8);
        assert_eq!(refused["code"], "not-allowed", "{words:?}");
    }
    let seen = json(folder.path(), &["month-end", "firm.tearoff", "--person", &books]);
    assert_eq!((&seen["jobs"], &seen["firm"]["cost"]), (&serde_json::json!([]), &"0.00".into()));
    let warranty =
        r#"{"kind": "warranty", "date": "2026-11-03", "job": "26-013", "begins": "2026-11-03", "years": 10,
        "terms": "Ours"}"#
            .replace('\n', " ");
    bad(folder.path(), &["record", "firm.tearoff", &warranty, "--person", &crew], 8);

    let mut desk = office::Desk::open(&file, office::Clock::System).unwrap();
    for (role, pin) in [(office::Role::Owner, "471100"), (office::Role::Books, "815000")] {
        let hash = office::pin::hash_of(pin).unwrap();
        office::pin::store(&mut desk, role, Some(&hash)).unwrap();
    }
    assert!(office::pin::store(&mut desk, office::Role::Crew, None).is_err(), "the crew sees no cost");
    drop(desk);
    let refused = bad(folder.path(), &["job", "firm.tearoff", "26-013"], 8);
    assert_eq!((&refused["code"], &refused["field"]), (&"pin".into(), &"TEAROFF_PIN".into()));
    let asked = |pin: &str| {
        let mut command = ready(folder.path());
        command.args(["job", "firm.tearoff", "26-013"]).env("TEAROFF_PIN", pin);
        command.output().unwrap().status.code()
    };
    // Each is a program of its own, and counts on from the one before.
    let told = |pin: &str| {
        let mut command = ready(folder.path());
        command.args(["--json", "job", "firm.tearoff", "26-013"]).env("TEAROFF_PIN", pin);
        let answer: Value = serde_json::from_str(&text(&command.output().unwrap())).unwrap();
        answer["error"]["remedy"].as_str().unwrap().to_owned()
    };
    assert_eq!(told("471200"), "Type it again; the next try waits 1 second.");
    assert_eq!(told("471300"), "Type it again; the next try waits 2 seconds.");
    assert_eq!((asked("471100"), asked("471100")), (Some(0), Some(0)));
    assert_eq!(told("471200"), "Type it again; the next try waits 1 second.");
    bad(folder.path(), &["month-end", "firm.tearoff", "--person", &books], 8);
    let mut command = ready(folder.path());
    command.args(["month-end", "firm.tearoff", "--person", &books]).env("TEAROFF_PIN", "815000");
    assert_eq!(command.output().unwrap().status.code(), Some(0), "the books' own PIN, not the owner's");
}

/// The manual is made of the commands' own definitions: every command that `--help` names has a page, and no other.
#[test]
fn the_manual_has_a_page_for_every_command_and_a_completion_for_each_shell() {
    let folder = TempDir::new().unwrap();
    let help = good(folder.path(), &["--help"]);
    let commands: Vec<&str> = help.lines().skip_while(|line| *line != "Commands:").skip(1).collect();
    let commands = commands.into_iter().take_while(|line| !line.is_empty());
    let commands = commands.filter_map(|line| line.strip_prefix("  ")?.split_whitespace().next());
    let commands = commands.filter(|name| *name != "help");
    let mut pages: Vec<String> = commands.map(|name| format!("tearoff-{name}.1")).collect();
    assert!(pages.contains(&"tearoff-month-end.1".to_owned()), "{pages:?}");
    pages.extend(["_tearoff", "tearoff.1", "tearoff.bash", "tearoff.fish"].map(str::to_owned));
    pages.sort();

    good(folder.path(), &["manual", "manual"]);
    let written = std::fs::read_dir(folder.path().join("manual")).unwrap();
    let mut written: Vec<String> =
        written.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    written.sort();
    // A command of several words has a page for each of them besides.
    let further = |name: &str| {
        pages
            .iter()
            .any(|page| name.starts_with(&format!("{}-", page.trim_end_matches(".1"))) && page != "tearoff.1")
    };
    written.retain(|name| !further(name));
    assert_eq!(written, pages);
    let page = std::fs::read_to_string(folder.path().join("manual/tearoff-back-up.1")).unwrap();
    assert!(page.contains("verify the copy"), "{page}");
    let taken = folder.path().join("taken");
    std::fs::write(&taken, "").unwrap();
    bad(folder.path(), &["manual", "taken"], 1);
    assert_eq!(std::fs::read(&taken).unwrap(), b"");
}

#[test]
fn several_facts_are_recorded_together_or_not_at_all() {
    let folder = firm();
    let entries = || json(folder.path(), &["verify", "firm.tearoff"])["entries"].as_u64().unwrap();
    let before = entries();
    let record = ["record", "firm.tearoff"];
    let vendor = r#"{"kind": "vendor", "name": "Birch Run Gutters"}"#;
    let bill = |vendor: &str| {
        serde_json::json!({"kind": "bill", "date": "2026-11-04", "vendor": vendor, "reference": "77", "overhead": [
            {"account": "Office", "description": "Yard", "amount": "300.00"}]})
    };
    let account = r#"{"kind": "overhead-account", "name": "Office", "number": "6991"}"#;
    let refused = bad_input(folder.path(), &record, format!("{vendor}\n{account}\n{}\n", bill("Nobody")), 3);
    assert_eq!(refused["field"], "vendor");
    let told = refused["message"].as_str().unwrap();
    assert!(told.ends_with("It is line 3. Nothing was recorded."), "{told}");
    assert_eq!(entries(), before);

    let ids =
        piped_in(folder.path(), &record, &format!("{vendor}\n{account}\n{}\n", bill("Birch Run Gutters")));
    assert_eq!(ids.lines().count(), 3, "{ids}");
    assert_eq!(entries(), before + 3);

    let not_text = bad_input(folder.path(), &record, b"{\"kind\": \"vendor\", \"name\": \"\xff\"}\n", 3);
    assert!(not_text["message"].as_str().unwrap().contains("line 1 is not UTF-8"), "{not_text}");
    assert_eq!(entries(), before + 3);
}

#[test]
fn a_slip_of_the_year_is_asked_about_and_taken_when_somebody_is_sure() {
    let folder = firm();
    let fact = |year: &str, sure: &str| {
        format!(
            r#"{{"kind": "direct-cost", "date": "{year}-11-04", "job": "26-013", "code": "tear", "cost_kind":
            "disposal", "description": "a load", "amount": "99.00"{sure}}}"#
        )
        .replace('\n', " ")
    };
    let months = || json(folder.path(), &["month-end", "firm.tearoff"])["month"].clone();
    let last = months();
    for year in ["1926", "2062", "2999"] {
        let refused = bad(folder.path(), &["record", "firm.tearoff", &fact(year, "")], 3);
        assert_eq!(
            (&refused["code"], &refused["field"]),
            (&"unusual-date".into(), &"date".into()),
            "{refused}"
        );
        assert!(refused["remedy"].as_str().unwrap().contains("sure_of"), "{refused}");
    }
    let recorded =
        json(folder.path(), &["record", "firm.tearoff", &fact("2062", r#", "sure_of": ["date"]"#)]);
    assert_eq!(months(), "2062-11");
    let back = format!(
        r#"{{"kind": "reversal", "date": "2026-11-05", "reverses": {}, "reason": "a slip"}}"#,
        recorded[0]["id"]
    );
    good(folder.path(), &["record", "firm.tearoff", &back]);
    assert_eq!(months(), last);
}

#[test]
fn what_is_recorded_by_doing_it_is_not_typed() {
    let folder = firm();
    for fact in [
        r#"{"kind": "hand-off", "date": "2026-11-04", "month": "2026-10", "part": 1}"#,
        r#"{"kind": "attachment", "date": "2026-11-04", "media_type": "image/jpeg", "bytes": 5}"#,
    ] {
        assert_eq!(bad(folder.path(), &["record", "firm.tearoff", fact], 8)["code"], "not-allowed");
    }
}
