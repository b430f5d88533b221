//! What the machine must have before anything can be built, and how it gets it.
//!
//! Only Debian and its kin are looked after. Elsewhere the needs are named and the chores go on: a person there
//! knows how to install them, and the step that misses one says so.

use crate::call::Call;
use crate::checkout::Checkout;
use crate::step::Outcome;
use crate::trouble::Trouble;

/// A C compiler, for SQLite and BLAKE3, which are built from source.
const TO_BUILD: &[&str] = &["build-essential", "pkg-config"];

/// The system's web view, for the window, and what drives it without a screen in the tests.
const FOR_THE_WINDOW: &[&str] = &["libwebkit2gtk-4.1-dev", "webkit2gtk-driver", "xvfb", "dbus-daemon"];

/// Installs what is missing, and names it first.
pub(crate) fn prepare(checkout: &Checkout) -> Result<Outcome, Trouble> {
    let mut needs: Vec<&str> = TO_BUILD.to_vec();
    if checkout.has_desktop()? {
        needs.extend(FOR_THE_WINDOW);
    }
    if !Call::new("dpkg-query").arg("--version").works() {
        return Ok(Outcome::skipped(format!(
            "this is not a Debian system; it needs what Debian calls {}, and Python 3 with venv",
            needs.join(", ")
        )));
    }
    let mut missing: Vec<&str> = needs.into_iter().filter(|package| !is_installed(package)).collect();
    // A Python that did not come from Debian serves as well, so Python is asked and not the list of packages.
    if !Call::new("python3").args(["-c", "import ensurepip, venv"]).works() {
        missing.extend(["python3", "python3-venv"]);
    }
    if missing.is_empty() {
        println!("  everything needed is here");
    } else {
        install(&missing)?;
    }
    node_is_here(checkout)?;
    Ok(Outcome::Passed)
}

/// The page is built with Node, which is not installed for a person: Debian's own is too old for it.
fn node_is_here(checkout: &Checkout) -> Result<(), Trouble> {
    if !checkout.top.join("ui/package.json").is_file() || Call::new("node").arg("--version").works() {
        return Ok(());
    }
    Err(Trouble::said("Node is not installed. Install Node 20.19 or newer with npm, then try again."))
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
    println!("  installing with apt-get: {}", missing.join(" "));
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
    fn only_a_package_that_is_really_there_counts_as_installed() {
        assert!(says_installed("installed"));
        assert!(says_installed("installedinstalled"));
        assert!(!says_installed("config-files"));
        assert!(!says_installed("not-installed"));
        assert!(!says_installed(""));
    }
}
