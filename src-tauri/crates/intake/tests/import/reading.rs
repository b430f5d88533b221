//! From cells to rows: columns, dates, numbers, and what is asked.

use crate::shop::{bills, clean, hours, money, notes, qty, read, says};
use intake::{About, Choices, DateOrder, Kind, Mapping, NumberStyle, Rows, read as read_with};

const HOURS: &str = "Date,Person,Job,Code,Hours\n";

fn of_hours(dates: &[&str]) -> String {
    let lines: Vec<String> = dates.iter().map(|date| format!("{date},Ada Quill,26-001,deck,8")).collect();
    format!("{HOURS}{}\n", lines.join("\n"))
}

#[test]
fn columns_are_known_by_plain_words_in_any_case() {
    let text = "WORK_DATE , employee,JOB NO.,Cost  Code,hrs,Team,Weather\n\
                2026-03-02,Ada Quill,26-001,deck,7.5,North,dry\n";
    let parsed = clean(Kind::Hours, text, &Choices::default());
    assert_eq!(parsed.column("date"), Some("WORK_DATE"));
    assert_eq!(parsed.column("job"), Some("JOB NO."));
    assert_eq!(parsed.unused, ["Weather"]);
    assert!(notes(&parsed).contains("These columns are not read: Weather."));
    let row = &hours(&parsed)[0];
    assert_eq!((row.line, row.hours, row.crew.as_deref()), (2, qty("7.5"), Some("North")));
    assert_eq!(parsed.records, 1);
}

#[test]
fn a_missing_column_says_what_headers_there_are() {
    let parsed = read(Kind::Hours, "Date,Who,Job,Code,Hours\n2026-03-02,Ada Quill,26-001,deck,8\n");
    assert_eq!(
        says(&parsed),
        [
            "Line 1: No column was found for the person. The file has the columns “Date”, “Who”, “Job”, “Code”, \
          “Hours”. Choose one of them, or head the right one “person”."
        ]
    );
    assert!(parsed.rows.is_empty());
    // The mapping that was proposed is edited and read with again.
    let mut mapping: Mapping = parsed.mapping;
    mapping.columns.insert("person".to_owned(), "Who".to_owned());
    let parsed = clean(
        Kind::Hours,
        "Date,Who,Job,Code,Hours\n2026-03-02,Ada Quill,26-001,deck,8\n",
        &Choices { mapping: Some(mapping), ..Choices::default() },
    );
    assert_eq!(hours(&parsed)[0].person, "Ada Quill");
}

#[test]
fn a_mapping_that_does_not_fit_the_file_is_refused() {
    let mapped = |field: &str, header: &str| {
        let mut columns = read(Kind::Hours, HOURS).mapping.columns;
        columns.insert(field.to_owned(), header.to_owned());
        let choices = Choices { mapping: Some(Mapping { columns }), ..Choices::default() };
        says(&read_with(Kind::Hours, of_hours(&["2026-03-02"]).as_bytes(), &choices))
    };
    let said = mapped("person", "Worker");
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(
        said[0].contains("The file has no column “Worker” for the person. It has “Date”, “Person”"),
        "{said:?}"
    );
    assert!(mapped("weather", "Date")[0].contains("There is no field “weather” in an import of hours."));
    assert!(mapped("crew", "Job")[0].contains("column “Job”: It is chosen for both crew and job."));
}

#[test]
fn two_columns_headed_alike_are_asked_about() {
    let parsed = read(Kind::Payments, "date,customer,amount,Check No,Check  No,method\n");
    assert_eq!(says(&parsed), Vec::<String>::new());
    let question = &parsed.questions[0];
    assert_eq!((question.about, question.field), (About::Mapping, Some("reference")));
    assert_eq!(question.answers.len(), 2);
    // With exactly the same header no answer could tell them apart.
    let parsed = read(Kind::Payments, "date,customer,amount,Amount,method,amount\n");
    assert!(says(&parsed)[0].contains("More than one column is headed “amount”."), "{:?}", says(&parsed));
}

#[test]
fn iso_dates_need_no_order() {
    let parsed = clean(Kind::Hours, &of_hours(&["2026-03-04", "2026-12-31"]), &Choices::default());
    assert_eq!(parsed.date_order, None);
    assert_eq!(hours(&parsed)[0].date.to_string(), "2026-03-04");
}

