//! Working out an estimate: begun, calculated, or accepted.

use super::asker::Asker;
use clap::Args;
use jiff::civil::Date;
use office::estimate::Estimate as Draft;
use office::{Acceptance, Act, OfficeError};
use std::io::Read;
use std::path::{Path, PathBuf};

const HELP: &str = "\
An estimate is worked out from a draft, which is one JSON object. Begin with the one that this command shows, change \
it, and hand it back:

  tearoff estimate FILE JOB > draft.json
  tearoff estimate FILE JOB --draft draft.json
  tearoff estimate FILE JOB --draft - < draft.json
  tearoff estimate FILE JOB --draft draft.json --accept B

With --json: `Estimate` without a draft, `Calculated` with one, `Accepted` with --accept.";

/// A job's estimate.
#[derive(Debug, Args)]
#[command(after_help = HELP)]
pub(crate) struct Estimate {
    /// The ledger file.
    file: PathBuf,
    /// The job's number.
    job: String,
    /// The draft to calculate, as JSON: a file, or - for standard input. Without it, the draft to begin with is shown.
    #[arg(long, value_name = "FILE|-")]
    draft: Option<PathBuf>,
    /// Begin the draft with this recipe of the company instead of its usual one.
    #[arg(long, value_name = "NAME", conflicts_with = "draft")]
    recipe: Option<String>,
    /// Accept this choice of the draft: the contract, its budgets and its roof are recorded.
    #[arg(long, value_name = "LETTER", requires = "draft")]
    accept: Option<String>,
    /// The first day of work, yyyy-mm-dd, where it is planned when the choice is accepted.
    #[arg(long, value_name = "DATE", requires = "accept")]
    begins: Option<Date>,
}

/// Begins, calculates or accepts.
pub(super) fn run(asked: &Estimate, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let Some(draft) = &asked.draft else {
        let desk = asker.reading(&asked.file, Act::Estimate)?;
        // There is no shorter text of an estimate than itself.
        return Asker { json: true, ..asker }
            .answer(&office::begin(&desk, &asked.job, asked.recipe.as_deref())?, |_| Vec::new());
    };
    let draft = read(draft)?;
    if let Some(letter) = &asked.accept {
        let mut desk = asker.writing(&asked.file, Act::Estimate)?;
        let date = desk.clock.today();
        let taken =
            Acceptance { letter: letter.clone(), date, begins: asked.begins, note: None, proposal: None };
        let accepted = office::accept(&mut desk, &asked.job, &draft, &taken)?;
        return asker.answer(&accepted, |accepted| {
            let cautions = accepted.cautions.iter().map(|words| format!("Caution: {words}"));
            std::iter::once(accepted.contract.clone()).chain(cautions).collect()
        });
    }
    let desk = asker.reading(&asked.file, Act::Estimate)?;
    asker.answer(&office::calculate(&desk, &asked.job, &draft)?, |calculated| {
        let mut lines: Vec<String> =
            calculated.problems.iter().map(office::estimate::Problem::said).collect();
        for choice in &calculated.choices {
            lines.push(format!(
                "{} {}: cost {}, overhead {}, price {}, margin {}",
                choice.letter,
                choice.title,
                choice.cost.grouped(),
                choice.overhead.grouped(),
                choice.price.grouped(),
                choice.margin.grouped()
            ));
            lines.extend(
                choice.problems.iter().map(|problem| format!("  {}: {}", problem.field, problem.words)),
            );
            lines.extend(
                choice.warnings.iter().map(|warning| format!("  {} {}", warning.words, warning.remedy)),
            );
        }
        lines
    })
}

/// Reads a draft from a file, or from standard input where the file is called `-`.
pub(super) fn read(draft: &Path) -> Result<Draft, OfficeError> {
    let (name, text) = if draft.as_os_str() == "-" {
        let mut text = String::new();
        let read = std::io::stdin().lock().read_to_string(&mut text).map(|_| text);
        ("Standard input".to_owned(), read)
    } else {
        (draft.display().to_string(), std::fs::read_to_string(draft))
    };
    let text = text.map_err(|error| OfficeError::io(format!("{name} could not be read"), &error))?;
    serde_json::from_str(&text).map_err(|error| {
        OfficeError::refused("draft", &error.to_string(), "Begin with what `tearoff estimate FILE JOB` shows")
    })
}
