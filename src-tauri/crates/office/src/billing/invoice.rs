//! What an invoice being typed comes to, what of a job is to be billed next, and how a payment is applied to invoices.
//!
//! The rules are `trade`'s; here they meet the firm's settings and the contract, so that no face calculates money
//! itself.

use crate::billing::terms::{Departure, Term, departures, held_by_contract, sales_tax, taxed_by};
use crate::job::snapshot::{ChangeAtMonth, ChangeState, ConditionAtMonth, JobSnapshot, WorkState};
use crate::month::owed::{OpenInvoice, unpaid_by};
use crate::phrase;
use desk::Desk;
use desk::OfficeError;
use desk::names::Names;
use desk::numbering::Numbering;
use desk::settings::firm_on;
use desk::working_month::working_month;
use jiff::civil::Date;
use ledger::closed_lists::{InvoiceFor, JobStatusWord};
use ledger::facts::{Firm, Invoice, PurchaseOrder};
use ledger::{Books, Id};
use serde::{Deserialize, Serialize};
use trade::shown::in_sentence;
use trade::{Money, Qty, Rate, TaxBy};

/// A line of an invoice being typed.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct DraftLine {
    /// Amount before tax.
    pub amount: Money,
    /// Whether sales tax is due on it.
    #[serde(default)]
    pub taxable: bool,
}

/// An invoice being typed.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct InvoiceDraft {
    /// The day on it: sales tax goes by the settings of that day. Today where none is typed yet.
    #[cfg_attr(feature = "ts", ts(as = "Option<String>"))]
    pub date: Option<Date>,
    /// What it is for. A credit memo's amounts count below zero, however they are typed.
    pub purpose: InvoiceFor,
    /// Its lines.
    pub lines: Vec<DraftLine>,
    /// The tax, where a person typed it.
    pub tax: Option<Money>,
    /// What is held, where a person typed it.
    pub retainage: Option<Money>,
}

/// What an invoice comes to.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct InvoiceCalculation {
    /// Before tax.
    pub net: Money,
    /// Sales tax: as typed, or by the firm's rule.
    pub tax: Money,
    /// The firm's rate, as a fraction.
    pub rate: Rate,
    /// How the tax came about, in words.
    pub tax_words: String,
    /// Held until the end: as typed, or by the contract.
    pub retainage: Money,
    /// How that came about, in words.
    pub retainage_words: String,
    /// Net and tax.
    pub total: Money,
    /// What falls due now.
    pub due: Money,
    /// By how much more than the contract would be billed with this; zero where it would not.
    pub beyond: Money,
    /// What departs from the firm's rule or the contract, in sentences: nobody issues it without being told.
    pub warnings: Vec<String>,
}

/// Calculates an invoice of a job by the firm's settings and the job's contract.
///
/// # Errors
/// When there is no such job, or the facts cannot be read.
pub fn calculate(desk: &Desk, job: &str, draft: &InvoiceDraft) -> Result<InvoiceCalculation, OfficeError> {
    desk.books().in_one_read(|books| {
        let id = Names::read(books)?.job(job)?;
        let calendar = books.calendar()?;
        let standing = JobSnapshot::gather(books, &calendar, id, working_month(desk, &calendar))?;
        let share = standing.contract.as_ref().map_or(Rate::ZERO, |held| held.fact.retainage);
        let mut calculated =
            comes_to(draft, &firm_on(books, draft.date.unwrap_or_else(|| desk.clock.today()))?, share);
        let money = &standing.money;
        let contract = money.price + money.change_price + money.hidden_price;
        if draft.purpose != InvoiceFor::Credit {
            calculated.beyond = (money.billed + calculated.net - contract).max(Money::ZERO);
        }
        if calculated.beyond.is_positive() {
            calculated.warnings.push(beyond_contract(calculated.beyond));
        }
        Ok(calculated)
    })
}

fn beyond_contract(beyond: Money) -> String {
    format!("With this, {} more than the contract is billed.", beyond.grouped())
}

