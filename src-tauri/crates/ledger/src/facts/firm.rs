//! The firm, its people and its lists.

use crate::closed_lists::{
    BurdenOn, JournalLine, Language, OverheadBy, PremiumTo, Role, TaxRounding, WeekDay,
};
use crate::id::{Digest, Id, PublicKey};
use crate::kind::fact;
use jiff::civil::Date;
use trade::{Money, Qty, Rate};

fact! {
    /// The firm and its settings. Each figure uses those of its own day ([`crate::InForce`]).
    #[cfg_attr(feature = "ts", derive(ts_rs::TS))]
    Firm as "firm" in "firm" {
        /// From this day.
        #[cfg_attr(feature = "ts", ts(as = "String"))]
        date: Date => open,
        /// The firm's name.
        name: String => open,
        /// Town.
        town: String => open,
        /// Two-letter state.
        state: String => open,
        /// Street address of the place of business.
        street: Option<String> => open,
        /// ZIP code.
        zip: Option<String> => open,
        /// Telephone.
        phone: Option<String> => open,
        /// Its license, in the words that its state asks for.
        license: Option<String> => open,
        /// A picture of its mark, for the head of its papers.
        logo: Option<Digest> => open,
        /// Number under which it is certified for renovation where there is lead-based paint (40 CFR 745.89).
        lead_certificate: Option<String> => open,
        /// ISO 4217 code of the books' currency.
        currency: String => open,
        /// First day of the work week.
        week_begins: WeekDay => open,
        /// Weekly hours beyond which overtime is due.
        overtime_over_week: Qty,
        /// Daily hours beyond which overtime is due, where state law asks.
        overtime_over_day: Option<Qty>,
        /// Where the overtime premium goes.
        premium_to: PremiumTo,
        /// Sales tax on what is billed, as a fraction; 0 where the firm is the consumer of its materials.
        sales_tax: Rate => open,
        /// How sales tax is rounded.
        sales_tax_rounding: TaxRounding => open,
        /// Whether the tax paid on materials is part of a job's cost.
        material_tax_is_cost: bool,
        /// What overhead is spread by.
        overhead_by: OverheadBy,
        /// Dollars an hour or a crew-day, or a fraction of labor cost.
        overhead_rate: Rate,
        /// Whether whoever keeps the books sees what the jobs and the firm make.
        books_see_margin: Option<bool>,
    }
}
fact! {
    /// A device that writes to the ledger; its letter stands in numbers for people. Without a key it writes here alone.
    Device as "device" in "device" {
        /// From this day.
        date: Date => open,
        /// Capital letters: A to Z, then AA and on.
        letter: String => open,
        /// What people call it.
        name: String => open,
        /// What it may hold: a crew's holds the open part only.
        role: Option<Role> => open,
        /// Whose it is.
        person: Option<Id> => open,
        /// The key that its chain's head is signed with.
        signs_with: Option<PublicKey> => open,
        /// What parcels to it are locked with.
        locks_with: Option<String> => open,
    }
}
fact! {
    /// A device that is no longer the firm's: what it wrote after this entry is not believed.
    DeviceLeft as "device-left" in "device_left" {
        /// From this day.
        date: Date => open,
        /// The device.
        device: Id => open,
        /// Its last entry that is believed.
        last_seq: i64 => open,
        /// Why.
        reason: Option<String> => open,
    }
}
fact! {
    /// A crew: its size and day are what a crew-day is. Each day uses the crew of its day.
    Crew as "crew" in "crew" {
        /// The first version, when this is a later one.
        revises: Option<Id> => open,
        /// From this day, in a later version; the first one counts from the beginning.
        date: Option<Date> => open,
        /// Name.
        name: String => open,
        /// People.
        size: i64 => open,
        /// Hours in its usual day.
        hours_a_day: Qty => open,
    }
}
fact! {
    /// A person of the firm.
    Person as "person" in "person" {
        /// The first version, when this is a later one.
        revises: Option<Id> => open,
        /// From this day, in a later version; the first one counts from the beginning.
        date: Option<Date> => open,
        /// Name.
        name: String => open,
        /// What they do.
        role: Role => open,
        /// The crew they usually work with.
        crew: Option<Id> => open,
        /// Workers' compensation class.
        class: Option<String>,
        /// Left the firm on this day.
        left_on: Option<Date> => open,
        /// In what they read the site view; English where nothing is said.
        language: Option<Language> => open,
    }
}
fact! {
    /// A homeowner.
    Customer as "customer" in "customer" {
        /// The first version, when this is a later one.
        revises: Option<Id> => open,
        /// Name.
        name: String => open,
        /// Address for post.
        address: Option<String> => open,
        /// Telephone.
        phone: Option<String> => open,
        /// E-mail.
        email: Option<String> => open,
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
        /// In how many days its bills are due.
        due_days: Option<i64>,
    }
}
fact! {
    /// A cost code of the firm's own list.
    CostCode as "cost-code" in "cost_code" {
        /// The first version, when this is a later one.
        revises: Option<Id> => open,
        /// The short word.
        code: String => open,
        /// What it covers.
        title: String => open,
        /// The unit in which work on it is measured, if it is: squares, feet.
        unit: Option<String> => open,
        /// The unit in which its material is bought and counted, if it is: sheets, rolls, bundles.
        bought_in: Option<String> => open,
        /// Place in the list.
        position: i64 => open,
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
        /// What it is calculated on.
        calculated_on: BurdenOn,
        /// A fraction of pay, dollars per hundred of pay, or dollars an hour.
        rate: Rate,
        /// Pay of one person and year beyond which it stops; never by the hour.
        wage_base: Option<Money>,
        /// The workers' compensation class it is for; all when absent.
        class: Option<String>,
        /// Whether the overtime premium counts as pay; never by the hour.
        #[serde(default)]
        on_premium: bool,
        /// Where rate and wage base are written: the law, a notice of the state, the insurer's policy.
        source: Option<String>,
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
    /// The firm's own account for a line of the journal.
    Account as "account" in "account" {
        /// The line.
        line: JournalLine,
        /// Its number in the firm's books.
        number: Option<String>,
        /// The firm's name for it.
        name: String,
    }
}
