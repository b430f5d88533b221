//! What people call things: the current names behind ids, and the ids behind names.

use crate::desk::Desk;
use crate::error::OfficeError;
use ledger::facts::{
    BankStatement, Bill, ChangeOrder, CheckPoint, Condition, CostCode, Crew, Customer, Invoice, Job,
    OverheadAccount, Part, Payment, Person, PurchaseOrder, Recipe, RecurringCost, Vendor, VendorPayment,
};
use ledger::{Books, Id};
use std::collections::BTreeMap;

/// The current version of every record that has a name.
#[derive(Debug, Default)]
pub struct Names {
    /// Jobs.
    pub jobs: BTreeMap<Id, Job>,
    /// Customers.
    pub customers: BTreeMap<Id, Customer>,
    /// Vendors.
    pub vendors: BTreeMap<Id, Vendor>,
    /// People.
    pub people: BTreeMap<Id, Person>,
    /// Crews.
    pub crews: BTreeMap<Id, Crew>,
    /// Cost codes.
    pub codes: BTreeMap<Id, CostCode>,
    /// Overhead accounts.
    pub overhead: BTreeMap<Id, OverheadAccount>,
}

impl Names {
    /// Reads them.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn read(books: Books<'_>) -> Result<Names, OfficeError> {
        Ok(Names {
            jobs: books.current(|job: &Job| job.revises)?,
            customers: books.current(|customer: &Customer| customer.revises)?,
            vendors: books.current(|vendor: &Vendor| vendor.revises)?,
            people: books.current(|person: &Person| person.revises)?,
            crews: books.current(|crew: &Crew| crew.revises)?,
            codes: books.current(|code: &CostCode| code.revises)?,
            overhead: books.current(|account: &OverheadAccount| account.revises)?,
        })
    }

    /// Reads those that belong to some jobs, and the firm's own lists.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn of_jobs(books: Books<'_>, jobs: impl Iterator<Item = Id>) -> Result<Names, OfficeError> {
        let jobs = books.newest_of(&jobs.collect(), |job: &Job| job.revises)?;
        let whose = jobs.values().map(|job| job.customer).collect();
        Ok(Names {
            jobs,
            customers: books.newest_of(&whose, |customer: &Customer| customer.revises)?,
            people: books.current(|person: &Person| person.revises)?,
            crews: books.current(|crew: &Crew| crew.revises)?,
            codes: books.current(|code: &CostCode| code.revises)?,
            ..Names::default()
        })
    }

    /// A job by its number.
    ///
    /// # Errors
    /// When there is none.
    pub fn job(&self, number: &str) -> Result<Id, OfficeError> {
        let found = self.jobs.iter().find(|(_, job)| job.number == number);
        found.map(|(id, _)| *id).ok_or_else(|| {
            OfficeError::not_found(
                format!("There is no job {number}."),
                "Check the number against the list of jobs.",
            )
        })
    }

    /// A code's short word.
    #[must_use]
    pub fn code(&self, id: Id) -> String {
        self.codes.get(&id).map_or_else(|| id.to_string(), |code| code.code.clone())
    }

    /// A job's number.
    #[must_use]
    pub fn job_number(&self, id: Id) -> String {
        self.jobs.get(&id).map_or_else(|| id.to_string(), |job| job.number.clone())
    }

    /// A person's name.
    #[must_use]
    pub fn person(&self, id: Id) -> String {
        self.people.get(&id).map_or_else(|| id.to_string(), |person| person.name.clone())
    }

    /// A vendor's name.
    #[must_use]
    pub fn vendor(&self, id: Id) -> String {
        self.vendors.get(&id).map_or_else(|| id.to_string(), |vendor| vendor.name.clone())
    }

    /// A customer's name.
    #[must_use]
    pub fn customer(&self, id: Id) -> String {
        self.customers.get(&id).map_or_else(|| id.to_string(), |customer| customer.name.clone())
    }

    /// An overhead account's name.
    #[must_use]
    pub fn overhead(&self, id: Id) -> String {
        self.overhead.get(&id).map_or_else(|| id.to_string(), |account| account.name.clone())
    }

    /// A crew's name.
    #[must_use]
    pub fn crew(&self, id: Id) -> String {
        self.crews.get(&id).map_or_else(|| id.to_string(), |crew| crew.name.clone())
    }
}

/// The person of this name.
///
/// # Errors
/// When there is none, or more than one.
pub fn person_named(desk: &Desk, name: &str) -> Result<Id, OfficeError> {
    Directory::default().id(desk.books(), "person", "person", name)
}

/// Finds the ids behind names in the JSON of a fact, one table at a time and each only once.
#[derive(Debug, Default)]
pub struct Directory {
    by_table: BTreeMap<&'static str, BTreeMap<String, Vec<Id>>>,
}

