//! Two places at once: the office's window and the tablet's, each with its own file, over a real WebDAV store.

use serde_json::{Value, json};
use std::io::Write;
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use tempfile::TempDir;

use crate::crew::log_beyond;
use crate::desk::{Desk, Wish, checkout, text_of};
use crate::driver::{Outcome, Page, wait_for};

/// A store that ends with the test.
struct Server {
    child: Child,
    port: u16,
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

const SECRET: &str = "open sesame";

/// None, and loudly, where none can be had; where `TEAROFF_SERVERS` is set it must be there.
fn web_dav(folder: &Path) -> Outcome<Option<Server>> {
    web_dav_at(TcpListener::bind(("127.0.0.1", 0))?.local_addr()?.port(), folder)
}

/// The same at a port where it was before: the cable is in again.
fn web_dav_at(port: u16, folder: &Path) -> Outcome<Option<Server>> {
    let mut command = Command::new("rclone");
    command.args(["serve", "webdav", "--user", "nell", "--pass", SECRET, "--addr"]);
    command.arg(format!("127.0.0.1:{port}")).arg(folder);
    let child = match command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn() {
        Ok(child) => child,
        Err(none) => {
            assert!(std::env::var_os("TEAROFF_SERVERS").is_none(), "rclone cannot be had here: {none}");
            let _ =
                std::io::stderr().write_all(b"SKIPPED: there is no rclone, so no two windows over a store\n");
            return Ok(None);
        }
    };
    let server = Server { child, port };
    wait_for("the store", || Ok(TcpStream::connect(("127.0.0.1", port)).ok()))?;
    Ok(Some(server))
}

/// A folder with a file for each place.
struct Places {
    home: TempDir,
}

impl Places {
    fn at(&self, name: &str) -> PathBuf {
        self.home.path().join(name)
    }

    /// The command line, which makes the firm before anybody opens a window.
    fn run(&self, words: &[&str], passphrase: &str) -> Outcome<Value> {
        let program = std::env::var_os("TEAROFF_PROGRAM").map(PathBuf::from);
        let mut command = Command::new(program.unwrap_or_else(|| checkout().join("target/debug/tearoff")));
        command.current_dir(self.home.path()).arg("--json").args(words).env("HOME", self.home.path());
        command.env("XDG_STATE_HOME", self.at("state")).env("XDG_DATA_HOME", self.at("data"));
        command.env("TEAROFF_PASSPHRASE", passphrase).env("TEAROFF_STORE_SECRET", SECRET);
        let output = command.output()?;
        if !output.status.success() {
            return Err(format!("{words:?}: {}", String::from_utf8_lossy(&output.stderr)).into());
        }
        Ok(serde_json::from_slice(&output.stdout).unwrap_or_default())
    }

    fn record(&self, file: &str, fact: &Value) -> Outcome<()> {
        self.run(&["record", file, &fact.to_string()], "").map(|_| ())
    }

    /// The office with one job at work, and a tablet that has joined.
    fn make(&self, port: u16) -> Outcome<()> {
        let firm =
            ["--name", "Gable and Eave", "--town", "Otter Bend", "--state", "LK", "--owner", "Olive Marsh"];
        self.run(&[&["new", "office.tearoff"], &firm[..], &["--from", "2026-01-01"]].concat(), "")?;
        for fact in [
            json!({"kind": "crew", "name": "North", "size": 2, "hours_a_day": "8"}),
            json!({"kind": "person", "name": "Bo Finch", "role": "crew", "crew": "North"}),
            json!({"kind": "cost-code", "code": "tear", "title": "Tear-off", "unit": "square", "position": 1}),
            json!({"kind": "customer", "name": "Ada Birch"}),
            json!({"kind": "job", "date": "2026-03-02", "number": "26-001", "title": "Re-roof",
                "customer": "Ada Birch", "site": "1 Mill Lane"}),
            json!({"kind": "contract", "date": "2026-03-02", "job": "26-001", "price": "900.00",
                "included_sheets": "0", "included_feet": "0", "retainage": "0",
                "unit_prices": [{"damaged": "deck-sheet", "counted_in": "sheet", "price": "87.50"}],
                "lines": [{"code": "tear", "cost_kind": "disposal", "amount": "500.00"}]}),
        ] {
            self.record("office.tearoff", &fact)?;
        }
        self.run(&["store", "office.tearoff", &format!("http://nell@127.0.0.1:{port}/")], "")?;
        let whose = ["--name", "North crew's tablet", "--for", "Bo Finch", "--to", "tablet.joining"];
        let added = self.run(&[&["device", "office.tearoff", "add"], &whose[..]].concat(), "")?;
        self.run(&["exchange", "office.tearoff", "--once"], "")?;
        let passphrase = added["passphrase"].as_str().ok_or("There is no passphrase.")?;
        self.run(&["join", "tablet.joining", "tablet.tearoff"], passphrase)?;
        // Each logs something under the same number, which neither can know of.
        for file in ["office.tearoff", "tablet.tearoff"] {
            let find = json!({"kind": "condition", "date": "2026-03-09", "job": "26-001", "number": "9",
                "place": "eave", "cause": "ice-dam", "damaged": "deck-sheet", "counted_in": "sheet", "count": "3"});
            self.record(file, &find)?;
        }
        self.run(&["exchange", "tablet.tearoff", "--once"], "").map(|_| ())
    }

