//! A recorded burden rate as the trade's arithmetic takes it. What it cannot take is refused when it is recorded, so
//! that nothing that a person typed is passed over in silence.

use crate::closed_lists::BurdenOn;
use crate::error::{LedgerError, refuse};
use crate::facts::BurdenRate;
use rust_decimal::Decimal;
use trade::{BurdenBasis, BurdenPart, PayCounted};

/// What is no burden on labor, though insurers sell it like one, and where it belongs: liability by sales or by the
/// cost of subcontractors. What an hour of work costs does not follow from either. By sales it is a cost of the month,
/// and of no job: a job's revenue is worked out from its cost, so that a cost by revenue would go round in a circle. By
/// subcontract cost it is a cost of the job whose subcontractor it is (company rule).
#[must_use]
pub fn no_burden(calculated_on: &str) -> Option<(&'static str, &'static str)> {
    match calculated_on {
        "sales" => Some((
            "insurance by sales is no burden on labor: what an hour costs does not follow from what is sold",
            "Let the overhead rate cover it, and record the insurer's bills as overhead",
        )),
        "subcontract-cost" => Some((
            "insurance by subcontract cost is no burden on labor: the firm's own hours do not cause it",
            "Record it on the job as a direct cost of the kind other, beside the subcontractor's bill",
        )),
        _ => None,
    }
}

impl BurdenRate {
    /// The part of the burden that it is.
    #[must_use]
    pub fn part(&self) -> BurdenPart {
        let pay = PayCounted { premium: self.on_premium, wage_base: self.wage_base };
        let basis = match self.calculated_on {
            BurdenOn::Pay => BurdenBasis::PercentOfPay { rate: self.rate, pay },
            BurdenOn::HundredOfPay => BurdenBasis::PerHundredOfPay { rate: self.rate, pay },
            BurdenOn::Hour => BurdenBasis::PerHour { amount: self.rate },
        };
        BurdenPart { name: self.name.clone(), class: self.class.clone(), basis }
    }

    /// Refuses what means nothing together.
    pub(crate) fn check(&self) -> Result<(), LedgerError> {
        let rate = self.rate.decimal();
        if rate.is_sign_negative() {
            let problem = format!("{} is below zero", self.rate);
            return refuse("rate", problem, "Type a fraction or an amount of zero or more");
        }
        if self.calculated_on == BurdenOn::Pay && rate >= Decimal::ONE {
            let problem = format!("{} of pay is as much as the pay itself, or more", self.rate);
            return refuse("rate", problem, "For 7.65 % type 0.0765");
        }
        if self.calculated_on == BurdenOn::HundredOfPay && rate >= Decimal::ONE_HUNDRED {
            let problem = format!("{} for each hundred is as much as the pay itself, or more", self.rate);
            return refuse("rate", problem, "Type the dollars for each 100 of pay, such as 14.20");
        }
        if self.wage_base.is_some_and(|base| !base.is_positive()) {
            let problem = "a wage base is above zero, or there is none";
            return refuse("wage_base", problem, "Type the pay beyond which it stops, or leave it empty");
        }
        if self.calculated_on == BurdenOn::Hour && self.wage_base.is_some() {
            let problem = "so much an hour has no pay that could reach a wage base";
            return refuse("wage_base", problem, "Leave it empty, or calculate it on pay");
        }
        if self.calculated_on == BurdenOn::Hour && self.on_premium {
            let problem = "so much an hour does not go by pay, so that the overtime premium cannot count";
            return refuse("on_premium", problem, "Say no, or calculate it on pay");
        }
        Ok(())
    }
}