fn comes_to(draft: &InvoiceDraft, firm: &Firm, share: Rate) -> InvoiceCalculation {
    let credit = draft.purpose == InvoiceFor::Credit;
    // A credit is below zero whichever way it was typed.
    let signed = |amount: Money| if credit && amount.is_positive() { -amount } else { amount };
    let net: Money = draft.lines.iter().map(|line| signed(line.amount)).sum();
    let taxed: Vec<Money> =
        draft.lines.iter().filter(|line| line.taxable).map(|line| signed(line.amount)).collect();
    let ruled = sales_tax(firm, &taxed);
    let tax = draft.tax.map_or(ruled, signed);
    let (held, retainage_words) = held(draft, net, share);
    let mut warnings = Vec::new();
    let what = if credit { "This credit memo" } else { "This invoice" };
    if tax != ruled {
        warnings.push(Departure { of: Term::SalesTax, typed: tax, ruled }.text(what));
    }
    let by_contract = held_by_contract(draft.purpose, net, share);
    if !credit && held != by_contract {
        warnings.push(Departure { of: Term::Retainage, typed: held, ruled: by_contract }.text(what));
    }
    InvoiceCalculation {
        net,
        tax,
        rate: firm.sales_tax,
        tax_words: tax_words(draft, firm.sales_tax, taxed_by(firm), taxed.iter().sum(), ruled),
        retainage: held,
        retainage_words,
        total: net + tax,
        due: net + tax - held,
        beyond: Money::ZERO,
        warnings,
    }
}

fn tax_words(draft: &InvoiceDraft, rate: Rate, by: TaxBy, on: Money, ruled: Money) -> String {
    if rate.is_zero() {
        return "The firm charges none.".to_owned();
    }
    let base = on.grouped();
    let rule = match by {
        TaxBy::Invoice => format!("{} of {base}, rounded once for the invoice", percent(rate)),
        TaxBy::Item => format!("{}, rounded line by line, on {base}", percent(rate)),
    };
    match draft.tax {
        Some(_) => format!("As typed. The firm’s rule gives {}: {rule}.", ruled.grouped()),
        None if on.is_zero() => format!("No line is taxed. The firm’s rate is {}.", percent(rate)),
        None => format!("{rule}."),
    }
}

/// What is held of an invoice, and how that came about. A credit memo holds nothing: what is typed there lowers what is
/// held of its invoice.
fn held(draft: &InvoiceDraft, net: Money, share: Rate) -> (Money, String) {
    if draft.purpose == InvoiceFor::Credit {
        let typed = draft.retainage.map_or(Money::ZERO, |typed| -typed.abs());
        let words = if typed.is_zero() {
            "Nothing is taken off what is held.".to_owned()
        } else {
            format!("{} of it is taken off what is held of the invoice.", typed.abs().grouped())
        };
        return (typed, words);
    }
    let ruled = held_by_contract(draft.purpose, net, share);
    let rule = if share.is_zero() {
        "The contract holds nothing back.".to_owned()
    } else {
        format!("The contract holds {} of {} before tax: {}.", percent(share), net.grouped(), ruled.grouped())
    };
    match draft.retainage {
        Some(typed) => (typed, format!("As typed. {rule}")),
        None => (ruled, rule),
    }
}

fn percent(rate: Rate) -> String {
    format!("{} %", trade::shown::percent(rate.decimal()))
}

/// The numbers that come next, as proposals.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct NextNumbers {
    /// Of the firm's invoices.
    pub invoice: String,
    /// Of the firm's orders.
    pub order: String,
    /// Of this job's change orders.
    pub change: String,
    /// Of this job's conditions.
    pub condition: String,
}

/// A line that an invoice may hold.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OfferLine {
    /// What.
    pub description: String,
    /// Amount before tax.
    pub amount: Money,
    /// The change order that it bills, by id.
    pub change_order: Option<String>,
}

/// What an invoice for one purpose would hold.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Offer {
    /// What for.
    pub purpose: InvoiceFor,
    /// Its lines; none where nothing is left to bill for it.
    pub lines: Vec<OfferLine>,
}

