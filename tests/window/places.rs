//! Two places at once: the office's window and the tablet's, each with its own file, over a real WebDAV store.

use serde_json::{Value, json};
use std::io::Write;
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use tempfile::TempDir;

use crate::crew::log_beyond;
use crate::desk::{Desk, Wish, checkout, text_of};
use crate::driver::{Outcome, wait_for};

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
    let port = TcpListener::bind(("127.0.0.1", 0))?.local_addr()?.port();
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
