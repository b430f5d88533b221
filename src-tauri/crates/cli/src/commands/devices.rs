//! Devices: the roster, the store, joining, exchanging, and parcels by hand.

use super::asker::Asker;
use super::files::read_text;
use crate::progress;
use crate::table::{Cell, Table};
use clap::{Args, Subcommand};
use exchange::{Devices, ExchangeError, Exchanged, Joined, Saved, Step, TakenByHand};
use indicatif::ProgressBar;
use office::{Act, Clock, Code, Desk, OfficeError, Role};
use serde::Serialize;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Where the passphrase of a joining file is read from; else it is asked for on standard input.
const PASSPHRASE: &str = "TEAROFF_PASSPHRASE";

/// Where what opens the store is read from: a word of the command line would stand in the shell's history.
const SECRET: &str = "TEAROFF_STORE_SECRET";

/// An exchange that goes on looks so often.
const EVERY: Duration = Duration::from_mins(1);

const DEVICE_HELP: &str = "\
The new device's file is made with `tearoff join` from the joining file and its passphrase. Hand them over apart: who \
has both is the device. A crew's device holds no cost, pay, margin or contract price.

With --json: `Devices`; `Added` with add, `Dropped` with drop, `Relettered` with reletter.";

/// The firm's devices.
#[derive(Debug, Args)]
#[command(after_help = DEVICE_HELP)]
pub(crate) struct Device {
    /// The ledger file.
    file: PathBuf,
    #[command(subcommand)]
    what: Option<What>,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Add a device, and write its joining file.
    Add {
        /// What people call it.
        #[arg(long)]
        name: String,
        /// Whose it is, by name.
        #[arg(long = "for", value_name = "PERSON")]
        whose: String,
        /// What it may hold: owner, books or crew; the person's own role when left out.
        #[arg(long, value_parser = role)]
        role: Option<Role>,
        /// The joining file to write.
        #[arg(long)]
        to: PathBuf,
    },
    /// Drop a device that was lost or is no longer the firm's: nothing is sent to it any more. What it sent stays.
    Drop {
        /// Its letters.
        letter: String,
        /// Why.
        #[arg(long)]
        reason: Option<String>,
    },
    /// Give this file the letter of a joining file, where another file was written under its own. The passphrase is
    /// read as by `tearoff join`. What only this file holds goes on under the new letter, and the old file is set
    /// aside.
    Reletter {
        /// The joining file of a device that the owner has added on another one.
        joining: PathBuf,
        /// Where parcels lie on this machine, when it is not where the joining file says.
        #[arg(long, value_name = "ADDRESS")]
        store: Option<String>,
    },
}

fn role(text: &str) -> Result<Role, String> {
    Role::ALL
        .iter()
        .copied()
        .find(|role| role.as_str() == text)
        .ok_or_else(|| "choose owner, books or crew".to_owned())
}

const STORE_HELP: &str = "\
Any of these keeps parcels. Whoever keeps the store reads nothing of them.

  /media/stick/parcels                    a folder, which must be there
  https://user@host/folder                WebDAV
  sftp://user@host/folder                 SSH; the secret is the private key, in a file
  s3://access-key@bucket/folder?endpoint=https://host&region=name
  postgresql://user@host/database         one table, `parcel`

What opens it is read from --secret-file, or from TEAROFF_STORE_SECRET, and lies in the file of keys beside the \
ledger, which nobody but you can read. Devices that are added later learn both from their joining file.

With --json: `Devices`.";

/// Where parcels lie.
#[derive(Debug, Args)]
#[command(after_help = STORE_HELP)]
pub(crate) struct Store {
    /// The ledger file.
    file: PathBuf,
    /// The store's address.
    address: String,
    /// A file that holds what opens the store.
    #[arg(long, value_name = "FILE")]
    secret_file: Option<PathBuf>,
}

/// Make this machine's file from a joining file.
#[derive(Debug, Args)]
#[command(after_help = "The passphrase is read from TEAROFF_PASSPHRASE, or from standard input.\n\n\
    With --json: `Joined`, with `first`, the first exchange (`Exchanged`), where the store was reached.")]