/// What of a job is to be billed next.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ToBill {
    /// The numbers that come next.
    pub next: NextNumbers,
    /// What the next invoice is most likely for.
    pub usual: InvoiceFor,
    /// Retainage: the fraction of each invoice that is held until the end.
    pub retainage: Rate,
    /// What an invoice would hold, purpose by purpose.
    pub offers: Vec<Offer>,
    /// What stands open that a final invoice would pass over, in sentences.
    pub open: Vec<String>,
    /// What the customer has not paid yet, the earliest due first.
    pub unpaid: Vec<OpenInvoice>,
}

/// What of a job's hidden conditions stands open, in sentences: nobody issues a final invoice without being told of it.
///
/// # Errors
/// When there is no such job, or the facts cannot be read.
pub fn open_conditions(desk: &Desk, job: &str) -> Result<Vec<String>, OfficeError> {
    desk.books().in_one_read(|books| open_on(desk, books, Names::read(books)?.job(job)?))
}

/// What a fact just recorded passed over: for an invoice how it departs from tax rule and contract, and for a final one
/// what stands open on its job.
///
/// # Errors
/// When the facts cannot be read.
pub fn passed_over(desk: &Desk, fact: Id) -> Result<Vec<String>, OfficeError> {
    desk.books().in_one_read(|books| {
        let Some(ledger::Fact::Invoice(invoice)) = books.fact(fact)?.map(|held| held.fact) else {
            return Ok(Vec::new());
        };
        let what = format!("Invoice {}", invoice.number);
        let departures = departures(books, &invoice)?;
        let mut told: Vec<String> = departures.iter().map(|departure| departure.text(&what)).collect();
        if invoice.purpose == InvoiceFor::Final {
            told.extend(open_on(desk, books, invoice.job)?);
        }
        Ok(told)
    })
}

fn open_on(desk: &Desk, books: Books<'_>, job: Id) -> Result<Vec<String>, OfficeError> {
    let calendar = books.calendar()?;
    Ok(still_open(&JobSnapshot::gather(books, &calendar, job, working_month(desk, &calendar))?))
}

/// A condition that was declined is settled; so is one within what the price covers.
fn still_open(standing: &JobSnapshot) -> Vec<String> {
    let open = |condition: &&ConditionAtMonth| {
        condition.used.beyond.is_positive() && (!condition.asked || condition.waiting)
    };
    let conditions = standing.conditions.iter().filter(open).map(|condition| {
        let what = format!(
            "Condition {} ({} at the {})",
            condition.condition.number,
            phrase::damage(
                condition.condition.count,
                condition.condition.damaged,
                condition.condition.counted_in
            ),
            in_sentence(condition.condition.place.label())
        );
        match (condition.work, condition.asked) {
            (WorkState::AtRisk, true) => {
                format!("{what} is repaired or begun without a decision: what it cost may never be billed.")
            }
            (WorkState::AtRisk, false) => {
                format!("{what} is repaired or begun and nobody was asked: what it cost may never be billed.")
            }
            (_, true) => format!("{what} has no decision yet."),
            (_, false) => format!("{what} was never put to the homeowner."),
        }
    });
    let changes = standing.changes.iter().filter_map(|change| {
        let number = &change.order.number;
        if change.contradicted {
            return Some(format!("Change order {number} has decisions that contradict each other."));
        }
        if change.accrued.is_some_and(|accrued| !accrued.done) {
            return Some(format!(
                "Change order {number} goes by time and material, and its work is not done: more may come."
            ));
        }
        let price: Money = change.order.lines.iter().map(|line| line.price).sum();
        (change.state() == ChangeState::Waiting)
            .then(|| format!("Change order {number} of {} waits for its decision.", price.grouped()))
    });
    conditions.chain(changes).collect()
}