    fn open(&self, file: &str) -> Outcome<Desk> {
        Desk::open(&Wish { words: vec![text_of(&self.at(file))?], ..Wish::default() })
    }
}

#[test]
fn what_a_tablet_logs_is_seen_in_the_office_with_its_photo_and_a_question_is_answered() -> Outcome<()> {
    let places = Places { home: tempfile::tempdir()? };
    std::fs::create_dir(places.at("store"))?;
    let Some(server) = web_dav(&places.at("store"))? else { return Ok(()) };
    places.make(server.port)?;
    let (office, tablet) = (places.open("office.tearoff")?, places.open("tablet.tearoff")?);
    office.page.sit_down_as("owner")?;
    tablet.page.sit_down_as("crew")?;
    tablet.page.wait_for_heading("Site")?;
    log_beyond(&tablet.page)?;
    // The tablet tells it by itself; the office would look within the minute, and is asked to.
    office.page.go("#/firm")?;
    wait_for("the condition", || {
        let told = office.page.ask("exchange_now", &json!({}))?;
        Ok(told["last"]["came"].to_string().contains("1 hidden condition from North").then_some(()))
    })?;
    office.page.wait_for_words("1 hidden condition from North crew's tablet")?;
    office.page.run(
        "const all = [...document.querySelectorAll('h2')]; \
         all.find((each) => each.innerText === 'Devices')?.scrollIntoView(); done(true);",
    )?;
    office.keep_picture("devices-after-an-exchange")?;
    office.page.go("#/job/26-001/changes")?;
    office.page.wait_for_words("valley")?;
    office.page.wait_until("the photo", "document.querySelector('.photo img')?.complete")?;
    // Where they contradict each other, the office shows both sides and a person answers.
    office.page.go("#/month-end/2026-03")?;
    office.page.wait_for_words("Job 26-001 has 2 hidden conditions 9.")?;
    office.page.press_named("Answer it: Job 26-001")?;
    office.page.wait_for_words("on North crew's tablet")?;
    office.page.choose("What holds", "All of it stands")?;
    office.page.fill("Why", "They are two places")?;
    office.keep_picture("question")?;
    office.page.press_named("Record the answer")?;
    office.page.wait_until(
        "the question to be gone",
        "!document.querySelector('dialog[open]') && !document.body.innerText.includes('2 hidden conditions 9')",
    )?;
    // The line is cut: work goes on, and it is said.
    drop(server);
    let told = tablet.page.ask("exchange_now", &json!({}))?;
    assert_eq!(told["last"]["is_reached"], false, "{told}");
    tablet.page.wait_for_words("Off line")
}

/// The numbers of the conditions that a window shows of the one job.
fn numbers(page: &Page) -> Outcome<Vec<String>> {
    let day = page.ask("site_day", &json!({}))?;
    let conditions = day["jobs"][0]["conditions"].as_array().ok_or("There are no conditions.")?;
    Ok(conditions.iter().filter_map(|each| each["number"].as_str().map(str::to_owned)).collect())
}

/// Exchanges until it came through, and answers what came and what waits.
fn in_touch(page: &Page) -> Outcome<Value> {
    wait_for("the store to be reached", || {
        let told = page.ask("exchange_now", &json!({}))?;
        Ok((told["last"]["is_reached"] == true).then(|| told["last"].clone()))
    })
}

fn logs(page: &Page, number: &str) -> Outcome<()> {
    let find = json!({"kind": "condition", "date": "2026-03-10", "job": "26-001", "number": number,
        "place": "valley", "cause": "old-leak", "damaged": "deck-sheet", "counted_in": "sheet", "count": "1"});
    page.ask("record", &json!({"facts": [find]})).map(|_| ())
}

#[test]
fn a_cable_pulled_for_a_day_loses_nothing_and_a_stolen_tablet_learns_nothing_more() -> Outcome<()> {
    let places = Places { home: tempfile::tempdir()? };
    std::fs::create_dir(places.at("store"))?;
    let Some(server) = web_dav(&places.at("store"))? else { return Ok(()) };
    let port = server.port;
    places.make(port)?;
    let (office, mut tablet) = (places.open("office.tearoff")?, places.open("tablet.tearoff")?);
    office.page.sit_down_as("owner")?;
    tablet.page.sit_down_as("crew")?;
    tablet.page.wait_for_heading("Site")?;
    in_touch(&office.page)?;

    // The cable is out: both work on, and the tablet is even switched off and on.
    drop(server);
    log_beyond(&tablet.page)?;
    logs(&office.page, "21")?;
    assert_eq!(tablet.page.ask("exchange_now", &json!({}))?["last"]["is_reached"], false);
    tablet.page.wait_for_words("Off line")?;
    tablet.keep_picture("tablet-off-line")?;
    tablet.kill_and_open_again()?;
    tablet.page.sit_down_as("crew")?;
    tablet.page.wait_for_heading("Site")?;
    let told = tablet.page.ask("exchange_now", &json!({}))?;
    assert!(told["last"]["waiting"].as_i64().is_some_and(|waiting| waiting > 0), "{told}");
    tablet.page.wait_for_words("to be sent")?;
    let logged = numbers(&tablet.page)?;
    assert!(logged.iter().any(|number| !numbers(&office.page).is_ok_and(|all| all.contains(number))));

    // In again: each has what the other wrote, and nothing waits.
    let server = web_dav_at(port, &places.at("store"))?.ok_or("The store does not come back.")?;
    wait_for("both to hold the same", || {
        for page in [&tablet.page, &office.page] {
            in_touch(page)?;
        }
        let (at_office, on_tablet) = (numbers(&office.page)?, numbers(&tablet.page)?);
        let has_all = logged.iter().all(|number| at_office.contains(number));
        Ok((has_all && on_tablet.iter().any(|number| number == "21")).then_some(()))
    })?;
    wait_for("nothing to wait", || Ok((in_touch(&tablet.page)?["waiting"] == 0).then_some(())))?;

    // It is stolen, and dropped in the office. Whoever has it goes on, with the store's words in hand.
    office.page.go("#/firm")?;
    office.page.press_named("Drop North crew's tablet")?;
    office.page.fill("Why", "Stolen from the truck")?;
    office.page.press_named("Drop it")?;
    office.page.wait_for_words("dropped")?;
    office.keep_picture("tablet-dropped")?;
    in_touch(&office.page)?;
    logs(&office.page, "22")?;
    in_touch(&office.page)?;
    logs(&tablet.page, "23")?;
    for page in [&tablet.page, &office.page, &tablet.page, &office.page] {
        let _ = page.ask("exchange_now", &json!({}))?;
    }
    let (at_office, on_tablet) = (numbers(&office.page)?, numbers(&tablet.page)?);
    assert!(at_office.iter().any(|number| number == "22"), "{at_office:?}");
    assert!(!on_tablet.iter().any(|number| number == "22"), "{on_tablet:?}");
    assert!(on_tablet.iter().any(|number| number == "23"), "{on_tablet:?}");
    assert!(!at_office.iter().any(|number| number == "23"), "{at_office:?}");
    // What it sent before stays, and what it holds is what a site needs: no cost, no contract price.
    assert!(logged.iter().all(|number| at_office.contains(number)), "{logged:?} in {at_office:?}");
    for hidden in ["job_page", "month_end"] {
        let takes = json!({"number": "26-001", "month": "2026-03"});
        assert_eq!(tablet.page.invoke(hidden, &takes)?, Err("not-allowed".to_owned()), "{hidden}");
    }
    drop(server);
    Ok(())
}
