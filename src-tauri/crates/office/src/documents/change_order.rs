//! The change order that a homeowner reads and signs: photo, place, count, price, and what happens if it is left.

use super::document::Document;
use super::shared::{Heading, document, photo, roof_picture};
use super::site_sheet::contract_of;
use super::wording;
use crate::billing::terms::sales_tax;
use crate::change::ask::if_declined;
use crate::change::damage::USUAL_SPACING;
use crate::job::roof::measured_roof;
use crate::job::snapshot::{ChangeAtMonth, ChangeState, ConditionAtMonth, JobSnapshot};
use desk::Desk;
use desk::OfficeError;
use desk::names::Directory;
use desk::settings::firm_on;
use jiff::civil::Date;
use ledger::closed_lists::{Cause, CountedIn, Damaged, MarkKind, Pricing as PricingWord};
use ledger::facts::{ChangeOrder, Condition, ConditionMark, Decision as DecisionFact};
use ledger::{Fact, Id};
use paperwork::papers::{
    ChangeOrderPaper, CutList, Decision, DecisionChoice, EndDate, IncludedUsed, Mark, Photo, PieceShape, Pin,
    PriceLine, Pricing, SheetShape, TaxAmount,
};
use rust_decimal::Decimal;
use trade::roof::measure;
use trade::{Money, Month, Patch, Qty, Rate, SheetSize, USUAL_KERF, count_sheets};

/// A ring's radius where nobody drew its edge, as a share of the photo's width.
const USUAL_RING: Rate = Rate::from_e6(100_000);

/// The paper of a change order, named by its id or as `JOB/NUMBER`.
///
/// # Errors
/// When there is no such change order.
pub fn change_order_paper(desk: &Desk, change: &str) -> Result<Document, OfficeError> {
    let id = Directory::default().id(desk.books(), "change_order", "id", change)?;
    let Some(Fact::ChangeOrder(order)) = desk.books().fact(id)?.map(|held| held.fact) else {
        return Err(OfficeError::not_found("There is no such change order.", "Open the page again."));
    };
    let heading = Heading::of(desk, order.job)?;
    let month = Month::of(desk.clock.today()).max(Month::of(order.date));
    let calendar = desk.books().calendar()?;
    let standing = JobSnapshot::gather(desk.books(), &calendar, order.job, month)?;
    let Some(change) = standing.changes.iter().find(|change| change.id == id) else {
        return Err(OfficeError::not_found("This change order was reversed.", "Open the page again."));
    };
    let conditions: Vec<&ConditionAtMonth> = standing
        .conditions
        .iter()
        .filter(|condition| order.lines.iter().any(|line| line.condition == Some(condition.id)))
        .collect();
    let first = conditions.first().map(|condition| &condition.condition);
    let total: Money = order.lines.iter().map(|line| line.price).sum();
    let tax = tax(desk, order.date, total)?;
    let roof = measured_roof(desk.books(), order.job)?;
    let spacing = roof.as_ref().map_or(USUAL_SPACING, |(roof, _)| roof.house.rafter_spacing_in);
    let picture =
        roof.and_then(|(roof, _)| Some(roof_picture(&roof, &measure(&roof).ok()?, pins(&conditions))));
    let paper = ChangeOrderPaper {
        firm: heading.firm.clone(),
        customer: heading.customer.clone(),
        site: heading.job.site.clone(),
        job: heading.job.number.clone(),
        number: order.number.clone(),
        date: order.date,
        title: order.title.clone(),
        place: first.map(place).unwrap_or_default(),
        cause: first.and_then(|condition| cause(condition.cause)).unwrap_or_default().to_owned(),
        found_on: first.map(|condition| condition.date),
        photos: conditions.iter().flat_map(|condition| photos(desk, &condition.condition)).collect(),
        roof: picture,
        count_words: conditions
            .iter()
            .map(|condition| count(&condition.condition))
            .collect::<Vec<_>>()
            .join("; "),
        cut_list: cut_list(&conditions, spacing),
        lines: order.lines.iter().map(price_line).collect(),
        pricing: pricing(&order),
        included: included(desk, order.job, &standing, &conditions)?,
        total: total + tax.as_ref().map(|tax| tax.amount).unwrap_or_default(),
        tax,
        end: EndDate { before: None, after: None, words: end_words(order.days) },
        if_left: if_left(&standing, &order),
        decision: change.decision.as_ref().map(|decision| decided(desk, change, decision)),
    };
    document(&format!("{} change order {}.pdf", heading.job.number, order.number), paper.render())
}

