//! What the machine must have before anything can be built, and how it gets it.
//!
//! Only Debian and its kin are looked after. Elsewhere the needs are named and the chores go on: a person there
//! knows how to install them, and the step that misses one says so.

use crate::call::Call;
use crate::checkout::Checkout;
use crate::outcome::Outcome;
use crate::trouble::Trouble;
use crate::{page, python};

/// A C compiler, for SQLite and BLAKE3, which are built from source; and what reads SQLite's own headers for the tests'
/// disk.
const TO_BUILD: &[&str] = &["build-essential", "pkg-config", "libclang-dev"];

/// The system's web view, for the window, and what drives it without a screen in the tests.
const FOR_THE_WINDOW: &[&str] = &["libwebkit2gtk-4.1-dev", "webkit2gtk-driver", "xvfb", "dbus-daemon"];

/// Servers of each kind that may keep the devices' parcels; a test starts and ends each of them. An S3-type one comes
/// with the tests.
const FOR_THE_STORES: &[&str] = &["rclone", "openssh-server", "postgresql"];

/// What this machine lacks.
#[derive(Debug, Default, PartialEq, Eq)]
struct Lacks {
    /// Debian packages that can be installed from here.
    packages: Vec<&'static str>,
    /// What a person has to see to, in sentences.
    by_hand: Vec<String>,
}

impl Lacks {
    fn nothing(&self) -> bool {
        self.packages.is_empty() && self.by_hand.is_empty()
    }

    /// What a person reads before anything is installed.
    fn said(&self) -> Vec<String> {
        let mut lines = Vec::new();
        if self.nothing() {
            lines.push("everything needed is here".to_owned());
        }
        if !self.packages.is_empty() {
            lines.push(format!("missing, to be installed with apt-get: {}", self.packages.join(" ")));
        }
        lines.extend(self.by_hand.iter().map(|need| format!("missing: {need}")));
        lines
    }
}

/// The step `machine` of the tests: installs what is missing, and names it first.
pub(crate) fn prepare(checkout: &Checkout) -> Result<Outcome, Trouble> {
    if let Some(why) = not_looked_after(checkout)? {
        return Ok(Outcome::skipped(why));
    }
    let lacks = lacks(checkout)?;
    for line in lacks.said() {
        println!("  {line}");
    }
    if !lacks.packages.is_empty() {
        install(&lacks.packages)?;
    }
    match lacks.by_hand.first() {
        None => Ok(Outcome::Passed),
        Some(need) => Err(Trouble::said(format!("{need} Then try again."))),
    }
}

/// The chore `setup`: says what the machine lacks, then installs it, and what the page and the tests are built with.
/// With `only_say` nothing is installed.
pub(crate) fn set_up(checkout: &Checkout, only_say: bool) -> Result<(), Trouble> {
    if !only_say {
        if let Outcome::Skipped(why) = prepare(checkout)? {
            println!("  {why}");
        }
        page::packages(checkout)?;
        python::ready(checkout)?;
        println!("\nready: `cargo xtask run` opens the made-up firm, `cargo xtask dev` is for working on it");
        return Ok(());
    }
    if let Some(why) = not_looked_after(checkout)? {
        println!("  {why}");
        return Ok(());
    }
    let lacks = lacks(checkout)?;
    for line in lacks.said() {
        println!("  {line}");
    }
    if lacks.nothing() {
        return Ok(());
    }
    Err(Trouble::said("Nothing was installed. `cargo xtask setup` installs what apt-get can."))
}

/// Sees to it that a package is here that one chore alone needs.
pub(crate) fn with_package(name: &'static str) -> Result<(), Trouble> {
    if !is_looked_after() || is_installed(name) {
        return Ok(());
    }
    println!("  missing, to be installed with apt-get: {name}");
    install(&[name])
}

/// Whether this is a system on which what is missing can be installed from here.
pub(crate) fn is_looked_after() -> bool {
    Call::new("dpkg-query").arg("--version").works()
}

/// Why this system is not looked after, if it is not.
fn not_looked_after(checkout: &Checkout) -> Result<Option<String>, Trouble> {
    if is_looked_after() {
        return Ok(None);
    }
    Ok(Some(format!(
        "this is not a Debian system; it needs what Debian calls {}, Python 3 with venv, and Node 20.19 or newer",
        needs(checkout)?.join(", ")
    )))
}

