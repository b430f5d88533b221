//! The commands: each turns its words into one call of the office.

use crate::{firm, show};
use clap::{Args, CommandFactory, Parser, Subcommand};
use jiff::civil::Date;
use office::Code;
use office::{Desk, Month, OfficeError, Recorder};
use serde::Serialize;
use std::io::{BufRead, Read};
use std::path::{Path, PathBuf};

mod asker;
mod bank;
mod cash;
mod devices;
mod estimate;
mod failure;
mod files;
mod import;
mod manual;
mod new;
mod paper;
mod set_up;

use asker::{Asker, at_month};
pub(crate) use failure::Failure;
use office::Act;

const HELP: &str = "\
With --json a failure is {\"error\": {\"code\", \"field\", \"message\", \"remedy\"}} on standard output. The shapes \
named in each command's help are written out as TypeScript types, with what each field means, in ui/src/lib/bindings.

Exit codes: 0 done; 1 the machine failed; 2 words not understood; 3 refused, not found, already there, or loose ends \
left; 4 not a file for this program; 5 another program writes; 6 damaged; 7 stopped; 8 not for whoever asks; 9 the \
store of parcels cannot be reached.";

/// Job costing and change orders for a roofing contractor, on one file of your own.
#[derive(Debug, Parser)]
#[command(name = "tearoff", version, max_term_width = 120, after_help = HELP)]
pub(crate) struct Line {
    /// Answer in JSON; amounts, quantities and rates are strings, dates yyyy-mm-dd, months yyyy-mm.
    #[arg(long, global = true)]
    pub(crate) json: bool,
    /// Who asks, by name; the owner when left out. What they may see and do is what their role may. Where that role has
    /// a PIN, it is read from TEAROFF_PIN.
    #[arg(long, global = true, value_name = "NAME")]
    pub(crate) person: Option<String>,
    #[command(subcommand)]
    command: Command,
}

