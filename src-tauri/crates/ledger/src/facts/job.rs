//! The job and its contract.

use crate::id::{Digest, Id};
use crate::kind::{fact, row};
use crate::words::{CountedIn, Damaged, JobStatusWord};
use jiff::civil::Date;
use trade::{CostKind, EdgeKind, FeatureKind, Item, Money, Qty, Rate};

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
    JobStatus as "job-status" in "job_status" {
        /// When.
        date: Date,
        /// The job.
        job: Id,
        /// The step.
        stage: JobStatusWord,
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
        code: Id,
        /// In the code's unit.
        quantity: Qty,
    } lists {}
}
row! {
    /// What a further sheet (or foot) costs the homeowner.
    UnitPrice in "contract_unit_price" {
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
        item: Item,
        /// The firm's part; absent where nothing is bought.
        part: Option<Id>,
        /// What and where.
        description: String,
        /// How much, in the item's measure, before waste.
        net: Qty,
        /// Waste, as a fraction.
        waste: Rate,
        /// Whole packages to buy.
        packages: Qty,
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
        item: Item,
        /// The kind of edge; absent in the field and at features.
        edge: Option<EdgeKind>,
        /// The kind of feature.
        feature: Option<FeatureKind>,
        /// How much, in the item's measure, before waste.
        net: Qty,
    } lists {}
}
fact! {
    /// The contract: cost by code, price, included sheets, unit prices, payment schedule.
    Contract as "contract" in "contract" {
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
        /// Retainage: the fraction of each invoice that is held until the end.
        #[serde(default)]
        retainage: Rate,
        /// Note.
        note: Option<String>,
        /// The letter of the choice that was taken, where there were several.
        choice: Option<String>,
        /// Its title.
        choice_title: Option<String>,
        /// The roof as measured then.
        roof: Option<Id>,
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
