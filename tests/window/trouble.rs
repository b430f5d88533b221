//! When things go wrong: a disk that is full, and a file given to a program that already runs.

use std::fs::{self, File};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use serde_json::json;

use crate::desk::{Desk, SmallDisk, Wish, text_of};
use crate::driver::{Outcome, key};
use crate::owner::{cost_of, fill_bill, job_under_way, known_vendor};

/// Room beside the firm's file for the first entries of a day, and no more.
const SPARE_BYTES: u64 = 6 * 1024 * 1024;

fn firm(folder: &Path, name: &str) -> Outcome<PathBuf> {
    let file = folder.join(name);
    drop(office::sample::write(&file, &mut |_, _| true)?);
    Ok(file)
}

/// Takes up all that is left on a disk, down to the last byte.
fn fill_up(place: &Path) -> Outcome<PathBuf> {
    let path = place.join("filled");
    let mut file = File::create(&path)?;
    for size in [64 * 1024, 512, 1] {
        let block = vec![0_u8; size];
        loop {
            match file.write(&block) {
                Ok(0) => break,
                Ok(_) => {}
                Err(error) if error.kind() == ErrorKind::StorageFull => break,
                Err(error) => return Err(error.into()),
            }
        }
    }
    Ok(path)
}

#[test]
fn a_full_disk_is_said_in_words_the_form_stays_filled_and_nothing_is_lost() -> Outcome<()> {
    let home = tempfile::tempdir()?;
    let file = firm(home.path(), "Quill.tearoff")?;
    let place = home.path().join("small disk");
    fs::create_dir(&place)?;
    let bytes = fs::metadata(&file)?.len() + SPARE_BYTES;
    let words = vec![text_of(&place.join("Quill.tearoff"))?];
    let disk = Some(SmallDisk { place: place.clone(), bytes, file });
    let desk = Desk::open(&Wish { words, disk, ..Wish::default() })?;
    let page = &desk.page;
    page.sit_down_as("owner")?;
    page.wait_for_jobs()?;
    let number = job_under_way(page)?;
    let vendor = known_vendor(page)?;
    let before = cost_of(page, &number)?;
    page.open_job(&number)?;
    fill_bill(page, &vendor)?;
    page.strike(&[key::TAB])?;

    // The disk is the program's own: it is reached through the program.
    let seen = PathBuf::from(format!("/proc/{}/root{}", desk.process()?, place.display()));
    let filled = fill_up(&seen)?;
    page.strike_with(key::CONTROL, key::ENTER)?;
    page.wait_for_words("disk")?;
    page.wait_for_words("Nothing was")?;
    assert_eq!(page.value_of("Number on it")?, "T-100", "the form was emptied");
    assert_eq!(page.value_of("Amount before tax")?, "123.45", "the form was emptied");
    assert_eq!(cost_of(page, &number)?, before, "half a bill was recorded");

    fs::remove_file(filled)?;
    page.strike_with(key::CONTROL, key::ENTER)?;
    page.named("button", "Undo")?;
    assert_ne!(cost_of(page, &number)?, before, "with room again, the bill was not recorded");
    Ok(())
}

#[test]
fn a_file_given_to_a_second_start_is_opened_in_the_first_window_or_said_why_not() -> Outcome<()> {
    let home = tempfile::tempdir()?;
    let (first, second) = (firm(home.path(), "First.tearoff")?, firm(home.path(), "Second.tearoff")?);
    let wrong = home.path().join("Wrong.tearoff");
    fs::write(&wrong, "no ledger")?;
    let desk = Desk::open(&Wish { bus: true, words: vec![text_of(&first)?], ..Wish::default() })?;
    let page = &desk.page;
    let open = || -> Outcome<String> {
        Ok(page.ask("desk_state", &json!({}))?["file"].as_str().unwrap_or_default().to_owned())
    };
    page.wait_until("the people of the firm", "document.querySelector('section[aria-labelledby=who]')")?;
    assert_eq!(open()?, text_of(&first)?);

    desk.start_again_with(&[&text_of(&wrong)?])?.wait()?;
    page.wait_until("why it was not opened", "document.querySelector('.toast.refused')")?;
    assert_eq!(open()?, text_of(&first)?, "a file that is none took the place of the firm's");

    desk.start_again_with(&[&text_of(&second)?])?.wait()?;
    crate::driver::wait_for("the second file", || {
        Ok((open().unwrap_or_default() == text_of(&second)?).then_some(()))
    })?;
    page.wait_until("the page to follow", "document.querySelector('section[aria-labelledby=who]')")?;
    assert_eq!(page.windows()?, 1);
    Ok(())
}
