//! The types of the page, written from the types of the program: `cargo xtask bindings` writes them, and a test holds
//! what is there against what would be written.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use ts_rs::{Config, TS};

use crate::refusal::Refusal;
use crate::views;

/// Set to write the types instead of comparing them.
const WRITE: &str = "TEAROFF_WRITE_BINDINGS";

type Files = BTreeMap<PathBuf, String>;

fn ours() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../ui/src/lib/bindings")
}

fn write_all(folder: &Path) {
    // Counts cross as JSON numbers; amounts never do.
    let config = Config::new().with_out_dir(folder).with_large_int("number");
    macro_rules! write {
        ($($shape:ty),+ $(,)?) => { $( <$shape as TS>::export_all(&config).unwrap(); )+ };
    }
    write!(
        Refusal,
        views::About,
        views::DeskState,
        views::RecordedFact,
        views::Asked,
        views::Step,
        views::FirmForm,
        views::Attached,
        views::PaperForm,
        views::SavedPaper,
        office::DeskPerson,
        office::JobName,
        office::DraftView,
        office::Kept,
        office::Year,
        office::MonthEnd,
        office::FirmBudget,
        office::CashAhead,
        office::FirmYear,
        office::Overhead,
        office::Payables,
        office::VendorStatement,
        office::Bank,
        office::MatchedLines,
        office::Statement,
        office::Subcontractors,
        office::BillDesk,
        office::BillCheck,
        office::TypedBill,
        office::JobBilling,
        office::LooseEnd,
        office::Closed,
        office::JobPage,
        office::Explanation,
        office::SiteDay,
        office::Workmanship,
        office::Further,
        office::billing::invoice::ToBill,
        office::billing::invoice::InvoiceDraft,
        office::billing::invoice::InvoiceCalculation,
        office::billing::invoice::Priced,
        office::billing::invoice::OpenPart,
        office::Damage,
        office::Calculation,
        office::SiteRoof,
        office::Asking,
        office::ChangeSheet,
        office::Settlement,
        office::Lists,
        office::ConditionHistory,
        office::Which,
        office::AgeBand,
        office::PaidBy,
        office::PamphletBy,
        office::OpenedRecord,
        office::Wanted,
        office::Rates,
        office::rates::TypedRate,
        office::SetUp,
        office::UsualLists,
        office::keep::Checked,
        office::Estimate,
        office::Calculated,
        office::Acceptance,
        office::Accepted,
        office::PlacedOrder,
        office::hand_off::HandOffPreview,
        office::hand_off::HandOffDone,
        office::Question,
        views::InTouchView,
        exchange::Devices,
        exchange::Added,
        exchange::Dropped,
        exchange::Joined,
        exchange::Relettered,
        exchange::Exchanged,
        exchange::Saved,
        exchange::TakenByHand,
        intake::Choices,
        intake::Preview,
        intake::Applied,
        intake::RoofFile,
    );
    fs::write(folder.join("Facts.ts"), office::fact_shapes()).unwrap();
    fs::write(folder.join("Figures.ts"), office::figure_words()).unwrap();
    fs::write(folder.join("Labels.ts"), office::labels()).unwrap();
    fs::write(folder.join("Spanish.ts"), office::site::words::words()).unwrap();
}

fn read_all(folder: &Path, under: &Path, found: &mut Files) {
    for item in fs::read_dir(folder).unwrap() {
        let path = item.unwrap().path();
        if path.is_dir() {
            read_all(&path, under, found);
        } else {
            let name = path.strip_prefix(under).unwrap().to_owned();
            found.insert(name, fs::read_to_string(&path).unwrap());
        }
    }
}

/// What stands in a folder of types. The line in which the generator names itself is not ours to keep.
fn types_in(folder: &Path) -> Files {
    let mut found = Files::new();
    read_all(folder, folder, &mut found);
    found
}

#[test]
fn the_pages_types_are_those_of_the_program() {
    let fresh = std::env::temp_dir().join(format!("tearoff-bindings-{}", std::process::id()));
    fs::create_dir_all(&fresh).unwrap();
    write_all(&fresh);
    let wanted = types_in(&fresh);
    fs::remove_dir_all(&fresh).unwrap();
    assert!(wanted.len() > 40, "only {} types were written", wanted.len());

    if std::env::var_os(WRITE).is_some() {
        fs::remove_dir_all(ours()).unwrap();
        for (name, text) in &wanted {
            let path = ours().join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        }
    }
    let held = types_in(&ours());
    let differ: Vec<&PathBuf> =
        wanted.keys().chain(held.keys()).filter(|name| wanted.get(*name) != held.get(*name)).collect();
    assert!(
        differ.is_empty(),
        "the page's types are behind the program's: {differ:?}. Run `cargo xtask bindings`."
    );
}