/// A ledger and a month.
#[derive(Debug, Args)]
pub(crate) struct AtMonth {
    /// The ledger file.
    file: PathBuf,
    /// The month, as 2026-10; the last one with anything booked when left out.
    #[arg(long, value_parser = month)]
    month: Option<Month>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Make a new firm's file.
    New(Box<new::New>),
    /// Show what is left before the first price, or a usual list to begin with.
    SetUp(set_up::SetUp),
    /// Write the made-up firm to a new file.
    #[command(after_help = "With --json: {\"file\", \"first_month\", \"last_month\"}.")]
    Sample {
        /// The file to make.
        file: PathBuf,
    },
    /// Show the month end: every job at work, the firm, what is owed.
    #[command(after_help = "With --json: `MonthEnd`, and `Explanation` with --explain.")]
    MonthEnd {
        #[command(flatten)]
        at: AtMonth,
        /// Open a figure: its rule, source, working and facts.
        #[arg(long, value_name = "FIGURE")]
        explain: Option<String>,
    },
    /// Show what the whole firm made, month by month: down to its net profit.
    #[command(after_help = "With --json: `FirmYear`.")]
    Result {
        #[command(flatten)]
        at: AtMonth,
    },
    /// Show a year's budget beside what became of it, and the break-even point.
    #[command(after_help = "With --json: `FirmBudget`.")]
    Budget {
        #[command(flatten)]
        at: AtMonth,
    },
    /// Show cash ahead: thirteen weeks, what each brings and takes, and how low it gets.
    Cash(cash::Cash),
    /// Show what the firm costs beside its jobs, by account.
    #[command(after_help = "With --json: `Overhead`.")]
    Overhead {
        #[command(flatten)]
        at: AtMonth,
    },
    /// Show what vendors are owed today, by age and by week.
    #[command(after_help = "With --json: `Payables`; with a statement `VendorStatement`.")]
    Payables {
        /// The ledger file.
        file: PathBuf,
        /// Hold a vendor's statement against the books: a file with a bill a line, its number first and what is open of
        /// it last.
        #[arg(long, requires = "vendor")]
        statement: Option<PathBuf>,
        /// Whose statement it is.
        #[arg(long, requires = "statement")]
        vendor: Option<String>,
    },
    /// Hold the bank against the books, and say what its lines are.
    Bank(bank::Bank),
    /// Show what a customer was billed, paid and owes, with a reminder to copy.
    #[command(after_help = "With --json: `Statement`.")]
    Statement {
        /// The ledger file.
        file: PathBuf,
        /// The customer's name.
        customer: String,
        /// As of this day; today when left out.
        #[arg(long, value_name = "DATE")]
        on: Option<Date>,
    },
    /// Show what subcontractors were paid in a year; nothing is filed from here
    #[command(after_help = "With --json: `Subcontractors`; with --to {\"file\", \"bytes\"}.")]
    Subcontractors {
        /// The ledger file.
        file: PathBuf,
        /// The calendar year; this one when left out.
        #[arg(long)]
        year: Option<i16>,
        /// Write the year's list for form 1099-NEC to this CSV, with the numbers in full, for whoever files it.
        #[arg(long)]
        to: Option<PathBuf>,
    },
    /// Show one job on one page.
    #[command(after_help = "With --json: `JobPage`, and `Explanation` with --explain.")]
    Job {
        /// The ledger file.
        file: PathBuf,
        /// The job's number.
        number: String,
        /// As it stands at the end of this month; the last with anything booked when left out.
        #[arg(long, value_parser = month)]
        month: Option<Month>,
        /// Open a figure, such as cost, earned, material-price or cost/deck.
        #[arg(long, value_name = "FIGURE")]
        explain: Option<String>,
    },
    /// List what must be settled before a month is closed.
    #[command(after_help = "With --json: a list of `LooseEnd`.")]
    LooseEnds {
        #[command(flatten)]
        at: AtMonth,
    },
    /// Show where the firm's devices contradict each other, with every side.
    #[command(
        after_help = "A side that is wrong is taken back with a reversal; where all of them stand, an answer says \
so. Both are facts for `tearoff record`.\n\nWith --json: a list of `Question`."
    )]
    Questions {
        #[command(flatten)]
        at: AtMonth,
    },
    /// Close a month: its figures never change again.
    #[command(
        after_help = "With --json: `Closed`. With loose ends that are not accepted it ends with code 3."
    )]
    Close {
        #[command(flatten)]
        at: AtMonth,
        /// The day of closing; today when left out.
        #[arg(long)]
        on: Option<Date>,
        /// Close although there are loose ends.
        #[arg(long)]
        accept_loose_ends: bool,
    },
    /// Write the month's files for the bookkeeper.
    #[command(after_help = "With --json: `HandOffDone`, and `HandOffPreview` with --preview.")]
    HandOff {
        #[command(flatten)]
        at: AtMonth,
        /// The folder in which to write.
        #[arg(long)]
        to: PathBuf,
        /// Show what would be written, and write nothing.
        #[arg(long)]
        preview: bool,
    },
    /// Read a CSV of customers, jobs, bills, hours, payments or prices.
    Import(import::Import),
    /// Record facts from JSON: one on each line of standard input, or one given here.
    #[command(after_help = "With --json: a list of {\"id\", \"repeated\", \"cautions\"}.")]
    Record {
        /// The ledger file.
        file: PathBuf,
        /// The fact as JSON; standard input when left out.
        fact: Option<String>,
    },
    /// Begin, calculate or accept the estimate of a job.
    Estimate(estimate::Estimate),
    /// Order what a job's contract names and no order has yet: of each vendor one.
    #[command(after_help = "With --json: a list of `PlacedOrder`.")]
    Order {
        /// The ledger file.
        file: PathBuf,
        /// The job's number.
        job: String,
        /// The day of the orders; today when left out.
        #[arg(long, value_name = "DATE")]
        on: Option<Date>,
        /// By when it is needed on site; the day on which work is planned to begin when left out.
        #[arg(long, value_name = "DATE")]
        needed_by: Option<Date>,
    },
    /// Print a paper as a PDF.
    Paper(paper::Paper),
    /// Check the whole file: chain, totals, links, attachments, closed months.
    #[command(after_help = "With --json: `Checked`.")]
    Verify {
        /// The ledger file.
        file: PathBuf,
        /// An entry that it must hold, as a month pack or a hand-off prints the one that closed its month:
        /// A-1802:3fa491c2ab017d55. May be given several times.
        #[arg(long, value_name = "ENTRY:HASH")]
        holds: Vec<String>,
    },
    /// Copy the ledger and its attachments, and verify the copy.
    #[command(after_help = "With --json: `Checked`.")]
    BackUp {
        /// The ledger file.
        file: PathBuf,
        /// The file to make.
        to: PathBuf,
    },
    /// Write the manual's pages and the shells' completions into a folder.
    Manual(manual::Manual),
    /// Make a ledger from a back-up, after verifying it.
    #[command(after_help = "With --json: `Checked`.")]
    Restore {
        /// The back-up.
        from: PathBuf,
        /// The file to make.
        to: PathBuf,
    },
    /// List the firm's devices, add one, or drop one.
    Device(devices::Device),
    /// Choose where the devices' parcels lie.
    Store(devices::Store),
    /// Make this machine's file from a joining file.
    Join(devices::Join),
    /// Send what the other devices may see, and take in what is new.
    Exchange(devices::Exchange),
    /// Carry parcels by hand: one file for all other devices.
    Parcel(devices::Parcel),
}