#[test]
fn dates_that_could_be_either_are_asked_about_and_not_read() {
    let text = of_hours(&["2026-03-04", "3/4/2026", "5/6/2026", "7/7/2026"]);
    let parsed = read(Kind::Hours, &text);
    assert_eq!(parsed.problems, []);
    let question = &parsed.questions[0];
    assert_eq!(question.about, About::DateOrder);
    assert_eq!(question.column.as_deref(), Some("Date"));
    assert_eq!(question.lines, [3, 4]);
    assert_eq!(
        question.message,
        "Does “3/4/2026” begin with the month or with the day? The file does not show it."
    );
    assert_eq!(question.answers[0].word, "month-first");
    assert_eq!(question.answers[0].meaning, "month/day/year: “3/4/2026” is March 4, 2026.");
    assert_eq!(question.answers[1].meaning, "day/month/year: “3/4/2026” is April 3, 2026.");
    let lines: Vec<u64> = hours(&parsed).iter().map(|row| row.line).collect();
    assert_eq!(lines, [2, 5], "an ISO date and a day like its month need no answer");
    for (order, second) in [(DateOrder::MonthFirst, "2026-03-04"), (DateOrder::DayFirst, "2026-04-03")] {
        let choices = Choices { date_order: Some(order), ..Choices::default() };
        let parsed = clean(Kind::Hours, &text, &choices);
        assert_eq!(hours(&parsed)[1].date.to_string(), second);
    }
}

#[test]
fn a_day_beyond_the_twelfth_decides_the_column_and_is_said() {
    let parsed = clean(Kind::Hours, &of_hours(&["3/4/2026", "3/14/2026"]), &Choices::default());
    assert_eq!(parsed.date_order, Some(DateOrder::MonthFirst));
    assert_eq!(hours(&parsed)[0].date.to_string(), "2026-03-04");
    assert!(
        notes(&parsed).contains(
            "The dates in “Date” are read as month/day/year, because line 3 cannot be read the other way round."
        ),
        "{}",
        notes(&parsed)
    );
    let parsed = clean(Kind::Hours, &of_hours(&["3.4.2026", "14.3.2026"]), &Choices::default());
    assert_eq!(parsed.date_order, Some(DateOrder::DayFirst));
    assert_eq!(hours(&parsed)[0].date.to_string(), "2026-04-03");
}

#[test]
fn dates_in_both_orders_are_a_problem_that_names_the_lines() {
    let parsed = read(Kind::Hours, &of_hours(&["3/4/2026", "3/14/2026", "14/3/2026", "15/3/2026"]));
    assert_eq!(parsed.questions, []);
    assert_eq!(
        says(&parsed),
        ["Lines 3, 4, 5, column “Date”: The dates are in both orders: month first on line 3, day first on \
          lines 4, 5. Write all of them as year-month-day, such as 2026-03-14, or all in one order."]
    );
    assert!(hours(&parsed).is_empty());
    // A chosen order stands; what does not fit it is a problem of its own line.
    let choices = Choices { date_order: Some(DateOrder::DayFirst), ..Choices::default() };
    let parsed = read_with(Kind::Hours, of_hours(&["3/14/2026", "14/3/2026"]).as_bytes(), &choices);
    assert!(
        says(&parsed)[0].starts_with(
            "Line 2, column “Date”: “3/14/2026” has no month when it is read as day/month/year."
        )
    );
    assert_eq!(hours(&parsed).len(), 1);
}

#[test]
fn what_is_no_date_is_named() {
    let parsed =
        read(Kind::Hours, &of_hours(&["yesterday", "3/14/26", "2026-02-30", "0206-03-04", "2026-03-02", ""]));
    let said = says(&parsed);
    assert_eq!(said.len(), 5, "{said:?}");
    for (said, wanted) in said.iter().zip([
        "Line 2, column “Date”: “yesterday” is not a date that can be read.",
        "Line 3, column “Date”: The year of “3/14/26” has only two digits.",
        "Line 4, column “Date”: There is no day “2026-02-30” in the calendar.",
        "Line 5, column “Date”: The year of “0206-03-04” cannot be right.",
        "Line 7, column “Date”: The day is missing.",
    ]) {
        assert!(said.starts_with(wanted), "{said}");
    }
    assert_eq!(hours(&parsed).len(), 1);
}

const BILLS: &str = "date\tvendor\treference\tjob\tcode\tquantity\tamount\ttax\n";

fn of_amounts(amounts: &[&str]) -> String {
    let lines: Vec<String> = amounts
        .iter()
        .enumerate()
        .map(|(at, amount)| format!("2026-03-02\tHollow Creek Supply\tB-{at}\t26-001\tdeck\t\t{amount}\t"))
        .collect();
    format!("{BILLS}{}\n", lines.join("\n"))
}

