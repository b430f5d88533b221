//! Making a new firm.

use super::asker::Asker;
use clap::Args;
use jiff::civil::Date;
use office::{Clock, Desk, NewFirm, OfficeError};
use serde_json::{Map, Value, json};
use std::path::PathBuf;

const HELP: &str = "\
What is left out is what the window's form begins with. All of it can be changed later by recording the fact `firm` \
again; what is closed by then keeps its figures.

  tearoff new quill.tearoff --name 'Quill Roofing' --town Ashby --state LK --owner 'Ruth Quill'

With --json: {\"file\", \"firm\", \"owner\", \"from\"}.";

/// The new firm's settings.
#[derive(Debug, Args)]
#[command(after_help = HELP)]
pub(crate) struct New {
    /// The file to make, on a disk of this machine.
    file: PathBuf,
    /// The firm's name, as it stands on its paper.
    #[arg(long)]
    name: String,
    /// Its town.
    #[arg(long)]
    town: String,
    /// Its state, as two capital letters.
    #[arg(long)]
    state: String,
    /// The street address of its place of business: the notice of cancellation names it (16 CFR 429.1).
    #[arg(long)]
    street: Option<String>,
    /// Its ZIP code.
    #[arg(long)]
    zip: Option<String>,
    /// Its telephone.
    #[arg(long)]
    phone: Option<String>,
    /// Its license, in the words that its state asks for.
    #[arg(long)]
    license: Option<String>,
    /// The number under which it is certified for renovation where there is lead-based paint (40 CFR 745.89).
    #[arg(long, value_name = "NUMBER")]
    lead_certificate: Option<String>,
    /// The owner's name.
    #[arg(long)]
    owner: String,
    /// The day from which the settings count, yyyy-mm-dd; the first of this year when left out.
    #[arg(long, value_name = "DATE")]
    from: Option<Date>,
    /// The currency of the books, as three letters; USD when left out.
    #[arg(long)]
    currency: Option<String>,
    /// The first day of the work week; monday when left out.
    #[arg(long, value_name = "DAY")]
    week_begins: Option<String>,
    /// Weekly hours beyond which overtime is due; 40 when left out (29 CFR 778).
    #[arg(long, value_name = "HOURS")]
    overtime_over_week: Option<String>,
    /// Daily hours beyond which overtime is due, where the state asks for it.
    #[arg(long, value_name = "HOURS")]
    overtime_over_day: Option<String>,
    /// Where the overtime premium goes: hours (over the week's jobs, when left out) or cause.
    #[arg(long, value_name = "WORD")]
    premium_to: Option<String>,
    /// Sales tax on what is billed, as a fraction: 0.0825 is 8.25 %; 0 when left out.
    #[arg(long, value_name = "FRACTION")]
    sales_tax: Option<String>,
    /// How sales tax is rounded: invoice (once, when left out) or item.
    #[arg(long, value_name = "WORD")]
    sales_tax_rounding: Option<String>,
    /// Keep the tax paid on materials apart; it is part of the job's cost when left out.
    #[arg(long)]
    material_tax_apart: bool,
    /// What overhead is spread by: labor-hours (when left out), labor-cost or crew-days.
    #[arg(long, value_name = "WORD")]
    overhead_by: Option<String>,
    /// Overhead: dollars an hour or a crew-day, or a fraction of labor cost; 0 when left out.
    #[arg(long, value_name = "RATE")]
    overhead_rate: Option<String>,
}

pub(super) fn run(asked: &New, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let clock = Clock::System;
    let new = NewFirm::usual(&asked.owner, said(asked), clock.today())?;
    drop(Desk::make(&asked.file, &new, clock)?);
    let made = json!({
        "file": asked.file, "firm": new.firm.name, "owner": new.owner, "from": new.firm.date.to_string()
    });
    asker.answer(&made, |_| vec![format!("{} is in {}.", new.firm.name, asked.file.display())])
}

/// What the options say, by the names of the settings.
fn said(asked: &New) -> Map<String, Value> {
    let words = [
        ("name", Some(asked.name.clone())),
        ("town", Some(asked.town.clone())),
        ("state", Some(asked.state.clone())),
        ("street", asked.street.clone()),
        ("zip", asked.zip.clone()),
        ("phone", asked.phone.clone()),
        ("license", asked.license.clone()),
        ("lead_certificate", asked.lead_certificate.clone()),
        ("date", asked.from.map(|date| date.to_string())),
        ("currency", asked.currency.clone()),
        ("week_begins", asked.week_begins.clone()),
        ("overtime_over_week", asked.overtime_over_week.clone()),
        ("overtime_over_day", asked.overtime_over_day.clone()),
        ("premium_to", asked.premium_to.clone()),
        ("sales_tax", asked.sales_tax.clone()),
        ("sales_tax_rounding", asked.sales_tax_rounding.clone()),
        ("overhead_by", asked.overhead_by.clone()),
        ("overhead_rate", asked.overhead_rate.clone()),
    ];
    let given = words.into_iter().filter_map(|(name, word)| Some((name.to_owned(), Value::String(word?))));
    let apart = asked.material_tax_apart.then(|| ("material_tax_is_cost".to_owned(), Value::Bool(false)));
    given.chain(apart).collect()
}