fn month(text: &str) -> Result<Month, String> {
    Month::parse(text).map_err(|error| error.to_string())
}

/// Runs a command and gives the lines to be printed.
pub(crate) fn run(line: &Line) -> Result<Vec<String>, Failure> {
    let began = std::time::Instant::now();
    let outcome = dispatch(line);
    let name = format!("{:?}", line.command);
    let name = name.split([' ', '(', '{']).next().unwrap_or_default().to_owned();
    let code = outcome.as_ref().err().map_or("ok", |failure| failure.error.code.as_str());
    tracing::info!(
        command = name,
        code,
        ms = u64::try_from(began.elapsed().as_millis()).unwrap_or(u64::MAX),
        "ran"
    );
    outcome
}

fn dispatch(line: &Line) -> Result<Vec<String>, Failure> {
    let asker = Asker { json: line.json, person: line.person.as_deref() };
    let lines = match &line.command {
        Command::New(new) => new::run(new, asker),
        Command::SetUp(asked) => set_up::run(asked, asker),
        Command::Sample { file } => files::sample(file, asker),
        Command::MonthEnd { at, explain } => {
            let desk = asker.reading(&at.file, Act::SeeMonthEnd)?;
            let month = at_month(&desk, at.month)?;
            match explain {
                Some(figure) => {
                    desk.check(Act::OpenFigure)?;
                    asker.answer(&office::explain_firm(&desk, month, figure)?, show::explanation)
                }
                None => asker.answer(&office::month_end(&desk, month)?, show::month_end),
            }
        }
        Command::Result { at } => {
            let desk = asker.reading(&at.file, Act::SeeMargin)?;
            let month = at_month(&desk, at.month)?;
            asker.answer(&office::firm_year(&desk, month)?, firm::year)
        }
        Command::Budget { at } => {
            let desk = asker.reading(&at.file, Act::SeeMargin)?;
            let month = at_month(&desk, at.month)?;
            asker.answer(&office::firm_budget(&desk, month)?, firm::budget)
        }
        Command::Cash(asked) => cash::run(asked, asker),
        Command::Overhead { at } => {
            let desk = asker.reading(&at.file, Act::SeeOverhead)?;
            let month = at_month(&desk, at.month)?;
            asker.answer(&office::overhead(&desk, month)?, firm::overhead)
        }
        Command::Payables { file, statement, vendor } => {
            let desk = asker.reading(file, Act::SeeOverhead)?;
            match (statement, vendor) {
                (Some(statement), Some(vendor)) => {
                    let listed = intake::vendor_statement(&files::read_text(statement)?)?;
                    let compared = office::vendor_statement(&desk, vendor, &listed)?;
                    asker.answer(&compared, firm::vendor_statement)
                }
                _ => asker.answer(&office::payables(&desk)?, firm::payables),
            }
        }
        Command::Statement { file, customer, on } => {
            let desk = asker.reading(file, Act::Bill)?;
            let on = on.unwrap_or_else(|| desk.clock.today());
            asker.answer(&office::statement(&desk, customer, on)?, firm::statement)
        }
        Command::Subcontractors { file, year, to: None } => {
            let desk = asker.reading(file, Act::SeeOverhead)?;
            asker.answer(&office::subcontractors(&desk, *year)?, firm::subcontractors)
        }
        Command::Subcontractors { file, year, to: Some(to) } => {
            files::nonemployee_list(file, *year, to, asker)
        }
        Command::Job { file, number, month, explain } => {
            let desk = asker.reading(file, Act::SeeJobs)?;
            let month = at_month(&desk, *month)?;
            match explain {
                Some(figure) => {
                    asker.answer(&office::explain_job(&desk, number, month, figure)?, show::explanation)
                }
                None => asker.answer(&office::job_page(&desk, number, month)?, show::job),
            }
        }
        Command::LooseEnds { at } => {
            let desk = asker.reading(&at.file, Act::SeeLooseEnds)?;
            let month = at_month(&desk, at.month)?;
            asker.answer(&office::loose_ends(&desk, month)?, |ends| show::loose_ends(ends))
        }
        Command::Questions { at } => {
            let desk = asker.reading(&at.file, Act::SeeQuestions)?;
            let month = at_month(&desk, at.month)?;
            asker.answer(&office::questions(&desk, month)?, |found| show::questions(found))
        }
        Command::Close { at, on, accept_loose_ends } => close(at, *on, *accept_loose_ends, asker),
        Command::Bank(bank) => return bank::run(bank, asker),
        Command::Import(import) => return import::run(import, asker),
        Command::Estimate(estimate) => estimate::run(estimate, asker),
        Command::Order { file, job, on, needed_by } => order(file, job, *on, *needed_by, asker),
        Command::Paper(paper) => paper::print(paper, asker),
        Command::HandOff { at, to, preview } => files::hand_off(&at.file, at.month, to, *preview, asker),
        Command::Record { file, fact } => record(file, fact.as_deref(), asker),
        Command::Verify { file, holds } => files::verify(file, holds, asker),
        Command::BackUp { file, to } => files::back_up(file, to, asker),
        Command::Manual(manual) => manual::run(manual, &Line::command(), asker),
        Command::Restore { from, to } => files::restore(from, to, asker),
        Command::Device(device) => devices::device(device, asker),
        Command::Store(store) => devices::store(store, asker),
        Command::Join(join) => devices::join(join, asker),
        Command::Exchange(exchange) => devices::exchange(exchange, asker),
        Command::Parcel(parcel) => devices::parcel(parcel, asker),
    };
    Ok(lines?)
}

