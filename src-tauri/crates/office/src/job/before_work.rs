//! When work on a job begins, and what is to be settled before it does: the days in which the customer may still
//! cancel, and the pamphlet on lead for an old house.

use crate::job::roof::measured_roof;
use desk::Desk;
use desk::OfficeError;
use jiff::civil::Date;
use ledger::closed_lists::{JobStatusWord, PamphletBy};
use ledger::facts::{Contract, Job, JobStatus, LeadPamphlet, Schedule};
use ledger::{Books, Fact, Id};
use trade::roof::measure;
use trade::shown::{day, with_unit};
use trade::{Hazard, PamphletStanding, Qty, Site, begins_while_cancelable, hazards, pamphlet_standing};

/// When work on a job begins.
#[derive(Clone, Debug, Default)]
pub(crate) struct Begins {
    /// The first day: the one on which it began, else the one that is planned.
    pub(crate) on: Option<Date>,
    /// Whether it has begun.
    pub(crate) begun: bool,
    /// The last day, where one is planned.
    pub(crate) ends: Option<Date>,
    /// The crew that the plan names, else the job's own.
    pub(crate) crew: Option<Id>,
    /// How many days of a crew are planned.
    pub(crate) crew_days: Option<Qty>,
}

impl Begins {
    /// When work begins, in words.
    pub(crate) fn words(&self) -> String {
        match self.on {
            Some(on) if self.begun => day(on),
            Some(on) => format!("{}, as planned", day(on)),
            None => "not planned yet".to_owned(),
        }
    }

    /// How long it is planned to take, in words.
    pub(crate) fn days_words(&self) -> Option<String> {
        self.crew_days.map(|days| with_unit(days, "crew-days"))
    }
}

/// When work on a job begins: the newest plan counts until it has begun.
pub(crate) fn begins(books: Books<'_>, job: Id) -> Result<Begins, OfficeError> {
    let plans = books.by(Schedule::job, job)?;
    let plan = plans.into_iter().map(|held| held.fact).max_by_key(|plan| plan.date);
    let steps = books.by(JobStatus::job, job)?;
    let begun = steps.iter().find(|held| held.fact.stage == JobStatusWord::Begun).map(|held| held.fact.date);
    let planned = plan.as_ref().and_then(|plan| plan.crew);
    Ok(Begins {
        on: begun.or(plan.as_ref().map(|plan| plan.begins)),
        begun: begun.is_some(),
        ends: plan.as_ref().and_then(|plan| plan.ends),
        crew: planned.or(books.newest::<Job>(job)?.and_then(|job| job.crew)),
        crew_days: plan.and_then(|plan| plan.crew_days),
    })
}

/// The day on which a job was finished or given up.
pub(crate) fn ended(books: Books<'_>, job: Id) -> Result<Option<(JobStatusWord, Date)>, OfficeError> {
    let steps = books.by(JobStatus::job, job)?.into_iter();
    let ends = steps.map(|held| held.fact).filter(|step| step.stage != JobStatusWord::Begun);
    Ok(ends.map(|step| (step.stage, step.date)).max_by_key(|(_, date)| *date))
}

/// What is known of a job's site.
pub(crate) fn site(books: Books<'_>, job: Id) -> Result<Site, OfficeError> {
    let roof = measured_roof(books, job)?;
    Ok(roof.map_or_else(Site::default, |(roof, _)| Site {
        steepest: measure(&roof).ok().map(|measured| measured.steepest),
        built_before_1978: Some(roof.house.built_before_1978),
    }))
}

/// What can hurt on a job's site.
pub(crate) fn hazards_of(books: Books<'_>, job: Id) -> Result<Vec<Hazard>, OfficeError> {
    Ok(hazards(site(books, job)?))
}

/// What shows that a pamphlet was given, in words.
pub(crate) fn shown_by(by: PamphletBy) -> &'static str {
    match by {
        PamphletBy::SignedReceipt => "a signed receipt",
        PamphletBy::CertificateOfMailing => "a certificate of mailing",
    }
}

/// How a pamphlet stands to the day on which work begins.
pub(crate) fn standing(pamphlet: &LeadPamphlet, begins: Date) -> PamphletStanding {
    pamphlet_standing(pamphlet.date, pamphlet.shown_by == PamphletBy::CertificateOfMailing, begins)
}