/// What of a job is to be billed next, and the numbers that come next.
///
/// # Errors
/// When there is no such job, or the facts cannot be read.
pub fn to_bill(desk: &Desk, job: &str) -> Result<ToBill, OfficeError> {
    desk.books().in_one_read(|books| {
        let names = Names::read(books)?;
        let id = names.job(job)?;
        let calendar = books.calendar()?;
        let month = working_month(desk, &calendar);
        let standing = JobSnapshot::gather(books, &calendar, id, month)?;
        let bills = books.live_at(&calendar, Invoice::job, id, month, |fact| fact.date)?;
        let scheduled = |purpose| matches!(purpose, InvoiceFor::Deposit | InvoiceFor::Progress);
        let already = bills.iter().filter(|held| scheduled(held.fact.purpose)).count();
        let numbering = Numbering::read(books)?;
        let next = NextNumbers {
            invoice: numbering
                .next(books.all_with_reversed::<Invoice>()?.iter().map(|held| held.fact.number.as_str())),
            order: numbering.next(
                books.all_with_reversed::<PurchaseOrder>()?.iter().map(|held| held.fact.number.as_str()),
            ),
            change: numbering.next(standing.changes.iter().map(|change| change.order.number.as_str())),
            condition: numbering
                .next(standing.conditions.iter().map(|condition| condition.condition.number.as_str())),
        };
        Ok(ToBill {
            next,
            usual: usual(&standing, bills.len()),
            retainage: standing.contract.as_ref().map_or(Rate::ZERO, |held| held.fact.retainage),
            offers: InvoiceFor::ALL.iter().map(|purpose| offer(*purpose, &standing, already)).collect(),
            open: still_open(&standing),
            unpaid: match names.jobs.get(&id) {
                Some(job) => unpaid_by(books, &calendar, month, job.customer)?,
                None => Vec::new(),
            },
        })
    })
}

/// A deposit first, the final invoice once the work is finished and the schedule has come to its last payment.
fn usual(standing: &JobSnapshot, bills: usize) -> InvoiceFor {
    let payments = standing.contract.as_ref().map_or(0, |held| held.fact.payments.len());
    let finished = matches!(standing.ended, Some((JobStatusWord::Finished, _)));
    match bills {
        0 => InvoiceFor::Deposit,
        bills if finished && bills + 1 >= payments => InvoiceFor::Final,
        _ => InvoiceFor::Progress,
    }
}

fn offer(purpose: InvoiceFor, standing: &JobSnapshot, already: usize) -> Offer {
    let changes = unbilled_changes(standing);
    let lines = match purpose {
        InvoiceFor::Deposit | InvoiceFor::Progress => {
            let payments = standing.contract.as_ref().map(|held| held.fact.payments.as_slice());
            let next = payments.and_then(|payments| payments.get(already));
            next.map(|next| plain(&next.title, next.amount)).into_iter().collect()
        }
        InvoiceFor::ChangeOrder => changes,
        InvoiceFor::Final => {
            let money = &standing.money;
            let contract = money.price + money.change_price + money.hidden_price;
            // What a change by time and material has yet to come to is nobody's to bill on completion.
            let open = standing.changes.iter().map(|change| change.owed() - change.invoiced).sum::<Money>();
            let rest = contract - money.billed - open;
            let base = rest.is_positive().then(|| plain("On completion", rest));
            base.into_iter().chain(changes).collect()
        }
        InvoiceFor::Credit => overbilled_changes(standing),
    };
    Offer { purpose, lines }
}

fn plain(title: &str, amount: Money) -> OfferLine {
    OfferLine { description: title.to_owned(), amount, change_order: None }
}

/// What of the approved changes is not billed yet, change order by change order. By time and material it is what the
/// work came to.
fn unbilled_changes(standing: &JobSnapshot) -> Vec<OfferLine> {
    standing.changes.iter().filter(|change| change.to_bill().is_positive()).map(to_bill_of).collect()
}

/// What of the changes was billed beyond what is owed: the work came to less, or the decision was taken back.
fn overbilled_changes(standing: &JobSnapshot) -> Vec<OfferLine> {
    standing.changes.iter().filter(|change| change.to_bill().is_negative()).map(to_bill_of).collect()
}

fn to_bill_of(change: &ChangeAtMonth) -> OfferLine {
    OfferLine {
        description: change.billed_as(),
        amount: change.to_bill(),
        change_order: Some(change.id.to_string()),
    }
}