fn close(at: &AtMonth, on: Option<Date>, accept: bool, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let mut desk = asker.writing(&at.file, Act::CloseMonth)?;
    let month = at_month(&desk, at.month)?;
    let on = on.unwrap_or_else(|| desk.clock.today());
    match office::close(&mut desk, month, on, accept) {
        Ok(closed) => asker.answer(&closed, |closed| {
            let mut lines = vec![format!("{} is closed. Its figures never change again.", closed.month)];
            lines.extend(closed.accepted.iter().map(|end| format!("accepted: {}", end.text)));
            lines
        }),
        Err(error) if error.code == Code::LooseEnds && !asker.json => {
            let ends = show::loose_ends(&office::loose_ends(&desk, month)?);
            Err(OfficeError { message: format!("{}\n{}\n", error.message, ends.join("\n")), ..error })
        }
        Err(error) => Err(error),
    }
}

fn order(
    file: &Path,
    job: &str,
    on: Option<Date>,
    needed_by: Option<Date>,
    asker: Asker<'_>,
) -> Result<Vec<String>, OfficeError> {
    let mut desk = asker.writing(file, Act::Record("purchase-order"))?;
    let on = on.unwrap_or_else(|| desk.clock.today());
    let placed = office::place_orders(&mut desk, job, on, needed_by)?;
    asker.answer(&placed, |placed| {
        let line = |order: &office::PlacedOrder| {
            let (amount, by) = (order.amount.grouped(), office::day(order.needed_by));
            format!("{}: {}, {amount}, needed by {by}", order.number, order.vendor)
        };
        let cautions = placed.first().map(|order| order.cautions.as_slice()).unwrap_or_default();
        let cautions = cautions.iter().map(|caution| format!("Caution: {caution}"));
        placed.iter().map(line).chain(cautions).collect()
    })
}