pub(crate) struct Join {
    /// The joining file.
    joining: PathBuf,
    /// The file to make, on a disk of this machine.
    file: PathBuf,
    /// Where parcels lie on this machine, when it is not where the joining file says.
    #[arg(long, value_name = "ADDRESS")]
    store: Option<String>,
}

/// Send what the other devices may see, and take in what is new.
#[derive(Debug, Args)]
#[command(
    after_help = "Without --once it goes on, and looks every minute, until it is stopped. Off line it waits.\n\n\
    With --json: `Exchanged`, a line for each exchange."
)]
pub(crate) struct Exchange {
    /// The ledger file.
    file: PathBuf,
    /// Exchange once, and end.
    #[arg(long)]
    once: bool,
}

/// Carry parcels by hand: one file for all other devices.
#[derive(Debug, Args)]
#[command(after_help = "With --json: `Saved` with save, `TakenByHand` with take.")]
pub(crate) struct Parcel {
    #[command(subcommand)]
    what: ByHand,
}

#[derive(Debug, Subcommand)]
enum ByHand {
    /// Save what the others may lack to one file.
    Save {
        /// The ledger file.
        file: PathBuf,
        /// The parcel to write.
        to: PathBuf,
    },
    /// Take in a parcel file.
    Take {
        /// The ledger file.
        file: PathBuf,
        /// The parcel.
        parcel: PathBuf,
    },
}

pub(super) fn device(asked: &Device, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    match &asked.what {
        None => {
            let desk = asker.reading(&asked.file, Act::SeeDevices)?;
            asker.answer(&exchange::devices(&desk)?, listed)
        }
        Some(What::Add { name, whose, role, to }) => {
            let mut desk = asker.writing(&asked.file, Act::KeepDevices)?;
            let person = office::person_named(&desk, whose)?;
            let added = exchange::add_device(&mut desk, name, person, *role, to)?;
            asker.answer(&added, |added| {
                let mut lines = vec![
                    format!("{} is device {}, for {}.", added.name, added.letter, added.person),
                    format!("Its joining file: {}", added.file.display()),
                    format!("Its passphrase, told only now: {}", added.passphrase),
                    "Hand them over apart. On the new machine: tearoff join".to_owned(),
                ];
                if !added.has_store {
                    let words =
                        "No store is chosen yet: the new device is told with --store, or parcels go by hand.";
                    lines.push(words.to_owned());
                }
                lines
            })
        }
        Some(What::Reletter { joining, store }) => relettered(&asked.file, joining, store.as_deref(), asker),
        Some(What::Drop { letter, reason }) => {
            let mut desk = asker.writing(&asked.file, Act::KeepDevices)?;
            let dropped = exchange::drop_device(&mut desk, letter, reason.as_deref())?;
            asker.answer(&dropped, |dropped| {
                let mut lines = vec![format!(
                    "{} is dropped: nothing more is sent to it. Its {} stay.",
                    dropped.name,
                    entries(u64::try_from(dropped.entries).unwrap_or(0))
                )];
                if dropped.knows_store {
                    lines.push(
                        "It knows what opens the store: change that there, then choose the store anew."
                            .to_owned(),
                    );
                }
                lines
            })
        }
    }
}

/// Nobody sits down for it, as for joining: the joining file and its passphrase say who may.
fn relettered(
    file: &Path,
    joining: &Path,
    store: Option<&str>,
    asker: Asker<'_>,
) -> Result<Vec<String>, OfficeError> {
    let (bar, mut tell) = shown();
    let done = exchange::reletter(file, joining, &passphrase()?, store, &mut tell)?;
    bar.finish_and_clear();
    asker.answer(&done, |done| {
        let count = entries(done.entries);
        let go = if done.entries == 1 { "goes" } else { "go" };
        vec![
            format!("{} is device {} from now on, {}.", done.file.display(), done.letter, done.name),
            format!("{count} that only this file held as device {} {go} on in it, each as it was.", done.was),
            format!("The file as it was lies in {}.", done.aside.display()),
            "What it holds goes to the others with the next exchange.".to_owned(),
        ]
    })
}

