//! The closed lists of words that facts use, each with the label that people read. Each is the trade's own term or
//! plain English.

use crate::column::closed_list;

closed_list! {
    /// What a person does at the firm.
    Role {
        /// Sees everything.
        Owner = "owner": "Owner",
        /// Works on roofs.
        Crew = "crew": "Crew",
        /// Keeps the books.
        Books = "books": "Books",
    }
}
closed_list! {
    /// The language in which a person reads the site view.
    Language {
        /// English.
        English = "en": "English",
        /// Spanish.
        Spanish = "es": "Spanish",
    }
}
closed_list! {
    /// The day on which the firm's work week begins (29 CFR 778.105: fixed and recurring).
    WeekDay {
        /// Monday.
        Monday = "monday": "Monday",
        /// Tuesday.
        Tuesday = "tuesday": "Tuesday",
        /// Wednesday.
        Wednesday = "wednesday": "Wednesday",
        /// Thursday.
        Thursday = "thursday": "Thursday",
        /// Friday.
        Friday = "friday": "Friday",
        /// Saturday.
        Saturday = "saturday": "Saturday",
        /// Sunday.
        Sunday = "sunday": "Sunday",
    }
}
closed_list! {
    /// Where the overtime premium of a week goes.
    PremiumTo {
        /// Over the week's jobs by hours.
        Hours = "hours": "Over the week’s jobs by hours",
        /// To the hours marked as the cause.
        Cause = "cause": "To the job that caused it",
    }
}
closed_list! {
    /// Whether sales tax is rounded on the whole invoice or on each item.
    TaxRounding {
        /// Once.
        Invoice = "invoice": "Once, on the invoice",
        /// Each item.
        Item = "item": "On each item",
    }
}
closed_list! {
    /// What overhead is spread by.
    OverheadBy {
        /// Dollars an hour.
        LaborHours = "labor-hours": "Hours worked",
        /// A share of labor cost.
        LaborCost = "labor-cost": "Labor cost",
        /// Dollars a crew-day.
        CrewDays = "crew-days": "Crew-days",
    }
}
closed_list! {
    /// What a burden is calculated on.
    BurdenOn {
        /// A share of pay, up to a wage base where there is one.
        Pay = "pay": "A percent of pay",
        /// Dollars per hundred of pay, by workers' compensation class.
        HundredOfPay = "hundred-of-pay": "Each $100 of pay",
        /// Dollars per hour.
        Hour = "hour": "Each hour",
    }
}
closed_list! {
    /// A step in a job's life.
    JobStatusWord {
        /// Work began.
        Begun = "begun": "Work began",
        /// Work is done.
        Finished = "finished": "Work is done",
        /// It will not be done.
        Canceled = "canceled": "It will not be done",
    }
}
closed_list! {
    /// Where on the roof.
    Place {
        /// The open field.
        Field = "field": "Open field",
        /// Eave.
        Eave = "eave": "Eave",
        /// Rake.
        Rake = "rake": "Rake",
        /// Valley.
        Valley = "valley": "Valley",
        /// Hip.
        Hip = "hip": "Hip",
        /// Ridge.
        Ridge = "ridge": "Ridge",
        /// Where roof and side wall meet.
        RoofToWall = "roof-to-wall": "Roof to wall",
        /// Chimney.
        Chimney = "chimney": "Chimney",
        /// Skylight.
        Skylight = "skylight": "Skylight",
        /// Pipe.
        Pipe = "pipe": "Pipe",
    }
}
closed_list! {
    /// Why it rotted.
    Cause {
        /// No kick-out where an eave ends at a wall.
        MissingKickOut = "missing-kick-out": "No kick-out at the wall",
        /// Flashing that failed.
        FailedFlashing = "failed-flashing": "Flashing failed",
        /// Ice dam.
        IceDam = "ice-dam": "Ice dam",
        /// Condensation.
        Condensation = "condensation": "Condensation",
        /// A puncture.
        Puncture = "puncture": "Puncture",
        /// An old leak.
        OldLeak = "old-leak": "Old leak",
        /// Another cause, told in the note.
        Other = "other": "Another cause",
        /// Nobody said.
        NotSaid = "not-said": "Not said",
    }
}
closed_list! {
    /// What was damaged.
    Damaged {
        /// A deck sheet.
        DeckSheet = "deck-sheet": "Deck sheet",
        /// Deck board.
        DeckBoard = "deck-board": "Deck board",
        /// Rafter.
        Rafter = "rafter": "Rafter",
        /// Wall sheathing.
        WallSheathing = "wall-sheathing": "Wall sheathing",
        /// Wall framing.
        Framing = "framing": "Wall framing",
        /// Insulation.
        Insulation = "insulation": "Insulation",
        /// The board along the eave.
        Fascia = "fascia": "Fascia",
        /// What closes the overhang from below.
        Soffit = "soffit": "Soffit",
        /// Boards along rakes and corners.
        Trim = "trim": "Trim",
        /// Roofing that lies under the one that was priced.
        HiddenLayer = "hidden-layer": "Hidden layer",
    }
}
closed_list! {
    /// What it is counted in.
    CountedIn {
        /// 4 × 8 ft sheets.
        Sheet = "sheet": "sheets",
        /// Lineal feet.
        Foot = "foot": "feet",
        /// Square feet.
        SquareFoot = "square-foot": "square feet",
        /// Pieces.
        Each = "each": "pieces",
    }
}
closed_list! {
    /// A step in the work on a condition.
    RepairStage {
        /// Work on it began.
        Begun = "begun": "Work begun",
        /// It is repaired.
        Done = "done": "Work done",
    }
}
closed_list! {
    /// What the firm's owner decides where the homeowner declined a repair.
    Course {
        /// The firm repairs it and bears the cost.
        OwnCost = "own-cost": "Repair it at our own cost",
        /// The homeowner has somebody else repair it; nothing goes over it until then.
        ByOthers = "by-others": "They have it repaired by others",
        /// Work stops there.
        Stop = "stop": "Stop here",
    }
}
closed_list! {
    /// How a change order is priced.
    Pricing {
        /// The contract's unit price.
        UnitPrice = "unit-price": "Unit price of the contract",
        /// Time and material with a markup.
        TimeAndMaterial = "time-and-material": "Time and material",
        /// Lump sum.
        LumpSum = "lump-sum": "Lump sum",
    }
}
closed_list! {
    /// What the homeowner said, or the firm for a withdrawal.
    Verdict {
        /// Yes.
        Approved = "approved": "Approved",
        /// No.
        Declined = "declined": "Declined",
        /// Taken back by the firm.
        Withdrawn = "withdrawn": "Withdrawn by us",
    }
}
closed_list! {
    /// How a decision came.
    DecidedBy {
        /// Signed.
        Signed = "signed": "Signed",
        /// By phone.
        Phone = "phone": "By phone",
        /// By text message.
        Text = "text": "By text message",
        /// By e-mail.
        Email = "email": "By e-mail",
    }
}
closed_list! {
    /// What an invoice is for.
    InvoiceFor {
        /// Before work.
        Deposit = "deposit": "Deposit",
        /// As work goes on.
        Progress = "progress": "Progress",
        /// Approved changes.
        ChangeOrder = "change-order": "Change order",
        /// The rest.
        Final = "final": "Final",
        /// A credit memo.
        Credit = "credit": "Credit memo",
    }
}
closed_list! {
    /// How money came.
    PaidBy {
        /// Check.
        Check = "check": "Check",
        /// Card.
        Card = "card": "Card",
        /// Bank transfer.
        Transfer = "transfer": "Bank transfer",
        /// Cash.
        Cash = "cash": "Cash",
    }
}
closed_list! {
    /// The lines of the journal to which the firm gives its own account names.
    JournalLine {
        /// Bank account where payments arrive.
        Bank = "bank": "Bank",
        /// Invoices not yet paid.
        Receivable = "receivable": "Receivable",
        /// Retainage held by customers.
        RetainageReceivable = "retainage-receivable": "Retainage receivable",
        /// Payments not yet applied to an invoice.
        CustomerCredit = "customer-credit": "Customers’ credit",
        /// Sales tax owed.
        SalesTaxPayable = "sales-tax-payable": "Sales tax payable",
        /// Suppliers' and subcontractors' bills.
        Payable = "payable": "Payable",
        /// Pay earned by the crew.
        WagesPayable = "wages-payable": "Wages payable",
        /// Taxes, insurance and benefits on that pay.
        BurdenPayable = "burden-payable": "Burden payable",
        /// Own costs charged to jobs without a bill.
        CostsApplied = "costs-applied": "Costs applied",
        /// Cost of jobs: material.
        CostMaterial = "cost-material": "Cost: material",
        /// Cost of jobs: labor.
        CostLabor = "cost-labor": "Cost: labor",
        /// Cost of jobs: subcontract.
        CostSubcontract = "cost-subcontract": "Cost: subcontract",
        /// Cost of jobs: equipment.
        CostEquipment = "cost-equipment": "Cost: equipment",
        /// Cost of jobs: disposal.
        CostDisposal = "cost-disposal": "Cost: disposal",
        /// Cost of jobs: permits.
        CostPermit = "cost-permit": "Cost: permits",
        /// Cost of jobs: other.
        CostOther = "cost-other": "Cost: other",
        /// Contract revenue.
        Revenue = "revenue": "Revenue",
        /// Earned and not yet billed, job by job.
        UnderBilled = "under-billed": "Under-billed",
        /// Billed and not yet earned, job by job.
        OverBilled = "over-billed": "Over-billed",
        /// Losses foreseen on open jobs.
        LossProvision = "loss-provision": "Loss provision",
        /// The cost of foreseeing them.
        LossExpense = "loss-expense": "Loss expense",
        /// What the firm costs beside its jobs, account by account.
        Overhead = "overhead": "Overhead",
        /// Costs of the firm that nobody asks for yet.
        SetAside = "set-aside": "Set aside",
        /// What vendors let off for being paid early.
        DiscountsTaken = "discounts-taken": "Discounts taken",
    }
}

