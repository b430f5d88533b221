//! The kinds of fact. Each struct is one table (and one table for each of its lists), in the order of the columns.
//!
//! Amounts are [`Money`] (cents in SQLite), quantities [`Qty`] (ten-thousandths), unit prices and rates [`Rate`]
//! (millionths; a percentage is a fraction). Ids point at the *first* version of a master record; a later version
//! names it in `revises`.

use crate::id::{Digest, Id};
use crate::kind::{fact, kinds, row};
use crate::words::{
    AnsweredBy, BurdenOn, Cause, CountedIn, Damaged, FindStage, InvoiceFor, JobStage, JournalLine, OverheadBy, PaidBy,
    Place, PremiumTo, Pricing, Role, TaxRounding, Verdict, WeekDay,
};
use jiff::civil::Date;
use trade::{CostKind, Money, Month, Qty, Rate};

// ── the firm and its people ─────────────────────────────────────────────────────────────────────────────────────

fact! {
    /// The firm and its settings. The newest one counts for what is worked out from then on.
    Firm as "firm" in "firm" {
        /// From this day.
        date: Date,
        /// The firm's name.
        name: String,
        /// Town.
        town: String,
        /// Two-letter state.
        state: String,
        /// ISO 4217 code of the books' currency.
        currency: String,
        /// First day of the work week.
        week_begins: WeekDay,
        /// Weekly hours beyond which overtime is due.
        overtime_over_week: Qty,
        /// Daily hours beyond which overtime is due, where state law asks.
        overtime_over_day: Option<Qty>,
        /// Where the overtime premium goes.
        premium_to: PremiumTo,
        /// Sales tax on what is billed, as a fraction; 0 where the firm is the consumer of its materials.
        sales_tax: Rate,
        /// How sales tax is rounded.
        sales_tax_rounding: TaxRounding,
        /// Whether the tax paid on materials is part of a job's cost.
        material_tax_is_cost: bool,
        /// What overhead is spread by.
        overhead_by: OverheadBy,
        /// Dollars an hour or a crew-day, or a fraction of labour cost.
        overhead_rate: Rate,
    }
}
fact! {
    /// A device that writes to the ledger; its letter stands in numbers for people.
    Device as "device" in "device" {
        /// From this day.
        date: Date,
        /// One capital letter.
        letter: String,
        /// What people call it.
        name: String,
    }
}
fact! {
    /// A crew: its size and day are what a crew-day is.
    Crew as "crew" in "crew" {
        /// The first version, when this is a later one.
        revises: Option<Id>,
        /// Name.
        name: String,
        /// People.
        size: i64,
        /// Hours in its usual day.
        hours_a_day: Qty,
    }
}
fact! {
    /// A person of the firm.
    Person as "person" in "person" {
        /// The first version, when this is a later one.
        revises: Option<Id>,
        /// Name.
        name: String,
        /// What they do.
        role: Role,
        /// The crew they usually work with.
        crew: Option<Id>,
        /// Workers' compensation class.
        class: Option<String>,
        /// Left the firm on this day.
        left_on: Option<Date>,
    }
}
fact! {
    /// A homeowner.
    Customer as "customer" in "customer" {
        /// The first version, when this is a later one.
        revises: Option<Id>,
        /// Name.
        name: String,
        /// Address for post.
        address: Option<String>,
        /// Telephone.
        phone: Option<String>,
        /// E-mail.
        email: Option<String>,
    }
}
fact! {
    /// A supplier, subcontractor, hauler or office that sends bills.
    Vendor as "vendor" in "vendor" {
        /// The first version, when this is a later one.
        revises: Option<Id>,
        /// Name.
        name: String,
        /// Whether the year's total is wanted for the subcontractors' return.
        #[serde(default)]
        subcontractor: bool,
    }
}
fact! {
    /// A cost code of the firm's own list.
    CostCode as "cost-code" in "cost_code" {
        /// The first version, when this is a later one.
        revises: Option<Id>,
        /// The short word.
        code: String,
        /// What it covers.
        title: String,
        /// The unit in which work on it is measured, if it is: squares, feet.
        unit: Option<String>,
        /// The unit in which its material is bought and counted, if it is: sheets, rolls, bundles.
        bought_in: Option<String>,
        /// Place in the list.
        position: i64,
    }
}
fact! {
    /// A person's pay from a day on.
    PayRate as "pay-rate" in "pay_rate" {
        /// From this day.
        date: Date,
        /// Who.
        person: Id,
        /// Dollars an hour.
        hourly: Rate,
    }
}
fact! {
    /// An employer's tax, insurance or benefit from a day on; a later one with the same name and class takes over.
    BurdenRate as "burden-rate" in "burden_rate" {
        /// From this day.
        date: Date,
        /// Name.
        name: String,
        /// What it is reckoned on.
        reckoned_on: BurdenOn,
        /// A fraction of pay, dollars per hundred of pay, or dollars an hour.
        rate: Rate,
        /// Pay of one person and year beyond which it stops.
        wage_base: Option<Money>,
        /// The workers' compensation class it is for; all when absent.
        class: Option<String>,
        /// Whether the overtime premium counts.
        #[serde(default)]
        on_premium: bool,
    }
}
fact! {
    /// Pay beyond hourly pay that counts towards the regular rate of its week (29 CFR 778.208).
    Bonus as "bonus" in "bonus" {
        /// A day of the week it belongs to.
        date: Date,
        /// Who.
        person: Id,
        /// Amount.
        amount: Money,
        /// What for.
        note: Option<String>,
    }
}
fact! {
    /// The firm's own account name for a line of the journal.
    Account as "account" in "account" {
        /// The line.
        line: JournalLine,
        /// The firm's name or number for it.
        name: String,
    }
}

