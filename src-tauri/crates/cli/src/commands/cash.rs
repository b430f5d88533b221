//! Cash ahead, as it is and as if a job slipped or a customer paid late.

use super::asker::Asker;
use crate::{firm, show};
use clap::Args;
use jiff::civil::Date;
use office::{Act, AsIf, JobSlips, Money, OfficeError, PaysLate};
use std::path::PathBuf;

const HELP: &str = "\
It begins with the bank's last statement and what the books moved that it does not show, or with what is typed. \
Nothing of what is asked is recorded.

With --json: `CashAhead`, and `Explanation` with --explain.";

/// Cash ahead.
#[derive(Debug, Args)]
#[command(after_help = HELP)]
pub(crate) struct Cash {
    /// The ledger file.
    file: PathBuf,
    /// Look ahead from the end of this day; today when left out.
    #[arg(long, value_name = "DATE")]
    on: Option<Date>,
    /// What is at the bank on that day, where the bank's statement and the books are not to say it.
    #[arg(long, value_name = "AMOUNT", value_parser = amount, allow_hyphen_values = true)]
    cash: Option<Money>,
    /// The least that is to be kept.
    #[arg(long, value_name = "AMOUNT", value_parser = amount)]
    keep: Option<Money>,
    /// As if a job slipped so many weeks, as in 26-024=2; may be given more than once.
    #[arg(long, value_name = "JOB=WEEKS", value_parser = weeks)]
    slip: Vec<(String, i32)>,
    /// As if a customer paid so many weeks later, as in \"Ada Birch=3\"; may be given more than once.
    #[arg(long, value_name = "CUSTOMER=WEEKS", value_parser = weeks)]
    late: Vec<(String, i32)>,
    /// Open a figure of a week, such as cash-out/3, or cash-lowest: its rule, source, working and facts.
    #[arg(long, value_name = "FIGURE")]
    explain: Option<String>,
}

fn amount(text: &str) -> Result<Money, String> {
    Money::parse(text).map_err(|error| error.to_string())
}

fn weeks(text: &str) -> Result<(String, i32), String> {
    let (name, weeks) = text.rsplit_once('=').ok_or("say how many weeks behind a =")?;
    let weeks = weeks.trim().parse().map_err(|_| format!("“{weeks}” is no number of weeks"))?;
    Ok((name.trim().to_owned(), weeks))
}

pub(super) fn run(asked: &Cash, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let desk = asker.reading(&asked.file, Act::SeeMargin)?;
    let as_if = AsIf {
        cash: asked.cash,
        keep: asked.keep,
        slips: asked.slip.iter().map(|(job, weeks)| JobSlips { job: job.clone(), weeks: *weeks }).collect(),
        late: asked
            .late
            .iter()
            .map(|(customer, weeks)| PaysLate { customer: customer.clone(), weeks: *weeks })
            .collect(),
    };
    let ahead = office::cash(&desk, asked.on.unwrap_or_else(|| desk.clock.today()), &as_if)?;
    match &asked.explain {
        Some(figure) => {
            desk.check(Act::OpenFigure)?;
            asker.answer(&office::explain_cash(&ahead, figure)?, show::explanation)
        }
        None => asker.answer(&ahead, firm::cash),
    }
}