fn listed(found: &Devices) -> Vec<String> {
    if found.devices.is_empty() {
        return vec![
            "This is the firm's only device. Add another with `tearoff device FILE add`.".to_owned(),
        ];
    }
    let mut table = Table::new(&["Device", "Name", "Holds", "Whose", "Entries", ""]);
    for line in &found.devices {
        let state = match (line.is_here, line.has_left) {
            (_, true) => "dropped",
            (true, _) => "this one",
            _ => "",
        };
        table.row(vec![
            Cell::Word(line.letter.clone()),
            Cell::Word(line.name.clone()),
            Cell::Word(if line.role == Role::Crew { "what a crew sees" } else { "everything" }.to_owned()),
            Cell::Word(line.person.clone().unwrap_or_default()),
            Cell::Figure(line.entries.to_string()),
            Cell::Word(state.to_owned()),
        ]);
    }
    let mut lines = table.lines();
    lines.push(match &found.store {
        Some(store) => format!("Parcels lie in {store}"),
        None => "No store is chosen: parcels go by hand.".to_owned(),
    });
    if found.waiting > 0 {
        lines.push(format!("{} of this device wait to be sent.", entries(found.waiting)));
    }
    lines.extend(found.last.iter().flat_map(told));
    lines
}

fn entries(count: u64) -> String {
    if count == 1 { "1 entry".to_owned() } else { format!("{count} entries") }
}

/// An exchange in words; nothing where nothing came, was sent or is wrong.
fn told(done: &Exchanged) -> Vec<String> {
    let mut lines: Vec<String> = done.came.iter().map(|came| format!("{came}, {}", done.time)).collect();
    lines.extend(done.sent.iter().map(|sent| format!("Sent: {sent}, {}", done.time)));
    lines.extend(done.photos.iter().map(|photos| format!("{photos}, {}", done.time)));
    lines.extend(done.troubles.iter().map(|trouble| format!("note: {trouble}")));
    lines
}

pub(super) fn store(asked: &Store, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let secret = match &asked.secret_file {
        Some(path) => Some(read_text(path)?),
        None => std::env::var(SECRET).ok(),
    };
    let desk = Desk::open(&asked.file, Clock::System)?;
    // A device that has just joined knows of nobody yet who could sit down.
    let is_new = office::people(&desk)?.is_empty();
    let mut desk = if is_new {
        desk
    } else {
        drop(desk);
        asker.writing(&asked.file, Act::Exchange)?
    };
    exchange::choose_store(&mut desk, &asked.address, secret.as_deref())?;
    let said = format!("Parcels lie in {} from now on.", asked.address);
    match exchange::devices(&desk) {
        Ok(found) => asker.answer(&found, |_| vec![said]),
        // A crew's device has no list to show.
        Err(_) => asker.answer(&serde_json::json!({ "store": asked.address }), |_| vec![said]),
    }
}

#[derive(Serialize)]
struct First {
    #[serde(flatten)]
    joined: Joined,
    first: Option<Exchanged>,
}

pub(super) fn join(asked: &Join, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    let passphrase = passphrase()?;
    let joined = exchange::join(&asked.joining, &passphrase, &asked.file)?;
    let mut desk = Desk::open(&asked.file, Clock::System)?;
    if let Some(address) = &asked.store {
        exchange::choose_store(&mut desk, address, None)?;
    }
    let first = match exchange::exchange(&mut desk, &mut shown().1) {
        Ok(done) => Some(done),
        Err(ExchangeError::NoStore) => None,
        Err(other) => return Err(other.into()),
    };
    asker.answer(&First { joined, first }, |answer| {
        let joined = &answer.joined;
        let mut lines = vec![format!(
            "{} is device {} of {}, for {}: {}",
            joined.name,
            joined.letter,
            joined.firm,
            joined.person,
            joined.file.display()
        )];
        match &answer.first {
            Some(done) if done.is_reached => lines.extend(told(done)),
            _ => lines.push(
                "The store is not reached yet: what the firm has comes with the first exchange.".to_owned(),
            ),
        }
        lines
    })
}

fn passphrase() -> Result<String, OfficeError> {
    if let Ok(passphrase) = std::env::var(PASSPHRASE) {
        return Ok(passphrase);
    }
    let mut line = String::new();
    let read = std::io::stderr()
        .write_all(b"The passphrase of the joining file: ")
        .and_then(|()| std::io::stdin().read_line(&mut line));
    read.map_err(|error| OfficeError::io("Standard input could not be read", &error))?;
    Ok(line)
}