closed_list! {
    /// Where a cost of the firm without a bill comes from.
    OwedFrom {
        /// It left the bank.
        Bank = "bank": "From the bank",
        /// Pay that is owed.
        Wages = "wages": "Pay that is owed",
        /// Set aside: nobody asks for it yet.
        SetAside = "set-aside": "Set aside",
    }
}
closed_list! {
    /// What a line of the bank is of which the books hold no payment.
    OtherBankLine {
        /// Pay, and what is withheld of it.
        Wages = "wages": "Pay and payroll taxes",
        /// Other taxes.
        Taxes = "taxes": "Other taxes",
        /// Put in or taken out by the owner.
        Owner = "owner": "Put in or taken out by the owner",
        /// To or from another account of the firm.
        OwnAccount = "own-account": "Between the firm’s own accounts",
        /// A loan, or what is paid back of one.
        Loan = "loan": "A loan, or paid back of one",
        /// The bank's own mistake, which it is to put right.
        BankError = "bank-error": "The bank’s own mistake",
        /// Anything else, with a note.
        SomethingElse = "something-else": "Something else",
    }
}
closed_list! {
    /// How often a cost comes again.
    Every {
        /// Each month.
        Month = "month": "Every month",
        /// Each three months.
        Quarter = "quarter": "Every three months",
        /// Each year.
        Year = "year": "Every year",
    }
}
closed_list! {
    /// What a state's own notice is about.
    NoticeOf {
        /// The right to cancel.
        Cancellation = "cancellation": "The right to cancel",
        /// What may be asked before the work.
        Deposit = "deposit": "Deposit before the work",
        /// The right of whoever is not paid to a lien on the house.
        Lien = "lien": "Lien",
    }
}
closed_list! {
    /// What shows that the pamphlet on lead was given (40 CFR 745.84(a)).
    PamphletBy {
        /// A receipt that was signed for it.
        SignedReceipt = "signed-receipt": "A signed receipt",
        /// A certificate of mailing.
        CertificateOfMailing = "certificate-of-mailing": "A certificate of mailing",
    }
}
closed_list! {
    /// What is drawn on a photo.
    MarkKind {
        /// An arrow from one point to another.
        Arrow = "arrow": "Arrow",
        /// A ring round a point.
        Ring = "ring": "Ring",
        /// Words at a point.
        Note = "note": "Note",
    }
}
closed_list! {
    /// How a point of the checklist stands.
    CheckState {
        /// Done as it should be.
        Good = "good": "Good",
        /// Still to be done or repaired.
        Open = "open": "Open",
        /// Not on this roof.
        NotHere = "not-here": "Not on this roof",
    }
}
closed_list! {
    /// In what facts of several devices contradict each other.
    QuestionKind {
        /// Decisions to one change order.
        Decisions = "decisions": "Decisions",
        /// What one change order should cost.
        ChangeCost = "change-cost": "Cost of a change order",
        /// One number for several things.
        Number = "number": "Numbers",
        /// Several contracts for one job.
        Contract = "contract": "Contracts",
        /// More of a payment applied than came.
        Allocation = "allocation": "Payments applied",
        /// A condition repaired more than once.
        Repair = "repair": "Repairs",
        /// Hours of one person and day from several devices.
        Hours = "hours": "Hours",
        /// A job that ended on one device and went on at another.
        Finished = "finished": "Job status",
        /// A point of the checklist that one found good and another open.
        Checks = "checks": "Checks",
        /// A month closed more than once.
        Month = "month": "Closed months",
        /// Days of the bank taken in twice, or a line of it that is said to be two things.
        Bank = "bank": "The bank",
        /// A fact that rests on one that was taken back.
        Reversed = "reversed": "Taken back",
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

impl OverheadBy {
    /// What the rate is for one of: “$12.00 an hour worked”.
    #[must_use]
    pub const fn rate_of(self) -> &'static str {
        match self {
            OverheadBy::LaborHours => "an hour worked",
            OverheadBy::LaborCost => "of labor cost",
            OverheadBy::CrewDays => "a crew-day",
        }
    }
}

impl CountedIn {
    /// One of it, as a unit price names it.
    #[must_use]
    pub const fn single(self) -> &'static str {
        match self {
            CountedIn::Sheet => "sheet",
            CountedIn::Foot => "foot",
            CountedIn::SquareFoot => "square foot",
            CountedIn::Each => "piece",
        }
    }
}

