//! What the page asks while a form is typed: what an invoice comes to, what is billed next, how a payment is spread.

use office::billing::invoice::{self, InvoiceCalculation, InvoiceDraft, OpenPart, Priced, ToBill};
use office::{
    Bank, BillCheck, BillDesk, CountedIn, Damaged, Further, JobBilling, MatchedLines, Money, Payables, Qty,
    Statement, Subcontractors, TypedBill, VendorStatement,
};

use super::call::InRoom;
use crate::page_value::day;
use crate::refusal::Refusal;
use office::Act;

#[tauri::command]
pub(crate) async fn to_bill(room: InRoom<'_>, job: String) -> Result<ToBill, Refusal> {
    room.read(Act::Bill, move |desk| Ok(invoice::to_bill(desk, &job)?)).await
}

#[tauri::command]
pub(crate) async fn subcontractors(room: InRoom<'_>, year: Option<i16>) -> Result<Subcontractors, Refusal> {
    room.read(Act::SeeOverhead, move |desk| Ok(office::subcontractors(desk, year)?)).await
}

/// The statement of a customer as of today.
#[tauri::command]
pub(crate) async fn customer_statement(room: InRoom<'_>, customer: String) -> Result<Statement, Refusal> {
    room.read(Act::Bill, move |desk| Ok(office::statement(desk, &customer, desk.clock.today())?)).await
}

#[tauri::command]
pub(crate) async fn payables(room: InRoom<'_>) -> Result<Payables, Refusal> {
    room.read(Act::SeeOverhead, move |desk| Ok(office::payables(desk)?)).await
}

/// A vendor's statement, as it was typed or pasted, beside the books.
#[tauri::command]
pub(crate) async fn vendor_statement(
    room: InRoom<'_>,
    vendor: String,
    lines: String,
) -> Result<VendorStatement, Refusal> {
    room.read(Act::SeeOverhead, move |desk| {
        Ok(office::vendor_statement(desk, &vendor, &intake::vendor_statement(&lines)?)?)
    })
    .await
}

/// The bank by the statement that ends on a day, or by the last one.
#[tauri::command]
pub(crate) async fn bank(room: InRoom<'_>, ends: Option<String>) -> Result<Bank, Refusal> {
    room.read(Act::SeeBank, move |desk| {
        let ends = ends.as_deref().map(day).transpose()?;
        Ok(office::bank(desk, ends)?)
    })
    .await
}

/// Matches every line of a statement that fits.
#[tauri::command]
pub(crate) async fn match_bank(room: InRoom<'_>, ends: String) -> Result<MatchedLines, Refusal> {
    room.write(Act::SeeBank, move |writing| {
        let matched = office::match_fitting(&mut writing.desk, Some(day(&ends)?))?;
        Ok(matched)
    })
    .await
}

#[tauri::command]
pub(crate) async fn bill_desk(room: InRoom<'_>) -> Result<BillDesk, Refusal> {
    room.read(Act::Bill, move |desk| Ok(office::bill_desk(desk)?)).await
}

#[tauri::command]
pub(crate) async fn check_bill(room: InRoom<'_>, bill: TypedBill) -> Result<BillCheck, Refusal> {
    room.read(Act::Bill, move |desk| Ok(office::check_bill(desk, &bill)?)).await
}

#[tauri::command]
pub(crate) async fn job_billing(room: InRoom<'_>, job: String) -> Result<JobBilling, Refusal> {
    room.read(Act::Bill, move |desk| Ok(office::job_billing(desk, &job)?)).await
}

#[tauri::command]
pub(crate) async fn calculate_invoice(
    room: InRoom<'_>,
    job: String,
    draft: InvoiceDraft,
) -> Result<InvoiceCalculation, Refusal> {
    room.read(Act::Bill, move |desk| Ok(invoice::calculate(desk, &job, &draft)?)).await
}

#[tauri::command]
pub(crate) async fn line_amounts(room: InRoom<'_>, lines: Vec<Priced>) -> Result<Vec<Money>, Refusal> {
    room.admit(Act::Bill)?;
    Ok(invoice::line_amounts(&lines))
}

#[tauri::command]
pub(crate) async fn spread_payment(
    room: InRoom<'_>,
    amount: Money,
    open: Vec<OpenPart>,
) -> Result<Vec<Money>, Refusal> {
    room.admit(Act::Bill)?;
    Ok(invoice::spread(amount, &open))
}

#[tauri::command]
pub(crate) async fn further(
    room: InRoom<'_>,
    job: String,
    damaged: Damaged,
    counted_in: CountedIn,
    count: Qty,
) -> Result<Further, Refusal> {
    room.read(Act::PriceFurther, move |desk| Ok(office::further(desk, &job, damaged, counted_in, count)?))
        .await
}