/// A quantity and the printed price of one.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct Priced {
    /// How many.
    pub quantity: Qty,
    /// Price of one.
    pub unit_price: Rate,
}

/// What lines come to, each rounded once.
#[must_use]
pub fn line_amounts(lines: &[Priced]) -> Vec<Money> {
    lines.iter().map(|line| trade::line_amount(line.unit_price, line.quantity)).collect()
}

/// What is open on an invoice that a payment may be applied to.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct OpenPart {
    /// Due on.
    #[cfg_attr(feature = "ts", ts(as = "String"))]
    pub due: Date,
    /// Open.
    pub open: Money,
}

/// How a payment is applied to invoices: the oldest first, never more than is open; in the order of `open`.
#[must_use]
pub fn spread(amount: Money, open: &[OpenPart]) -> Vec<Money> {
    let open: Vec<(Date, Money)> = open.iter().map(|part| (part.due, part.open)).collect();
    trade::apply_oldest_first(amount, &open).0
}

#[cfg(test)]
mod tests {
    use super::*;
    use desk::Clock;
    use desk::Code;
    use ledger::closed_lists::TaxRounding;

    fn money(text: &str) -> Money {
        Money::parse(text).unwrap()
    }

    fn rate(text: &str) -> Rate {
        Rate::parse(text).unwrap()
    }

    fn sample() -> (tempfile::TempDir, Desk) {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("firm.tearoff");
        drop(crate::file::sample::write(&path, &mut |_, _| true).unwrap());
        let desk = Desk::read(&path, Clock::System).unwrap();
        (home, desk)
    }

    fn draft(purpose: InvoiceFor, amounts: &[&str]) -> InvoiceDraft {
        let lines = amounts.iter().map(|amount| DraftLine { amount: money(amount), taxable: true });
        InvoiceDraft { date: None, purpose, lines: lines.collect(), tax: None, retainage: None }
    }

    fn taxing(rounding: TaxRounding, tax: &str) -> Firm {
        let (_home, desk) = sample();
        let firm = firm_on(desk.books(), desk.clock.today()).unwrap();
        Firm { sales_tax: rate(tax), sales_tax_rounding: rounding, ..firm }
    }

    // SSUTA §324, as enacted in N.D.C.C. 57-39.4-25: three lines of 3.33 at 6.5 %.
    #[test]
    fn tax_goes_by_the_firms_way_of_rounding_and_says_so() {
        let items = draft(InvoiceFor::Progress, &["3.33", "3.33", "3.33"]);
        let by_item = comes_to(&items, &taxing(TaxRounding::Item, "0.065"), Rate::ZERO);
        assert_eq!(by_item.tax, money("0.66"));
        assert_eq!(by_item.tax_words, "6.5 %, rounded line by line, on 9.99.");
        let once = comes_to(&items, &taxing(TaxRounding::Invoice, "0.065"), Rate::ZERO);
        assert_eq!((once.tax, once.total), (money("0.65"), money("10.64")));
        assert_eq!(once.tax_words, "6.5 % of 9.99, rounded once for the invoice.");
        let typed = InvoiceDraft { tax: Some(money("0.60")), ..items };
        let typed = comes_to(&typed, &taxing(TaxRounding::Invoice, "0.065"), Rate::ZERO);
        assert_eq!(typed.tax, money("0.60"));
        assert!(typed.tax_words.starts_with("As typed. The firm’s rule gives 0.65"));
        let told = ["This invoice has 0.60 of sales tax, and the firm’s rule gives 0.65."];
        assert_eq!((typed.warnings.as_slice(), by_item.warnings.len()), (&told.map(str::to_owned)[..], 0));
    }

    // FAR 32.103: 10 % of 10,000 holds 1,000 and pays 9,000.
    #[test]
    fn what_the_contract_holds_is_held_before_tax() {
        let firm = taxing(TaxRounding::Invoice, "0.05");
        let calculated = comes_to(&draft(InvoiceFor::Progress, &["10000"]), &firm, rate("0.1"));
        assert_eq!((calculated.retainage, calculated.tax), (money("1000"), money("500")));
        assert_eq!((calculated.total, calculated.due), (money("10500"), money("9500")));
        assert_eq!(calculated.retainage_words, "The contract holds 10 % of 10,000.00 before tax: 1,000.00.");
    }