/// A bar, and what moves it.
fn shown() -> (ProgressBar, impl FnMut(Step) -> bool) {
    let bar = progress::bar("", 0);
    let moved = bar.clone();
    let tell = move |step: Step| {
        let (what, done, all) = match step {
            Step::Fetched(done, all) => ("Fetching parcels", done, all),
            Step::Sent(done, all) => ("Sending parcels", done, all),
            Step::FilesFetched(done, all) => ("Fetching photos", done, all),
            Step::FilesSent(done, all) => ("Sending photos", done, all),
        };
        moved.set_message(what);
        moved.set_length(u64::try_from(all).unwrap_or(0));
        moved.set_position(u64::try_from(done).unwrap_or(0));
        true
    };
    (bar, tell)
}

pub(super) fn exchange(asked: &Exchange, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    if asked.once {
        let (done, left) = exchange_once(&asked.file)?;
        return asker.answer(&done, |done| {
            let mut lines = told(done);
            lines.extend(waits(done));
            lines.extend(left);
            if lines.is_empty() {
                lines.push(format!("Nothing new, {}", done.time));
            }
            lines
        });
    }
    loop {
        match exchange_once(&asked.file) {
            Ok((done, left)) => {
                let lines = asker.answer(&done, |done| told(done).into_iter().chain(left).collect())?;
                let mut out = std::io::stdout().lock();
                let said =
                    lines.iter().try_for_each(|line| writeln!(out, "{line}")).and_then(|()| out.flush());
                said.map_err(|error| OfficeError::io("Standard output is closed", &error))?;
            }
            // A window writes to it, and exchanges by itself.
            Err(busy) if busy.code == Code::Busy => {}
            Err(other) => return Err(other),
        }
        std::thread::sleep(EVERY);
    }
}

fn waits(done: &Exchanged) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(why) = &done.why {
        lines.push(format!("The store is not reached now: {why}"));
    }
    if done.waiting > 0 {
        lines.push(format!("{} of this device wait for the next exchange.", entries(done.waiting)));
    }
    lines
}

/// One exchange, and what left a copy for the site after it. The file is open only as long as that takes.
fn exchange_once(file: &Path) -> Result<(Exchanged, Option<String>), OfficeError> {
    // Nobody sits down for it: it is the machine's own work, and a device that has just joined knows nobody yet.
    let mut desk = Desk::open(file, Clock::System)?;
    let (bar, mut tell) = shown();
    let done = exchange::exchange(&mut desk, &mut tell)?;
    bar.finish_and_clear();
    let is_left = done.is_all_known && exchange::some_job_has_left(desk.books())?;
    drop(desk);
    if !is_left {
        return Ok((done, None));
    }
    exchange::leave_finished_jobs(file)?;
    Ok((done, Some("Finished jobs have left this copy.".to_owned())))
}

pub(super) fn parcel(asked: &Parcel, asker: Asker<'_>) -> Result<Vec<String>, OfficeError> {
    match &asked.what {
        ByHand::Save { file, to } => {
            let mut desk = Desk::open(file, Clock::System)?;
            let saved = exchange::save_parcel(&mut desk, to)?;
            asker.answer(&saved, |saved: &Saved| {
                let for_whom = saved.readers.join(", ");
                let mut lines =
                    vec![format!("{} is for {for_whom}. Nobody else can open it.", saved.file.display())];
                lines.extend(saved.photos.clone());
                lines
            })
        }
        ByHand::Take { file, parcel } => {
            let mut desk = Desk::open(file, Clock::System)?;
            let taken = exchange::take_parcel(&mut desk, parcel)?;
            asker.answer(&taken, |taken: &TakenByHand| {
                let mut lines = taken.came.clone();
                if lines.is_empty() {
                    lines.push("Nothing new came with it.".to_owned());
                }
                lines.extend(taken.photos.clone());
                lines.extend(taken.waiting.iter().map(|waits| format!("waits: {waits}")));
                lines.extend(taken.troubles.iter().map(|trouble| format!("note: {trouble}")));
                lines
            })
        }
    }
}
