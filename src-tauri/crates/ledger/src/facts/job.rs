//! The job and its contract.

use crate::closed_lists::{CountedIn, Damaged, JobStatusWord};
use crate::id::{Digest, Id};
use crate::kind::{fact, row};
use jiff::civil::Date;
use trade::{CostKind, EdgeKind, FeatureKind, Item, Money, Qty, Rate};

fact! {
    /// A job.
    Job as "job" in "job" {
        /// The first version, when this is a later one.
        revises: Option<Id> => open,
        /// From this day.
        date: Date => open,
        /// The firm's number for it.
        number: String => open,
        /// What is done.
        title: String => open,
        /// For whom.
        customer: Id => open,
        /// Where.
        site: String => open,
        /// The state it stands in, by its two letters, where that is not the firm's own.
        state: Option<String> => open,
        /// The crew that is to do it.
        crew: Option<Id> => open,
        /// Age of the old roof.
        roof_age_years: Option<i64> => open,
        /// State of the old roof in a word.
        roof_state: Option<String> => open,
    }
}
fact! {
    /// A step in a job's life.
    JobStatus as "job-status" in "job_status" {
        /// When.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// The step.
        stage: JobStatusWord => open,
    }
}
fact! {
    /// When the work on a job is planned, and by whom. The newest one counts. It moves no money.
    Schedule as "schedule" in "schedule" {
        /// When it was planned so.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// The first day of work.
        begins: Date => open,
        /// The last day of work.
        ends: Option<Date> => open,
        /// Note.
        note: Option<String> => open,
        /// The crew that is planned; the job's own where nobody says.
        crew: Option<Id> => open,
        /// How many days of a crew it takes.
        crew_days: Option<Qty> => open,
    }
}
row! {
    /// What the contract holds for one code and kind of cost.
    ContractLine in "contract_line" {
        /// Code.
        code: Id,
        /// Kind of cost.
        cost_kind: CostKind,
        /// What.
        description: Option<String>,
        /// Cost.
        amount: Money,
        /// How much of it, in the unit of its code's bills.
        quantity: Option<Qty>,
        /// Unit of that quantity.
        unit: Option<String>,
        /// Hours, for labor.
        hours: Option<Qty>,
    } lists {}
}
row! {
    /// How much work the contract holds for a measured code.
    ContractUnits in "contract_units" {
        /// Code.
        code: Id => open,
        /// In the code's unit.
        quantity: Qty => open,
    } lists {}
}
row! {
    /// What a further sheet (or foot) costs the homeowner.
    UnitPrice in "contract_unit_price" {
        /// Of what.
        damaged: Damaged => open,
        /// Counted in.
        counted_in: CountedIn => open,
        /// Price of one.
        price: Money => open,
    } lists {}
}
row! {
    /// When the homeowner pays.
    ScheduledPayment in "contract_payment" {
        /// On what.
        title: String,
        /// How much.
        amount: Money,
    } lists {}
}
row! {
    /// A part of the roof system as contracted: what is bought for it, for the order list and the site sheet.
    ContractPart in "contract_part" {
        /// The item of a roof.
        item: Item => open,
        /// The firm's part; absent where nothing is bought.
        part: Option<Id> => open,
        /// What and where.
        description: String => open,
        /// Its product line, as it was offered.
        product_line: Option<String> => open,
        /// Its color, where it was chosen by then.
        color: Option<String> => open,
        /// How much, in the item's measure, before waste.
        net: Qty => open,
        /// Waste, as a fraction.
        waste: Rate => open,
        /// Whole packages to buy.
        packages: Qty => open,
        /// What they cost the firm.
        cost: Money,
        /// The same as it is told: how it was calculated.
        working: Option<String>,
    } lists {}
}
row! {
    /// How much of an item lies at one place of the roof, for the site sheet.
    ContractPlace in "contract_place" {
        /// The item of a roof.
        item: Item => open,
        /// The kind of edge; absent in the field and at features.
        edge: Option<EdgeKind> => open,
        /// The kind of feature.
        feature: Option<FeatureKind> => open,
        /// How much, in the item's measure, before waste.
        net: Qty => open,
    } lists {}
}
fact! {
    /// The contract: cost by code, price, included sheets, unit prices, payment schedule.
    Contract as "contract" in "contract" {
        /// Signed on.
        date: Date => open,
        /// The job.
        job: Id => open,
        /// Price, before sales tax.
        price: Money,
        /// Deck sheets that the price covers.
        #[serde(default)]
        included_sheets: Qty => open,
        /// Feet of board that the price covers.
        #[serde(default)]
        included_feet: Qty => open,
        /// Retainage: the fraction of each invoice that is held until the end.
        #[serde(default)]
        retainage: Rate,
        /// Note.
        note: Option<String>,
        /// The letter of the choice that was taken, where there were several.
        choice: Option<String> => open,
        /// Its title.
        choice_title: Option<String> => open,
        /// The roof as measured then.
        roof: Option<Id> => open,
        /// Whether it was signed at the customer's home, so that 16 CFR 429 may hold; absent where nobody said.
        sold_at_home: Option<bool> => open,
        /// What it is built with: the company's recipe of the day, or one drawn up for this job.
        recipe: Option<Id> => open,
        /// Hash of the proposal as it was signed.
        proposal: Option<Digest>,
    } with {
        /// Cost by code and kind.
        lines: ContractLine,
        /// Work by measured code.
        units: ContractUnits,
        /// Unit prices for hidden conditions.
        unit_prices: UnitPrice,
        /// Payment schedule.
        payments: ScheduledPayment,
        /// The parts of the roof system.
        parts: ContractPart,
        /// Where they lie.
        places: ContractPlace,
    }
}