/// The pamphlets that are recorded for a job, oldest first.
pub(crate) fn pamphlets(books: Books<'_>, job: Id) -> Result<Vec<LeadPamphlet>, OfficeError> {
    let mut given: Vec<LeadPamphlet> =
        books.by(LeadPamphlet::job, job)?.into_iter().map(|held| held.fact).collect();
    given.sort_by_key(|pamphlet| pamphlet.date);
    Ok(given)
}

/// What is missing of the pamphlet on lead, where the house was built before 1978 and only there.
pub(crate) fn pamphlet_missing(books: Books<'_>, job: Id) -> Result<Option<String>, OfficeError> {
    if site(books, job)?.built_before_1978 != Some(true) {
        return Ok(None);
    }
    let given = pamphlets(books, job)?;
    let begins = begins(books, job)?.on;
    let Some(last) = given.last() else {
        return Ok(Some(
            "The house was built before 1978, and it is not recorded that the owner was given the pamphlet on lead. \
             Where the work disturbs old paint, that comes before work begins (40 CFR 745.84)."
                .to_owned(),
        ));
    };
    let Some(begins) = begins else { return Ok(None) };
    if given.iter().any(|pamphlet| standing(pamphlet, begins) == PamphletStanding::InTime) {
        return Ok(None);
    }
    let given = day(last.date);
    Ok(match standing(last, begins) {
        PamphletStanding::InTime => None,
        PamphletStanding::TooEarly { days } => Some(format!(
            "The pamphlet on lead was given on {given}, {days} days before work begins; 60 is the most (40 CFR \
             745.84). Give it again."
        )),
        PamphletStanding::MailedTooLate { days } => Some(format!(
            "The pamphlet on lead was mailed on {given}, {days} days before work begins; 7 is the least (40 CFR \
             745.84). Have the owner sign a receipt, or begin later."
        )),
        PamphletStanding::AfterTheBeginning => Some(format!(
            "The pamphlet on lead was given on {given}, after the day on which work begins, {} (40 CFR 745.84).",
            day(begins)
        )),
    })
}

/// The days to cancel, where work begins before they are over. A contract that does not say where it was signed is
/// spoken of with that proviso.
fn cancelable(contract: &Contract, begins: &Begins) -> Option<String> {
    let on = begins.on?;
    let last = day(begins_while_cancelable(contract.date, on)?);
    let proviso = match contract.sold_at_home {
        Some(false) => return None,
        Some(true) => "",
        None => ", where the sale was made at their home",
    };
    let on = day(on);
    Some(if begins.begun {
        format!(
            "Work began on {on}, while the customer could cancel until midnight of {last}{proviso} (16 CFR 429.1)."
        )
    } else {
        format!(
            "Work is planned for {on}, and the customer may cancel until midnight of {last}{proviso} (16 CFR 429.1). \
             Begin after that day; a state may give more days: check with your state and a lawyer."
        )
    })
}

/// What is to be settled before work on a job begins, or was not when it did. Nothing of a job without a contract, and
/// nothing of one that has ended.
///
/// # Errors
/// When the facts cannot be read.
pub(crate) fn before_work(books: Books<'_>, job: Id) -> Result<Vec<String>, OfficeError> {
    let contract = books.by(Contract::job, job)?.into_iter().next();
    let Some(contract) = contract else { return Ok(Vec::new()) };
    if ended(books, job)?.is_some() {
        return Ok(Vec::new());
    }
    let cancel = cancelable(&contract.fact, &begins(books, job)?);
    Ok(cancel.into_iter().chain(pamphlet_missing(books, job)?).collect())
}

/// What a fact that was just recorded leaves to be settled before work begins, where it is one that bears on that.
///
/// # Errors
/// When the facts cannot be read.
pub fn left_before_work(desk: &Desk, fact: Id) -> Result<Vec<String>, OfficeError> {
    desk.books().in_one_read(|books| {
        let job = match books.fact(fact)?.map(|held| held.fact) {
            Some(Fact::Contract(contract)) => contract.job,
            Some(Fact::Schedule(schedule)) => schedule.job,
            Some(Fact::JobStatus(step)) => step.job,
            Some(Fact::LeadPamphlet(pamphlet)) => pamphlet.job,
            _ => return Ok(Vec::new()),
        };
        before_work(books, job)
    })
}
