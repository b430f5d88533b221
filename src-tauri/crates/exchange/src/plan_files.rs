//! Which photos and papers to fetch and to send: pure functions of what a device has, what the others say, and what
//! the store lists. Whoever attached a file sends it to everybody who may have it, unasked; what a device says that it
//! lacks is sent by any office that has it, once nobody else has for some time.

use crate::index::{Audience, FileNote, Index};
use crate::plan::PATIENCE;
use ledger::Digest;
use ledger::coming::pieces_of;
use std::collections::{BTreeMap, BTreeSet};

/// A file that the facts here name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct File {
    pub(crate) hash: Digest,
    pub(crate) bytes: u64,
    /// The device that attached it.
    pub(crate) device: String,
    /// The number of the entry with which it did.
    pub(crate) seq: i64,
    pub(crate) is_here: bool,
    /// Whether a copy for the site may have it.
    pub(crate) is_on_site: bool,
}

/// How things stand with files for one device.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shelves<'a> {
    pub(crate) me: &'a str,
    /// What it may send: a copy for the site only what it attached itself.
    pub(crate) audience: Audience,
    /// The smallest first.
    pub(crate) files: &'a [File],
    pub(crate) mine: &'a Index,
    pub(crate) others: &'a BTreeMap<String, Index>,
    pub(crate) listed: &'a BTreeSet<String>,
    pub(crate) present: &'a BTreeMap<Audience, BTreeSet<String>>,
    pub(crate) unserved: &'a BTreeMap<String, u32>,
}

/// Whether a device has a file, as far as it has said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Has {
    Yes,
    No,
    /// It lacks more than it says, and this may be among that.
    Unsaid,
}

/// A device says at the most so many of the files that it lacks, the smallest first.
pub(crate) const MOST_LACKING: usize = 200;

impl Shelves<'_> {
    /// The other devices that may have a file.
    pub(crate) fn readers(&self, file: &File) -> BTreeSet<String> {
        let of = |audience: Audience| self.present.get(&audience).into_iter().flatten();
        let site = of(Audience::Site).filter(|_| file.is_on_site);
        of(Audience::Office).chain(site).filter(|letter| *letter != self.me).cloned().collect()
    }

    fn has(&self, reader: &str, file: &File) -> Has {
        let Some(index) = self.others.get(reader) else { return Has::No };
        let knows = index.holds.get(&file.device).is_some_and(|held| *held >= file.seq);
        match (knows && !index.lacks.contains(&file.hash), index.lacks_more) {
            (false, _) => Has::No,
            (true, true) => Has::Unsaid,
            (true, false) => Has::Yes,
        }
    }

    /// Whether a device says itself that it lacks a file.
    fn asks(&self, reader: &str, file: &File) -> bool {
        self.others.get(reader).is_some_and(|index| index.lacks.contains(&file.hash))
    }

    /// How many of a note's pieces lie in the store and were found damaged by nobody, from the first on.
    pub(crate) fn sound(&self, note: &FileNote) -> usize {
        let is_damaged = |name: &String| {
            self.others.values().chain(std::iter::once(self.mine)).any(|index| index.damaged.contains(name))
        };
        note.pieces.iter().take_while(|name| self.listed.contains(*name) && !is_damaged(name)).count()
    }

    /// Whether another device has put a file there whole, for all of these.
    fn is_served(&self, file: &File, readers: &BTreeSet<String>) -> bool {
        let notes = self.others.values().flat_map(|index| &index.files);
        notes
            .filter(|note| note.hash == file.hash && readers.is_subset(&note.to))
            .any(|note| u64::try_from(self.sound(note)).is_ok_and(|sound| sound >= pieces_of(file.bytes)))
    }
}

/// The files to send, the smallest first.
pub(crate) fn plan_files_to_send<'a>(shelves: &Shelves<'a>) -> Vec<&'a File> {
    let is_wished = |file: &&File| {
        if !file.is_here {
            return false;
        }
        if file.device == shelves.me {
            let needy = with(shelves, file, |reader| shelves.has(reader, file) == Has::No);
            return !needy.is_empty() && !shelves.is_served(file, &needy);
        }
        let is_due = shelves.unserved.get(&file.hash.to_string()).is_some_and(|times| *times >= PATIENCE);
        is_due && shelves.audience == Audience::Office && is_unserved(shelves, file)
    };
    shelves.files.iter().filter(is_wished).collect()
}

