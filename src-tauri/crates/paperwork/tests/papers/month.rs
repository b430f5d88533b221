//! A made-up month.

use paperwork::papers::*;
use trade::Money;

use crate::full::{firm, m, on, r, s};

pub(crate) fn month_end() -> MonthEndPack {
    let rank = |job: &str, amounts: [&str; 3], share: &str| {
        let [sold, forecast, margin] = amounts.map(m);
        JobRank { job: s(job), sold, forecast, margin, share: Some(r(share)) }
    };
    let bar = |label: &str, amount: &str| Bar { label: s(label), amount: m(amount) };
    MonthEndPack {
        firm: firm(),
        date: on(11, 30),
        closed_by: None,
        figures: [
            ("Earned revenue", "48210.44", "512908.10"),
            ("Cost", "36105.02", "377440.67"),
            ("Gross margin", "12105.42", "135467.43"),
            ("Overhead absorbed", "6020.00", "66220.00"),
            ("Under- less over-billing", "-3141.59", "-3141.59"),
        ]
        .map(|(label, month, year)| MonthFigure {
            label: s(label),
            month: m(month),
            month_budget: (label == "Earned revenue").then(|| m("52000.00")),
            year: m(year),
            year_budget: None,
        })
        .to_vec(),
        ranking: vec![
            rank("Okafor reroof", ["16828.81", "11240.10", "5588.71"], "0.332091"),
            rank("Brandt garage", ["8400.00", "6105.75", "2294.25"], "0.273125"),
            rank("St. Anne's hall", ["41250.00", "35020.00", "6230.00"], "0.15103"),
            rank("Petrov porch", ["5120.00", "5566.30", "-446.30"], "-0.087168"),
        ],
        walk: walk(),
        job_walks: job_walks(),
        recovery: vec![
            RecoveryLine {
                label: s("Okafor reroof"),
                spent: m("612.40"),
                billed: m("408.81"),
                unrecovered: m("203.59"),
                recovery: Some(r("0.667554")),
            },
            RecoveryLine {
                label: s("All jobs, this year"),
                spent: m("9420.00"),
                billed: m("7011.10"),
                unrecovered: m("2408.90"),
                recovery: Some(r("0.744278")),
            },
        ],
        billing: [
            ("Okafor reroof", "15980.00", "16828.81", "848.81"),
            ("Brandt garage", "4200.00", "2520.00", "-1680.00"),
            ("St. Anne's hall", "20110.40", "17800.00", "-2310.40"),
        ]
        .map(|(job, earned, billed, difference)| BillingLine {
            job: s(job),
            earned: m(earned),
            billed: m(billed),
            difference: m(difference),
        })
        .to_vec(),
        aging: [
            ("current", "6200.00"),
            ("1–30", "4238.86"),
            ("31–60", "0.00"),
            ("61–90", "1250.00"),
            ("over 90", "980.00"),
            ("retainage, apart", "841.44"),
        ]
        .map(|(label, amount)| AgeBucket { label: s(label), amount: m(amount) })
        .to_vec(),
        bars: vec![Bars {
            heading: s("Cost of the month by kind"),
            rows: vec![
                bar("material", "16400.22"),
                bar("labor", "14210.80"),
                bar("subcontract", "3150.00"),
                bar("disposal", "1944.00"),
                bar("permit", "400.00"),
            ],
        }],
        loose_ends: loose_ends(),
        changes: changes(),
        jobs: jobs(),
    }
}

fn steps(steps: &[(&str, &str)]) -> Vec<(String, Money)> {
    steps.iter().map(|(label, amount)| (s(label), m(amount))).collect()
}

fn walk() -> Walk {
    Walk {
        from_label: s("Margin sold"),
        from: m("18240.00"),
        steps: steps(&[
            ("Price of material", "-812.40"),
            ("Quantity of material", "-205.15"),
            ("Pay rate", "96.00"),
            ("Hours", "-2310.29"),
            ("Subcontract and other", "-88.50"),
            ("Hidden conditions", "-1253.00"),
        ]),
        to_label: s("Margin made"),
        to: m("13666.66"),
    }
}

fn job_walks() -> Vec<JobWalk> {
    vec![JobWalk {
        job: s("Petrov porch"),
        why: s("Forecast to lose: the whole loss is booked in this month."),
        walk: Walk {
            from_label: s("Margin sold"),
            from: m("1120.00"),
            steps: steps(&[("Hours", "-940.30"), ("Hidden conditions", "-626.00")]),
            to_label: s("Margin made"),
            to: m("-446.30"),
        },
    }]
}

fn loose_ends() -> Vec<LooseEnd> {
    vec![
        LooseEnd {
            what: s("Condition without a decision: fascia, 12 ft"),
            job: s("Brandt garage"),
            to_do: s("Ask for the decision, or bill it with the final invoice."),
        },
        LooseEnd {
            what: s("Delivery without a bill"),
            job: s("St. Anne's hall"),
            to_do: s("Enter the bill of November 18."),
        },
    ]
}

fn changes() -> Vec<ForecastChange> {
    vec![
        ForecastChange {
            job: s("Petrov porch"),
            what: s("Forecast cost"),
            before: m("4000.00"),
            after: m("5566.30"),
        },
        ForecastChange {
            job: s("St. Anne's hall"),
            what: s("Contract"),
            before: m("40000.00"),
            after: m("41250.00"),
        },
    ]
}

fn jobs() -> Vec<JobRow> {
    let row = |job: &str, state: &str, amounts: [&str; 6]| {
        let [contract, cost, forecast, margin, earned, billed] = amounts.map(m);
        JobRow { job: s(job), state: s(state), contract, cost, forecast, margin, earned, billed }
    };
    vec![
        row(
            "Okafor reroof",
            "at work",
            ["16828.81", "10673.00", "11240.10", "5588.71", "15980.00", "16828.81"],
        ),
        row("Brandt garage", "at work", ["8400.00", "3052.88", "6105.75", "2294.25", "4200.00", "2520.00"]),
        row(
            "St. Anne's hall",
            "at work",
            ["41250.00", "17073.00", "35020.00", "6230.00", "20110.40", "17800.00"],
        ),
        row("Petrov porch", "finished", ["5120.00", "5566.30", "5566.30", "-446.30", "5120.00", "5120.00"]),
    ]
}