    #[test]
    fn a_credit_memo_counts_below_zero_and_holds_nothing() {
        let firm = taxing(TaxRounding::Invoice, "0.0825");
        let calculated = comes_to(&draft(InvoiceFor::Credit, &["10.00"]), &firm, rate("0.1"));
        assert_eq!((calculated.net, calculated.tax), (money("-10"), money("-0.83")));
        assert_eq!((calculated.retainage, calculated.due), (Money::ZERO, money("-10.83")));
        // What is typed as retainage comes off what is held, and only the rest off what is due.
        let of_held = InvoiceDraft { retainage: Some(money("4")), ..draft(InvoiceFor::Credit, &["10.00"]) };
        let calculated = comes_to(&of_held, &firm, rate("0.1"));
        assert_eq!((calculated.retainage, calculated.due), (money("-4"), money("-6.83")));
        assert_eq!(calculated.warnings, Vec::<String>::new());
    }

    #[test]
    fn what_is_billed_beyond_the_contract_is_told() {
        let (_home, desk) = sample();
        let job = crate::job_names(&desk).unwrap().remove(0).number;
        let small = calculate(&desk, &job, &draft(InvoiceFor::Progress, &["0.01"])).unwrap();
        let large = calculate(&desk, &job, &draft(InvoiceFor::Progress, &["1000000.01"])).unwrap();
        assert!(large.beyond.is_positive());
        assert!(large.beyond > small.beyond);
        assert_eq!(
            calculate(&desk, "no such job", &draft(InvoiceFor::Final, &[])).unwrap_err().code,
            Code::NotFound
        );
    }

    #[test]
    fn the_final_invoice_bills_what_is_left_of_the_contract() {
        let (_home, desk) = sample();
        for name in crate::job_names(&desk).unwrap() {
            let offered = to_bill(&desk, &name.number).unwrap();
            let last = offered.offers.iter().find(|offer| offer.purpose == InvoiceFor::Final).unwrap();
            let lines = last.lines.iter().map(|line| DraftLine { amount: line.amount, taxable: false });
            let all = InvoiceDraft {
                date: None,
                purpose: InvoiceFor::Final,
                lines: lines.collect(),
                tax: None,
                retainage: None,
            };
            let more = InvoiceDraft {
                lines: all
                    .lines
                    .iter()
                    .cloned()
                    .chain([DraftLine { amount: money("0.01"), taxable: false }])
                    .collect(),
                ..all.clone()
            };
            let (exact, over) = (
                calculate(&desk, &name.number, &all).unwrap(),
                calculate(&desk, &name.number, &more).unwrap(),
            );
            // Where more is billed than the contract already, nothing is offered and all of it is beyond.
            if !all.lines.is_empty() {
                assert!(exact.beyond.is_zero(), "{}: {} beyond", name.number, exact.beyond);
                assert_eq!(over.beyond, money("0.01"), "{}", name.number);
            }
            assert!(offered.next.invoice.parse::<u64>().is_ok());
        }
    }

    #[test]
    fn a_final_invoice_tells_of_every_open_condition() {
        let (_home, desk) = sample();
        let said = open_conditions(&desk, "26-021").unwrap();
        assert_eq!(
            said,
            [
                "Condition 2 (6 deck sheets at the roof to wall) is repaired or begun without a decision: what it \
                 cost may never be billed.",
                "Change order 1 of 683.00 waits for its decision.",
            ]
        );
        let unasked = open_conditions(&desk, "26-022").unwrap();
        assert!(
            unasked.iter().any(|said| said.starts_with("Condition 1 (7 deck sheets at the roof to wall)"))
        );
        // Two sheets within the three included; a chimney cricket declined: both are settled.
        for settled in ["26-001", "26-004"] {
            assert_eq!(open_conditions(&desk, settled).unwrap(), Vec::<String>::new(), "{settled}");
        }
        assert_eq!(to_bill(&desk, "26-021").unwrap().open, said);
        assert_eq!(open_conditions(&desk, "no such job").unwrap_err().code, Code::NotFound);
    }