// ── the job and its promise ─────────────────────────────────────────────────────────────────────────────────────

fact! {
    /// A job.
    Job as "job" in "job" {
        /// The first version, when this is a later one.
        revises: Option<Id>,
        /// From this day.
        date: Date,
        /// The firm's number for it.
        number: String,
        /// What is done.
        title: String,
        /// For whom.
        customer: Id,
        /// Where.
        site: String,
        /// The crew that is to do it.
        crew: Option<Id>,
        /// Age of the old roof.
        roof_age_years: Option<i64>,
        /// State of the old roof in a word.
        roof_state: Option<String>,
    }
}
fact! {
    /// A step in a job's life.
    JobStep as "job-step" in "job_step" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// The step.
        stage: JobStage,
    }
}
row! {
    /// What the promise holds for one code and kind of cost.
    PromiseLine in "promise_line" {
        /// Code.
        code: Id,
        /// Kind of cost.
        cost_kind: CostKind,
        /// What.
        description: Option<String>,
        /// Cost.
        amount: Money,
        /// How much of it, in the unit of its code's receipts.
        quantity: Option<Qty>,
        /// Unit of that quantity.
        unit: Option<String>,
        /// Hours, for labour.
        hours: Option<Qty>,
    } lists {}
}
row! {
    /// How much work the promise holds for a measured code.
    PromiseUnits in "promise_units" {
        /// Code.
        code: Id,
        /// In the code's unit.
        quantity: Qty,
    } lists {}
}
row! {
    /// What a further sheet (or foot) costs the homeowner.
    UnitPrice in "promise_unit_price" {
        /// Of what.
        damaged: Damaged,
        /// Counted in.
        counted_in: CountedIn,
        /// Price of one.
        price: Money,
    } lists {}
}
row! {
    /// When the homeowner pays.
    ScheduledPayment in "promise_payment" {
        /// On what.
        title: String,
        /// How much.
        amount: Money,
    } lists {}
}
fact! {
    /// The contract: cost by code, price, included sheets, unit prices, payment schedule.
    Promise as "promise" in "promise" {
        /// Signed on.
        date: Date,
        /// The job.
        job: Id,
        /// Price, before sales tax.
        price: Money,
        /// Deck sheets that the price covers.
        #[serde(default)]
        included_sheets: Qty,
        /// Feet of board that the price covers.
        #[serde(default)]
        included_feet: Qty,
        /// Share of each invoice held until the end.
        #[serde(default)]
        retainage: Rate,
        /// Note.
        note: Option<String>,
    } with {
        /// Cost by code and kind.
        lines: PromiseLine,
        /// Work by measured code.
        units: PromiseUnits,
        /// Unit prices for hidden conditions.
        unit_prices: UnitPrice,
        /// Payment schedule.
        payments: ScheduledPayment,
    }
}