#[test]
fn amounts_are_read_to_the_cent_as_bookkeepers_write_them() {
    let texts =
        ["1,234.50", "(12.00)", "-12", "12-", "$3.05", "-$3.05", "($1,000,000.00)", "0", ".5", "1 234.00"];
    let parsed = clean(Kind::Bills, &of_amounts(&texts), &Choices::default());
    let amounts: Vec<String> = bills(&parsed).iter().map(|row| row.amount.to_string()).collect();
    let wanted =
        ["1234.50", "-12.00", "-12.00", "-12.00", "3.05", "-3.05", "-1000000.00", "0.00", "0.50", "1234.00"];
    assert_eq!(amounts, wanted);
    assert_eq!(parsed.dollars_on, Some(6));
    assert!(notes(&parsed).contains("The columns are separated by a tab."));
    assert!(notes(&parsed).contains("every line is material"));
}

#[test]
fn a_third_decimal_is_refused_and_never_rounded() {
    let parsed = read(Kind::Bills, &of_amounts(&["1.25", "0.125", "1,234.505"]));
    let said = says(&parsed);
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(
        said[0].starts_with("Line 3, column “amount”: The amount 0.125 has more than 2 decimals."),
        "{said:?}"
    );
    assert!(
        said[1].starts_with("Line 4, column “amount”: The amount 1234.505 has more than 2 decimals."),
        "{said:?}"
    );
}

#[test]
fn a_mark_that_could_be_for_thousands_or_decimals_is_asked_about() {
    let text = of_amounts(&["12", "1,234", "(2,500)"]);
    let parsed = read(Kind::Bills, &text);
    assert_eq!(parsed.problems, []);
    let question = &parsed.questions[0];
    assert_eq!(question.about, About::NumberStyle);
    assert_eq!(question.lines, [3, 4]);
    assert_eq!(
        question.message,
        "Is the mark in “1,234” for thousands or for decimals? The file does not show it."
    );
    assert_eq!(question.answers[0].meaning, "Numbers are written like 1,234.50: “1,234” is 1234.");
    assert_eq!(question.answers[1].meaning, "Numbers are written like 1.234,50: “1,234” is 1.234.");
    assert_eq!(bills(&parsed).len(), 1);
    let choices = Choices { number_style: Some(NumberStyle::Point), ..Choices::default() };
    let parsed = clean(Kind::Bills, &text, &choices);
    assert_eq!(bills(&parsed)[2].amount, money("-2500"));
    // With the comma for decimals the same file has a third decimal, which no amount can hold.
    let choices = Choices { number_style: Some(NumberStyle::Comma), ..Choices::default() };
    let parsed = read_with(Kind::Bills, text.as_bytes(), &choices);
    assert_eq!(parsed.problems.len(), 2);
}

#[test]
fn the_other_numbers_of_the_file_decide_and_it_is_said() {
    let parsed = clean(Kind::Bills, &of_amounts(&["1,234", "12.50"]), &Choices::default());
    assert_eq!(bills(&parsed)[0].amount, money("1234"));
    assert!(
        notes(&parsed)
            .contains("Numbers are read like 1,234.50, because line 3 cannot be read the other way.")
    );
    let parsed = clean(Kind::Bills, &of_amounts(&["1.234", "12,50", "1.234,50"]), &Choices::default());
    let amounts: Vec<String> = bills(&parsed).iter().map(|row| row.amount.to_string()).collect();
    assert_eq!(amounts, ["1234.00", "12.50", "1234.50"]);
    assert!(notes(&parsed).contains("Numbers are read like 1.234,50"));
}

#[test]
fn numbers_in_both_styles_are_a_problem_that_names_the_lines() {
    let parsed = read(Kind::Bills, &of_amounts(&["1,234", "12.50", "12,50"]));
    assert_eq!(
        says(&parsed),
        [
            "Lines 3, 4: Numbers are written in both ways: like 1,234.50 on line 3, like 1.234,50 on line 4. Write \
          all of them one way."
        ]
    );
    let choices = Choices { number_style: Some(NumberStyle::Point), ..Choices::default() };
    let parsed = read_with(Kind::Bills, of_amounts(&["12.50", "12,50"]).as_bytes(), &choices);
    assert!(says(&parsed)[0].starts_with("Line 3, column “amount”: “12,50” is not written like 1,234.50"));
}

