//! What a company has still to set up, and the usual lists that it may begin with.

use super::asker::Asker;
use clap::Args;
use office::{Act, OfficeError, SetUpStep, UsualFact};
use std::path::PathBuf;

const HELP: &str = "\
A usual list is what most firms begin with: common practice, and the employer's federal taxes with their source. It \
is printed as facts, one on a line, to be looked over and changed before `record` takes them. What nobody can know for \
the firm, such as the state's rate, is left out and named by --json; what the firm has already is left out, too.

  tearoff set-up quill.tearoff
  tearoff set-up quill.tearoff --usual codes | tearoff record quill.tearoff

With --json: `SetUp`, and a list of `UsualFact` with --usual.";

/// What is asked.
#[derive(Debug, Args)]
#[command(after_help = HELP)]
pub(crate) struct SetUp {
    /// The ledger file.
    file: PathBuf,
    /// Print the usual list of this: codes, burden, parts, production, standards, checklist or accounts.
    #[arg(long, value_name = "LIST", value_parser = step)]
    usual: Option<SetUpStep>,
}

fn step(text: &str) -> Result<SetUpStep, String> {
    SetUpStep::parse(text).map_err(|error| error.to_string())
}

pub(super) fn run(asked: &SetUp, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let desk = asker.reading(&asked.file, Act::BeginRates)?;
    let Some(step) = asked.usual else {
        return asker.answer(&office::what_is_set_up(&desk)?, |set_up| {
            let line = |line: &office::set_up::SetUpLine| {
                let mark = if line.done { "done".to_owned() } else { format!("before {}", line.needed) };
                format!("{}: {mark}. {}", line.title, line.says)
            };
            set_up.lines.iter().map(line).collect()
        });
    };
    let facts: Vec<UsualFact> = office::usual_lists(&desk)?.of(step).to_vec();
    asker.answer(&facts, |facts| {
        let whole = facts.iter().filter(|usual| usual.asked.is_empty());
        whole.map(|usual| serde_json::Value::Object(usual.fact.clone()).to_string()).collect()
    })
}