// ── spend ───────────────────────────────────────────────────────────────────────────────────────────────────────

row! {
    /// A line of an order.
    OrderLine in "purchase_order_line" {
        /// Code.
        code: Id,
        /// Kind of cost; not labour.
        cost_kind: CostKind,
        /// What.
        description: Option<String>,
        /// How many.
        quantity: Option<Qty>,
        /// Of what unit.
        unit: Option<String>,
        /// Amount.
        amount: Money,
    } lists {}
}
fact! {
    /// Something ordered for a job and not yet received: committed cost.
    PurchaseOrder as "purchase-order" in "purchase_order" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// From whom.
        vendor: Id,
        /// The firm's number for it.
        number: String,
        /// Wanted on site by.
        expected_on: Option<Date>,
    } with {
        /// What is ordered.
        lines: OrderLine,
    }
}
row! {
    /// A line of a receipt.
    ReceiptLine in "receipt_line" {
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// Kind of cost; not labour.
        cost_kind: CostKind,
        /// What.
        description: Option<String>,
        /// How many, in the unit of the promise.
        quantity: Option<Qty>,
        /// Unit.
        unit: Option<String>,
        /// Price of one, when printed.
        unit_price: Option<Rate>,
        /// Amount before tax; negative on a credit.
        amount: Money,
        /// Tax on it; negative on a credit.
        #[serde(default)]
        tax: Money,
        /// The hidden condition it was for.
        find: Option<Id>,
    } lists {}
}
fact! {
    /// A vendor's bill or credit.
    Receipt as "receipt" in "receipt" {
        /// Date on it.
        date: Date,
        /// From whom.
        vendor: Id,
        /// The number on it.
        reference: String,
        /// The order it fills.
        purchase_order: Option<Id>,
        /// Whether nothing more will come on that order.
        #[serde(default)]
        completes_order: bool,
        /// Whether it is a supplier's credit; its lines are then negative.
        #[serde(default)]
        credit: bool,
        /// Note.
        note: Option<String>,
    } with {
        /// Its lines.
        lines: ReceiptLine,
    }
}
fact! {
    /// A cost of a job without a bill: own equipment, a fee paid in cash.
    Charge as "charge" in "charge" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// Kind of cost; not labour.
        cost_kind: CostKind,
        /// What for.
        description: String,
        /// Amount.
        amount: Money,
        /// The hidden condition it was for.
        find: Option<Id>,
    }
}
fact! {
    /// Hours of one person on one day, job and code.
    Time as "time" in "time" {
        /// Day.
        date: Date,
        /// Who.
        person: Id,
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// Hours.
        hours: Qty,
        /// The crew they worked with.
        crew: Option<Id>,
        /// Whether these hours made the overtime.
        #[serde(default)]
        caused_overtime: bool,
        /// The hidden condition they were for.
        find: Option<Id>,
    }
}
fact! {
    /// Material on site and not installed, at cost, as counted on a day; the newest count of a job and code stands.
    StoredMaterial as "stored-material" in "stored_material" {
        /// Counted on.
        date: Date,
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// At cost.
        amount: Money,
    }
}
fact! {
    /// Work done on a measured code.
    UnitsDone as "units-done" in "units_done" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// In the code's unit, since the last entry.
        quantity: Qty,
    }
}
fact! {
    /// The owner's own forecast of what a code will have cost at the end.
    Forecast as "forecast" in "forecast" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// Cost at completion.
        amount: Money,
        /// Why.
        note: Option<String>,
    }
}

// ── surprises ───────────────────────────────────────────────────────────────────────────────────────────────────