/// What happens if it is left, and what follows when it is declined.
fn if_left(standing: &JobSnapshot, order: &ChangeOrder) -> String {
    let of = order.lines.iter().filter_map(|line| line.condition);
    if of.clone().next().is_none() {
        return order.if_left.clone().unwrap_or_default();
    }
    let declined = if_declined(standing.bears_the_roof(of));
    order.if_left.as_ref().map_or_else(|| declined.clone(), |left| format!("{left} {declined}"))
}

/// Where a condition is: “Roof to wall, north”.
pub(super) fn place(condition: &Condition) -> String {
    let place = condition.place.label();
    condition.side.as_ref().map_or_else(|| place.to_owned(), |side| format!("{place}, {side}"))
}

/// Why it rotted, where somebody said so: a paper has no line for what nobody knows.
pub(super) const fn cause(cause: Cause) -> Option<&'static str> {
    match cause {
        Cause::NotSaid => None,
        said => Some(said.label()),
    }
}

fn count(condition: &Condition) -> String {
    let calculated = match (condition.calculated, &condition.count_reason) {
        (Some(calculated), Some(reason)) if calculated != condition.count => {
            format!(" ({} by the patches; {reason})", wording::shown(calculated))
        }
        _ => String::new(),
    };
    format!("{}{calculated}", wording::damage(condition.count, condition.damaged, condition.counted_in))
}

/// A condition's photos with what is drawn on them.
pub(super) fn photos(desk: &Desk, condition: &Condition) -> Vec<Photo> {
    let caption = format!("{}, {}", place(condition), wording::day(condition.date));
    let kept = condition.photos.iter().enumerate().filter_map(|(index, kept)| {
        let mut photo = photo(desk, kept.photo, &caption)?;
        let number = i64::try_from(index + 1).unwrap_or(i64::MAX);
        photo.marks = condition.marks.iter().filter(|mark| mark.photo == number).filter_map(mark).collect();
        Some(photo)
    });
    kept.collect()
}

fn mark(mark: &ConditionMark) -> Option<Mark> {
    let share = Qty::as_rate;
    let (x, y) = (share(mark.x), share(mark.y));
    let to = mark.to_x.zip(mark.to_y).map(|(x, y)| (share(x), share(y)));
    match mark.kind {
        MarkKind::Arrow => {
            let (to_x, to_y) = to?;
            Some(Mark::Arrow { from_x: x, from_y: y, to_x, to_y })
        }
        MarkKind::Ring => {
            let across = mark.to_x.zip(mark.to_y).map(|(to_x, _)| (to_x - mark.x).abs().as_rate());
            Some(Mark::Ring { x, y, radius: across.filter(|r| r.is_positive()).unwrap_or(USUAL_RING) })
        }
        MarkKind::Note => Some(Mark::Note { x, y, text: mark.words.clone()? }),
    }
}

fn pins(conditions: &[&ConditionAtMonth]) -> Vec<Pin> {
    let placed = conditions.iter().filter_map(|condition| {
        Some(Pin {
            x: condition.condition.x_in?,
            y: condition.condition.y_in?,
            label: condition.condition.number.clone(),
        })
    });
    placed.collect()
}

/// How the sheets are cut, where the damage was measured in patches.
fn cut_list(conditions: &[&ConditionAtMonth], spacing: Qty) -> Option<CutList> {
    let sheets = conditions.iter().filter(|condition| condition.condition.damaged == Damaged::DeckSheet);
    let patches: Vec<Patch> = sheets
        .flat_map(|condition| &condition.condition.patches)
        .map(|patch| Patch {
            along_eave: patch.along_eave_in,
            up_slope: patch.up_slope_in,
            from_rafter: patch.from_rafter_in,
        })
        .collect();
    if patches.is_empty() {
        return None;
    }
    let size = SheetSize::FOUR_BY_EIGHT;
    let counted = count_sheets(&patches, spacing, size, USUAL_KERF).ok()?;
    let sheets = counted.cut_list.sheets.iter().map(|sheet| SheetShape {
        pieces: sheet
            .pieces
            .iter()
            .map(|piece| PieceShape {
                label: format!("{}.{}", piece.patch + 1, piece.piece + 1),
                x_in: piece.x,
                y_in: piece.y,
                width_in: piece.width,
                height_in: piece.height,
            })
            .collect(),
    });
    Some(CutList {
        sheets: sheets.collect(),
        sheet_width_in: size.along_eave,
        sheet_height_in: size.up_slope,
    })
}

