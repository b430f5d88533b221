//! Finding what a name in a file means, and names that are spelled nearly like it.

use desk::OfficeError;
use desk::names::Names;
use ledger::facts::Part;
use ledger::{Books, Id};
use std::collections::HashMap;

/// A name without capitals and with single blanks: how names are compared.
pub(crate) fn fold(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !folded.is_empty() {
            folded.push(' ');
        }
        folded.extend(word.chars().flat_map(char::to_lowercase));
    }
    folded
}

/// What a name is looked up among.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Thing {
    Job,
    Customer,
    Vendor,
    Person,
    Crew,
    Code,
    Part,
}

impl Thing {
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Thing::Job => "job",
            Thing::Customer => "customer",
            Thing::Vendor => "vendor",
            Thing::Person => "person",
            Thing::Crew => "crew",
            Thing::Code => "cost code",
            Thing::Part => "part",
        }
    }
}

/// What was found under a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Found {
    One(Id),
    Several,
    None,
}

/// The names of one kind of thing.
#[derive(Debug, Default)]
struct Index {
    by_name: HashMap<String, Vec<Id>>,
    shown: Vec<(String, String)>,
}

impl Index {
    fn of<'a>(entries: impl Iterator<Item = (Id, &'a str)>) -> Index {
        let mut index = Index::default();
        for (id, name) in entries {
            let folded = fold(name);
            index.by_name.entry(folded.clone()).or_default().push(id);
            index.shown.push((folded, name.to_owned()));
        }
        index
    }

    fn find(&self, folded: &str) -> Found {
        match self.by_name.get(folded).map(Vec::as_slice) {
            Some([id]) => Found::One(*id),
            Some([_, ..]) => Found::Several,
            _ => Found::None,
        }
    }
}

/// How many near names are offered.
const OFFERED: usize = 3;

/// What the ledger knows by name.
#[derive(Debug)]
pub(crate) struct Known {
    pub(crate) names: Names,
    jobs: Index,
    customers: Index,
    /// Customers as “name, address”, for telling two of one name apart.
    addressed: Index,
    vendors: Index,
    people: Index,
    crews: Index,
    codes: Index,
    /// Parts that are offered, by word and by title.
    parts: Index,
}

impl Known {
    /// Reads the names.
    pub(crate) fn read(books: Books<'_>) -> Result<Known, OfficeError> {
        let names = Names::read(books)?;
        let addressed: Vec<(Id, String)> = names
            .customers
            .iter()
            .filter_map(|(id, one)| Some((*id, format!("{}, {}", one.name, one.address.as_ref()?))))
            .collect();
        let parts = books.current(|part: &Part| part.revises)?;
        let offered = parts.iter().filter(|(_, part)| !part.retired);
        let called = offered.flat_map(|(id, part)| {
            let title = Some(part.title.as_str()).filter(|title| fold(title) != fold(&part.name));
            std::iter::once(part.name.as_str()).chain(title).map(|name| (*id, name))
        });
        Ok(Known {
            parts: Index::of(called),
            jobs: Index::of(names.jobs.iter().map(|(id, job)| (*id, job.number.as_str()))),
            customers: Index::of(names.customers.iter().map(|(id, one)| (*id, one.name.as_str()))),
            addressed: Index::of(addressed.iter().map(|(id, text)| (*id, text.as_str()))),
            vendors: Index::of(names.vendors.iter().map(|(id, one)| (*id, one.name.as_str()))),
            people: Index::of(names.people.iter().map(|(id, one)| (*id, one.name.as_str()))),
            crews: Index::of(names.crews.iter().map(|(id, one)| (*id, one.name.as_str()))),
            codes: Index::of(names.codes.iter().map(|(id, one)| (*id, one.code.as_str()))),
            names,
        })
    }

    fn index(&self, thing: Thing) -> &Index {
        match thing {
            Thing::Job => &self.jobs,
            Thing::Customer => &self.customers,
            Thing::Vendor => &self.vendors,
            Thing::Person => &self.people,
            Thing::Crew => &self.crews,
            Thing::Code => &self.codes,
            Thing::Part => &self.parts,
        }
    }

    /// The id behind a name; capitals and blanks do not matter.
    pub(crate) fn find(&self, thing: Thing, name: &str) -> Found {
        let folded = fold(name);
        match self.index(thing).find(&folded) {
            Found::None if thing == Thing::Customer => self.addressed.find(&folded),
            found => found,
        }
    }

    /// Every customer of a name, by folded name.
    pub(crate) fn customers_named(&self, folded: &str) -> &[Id] {
        self.customers.by_name.get(folded).map(Vec::as_slice).unwrap_or_default()
    }

    /// The customers of one name with their addresses, as a file can name them.
    pub(crate) fn told_apart(&self, name: &str) -> Vec<String> {
        let ids = self.customers_named(&fold(name)).iter();
        let known = ids.filter_map(|id| self.names.customers.get(id));
        known.filter_map(|one| Some(format!("{}, {}", one.name, one.address.as_ref()?))).collect()
    }

    /// Names that are spelled nearly like this one, nearest first.
    pub(crate) fn near(&self, thing: Thing, name: &str) -> Vec<String> {
        let folded = fold(name);
        let length = folded.chars().count();
        let most = (length / 3).max(1);
        let mut near: Vec<(usize, &str)> = Vec::new();
        for (other, shown) in &self.index(thing).shown {
            let is_part = length >= 3
                && other.chars().count() >= 3
                && (other.contains(&folded) || folded.contains(other));
            let distance = strsim::osa_distance(&folded, other);
            if distance <= most || is_part {
                near.push((distance, shown));
            }
        }
        near.sort_unstable();
        near.dedup();
        near.into_iter().take(OFFERED).map(|(_, shown)| shown.to_owned()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn capitals_and_blanks_do_not_tell_names_apart() {
        assert_eq!(fold("  Hollow   Creek\tSUPPLY "), "hollow creek supply");
        assert_eq!(fold("Ünal"), "ünal");
        assert_ne!(fold("Hollow Creek"), fold("HollowCreek"));
    }
}