fn with(shelves: &Shelves<'_>, file: &File, is_meant: impl Fn(&str) -> bool) -> BTreeSet<String> {
    shelves.readers(file).into_iter().filter(|reader| is_meant(reader)).collect()
}

fn is_unserved(shelves: &Shelves<'_>, file: &File) -> bool {
    let asking = with(shelves, file, |reader| shelves.asks(reader, file));
    !asking.is_empty() && !shelves.is_served(file, &asking)
}

/// For how many exchanges each file that is here, and that some device asks for, has been served by nobody else.
pub(crate) fn count_unserved(shelves: &Shelves<'_>) -> BTreeMap<String, u32> {
    let others = shelves.files.iter().filter(|file| file.is_here && file.device != shelves.me);
    let unserved = others.filter(|file| is_unserved(shelves, file)).map(|file| {
        let name = file.hash.to_string();
        let before = shelves.unserved.get(&name).copied().unwrap_or(0);
        (name, before.saturating_add(1))
    });
    unserved.collect()
}

/// Whether a file that was put there may go again: whoever it was for has it.
pub(crate) fn is_delivered(shelves: &Shelves<'_>, note: &FileNote) -> bool {
    let Some(file) = shelves.files.iter().find(|file| file.hash == note.hash) else { return true };
    let is_present = |letter: &String| shelves.present.values().any(|letters| letters.contains(letter));
    let readers = note.to.iter().filter(|letter| *letter != shelves.me && is_present(letter));
    readers.into_iter().all(|reader| shelves.has(reader, file) == Has::Yes)
}

