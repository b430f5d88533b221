//! What a month moves on each job beside its billing, so that revenue is what was earned.

use crate::month::end::MonthEnd;
use desk::OfficeError;
use ledger::Id;
use ledger::facts::HandedJob;
use std::collections::BTreeMap;
use trade::Money;

/// What the report moved and earlier parts have not given yet. Jobs that balance are left out.
pub(super) fn since(report: &MonthEnd, given: &[HandedJob]) -> Result<Vec<HandedJob>, OfficeError> {
    let mut movements: BTreeMap<Id, [Money; 3]> = BTreeMap::new();
    for job in &report.jobs {
        let id = Id::parse(&job.result.id).map_err(|problem| OfficeError::refused("job", &problem, ""))?;
        movements.insert(id, [job.month.over_billed, job.month.under_billed, job.month.loss_provision]);
    }
    for handed in given {
        let movement = movements.entry(handed.job).or_default();
        movement[0] -= handed.over_billed;
        movement[1] -= handed.under_billed;
        movement[2] -= handed.loss_provision;
    }
    movements.retain(|_, movement| movement.iter().any(|amount| !amount.is_zero()));
    Ok(movements
        .into_iter()
        .map(|(job, [over_billed, under_billed, loss_provision])| HandedJob {
            job,
            over_billed,
            under_billed,
            loss_provision,
        })
        .collect())
}