fn price_line(line: &ledger::facts::ChangeLine) -> PriceLine {
    let quantity = line.quantity.filter(|quantity| !quantity.is_zero()).unwrap_or(Qty::from_e4(10_000));
    PriceLine {
        what: line.description.clone(),
        quantity,
        unit: line.unit.clone().unwrap_or_default(),
        price: trade::price_behind(line.price, quantity),
        amount: line.price,
    }
}

fn pricing(order: &ChangeOrder) -> Pricing {
    match order.pricing {
        PricingWord::UnitPrice => Pricing::UnitPrice,
        PricingWord::TimeAndMaterial => Pricing::TimeAndMaterial {
            markup: order.markup.unwrap_or_default(),
            not_to_exceed: order.not_to_exceed,
        },
        PricingWord::LumpSum => Pricing::LumpSum,
    }
}

/// How the included sheets run down: before these conditions, by them, and after.
fn included(
    desk: &Desk,
    job: Id,
    standing: &JobSnapshot,
    conditions: &[&ConditionAtMonth],
) -> Result<Option<IncludedUsed>, OfficeError> {
    let Ok(contract) = contract_of(desk, job) else { return Ok(None) };
    let included = contract.fact.included_sheets;
    let is_sheet = |condition: &Condition| {
        condition.damaged == Damaged::DeckSheet && condition.counted_in == CountedIn::Sheet
    };
    let Some(first) = conditions.iter().position(|condition| is_sheet(&condition.condition)) else {
        return Ok(None);
    };
    let first = conditions[first].id;
    let before = standing.conditions.iter().take_while(|condition| condition.id != first);
    let used_before: Qty = before
        .filter(|condition| is_sheet(&condition.condition))
        .map(|condition| condition.used.covered)
        .sum();
    let used_here: Qty = conditions
        .iter()
        .filter(|condition| is_sheet(&condition.condition))
        .map(|condition| condition.used.covered)
        .sum();
    Ok(Some(IncludedUsed {
        unit: "sheets".to_owned(),
        included,
        used_before,
        used_here,
        left: included - used_before - used_here,
    }))
}

/// The tax by the settings of the day on which the change order is drawn up.
fn tax(desk: &Desk, day: Date, total: Money) -> Result<Option<TaxAmount>, OfficeError> {
    let firm = firm_on(desk.books(), day)?;
    if firm.sales_tax.is_zero() {
        return Ok(None);
    }
    Ok(Some(TaxAmount {
        words: "Sales tax".to_owned(),
        rate: firm.sales_tax,
        amount: sales_tax(&firm, &[total]),
    }))
}

fn end_words(days: Option<i64>) -> String {
    match days {
        None | Some(0) => "The end of the work does not move.".to_owned(),
        Some(1) => "The end of the work moves by one day.".to_owned(),
        Some(days) => format!("The end of the work moves by {days} days."),
    }
}

/// A decision as it stands on paper.
pub(super) fn decided(desk: &Desk, change: &ChangeAtMonth, decision: &DecisionFact) -> Decision {
    Decision {
        choice: match change.state() {
            ChangeState::Approved | ChangeState::Waiting => DecisionChoice::Approved,
            ChangeState::PartlyApproved => DecisionChoice::PartlyApproved,
            ChangeState::Declined => DecisionChoice::Declined,
            ChangeState::Withdrawn => DecisionChoice::Withdrawn,
        },
        by: decision.decided_by.clone(),
        how: decision.method.map(|method| wording::in_sentence(method.label())).unwrap_or_default(),
        on: decision.date,
        at: String::new(),
        note: decision.note.clone().unwrap_or_default(),
        signature: decision
            .signature
            .and_then(|hash| photo(desk, hash, &format!("Signed by {}", decision.decided_by))),
    }
}

/// A share as a rate to the millionth.
pub(super) fn rate(share: Option<Decimal>) -> Option<Rate> {
    share.map(trade::shown::share)
}