/// The files to fetch, the smallest first, each with the parcels of its pieces, as many as there are.
pub(crate) fn plan_files_to_fetch<'a>(shelves: &Shelves<'a>) -> Vec<(&'a File, Vec<String>)> {
    let lacking = shelves.files.iter().filter(|file| !file.is_here);
    let found = lacking.filter_map(|file| {
        let notes = shelves.others.values().flat_map(|index| &index.files);
        let for_me = notes.filter(|note| note.hash == file.hash && note.to.contains(shelves.me));
        let best = for_me.max_by_key(|note| shelves.sound(note))?;
        Some((file, best.pieces[..shelves.sound(best)].to_vec()))
    });
    found.filter(|(_, pieces)| !pieces.is_empty()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use ledger::coming::PIECE_BYTES;

    fn set(names: &[&str]) -> BTreeSet<String> {
        names.iter().map(|name| (*name).to_owned()).collect()
    }

    fn file(text: &str, bytes: u64, is_on_site: bool) -> File {
        let hash = Digest::of(text.as_bytes());
        File { hash, bytes, device: "A".to_owned(), seq: 5, is_here: true, is_on_site }
    }

    fn says(held: i64, lacks: &[&File]) -> Index {
        let lacks = lacks.iter().map(|file| file.hash).collect();
        Index { holds: [("A".to_owned(), held)].into(), lacks, ..Index::default() }
    }

    /// Nothing is listed, said or asked yet.
    struct Quiet {
        mine: Index,
        others: BTreeMap<String, Index>,
        listed: BTreeSet<String>,
        unserved: BTreeMap<String, u32>,
        present: BTreeMap<Audience, BTreeSet<String>>,
    }

    impl Quiet {
        fn of(office: &[&str], site: &[&str]) -> Quiet {
            Quiet {
                mine: Index::default(),
                others: BTreeMap::new(),
                listed: BTreeSet::new(),
                unserved: BTreeMap::new(),
                present: [(Audience::Office, set(office)), (Audience::Site, set(site))].into(),
            }
        }

        fn shelves<'a>(&'a self, me: &'a str, files: &'a [File]) -> Shelves<'a> {
            Shelves {
                me,
                audience: Audience::Office,
                files,
                mine: &self.mine,
                others: &self.others,
                listed: &self.listed,
                present: &self.present,
                unserved: &self.unserved,
            }
        }
    }

    fn sent<'a>(shelves: &Shelves<'a>) -> Vec<Digest> {
        plan_files_to_send(shelves).iter().map(|file| file.hash).collect()
    }

    #[test]
    fn whoever_attached_a_file_sends_it_until_all_who_may_have_it_do() {
        let files = [file("deck", 10, true), file("bill", 20, false)];
        let mut quiet = Quiet::of(&["A", "B"], &["C"]);
        // B has not said that it knows of them; C knows of the entries and may have one of the files.
        quiet.others = [("B".to_owned(), says(4, &[])), ("C".to_owned(), says(9, &[]))].into();
        let base = quiet.shelves("A", &files);
        assert_eq!(sent(&base), [files[0].hash, files[1].hash]);
        assert_eq!((base.readers(&files[0]), base.readers(&files[1])), (set(&["B", "C"]), set(&["B"])));
        let note = FileNote { hash: files[1].hash, to: set(&["A", "B"]), pieces: vec!["p".to_owned()] };
        assert!(!is_delivered(&base, &note));
        // B has both and C, which a job came to lately, asks for one; a bill is no site's, whatever it asks for.
        let others =
            [("B".to_owned(), says(9, &[])), ("C".to_owned(), says(9, &[&files[0], &files[1]]))].into();
        let later = Shelves { others: &others, ..base };
        assert_eq!(sent(&later), [files[0].hash]);
        assert!(is_delivered(&later, &note));
        // What B does not say it may lack: it is not sent unasked, and does not go either.
        let others = [("B".to_owned(), Index { lacks_more: true, ..says(9, &[]) })].into();
        let unsaid = Shelves { others: &others, ..base };
        assert!(sent(&unsaid).contains(&files[0].hash), "C has said nothing");
        assert!(!sent(&unsaid).contains(&files[1].hash) && !is_delivered(&unsaid, &note));
    }

    #[test]
    fn an_office_hands_a_file_on_after_some_patience_and_a_site_never() {
        let files = [file("deck", 10, true)];
        let mut quiet = Quiet::of(&["A", "B"], &["C", "D"]);
        quiet.listed = set(&["p"]);
        quiet.others = [("C".to_owned(), says(9, &[&files[0]]))].into();
        for _ in 0..PATIENCE {
            let shelves = quiet.shelves("B", &files);
            assert!(sent(&shelves).is_empty());
            quiet.unserved = count_unserved(&shelves);
        }
        let shelves = quiet.shelves("B", &files);
        assert_eq!(sent(&shelves), [files[0].hash]);
        assert!(sent(&Shelves { me: "D", audience: Audience::Site, ..shelves }).is_empty());
        // The one that attached it has served C: there is nothing to hand on, and nothing to count.
        let note = FileNote { hash: files[0].hash, to: set(&["A", "B", "C"]), pieces: vec!["p".to_owned()] };
        let mut others = quiet.others.clone();
        others.insert("A".to_owned(), Index { files: vec![note], ..Index::default() });
        let served = Shelves { others: &others, ..shelves };
        assert!(sent(&served).is_empty() && count_unserved(&served).is_empty());
    }

    #[test]
    fn the_pieces_that_lie_there_whole_are_fetched_up_to_the_first_that_does_not() {
        let lacking = File { is_here: false, ..file("deck", 3 * PIECE_BYTES, true) };
        let files = [lacking.clone(), File { is_here: false, ..file("other", 3 * PIECE_BYTES, true) }];
        let pieces = ["p", "q", "r"].map(str::to_owned).to_vec();
        let note = FileNote { hash: lacking.hash, to: set(&["B"]), pieces };
        let mut quiet = Quiet::of(&[], &[]);
        quiet.others = [("A".to_owned(), Index { files: vec![note], ..Index::default() })].into();
        (quiet.listed, quiet.mine.damaged) = (set(&["p", "q", "r"]), set(&["r"]));
        let shelves = quiet.shelves("B", &files);
        let expected = vec![(&files[0], vec!["p".to_owned(), "q".to_owned()])];
        assert_eq!(plan_files_to_fetch(&shelves), expected);
        assert!(plan_files_to_fetch(&Shelves { me: "C", ..shelves }).is_empty(), "it is not locked to C");
    }
}
