//! The closed lists of words that facts use. Each is the trade's own term or plain English.

use crate::column::words;

words! {
    /// What a person does at the firm.
    Role {
        /// Sees everything.
        Owner = "owner",
        /// Works on roofs.
        Crew = "crew",
        /// Keeps the books.
        Books = "books",
    }
}
words! {
    /// The day on which the firm's work week begins (29 CFR 778.105: fixed and recurring).
    WeekDay {
        /// Monday.
        Monday = "monday",
        /// Tuesday.
        Tuesday = "tuesday",
        /// Wednesday.
        Wednesday = "wednesday",
        /// Thursday.
        Thursday = "thursday",
        /// Friday.
        Friday = "friday",
        /// Saturday.
        Saturday = "saturday",
        /// Sunday.
        Sunday = "sunday",
    }
}
words! {
    /// Where the overtime premium of a week goes.
    PremiumTo {
        /// Over the week's jobs by hours.
        Hours = "hours",
        /// To the hours marked as the cause.
        Cause = "cause",
    }
}
words! {
    /// Whether sales tax is rounded on the whole invoice or on each item.
    TaxRounding {
        /// Once.
        Invoice = "invoice",
        /// Each item.
        Item = "item",
    }
}
words! {
    /// What overhead is spread by.
    OverheadBy {
        /// Dollars an hour.
        LaborHours = "labor-hours",
        /// A share of labor cost.
        LaborCost = "labor-cost",
        /// Dollars a crew-day.
        CrewDays = "crew-days",
    }
}
words! {
    /// What a burden is calculated on.
    BurdenOn {
        /// A share of pay, up to a wage base where there is one.
        Pay = "pay",
        /// Dollars per hundred of pay, by workers' compensation class.
        HundredOfPay = "hundred-of-pay",
        /// Dollars per hour.
        Hour = "hour",
    }
}
words! {
    /// A step in a job's life.
    JobStatusWord {
        /// Work began.
        Begun = "begun",
        /// Work is done.
        Finished = "finished",
        /// It will not be done.
        Canceled = "canceled",
    }
}
words! {
    /// Where on the roof.
    Place {
        /// The open field.
        Field = "field",
        /// Eave.
        Eave = "eave",
        /// Rake.
        Rake = "rake",
        /// Valley.
        Valley = "valley",
        /// Hip.
        Hip = "hip",
        /// Ridge.
        Ridge = "ridge",
        /// Where roof and side wall meet.
        RoofToWall = "roof-to-wall",
        /// Chimney.
        Chimney = "chimney",
        /// Skylight.
        Skylight = "skylight",
        /// Pipe.
        Pipe = "pipe",
    }
}
words! {
    /// Why it rotted.
    Cause {
        /// No kick-out where an eave ends at a wall.
        MissingKickOut = "missing-kick-out",
        /// Flashing that failed.
        FailedFlashing = "failed-flashing",
        /// Ice dam.
        IceDam = "ice-dam",
        /// Condensation.
        Condensation = "condensation",
        /// A puncture.
        Puncture = "puncture",
        /// An old leak.
        OldLeak = "old-leak",
        /// Another cause, told in the note.
        Other = "other",
        /// Nobody said.
        NotSaid = "not-said",
    }
}
words! {
    /// What was damaged.
    Damaged {
        /// A deck sheet.
        DeckSheet = "deck-sheet",
        /// Deck board.
        DeckBoard = "deck-board",
        /// Rafter.
        Rafter = "rafter",
        /// Wall sheathing.
        WallSheathing = "wall-sheathing",
        /// Wall framing.
        Framing = "framing",
        /// Insulation.
        Insulation = "insulation",
    }
}
words! {
    /// What it is counted in.
    CountedIn {
        /// 4 × 8 ft sheets.
        Sheet = "sheet",
        /// Lineal feet.
        Foot = "foot",
        /// Square feet.
        SquareFoot = "square-foot",
        /// Pieces.
        Each = "each",
    }
}
words! {
    /// A step in the work on a condition.
    RepairStage {
        /// Work on it began.
        Begun = "begun",
        /// It is repaired.
        Done = "done",
    }
}
words! {
    /// What the firm's owner decides where the homeowner declined a repair.
    Course {
        /// The firm repairs it and bears the cost.
        OwnCost = "own-cost",
        /// The homeowner has somebody else repair it; nothing goes over it until then.
        ByOthers = "by-others",
        /// Work stops there.
        Stop = "stop",
    }
}
words! {
    /// How a change order is priced.
    Pricing {
        /// The contract's unit price.
        UnitPrice = "unit-price",
        /// Time and material with a markup.
        TimeAndMaterial = "time-and-material",
        /// Lump sum.
        LumpSum = "lump-sum",
    }
}
words! {
    /// What the homeowner said, or the firm for a withdrawal.
    Verdict {
        /// Yes.
        Approved = "approved",
        /// No.
        Declined = "declined",
        /// Taken back by the firm.
        Withdrawn = "withdrawn",
    }
}
words! {
    /// How a decision came.
    DecidedBy {
        /// Signed.
        Signed = "signed",
        /// By phone.
        Phone = "phone",
        /// By text message.
        Text = "text",
        /// By e-mail.
        Email = "email",
    }
}
words! {
    /// What an invoice is for.
    InvoiceFor {
        /// Before work.
        Deposit = "deposit",
        /// As work goes on.
        Progress = "progress",
        /// Approved changes.
        ChangeOrder = "change-order",
        /// The rest.
        Final = "final",
        /// A credit memo.
        Credit = "credit",
    }
}
words! {
    /// How money came.
    PaidBy {
        /// Check.
        Check = "check",
        /// Card.
        Card = "card",
        /// Bank transfer.
        Transfer = "transfer",
        /// Cash.
        Cash = "cash",
    }
}
words! {
    /// The lines of the journal to which the firm gives its own account names.
    JournalLine {
        /// Bank account where payments arrive.
        Bank = "bank",
        /// Invoices not yet paid.
        Receivable = "receivable",
        /// Retainage held by customers.
        RetainageReceivable = "retainage-receivable",
        /// Payments and credit memos neither applied to an invoice nor given back.
        CustomerCredit = "customer-credit",
        /// Sales tax owed.
        SalesTaxPayable = "sales-tax-payable",
        /// Suppliers' and subcontractors' bills.
        Payable = "payable",
        /// Pay earned by the crew.
        WagesPayable = "wages-payable",
        /// Taxes, insurance and benefits on that pay.
        BurdenPayable = "burden-payable",
        /// Own costs charged to jobs without a bill.
        CostsApplied = "costs-applied",
        /// Cost of jobs: material.
        CostMaterial = "cost-material",
        /// Cost of jobs: labor.
        CostLabor = "cost-labor",
        /// Cost of jobs: subcontract.
        CostSubcontract = "cost-subcontract",
        /// Cost of jobs: equipment.
        CostEquipment = "cost-equipment",
        /// Cost of jobs: disposal.
        CostDisposal = "cost-disposal",
        /// Cost of jobs: permits.
        CostPermit = "cost-permit",
        /// Cost of jobs: other.
        CostOther = "cost-other",
        /// Contract revenue.
        Revenue = "revenue",
        /// Earned and not yet billed, job by job.
        UnderBilled = "under-billed",
        /// Billed and not yet earned, job by job.
        OverBilled = "over-billed",
        /// Losses foreseen on open jobs.
        LossProvision = "loss-provision",
        /// The cost of foreseeing them.
        LossExpense = "loss-expense",
    }
}