#[test]
fn what_is_no_number_is_named_once_with_all_its_lines() {
    let parsed = read(Kind::Bills, &of_amounts(&["n/a", "5", "n/a", "12 €"]));
    let said = says(&parsed);
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(
        said[0].starts_with("Lines 2, 4, column “amount”: “n/a” is not a number that can be read."),
        "{said:?}"
    );
    assert!(said[1].starts_with("Line 5, column “amount”: “12 €” is not a number"), "{said:?}");
}

#[test]
fn every_fault_of_a_line_is_named() {
    let text =
        "date,customer,amount,method,reference,invoice\nsoon,,-5,barter,,\n2026-03-02,Ridley Vane,0,cash,,\n";
    let said = says(&read(Kind::Payments, text));
    for wanted in [
        "Line 2, column “date”: “soon” is not a date",
        "Line 2, column “customer”: The customer is missing. Fill it in.",
        "Line 2, column “amount”: −5.00 is not an amount that came in.",
        "Line 2, column “method”: “barter” cannot stand for the way it came. Use one of check, card",
        "Line 3, column “amount”: 0.00 is not an amount that came in.",
    ] {
        assert!(said.iter().any(|said| said.starts_with(wanted)), "{wanted}: {said:?}");
    }
    assert_eq!(said.len(), 5, "{said:?}");
}

#[test]
fn hours_beyond_a_day_and_labor_on_a_bill_are_refused() {
    let text = format!("{HOURS}2026-03-02,Ada Quill,26-001,deck,0\n2026-03-02,Ada Quill,26-001,deck,24.5\n");
    assert_eq!(says(&read(Kind::Hours, &text)).len(), 2);
    let text = "date,vendor,reference,job,code,cost kind,amount\n2026-03-02,V,B-1,26-001,deck,Labor,5.00\n\
                2026-03-02,V,B-1,26-001,deck,Permits,5.00\n2026-03-02,V,B-1,26-001,deck,,5.00\n\
                2026-03-02,V,B-1,26-001,deck,paint,5.00\n";
    let parsed = read(Kind::Bills, text);
    let said = says(&parsed);
    assert!(
        said[0].starts_with("Line 2, column “cost kind”: Labor cost comes from hours and pay"),
        "{said:?}"
    );
    assert!(
        said[1].contains("“paint” cannot stand for the kind of cost. Use one of material, labor"),
        "{said:?}"
    );
    let kinds: Vec<&str> = bills(&parsed).iter().map(|row| row.cost_kind.as_str()).collect();
    assert_eq!(kinds, ["permit", "material"]);
}

#[test]
fn empty_lines_are_passed_over_and_counted() {
    let text = format!("{HOURS},,,,\n2026-03-02,Ada Quill,26-001,deck,8\n , ,,,\n\n");
    let parsed = clean(Kind::Hours, &text, &Choices::default());
    assert_eq!((parsed.records, hours(&parsed)[0].line), (1, 3));
    assert!(notes(&parsed).contains("2 lines with nothing in any column are passed over."));
    assert!(
        notes(&clean(Kind::Hours, HOURS, &Choices::default())).contains("There is no line under the header.")
    );
}

#[test]
fn choices_and_what_was_read_are_plain_json() {
    let json = r#"{"separator":"semicolon","date_order":"day-first","number_style":"comma","make_missing":true,
        "repeated_lines":"keep","other_hours":"leave-out","mapping":{"date":"Day"}}"#;
    let choices: Choices = serde_json::from_str(json).unwrap();
    assert_eq!(choices.date_order, Some(DateOrder::DayFirst));
    assert_eq!(choices.mapping.as_ref().and_then(|mapping| mapping.header("date")), Some("Day"));
    assert!(serde_json::from_str::<Choices>(r#"{"dates":"iso"}"#).is_err());
    let parsed = clean(Kind::Bills, &of_amounts(&["1,234.50"]), &Choices::default());
    assert!(matches!(parsed.rows, Rows::Bills(_)));
    let json = serde_json::to_value(&parsed).unwrap();
    assert_eq!(json["rows"]["bills"][0]["amount"], "1234.50");
    assert_eq!(json["rows"]["bills"][0]["date"], "2026-03-02");
    assert_eq!(json["kind"], "bills");
    assert_eq!(Kind::parse(" Bills "), Ok(Kind::Bills));
    assert!(
        Kind::parse("invoices").unwrap_err().contains("use one of customers, jobs, bills, hours, payments")
    );
}
