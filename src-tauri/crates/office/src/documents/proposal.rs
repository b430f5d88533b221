//! The proposal: the system explained part by part, the choices, and what the price does not cover.

use super::document::Document;
use super::notices;
use super::shared::{Heading, roof_picture};
use super::wording;
use crate::estimate::{Calculated, CalculatedChoice, Estimate, ExtraLine, PartLine, asked_on, calculate_on};
use crate::phrase::with_line_and_color;
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use jiff::civil::Date;
use ledger::closed_lists::{CountedIn, Damaged};
use paperwork::papers::{
    Choice, ChoiceRow, Offer, PaymentStep, Proposal, RoofPicture, SystemPart, UnitPrice,
};
use rust_decimal::Decimal;
use trade::roof::{Asked, WarningCode, compare, figure, names_section, title};
use trade::{Item, Origin, Qty};

/// The proposal of an estimate, dated today and not signed yet; `chosen` names the letter that the homeowner has taken,
/// if one is.
///
/// # Errors
/// When the roof or a choice still has problems: what is handed over must be what can be kept.
pub fn proposal(
    desk: &Desk,
    job: &str,
    estimate: &Estimate,
    chosen: Option<&str>,
) -> Result<Document, OfficeError> {
    drawn_up(desk, job, estimate, chosen, (desk.clock.today(), None))
}

/// The proposal as it is signed on a day: with the rates and standards of that day, and its dates.
///
/// # Errors
/// As for [`proposal`].
pub(crate) fn signed_on(
    desk: &Desk,
    job: &str,
    estimate: &Estimate,
    chosen: &str,
    date: Date,
) -> Result<Document, OfficeError> {
    drawn_up(desk, job, estimate, Some(chosen), (date, Some(date)))
}

fn drawn_up(
    desk: &Desk,
    job: &str,
    estimate: &Estimate,
    chosen: Option<&str>,
    (date, signed_on): (Date, Option<Date>),
) -> Result<Document, OfficeError> {
    let id = Directory::default().id(desk.books(), "job", "job", job)?;
    let heading = Heading::of(desk, id)?;
    let calculated = calculate_on(desk, job, estimate, date)?;
    let problem = calculated
        .problems
        .iter()
        .chain(calculated.choices.iter().flat_map(|choice| &choice.problems))
        .next();
    if let Some(problem) = problem {
        return Err(OfficeError::refused(
            &problem.field,
            &problem.words,
            "Settle it, then print the proposal",
        ));
    }
    let roof =
        calculated.measured.as_ref().map(|measured| roof_picture(&estimate.roof, measured, Vec::new()));
    let paper = Proposal {
        firm: heading.firm.clone(),
        customer: heading.customer.clone(),
        site: heading.job.site.clone(),
        number: heading.job.number.clone(),
        date,
        valid_until: wording::days_after(date, estimate.terms.valid_days),
        opening: opening(&calculated),
        roof: roof.unwrap_or_else(|| RoofPicture {
            sections: Vec::new(),
            edges: Vec::new(),
            pins: Vec::new(),
        }),
        system: system(desk, &calculated, chosen, date)?,
        choices: calculated.choices.iter().map(choice).collect(),
        compared: compared(&calculated),
        tax_words: tax_words(&calculated),
        unit_prices: unit_prices(estimate, &calculated, chosen),
        not_included: estimate.terms.exclusions.clone(),
        payments: payments(estimate, &calculated),
        signed_on,
        cancellation: estimate
            .terms
            .sold_at_home
            .then(|| notices::cancellation(&heading, signed_on))
            .transpose()?,
        notices: notices::of_state(desk.books(), heading.state(), date, estimate.terms.sold_at_home)?,
        chosen: chosen.map(str::to_owned),
    };
    heading.document("proposal", paper.render())
}

fn opening(calculated: &Calculated) -> String {
    let squares = calculated.measured.as_ref().map_or(Qty::ZERO, |measured| wording::shown(measured.squares));
    format!(
        "A roof is a system, and much of it is not seen once it is done. This proposal names every part of it for your \
         roof of {squares} squares (a square is 100 sq ft), says what each is for, what the code asks and where our \
         own standard asks more."
    )
}