words! {
    /// What a state's own notice is about.
    NoticeOf {
        /// The right to cancel.
        Cancellation = "cancellation",
        /// What may be asked before the work.
        Deposit = "deposit",
        /// The right of whoever is not paid to a lien on the house.
        Lien = "lien",
    }
}
words! {
    /// What shows that the pamphlet on lead was given (40 CFR 745.84(a)).
    PamphletBy {
        /// A receipt that was signed for it.
        SignedReceipt = "signed-receipt",
        /// A certificate of mailing.
        CertificateOfMailing = "certificate-of-mailing",
    }
}
words! {
    /// What is drawn on a photo.
    MarkKind {
        /// An arrow from one point to another.
        Arrow = "arrow",
        /// A ring round a point.
        Ring = "ring",
        /// Words at a point.
        Note = "note",
    }
}
words! {
    /// How a point of the checklist stands.
    CheckState {
        /// Done as it should be.
        Good = "good",
        /// Still to be done or repaired.
        Open = "open",
        /// Not on this roof.
        NotHere = "not-here",
    }
}
words! {
    /// In what facts of several devices contradict each other.
    QuestionKind {
        /// Decisions to one change order.
        Decisions = "decisions",
        /// One number for several things.
        Number = "number",
        /// Several contracts for one job.
        Contract = "contract",
        /// More of a payment applied than came.
        Allocation = "allocation",
        /// A condition repaired more than once.
        Repair = "repair",
        /// Hours of one person and day from several devices.
        Hours = "hours",
        /// A job that ended on one device and went on at another.
        Finished = "finished",
        /// A point of the checklist that one found good and another open.
        Checks = "checks",
        /// A month closed more than once.
        Month = "month",
        /// A fact that rests on one that was taken back.
        Reversed = "reversed",
    }
}

impl WeekDay {
    /// The same day as the date library knows it.
    #[must_use]
    pub fn civil(self) -> jiff::civil::Weekday {
        use jiff::civil::Weekday;
        match self {
            WeekDay::Monday => Weekday::Monday,
            WeekDay::Tuesday => Weekday::Tuesday,
            WeekDay::Wednesday => Weekday::Wednesday,
            WeekDay::Thursday => Weekday::Thursday,
            WeekDay::Friday => Weekday::Friday,
            WeekDay::Saturday => Weekday::Saturday,
            WeekDay::Sunday => Weekday::Sunday,
        }
    }
}

impl Damaged {
    /// Whether a new roof rests on it: the deck, and what carries the deck.
    #[must_use]
    pub fn bears_the_roof(self) -> bool {
        match self {
            Damaged::DeckSheet | Damaged::DeckBoard | Damaged::Rafter | Damaged::Framing => true,
            Damaged::WallSheathing | Damaged::Insulation => false,
        }
    }
}