row! {
    /// A photo of a find.
    FindPhoto in "find_photo" {
        /// Hash of the attachment.
        photo: Digest,
    } lists {}
}
fact! {
    /// A hidden condition found at the tear-off.
    Find as "find" in "find" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// The number for people.
        number: String,
        /// Where on the roof.
        place: Place,
        /// Which side.
        side: Option<String>,
        /// Why.
        cause: Cause,
        /// What.
        damaged: Damaged,
        /// Counted in.
        counted_in: CountedIn,
        /// How many.
        count: Qty,
        /// Why the count differs from the reckoned one.
        count_reason: Option<String>,
        /// Note.
        note: Option<String>,
    } with {
        /// Photos.
        photos: FindPhoto,
    }
}
fact! {
    /// Work on a find begun or done.
    FindStep as "find-step" in "find_step" {
        /// When.
        date: Date,
        /// The find.
        find: Id,
        /// The step.
        stage: FindStage,
    }
}
row! {
    /// A line of a change order.
    ChangeLine in "change_order_line" {
        /// Code.
        code: Id,
        /// Kind of cost.
        cost_kind: CostKind,
        /// The find it mends; absent for a change of the customer's own.
        find: Option<Id>,
        /// What.
        description: String,
        /// How many.
        quantity: Option<Qty>,
        /// Unit.
        unit: Option<String>,
        /// Price to the customer; negative for a deduct.
        price: Money,
        /// What it should cost the firm.
        cost: Money,
        /// Hours in that cost.
        hours: Option<Qty>,
    } lists {}
}
fact! {
    /// A change order put to the homeowner.
    ChangeOrder as "change-order" in "change_order" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// The number for people.
        number: String,
        /// What it is about.
        title: String,
        /// How it is priced.
        pricing: Pricing,
        /// Markup on time and material, as a fraction.
        markup: Option<Rate>,
        /// The most it may come to.
        not_to_exceed: Option<Money>,
        /// Days by which the end moves.
        days: Option<i64>,
    } with {
        /// Its lines.
        lines: ChangeLine,
    }
}
row! {
    /// An answer to one line, where lines were answered apart.
    AnswerLine in "answer_line" {
        /// Line of the change order, from 1.
        change_line: i64,
        /// What was said of it.
        verdict: Verdict,
    } lists {}
}
fact! {
    /// The answer to a change order.
    Answer as "answer" in "answer" {
        /// When.
        date: Date,
        /// The change order.
        change_order: Id,
        /// What was said.
        verdict: Verdict,
        /// By whom.
        answered_by: String,
        /// How it came.
        means: AnsweredBy,
        /// Hash of the signature's picture.
        signature: Option<Digest>,
        /// Whether the caution was given with a decline.
        #[serde(default)]
        caution_given: bool,
        /// Note.
        note: Option<String>,
    } with {
        /// Lines answered apart from the whole.
        lines: AnswerLine,
    }
}

// ── money in ────────────────────────────────────────────────────────────────────────────────────────────────────

row! {
    /// A line of an invoice.
    InvoiceLine in "invoice_line" {
        /// What.
        description: String,
        /// Amount before tax; negative on a credit.
        amount: Money,
        /// Whether sales tax is due on it.
        #[serde(default)]
        taxable: bool,
        /// The change order it bills.
        change_order: Option<Id>,
    } lists {}
}
fact! {
    /// An invoice, or a credit note.
    Invoice as "invoice" in "invoice" {
        /// Date on it.
        date: Date,
        /// The job.
        job: Id,
        /// The number for people.
        number: String,
        /// What it is for.
        purpose: InvoiceFor,
        /// Due on.
        due: Date,
        /// Sales tax.
        #[serde(default)]
        tax: Money,
        /// Held until the end.
        #[serde(default)]
        retainage: Money,
        /// The invoice that a credit note lowers.
        credits: Option<Id>,
        /// Note.
        note: Option<String>,
    } with {
        /// Its lines.
        lines: InvoiceLine,
    }
}
fact! {
    /// Retainage of an invoice that is now due.
    RetainageRelease as "retainage-release" in "retainage_release" {
        /// When.
        date: Date,
        /// The invoice that held it.
        invoice: Id,
        /// How much.
        amount: Money,
        /// Due on.
        due: Date,
    }
}
fact! {
    /// Money that came.
    Payment as "payment" in "payment" {
        /// When.
        date: Date,
        /// From whom.
        customer: Id,
        /// How much.
        amount: Money,
        /// How.
        means: PaidBy,
        /// Check number or the like.
        reference: Option<String>,
    }
}
fact! {
    /// A payment put to an invoice.
    Application as "application" in "application" {
        /// When.
        date: Date,
        /// The payment.
        payment: Id,
        /// The invoice.
        invoice: Id,
        /// How much.
        amount: Money,
    }
}

// ── month end ───────────────────────────────────────────────────────────────────────────────────────────────────