impl Damaged {
    /// How it is counted where nothing else is said.
    #[must_use]
    pub const fn usually_counted_in(self) -> CountedIn {
        match self {
            Damaged::DeckSheet => CountedIn::Sheet,
            Damaged::DeckBoard | Damaged::Framing | Damaged::Fascia | Damaged::Soffit | Damaged::Trim => {
                CountedIn::Foot
            }
            Damaged::Rafter => CountedIn::Each,
            Damaged::WallSheathing | Damaged::Insulation | Damaged::HiddenLayer => CountedIn::SquareFoot,
        }
    }

    /// One of it so counted, and many, as a crew says it.
    #[must_use]
    pub const fn counted(self) -> (&'static str, &'static str) {
        match self {
            Damaged::DeckSheet => ("sheet", "sheets"),
            Damaged::DeckBoard | Damaged::Framing | Damaged::Fascia | Damaged::Soffit | Damaged::Trim => {
                ("foot", "feet")
            }
            Damaged::Rafter => ("rafter", "rafters"),
            Damaged::WallSheathing | Damaged::Insulation | Damaged::HiddenLayer => ("sq ft", "sq ft"),
        }
    }
}

impl Damaged {
    /// Whether a new roof rests on it: the deck, and what carries the deck.
    #[must_use]
    pub fn bears_the_roof(self) -> bool {
        match self {
            Damaged::DeckSheet | Damaged::DeckBoard | Damaged::Rafter | Damaged::Framing => true,
            Damaged::WallSheathing
            | Damaged::Insulation
            | Damaged::Fascia
            | Damaged::Soffit
            | Damaged::Trim
            | Damaged::HiddenLayer => false,
        }
    }
}