#[derive(Serialize)]
struct Outcome {
    id: String,
    repeated: bool,
    /// What it passed over: what stands open under a final invoice, is to be settled before work begins, or can hardly
    /// be meant.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    cautions: Vec<String>,
}

fn record(file: &Path, fact: Option<&str>, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let mut desk = asker.writing(file, Act::RecordFacts)?;
    let texts: Vec<String> = match fact {
        Some("-") | None => lines_of(std::io::stdin().lock())?,
        Some(fact) => vec![fact.to_owned()],
    };
    let outcomes = desk.in_one_transaction(|desk| record_lines(desk, &texts))?;
    asker.answer(&outcomes, |outcomes| {
        let line = |outcome: &Outcome| {
            if outcome.repeated { format!("{} was already there", outcome.id) } else { outcome.id.clone() }
        };
        let cautions = outcomes.iter().flat_map(|outcome| &outcome.cautions);
        outcomes.iter().map(line).chain(cautions.map(|words| format!("Caution: {words}"))).collect()
    })
}

/// Records facts, a line each: later ones may name earlier ones.
fn record_lines(desk: &mut Desk, texts: &[String]) -> Result<Vec<Outcome>, OfficeError> {
    let mut recorder = Recorder::default();
    let mut outcomes = Vec::new();
    for (index, text) in texts.iter().enumerate().filter(|(_, text)| !text.trim().is_empty()) {
        let at_line = |error: OfficeError| match texts.len() {
            1 => error,
            _ => OfficeError {
                message: format!("{} It is line {}. Nothing was recorded.", error.message, index + 1),
                ..error
            },
        };
        let value = serde_json::from_str(text).map_err(|error| {
            at_line(OfficeError::refused("json", &error.to_string(), "Write one JSON object a line"))
        })?;
        let recorded = recorder.record(desk, value).map_err(at_line)?;
        let mut cautions = office::passed_over(desk, recorded.id).map_err(at_line)?;
        cautions.extend(office::left_before_work(desk, recorded.id).map_err(at_line)?);
        cautions.extend(office::rates::asked_about(desk, recorded.id).map_err(at_line)?);
        outcomes.push(Outcome { id: recorded.id.to_string(), repeated: recorded.repeated, cautions });
    }
    Ok(outcomes)
}

fn lines_of(reader: impl Read) -> Result<Vec<String>, OfficeError> {
    let read = std::io::BufReader::new(reader).split(b'\n').enumerate();
    let line = |(index, line): (usize, std::io::Result<Vec<u8>>)| {
        let bytes = line.map_err(|error| OfficeError::io("Standard input could not be read", &error))?;
        String::from_utf8(bytes).map_err(|_| {
            let problem = format!("line {} is not UTF-8", index + 1);
            OfficeError::refused("json", &problem, "Save it as UTF-8; nothing was recorded")
        })
    };
    read.map(line).collect()
}