row! {
    /// How far each device's facts were in when a month was closed.
    ClosedThrough in "month_closed_device" {
        /// The device.
        device: String,
        /// Its last entry that the month took in.
        through_seq: i64,
    } lists {}
}
row! {
    /// Labour cost booked in the closed month, frozen, since a week across the month's end may still change.
    ClosedLabour in "month_closed_labour" {
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// The hidden condition, if any.
        find: Option<Id>,
        /// Straight pay and bonus.
        straight: Money,
        /// Overtime premium.
        premium: Money,
        /// Taxes, insurance and benefits.
        burden: Money,
    } lists {}
}
row! {
    /// A job's figures as they stood at the close; verify works them out again and compares.
    ClosedJob in "month_closed_job" {
        /// The job.
        job: Id,
        /// Promise and approved changes.
        contract: Money,
        /// Cost to date.
        cost: Money,
        /// Forecast cost at completion.
        forecast: Money,
        /// Earned to date.
        earned: Money,
        /// Billed to date.
        billed: Money,
        /// Loss provided for.
        loss_provision: Money,
    } lists {}
}
fact! {
    /// A month closed: its figures never change again.
    MonthClosed as "month-closed" in "month_closed" {
        /// When it was closed.
        date: Date,
        /// The month.
        month: Month,
    } with {
        /// Marks.
        devices: ClosedThrough,
        /// Frozen labour.
        labour: ClosedLabour,
        /// Frozen results.
        jobs: ClosedJob,
    }
}
row! {
    /// How far each device's facts were in when a hand-off was made.
    HandedThrough in "hand_off_device" {
        /// The device.
        device: String,
        /// Its last entry that the hand-off took in.
        through_seq: i64,
    } lists {}
}
row! {
    /// Labour that a hand-off gave to the bookkeeper, as it was reckoned then: later hours of the same week may still
    /// change it, and a later part holds only the difference.
    HandedLabour in "hand_off_labour" {
        /// The hours, or their reversal; absent for a difference that belongs to no single entry.
        source: Option<Id>,
        /// The job.
        job: Id,
        /// Code.
        code: Id,
        /// The hidden condition, if any.
        find: Option<Id>,
        /// Straight pay and bonus.
        straight: Money,
        /// Overtime premium.
        premium: Money,
        /// Taxes, insurance and benefits.
        burden: Money,
    } lists {}
}
row! {
    /// What a hand-off moved on a job beside its billing, so that revenue is what was earned.
    HandedJob in "hand_off_job" {
        /// The job.
        job: Id,
        /// Change in what is billed beyond what is earned.
        over_billed: Money,
        /// Change in what is earned beyond what is billed.
        under_billed: Money,
        /// Change in the loss provided for.
        loss_provision: Money,
    } lists {}
}
fact! {
    /// A set of files given to the bookkeeper.
    HandOff as "hand-off" in "hand_off" {
        /// When.
        date: Date,
        /// The month.
        month: Month,
        /// 1 for the first of a month, 2 for what was new after it, and so on.
        part: i64,
        /// Debits of its journal, equal to its credits.
        journal_debits: Money,
        /// Hash over its files.
        files: Digest,
    } with {
        /// Marks.
        devices: HandedThrough,
        /// Labour.
        labour: HandedLabour,
        /// Movements by job.
        jobs: HandedJob,
    }
}
fact! {
    /// A file beside the ledger.
    Attachment as "attachment" in "attachment" {
        /// When.
        date: Date,
        /// Its hash, which is also its name on disk.
        hash: Digest,
        /// Media type.
        media_type: String,
        /// Size.
        bytes: i64,
        /// The name it came with.
        name: Option<String>,
    }
}
fact! {
    /// Cancels another fact to the cent.
    Reversal as "reversal" in "reversal" {
        /// When.
        date: Date,
        /// The fact.
        reverses: Id,
        /// Why.
        reason: String,
    }
}

kinds! {
    Firm, Device, Crew, Person, Customer, Vendor, CostCode, PayRate, BurdenRate, Bonus, Account, Job, JobStep, Promise,
    PurchaseOrder, Receipt, Charge, Time, StoredMaterial, UnitsDone, Forecast, Find, FindStep, ChangeOrder, Answer,
    Invoice, RetainageRelease, Payment, Application, MonthClosed, HandOff, Attachment, Reversal,
}