impl JournalLine {
    /// What stands on it.
    #[must_use]
    pub const fn about(self) -> &'static str {
        match self {
            JournalLine::Bank => "where payments arrive",
            JournalLine::Receivable => "invoices not yet paid",
            JournalLine::RetainageReceivable => "held by customers as retainage",
            JournalLine::CustomerCredit => "payments and credit memos neither applied nor given back",
            JournalLine::SalesTaxPayable => "owed on what was billed",
            JournalLine::Payable => "suppliers’ and subcontractors’ bills",
            JournalLine::WagesPayable => "pay earned by the crew",
            JournalLine::BurdenPayable => "taxes, insurance and benefits on pay",
            JournalLine::CostsApplied => "direct costs of jobs, without a bill",
            JournalLine::CostMaterial
            | JournalLine::CostLabor
            | JournalLine::CostSubcontract
            | JournalLine::CostEquipment
            | JournalLine::CostDisposal
            | JournalLine::CostPermit
            | JournalLine::CostOther => "of jobs",
            JournalLine::Revenue => "earned on contracts",
            JournalLine::UnderBilled => "earned and not yet billed, job by job",
            JournalLine::OverBilled => "billed and not yet earned, job by job",
            JournalLine::LossProvision => "losses foreseen on open jobs",
            JournalLine::LossExpense => "the cost of foreseeing them",
            JournalLine::Overhead => "what the firm costs beside its jobs",
            JournalLine::SetAside => "costs of the firm that nobody asks for yet",
            JournalLine::DiscountsTaken => "what vendors let off for being paid early",
        }
    }
}