fn needs(checkout: &Checkout) -> Result<Vec<&'static str>, Trouble> {
    let window = if checkout.has_desktop()? { FOR_THE_WINDOW } else { &[] };
    Ok([TO_BUILD, FOR_THE_STORES, window].concat())
}

/// Looks what is here. Nothing is changed.
fn lacks(checkout: &Checkout) -> Result<Lacks, Trouble> {
    let mut lacks = Lacks {
        packages: needs(checkout)?.into_iter().filter(|package| !is_installed(package)).collect(),
        by_hand: Vec::new(),
    };
    // A Python that did not come from Debian serves as well, so Python is asked and not the list of packages.
    if !Call::new("python3").args(["-c", "import ensurepip, venv"]).works() {
        lacks.packages.extend(["python3", "python3-venv"]);
    }
    // The page is built with Node, which is not installed for a person: Debian's own is too old for it.
    if checkout.top.join("ui/package.json").is_file() {
        lacks.by_hand.extend(node_is_missing());
    }
    Ok(lacks)
}

/// What to do about Node, if it is not here or too old.
fn node_is_missing() -> Option<String> {
    let install = "Install Node 20.19 or newer with npm.";
    let Ok(version) = Call::new("node").arg("--version").read() else {
        return Some(format!("Node is not installed. {install}"));
    };
    if !is_new_enough(&version) {
        return Some(format!("Node {} is too old. {install}", version.trim()));
    }
    if Call::new("npm").arg("--version").works() {
        None
    } else {
        Some(format!("npm is not installed. {install}"))
    }
}

/// Whether Node's own words for its version, as in `v20.19.1`, mean 20.19 or newer.
fn is_new_enough(version: &str) -> bool {
    let mut numbers =
        version.trim().trim_start_matches('v').split('.').map(|number| number.parse::<u32>().ok());
    (numbers.next().flatten(), numbers.next().flatten()) >= (Some(20), Some(19))
}

fn is_installed(package: &str) -> bool {
    let status = Call::new("dpkg-query").args(["--show", "--showformat=${db:Status-Status}", package]).read();
    status.is_ok_and(|status| says_installed(&status))
}

/// A package that was removed but left its settings behind is still listed, as `config-files`. One that is here for
/// two architectures is listed twice, without a space between.
fn says_installed(status: &str) -> bool {
    status.starts_with("installed")
}

fn install(missing: &[&str]) -> Result<(), Trouble> {
    as_root("apt-get")?.args(["update", "-qq"]).run()?;
    let words = ["install", "-y", "-qq", "--no-install-recommends"];
    as_root("apt-get")?.args(words).args(missing).run()
}

/// A call that may install: as it is for root, through sudo for anyone else.
fn as_root(program: &str) -> Result<Call, Trouble> {
    let quiet = "DEBIAN_FRONTEND=noninteractive";
    if Call::new("id").arg("-u").read()?.trim() == "0" {
        return Ok(Call::new("env").arg(quiet).arg(program));
    }
    if Call::new("sudo").arg("--version").works() {
        return Ok(Call::new("sudo").arg(quiet).arg(program));
    }
    Err(Trouble::said(format!(
        "`{program}` needs root, and sudo is not here. Install the packages named above as root, then try again."
    )))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_missing_is_said_before_it_is_installed() {
        assert_eq!(Lacks::default().said(), ["everything needed is here"]);
        let lacks = Lacks { packages: vec!["xvfb", "pkg-config"], by_hand: vec!["No Node.".to_owned()] };
        assert_eq!(
            lacks.said(),
            ["missing, to be installed with apt-get: xvfb pkg-config", "missing: No Node."]
        );
        assert!(!lacks.nothing());
    }

    #[test]
    fn node_must_be_20_19_or_newer() {
        assert!(is_new_enough("v20.19.0\n") && is_new_enough("v22.1.3") && is_new_enough("v24.0.0"));
        assert!(!is_new_enough("v20.18.9") && !is_new_enough("v18.20.4") && !is_new_enough("what"));
    }

    #[test]
    fn only_a_package_that_is_really_there_counts_as_installed() {
        assert!(says_installed("installed"));
        assert!(says_installed("installedinstalled"));
        assert!(!says_installed("config-files"));
        assert!(!says_installed("not-installed"));
        assert!(!says_installed(""));
    }
}