/// The parts in the order of work: of the choice that was taken, else of the one with the most of them.
fn system(
    desk: &Desk,
    calculated: &Calculated,
    chosen: Option<&str>,
    date: Date,
) -> Result<Vec<SystemPart>, OfficeError> {
    let settings = asked_on(desk, date)?;
    let (code, company) = (Asked::from(&settings, Origin::Code), Asked::from(&settings, Origin::Company));
    let differences = compare(&code, &company);
    let taken = calculated.choices.iter().find(|choice| chosen == Some(choice.letter.as_str()));
    let fullest = calculated.choices.iter().max_by_key(|choice| choice.parts.len());
    let Some(shown) = taken.or(fullest) else { return Ok(Vec::new()) };
    let parts = shown.parts.iter().filter(|line| line.item != Item::Haul && line.item != Item::Permit);
    let of_line = parts.map(|line| {
        let (name, (drawn, what_for)) = (line.item.label(), wording::item(line.item));
        let asks: Vec<String> = wording::topics(line.item)
            .iter()
            .filter(|topic| !code.value(**topic).is_zero())
            .map(|topic| {
                format!("{}: {} ({})", title(*topic), figure(*topic, code.value(*topic)), code.source(*topic))
            })
            .collect();
        let adds: Vec<String> = wording::topics(line.item)
            .iter()
            .filter(|topic| differences.iter().any(|difference| difference.topic == **topic))
            .map(|topic| format!("{}: {}", title(*topic), figure(*topic, company.value(*topic))))
            .collect();
        SystemPart {
            name: if line.title.is_empty() { name.to_owned() } else { format!("{name}: {}", titled(line)) },
            drawn,
            what_for: what_for.to_owned(),
            code_asks: asks.join("; "),
            company_adds: adds.join("; "),
            quantity_words: wording::amount(line.net, line.measure),
        }
    });
    Ok(of_line.collect())
}

/// A part as it is offered; a color that is open says so.
fn titled(line: &PartLine) -> String {
    let open = (line.color.is_none() && !line.colors.is_empty()).then_some("color to be chosen with you");
    let color = line.color.as_deref().map(|color| format!("color {color}"));
    with_line_and_color(&line.title, line.product_line.as_deref(), color.as_deref().or(open))
}

fn choice(choice: &CalculatedChoice) -> Choice {
    Choice {
        letter: choice.letter.clone(),
        title: choice.title.clone(),
        price: choice.price,
        tax: choice.sales_tax,
        total: choice.total,
    }
}

/// What each choice has of each part. Costs are the firm's own matter: a homeowner compares what is built, and prices.
fn compared(calculated: &Calculated) -> Vec<ChoiceRow> {
    let mut rows: Vec<ChoiceRow> = calculated
        .compared
        .iter()
        .filter(|row| row.item != Item::Haul)
        .map(|row| ChoiceRow {
            part: row.item.label().to_owned(),
            offers: row
                .cells
                .iter()
                .map(|cell| Offer {
                    words: cell.as_ref().map_or_else(
                        || "—".to_owned(),
                        |cell| {
                            let amount = wording::amount(cell.net, cell.measure);
                            if cell.title.is_empty() { amount } else { format!("{}, {amount}", cell.title) }
                        },
                    ),
                    amount: None,
                })
                .collect(),
        })
        .collect();
    let sheets =
        calculated.choices.iter().map(|choice| Offer { words: included_words(choice), amount: None });
    rows.push(ChoiceRow { part: "Included for rot".to_owned(), offers: sheets.collect() });
    rows.extend(coverings(calculated));
    rows
}

/// How many of what is damaged the price of a choice covers: the one place that the paper has it from.
fn included_in(choice: &CalculatedChoice, damaged: Damaged, counted_in: CountedIn) -> Qty {
    wording::included(damaged, counted_in, choice.included_sheets, choice.included_feet)
}