    #[test]
    fn by_time_and_material_what_is_done_is_offered_and_what_may_come_is_told() {
        let (home, reading) = sample();
        drop(reading);
        let mut desk = Desk::open(&home.path().join("firm.tearoff"), Clock::System).unwrap();
        let today = desk.clock.today().to_string();
        let mut recorder = desk::record::Recorder::default();
        let mut record = |desk: &mut Desk, fact: serde_json::Value| recorder.record(desk, fact).unwrap().id;
        let job = "26-022";
        record(
            &mut desk,
            serde_json::json!({"kind": "condition", "date": today, "job": job, "number": "77", "place": "field",
            "cause": "condensation", "damaged": "insulation", "counted_in": "square-foot", "count": "40"}),
        );
        let order = record(
            &mut desk,
            serde_json::json!({"kind": "change-order", "date": today, "job": job, "number": "77",
            "title": "Wet batts", "pricing": "time-and-material", "markup": "0.2", "not_to_exceed": "400.00",
            "lines": [{"code": "deck", "cost_kind": "other", "condition": "26-022/77", "description": "Batts",
                "price": "300.00", "cost": "250.00"}]}),
        );
        record(
            &mut desk,
            serde_json::json!({"kind": "decision", "date": today, "change_order": "26-022/77",
            "verdict": "approved", "decided_by": "The owner of the house", "method": "phone"}),
        );
        let offered = |desk: &Desk, purpose| {
            let offers = to_bill(desk, job).unwrap().offers;
            let lines = offers.into_iter().find(|offer| offer.purpose == purpose).unwrap().lines;
            lines
                .into_iter()
                .find(|line| line.change_order == Some(order.to_string()))
                .map(|line| line.amount)
        };
        // Nothing is spent: nothing is offered, and a final invoice would leave it open.
        assert_eq!(offered(&desk, InvoiceFor::ChangeOrder), None);
        let told = "Change order 77 goes by time and material, and its work is not done: more may come.";
        assert!(open_conditions(&desk, job).unwrap().iter().any(|said| said == told));
        record(
            &mut desk,
            serde_json::json!({"kind": "direct-cost", "date": today, "job": job, "code": "deck",
            "cost_kind": "other", "description": "Batts", "amount": "250.00", "condition": "26-022/77"}),
        );
        assert_eq!(offered(&desk, InvoiceFor::ChangeOrder), Some(money("300.00")));
        assert_eq!(offered(&desk, InvoiceFor::Final), Some(money("300.00")));
        record(
            &mut desk,
            serde_json::json!({"kind": "repair", "date": today, "condition": "26-022/77", "stage": "done"}),
        );
        assert!(!open_conditions(&desk, job).unwrap().iter().any(|said| said == told));
        // Billed for more than it came to: the difference is offered as a credit, not as a bill.
        record(
            &mut desk,
            serde_json::json!({"kind": "invoice", "date": today, "job": job, "number": "A-77",
            "purpose": "change-order", "due": today, "lines": [{"description": "Change order 77",
            "amount": "360.00", "change_order": "26-022/77"}]}),
        );
        assert_eq!(offered(&desk, InvoiceFor::ChangeOrder), None);
        assert_eq!(offered(&desk, InvoiceFor::Credit), Some(money("-60.00")));
    }

    #[test]
    fn lines_and_payments_follow_the_trades_rules() {
        let priced = Priced { quantity: Qty::parse("81").unwrap(), unit_price: rate("34.505") };
        assert_eq!(line_amounts(&[priced]), [money("2794.91")]);
        let part = |due: &str, open: &str| OpenPart { due: due.parse().unwrap(), open: money(open) };
        let open = [part("2026-08-31", "450"), part("2026-07-28", "300")];
        assert_eq!(spread(money("500"), &open), [money("200"), money("300")]);
        assert_eq!(spread(money("50"), &open), [Money::ZERO, money("50")]);
    }
}