impl Directory {
    fn fill(books: Books<'_>, table: &'static str) -> Result<BTreeMap<String, Vec<Id>>, OfficeError> {
        let names = || Names::read(books);
        let mut found: BTreeMap<String, Vec<Id>> = BTreeMap::new();
        let mut add = |name: String, id: Id| found.entry(name).or_default().push(id);
        match table {
            "job" => names()?.jobs.into_iter().for_each(|(id, job)| add(job.number, id)),
            "customer" => names()?.customers.into_iter().for_each(|(id, customer)| add(customer.name, id)),
            "vendor" => names()?.vendors.into_iter().for_each(|(id, vendor)| add(vendor.name, id)),
            "person" => names()?.people.into_iter().for_each(|(id, person)| add(person.name, id)),
            "crew" => names()?.crews.into_iter().for_each(|(id, crew)| add(crew.name, id)),
            "cost_code" => names()?.codes.into_iter().for_each(|(id, code)| add(code.code, id)),
            "part" => {
                let parts: BTreeMap<Id, Part> = books.current(|part: &Part| part.revises)?;
                parts.into_iter().for_each(|(id, part)| add(part.name, id));
            }
            "check_point" => {
                let points: BTreeMap<Id, CheckPoint> = books.current(|point: &CheckPoint| point.revises)?;
                points.into_iter().for_each(|(id, point)| add(point.words, id));
            }
            // A recipe's name stands for the newest of that name; what one job was built with is named by its id.
            "recipe" => {
                let own = crate::rates::dated(books, |recipe: &Recipe| recipe.date)?;
                let newest: BTreeMap<String, Id> = own
                    .into_iter()
                    .filter(|recipe| recipe.fact.job.is_none())
                    .map(|recipe| (recipe.fact.name, recipe.id))
                    .collect();
                newest.into_iter().for_each(|(name, id)| add(name, id));
            }
            // Numbers of conditions and change orders are a job's own: they are written “JOB NUMBER/NUMBER”.
            "condition" => {
                let names = names()?;
                for held in books.all::<Condition>()? {
                    add(format!("{}/{}", names.job_number(held.fact.job), held.fact.number), held.entry.id);
                }
            }
            "change_order" => {
                let names = names()?;
                for held in books.all::<ChangeOrder>()? {
                    add(format!("{}/{}", names.job_number(held.fact.job), held.fact.number), held.entry.id);
                }
            }
            "purchase_order" => {
                for held in books.all::<PurchaseOrder>()? {
                    add(held.fact.number, held.entry.id);
                }
            }
            "overhead_account" => {
                names()?.overhead.into_iter().for_each(|(id, account)| add(account.name, id));
            }
            "recurring_cost" => {
                let costs: BTreeMap<Id, RecurringCost> =
                    books.current(|cost: &RecurringCost| cost.revises)?;
                costs.into_iter().for_each(|(id, cost)| add(cost.description, id));
            }
            // A bill's number is its vendor's own: it is written “VENDOR/NUMBER”.
            "bill" => {
                let names = names()?;
                for held in books.all::<Bill>()? {
                    add(format!("{}/{}", names.vendor(held.fact.vendor), held.fact.reference), held.entry.id);
                }
            }
            "invoice" => {
                for held in books.all::<Invoice>()? {
                    add(held.fact.number, held.entry.id);
                }
            }
            "payment" => {
                for held in books.all::<Payment>()? {
                    if let Some(reference) = held.fact.reference {
                        add(reference, held.entry.id);
                    }
                }
            }
            // A check that went to a vendor is called by its number, a statement by its last day.
            "vendor_payment" => {
                for held in books.all::<VendorPayment>()? {
                    if let Some(reference) = held.fact.reference {
                        add(reference, held.entry.id);
                    }
                }
            }
            "bank_statement" => {
                for held in books.all::<BankStatement>()? {
                    add(held.fact.date.to_string(), held.entry.id);
                }
            }
            _ => {}
        }
        Ok(found)
    }

    /// The id behind a name.
    ///
    /// # Errors
    /// When nothing is called so, or several are.
    pub fn id(
        &mut self,
        books: Books<'_>,
        table: &'static str,
        field: &str,
        name: &str,
    ) -> Result<Id, OfficeError> {
        if let Ok(id) = Id::parse(name) {
            return Ok(id);
        }
        let known = match self.by_table.entry(table) {
            std::collections::btree_map::Entry::Occupied(known) => known.into_mut(),
            std::collections::btree_map::Entry::Vacant(place) => place.insert(Directory::fill(books, table)?),
        };
        let thing = table.replace('_', " ");
        match known.get(name).map(Vec::as_slice) {
            Some([id]) => Ok(*id),
            Some([_, ..]) => Err(OfficeError::refused(
                field,
                &format!("more than one {thing} is called “{name}”"),
                "Name it by its id",
            )),
            _ => Err(OfficeError::refused(
                field,
                &format!("there is no {thing} “{name}”"),
                "Record it first, or check the spelling",
            )),
        }
    }

    /// Notes a record just made, so that the next fact can name it.
    pub fn forget(&mut self, table: &str) {
        self.by_table.retain(|known, _| *known != table);
    }
}