fn included_words(choice: &CalculatedChoice) -> String {
    let sheets = included_in(choice, Damaged::DeckSheet, CountedIn::Sheet);
    let feet = included_in(choice, Damaged::DeckBoard, CountedIn::Foot);
    let sheets = (!sheets.is_zero()).then(|| wording::damage(sheets, Damaged::DeckSheet, CountedIn::Sheet));
    let feet = (!feet.is_zero()).then(|| wording::damage(feet, Damaged::DeckBoard, CountedIn::Foot));
    let both: Vec<String> = [sheets, feet].into_iter().flatten().collect();
    if both.is_empty() { "nothing".to_owned() } else { both.join(", ") }
}

/// What each choice lays on a section that is too flat for shingles: nobody is to find out on the roof.
fn coverings(calculated: &Calculated) -> Vec<ChoiceRow> {
    let bare = |choice: &CalculatedChoice| -> Vec<String> {
        let flat = choice.warnings.iter().filter(|warning| warning.code == WarningCode::SlopeUnderLeast);
        flat.filter_map(|warning| warning.section.clone()).collect()
    };
    let mut sections: Vec<String> = calculated.choices.iter().flat_map(bare).collect();
    sections.sort();
    sections.dedup();
    let row = |section: String| {
        let offer = |choice: &CalculatedChoice| {
            let priced = |extra: &&ExtraLine| !extra.cost.is_zero() && names_section(&extra.words, &section);
            let covering = choice.extras.iter().find(priced);
            let words = covering.map_or("nothing in this price", |extra| extra.words.as_str());
            Offer { words: words.to_owned(), amount: None }
        };
        ChoiceRow {
            part: format!("Too flat for shingles: {section}"),
            offers: calculated.choices.iter().map(offer).collect(),
        }
    };
    sections.into_iter().map(row).collect()
}

fn tax_words(calculated: &Calculated) -> String {
    if calculated.choices.iter().all(|choice| choice.sales_tax.is_zero()) {
        "No sales tax is added: the tax on materials is paid by us and is in the price.".to_owned()
    } else {
        "Sales tax by the rate in force today; what the law asks on the day of the invoice holds.".to_owned()
    }
}

/// What one costs, and what the price covers before: of the choice that was taken, else of each where they differ.
fn unit_prices(estimate: &Estimate, calculated: &Calculated, chosen: Option<&str>) -> Vec<UnitPrice> {
    let taken = calculated.choices.iter().filter(|choice| chosen.is_none_or(|taken| choice.letter == taken));
    let taken: Vec<&CalculatedChoice> = taken.collect();
    let included = |damaged, counted_in| {
        let of = |choice: &CalculatedChoice| included_in(choice, damaged, counted_in);
        match taken.as_slice() {
            [first, others @ ..] if others.iter().all(|other| of(other) == of(first)) => {
                of(first).to_string()
            }
            each => {
                let each = each.iter().map(|choice| format!("{} {}", choice.letter, of(choice)));
                each.collect::<Vec<_>>().join(", ")
            }
        }
    };
    let priced = estimate.terms.unit_prices.iter().map(|unit| UnitPrice {
        condition: format!("Rotted {}", wording::in_sentence(unit.damaged.label())),
        unit: unit.counted_in.single().to_owned(),
        price: unit.price.as_rate(),
        included: included(unit.damaged, unit.counted_in),
    });
    priced.collect()
}

fn payments(estimate: &Estimate, calculated: &Calculated) -> Vec<PaymentStep> {
    let steps = estimate.terms.payments.iter().enumerate();
    steps
        .map(|(index, payment)| PaymentStep {
            when: payment.title.clone(),
            share: (payment.share.decimal() < Decimal::ONE).then_some(payment.share),
            amounts: calculated
                .choices
                .iter()
                .map(|choice| choice.payments.get(index).map(|paid| paid.amount).unwrap_or_default())
                .collect(),
        })
        .collect()
}
