//! The page inside the window: its packages, its checks, its build.

use std::fs;
use std::net::{IpAddr, Ipv4Addr, SocketAddr, TcpStream};
use std::path::Path;
use std::time::{Duration, SystemTime};

use crate::call::{Call, Running};
use crate::checkout::{Checkout, done_for, read};
use crate::outcome::Outcome;
use crate::trouble::Trouble;

/// Types, what a careful reader would say, components and the build, in this order.
pub(crate) fn check(checkout: &Checkout) -> Result<Outcome, Trouble> {
    if !is_here(checkout) {
        return Ok(Outcome::skipped("there is no ui/package.json"));
    }
    packages(checkout)?;
    for script in ["check", "lint", "test"] {
        npm(checkout).args(["run", script]).run()?;
    }
    build(checkout)?;
    Ok(Outcome::Passed)
}

/// Builds the page if the workspace has a window and the page is not built yet: the window cannot be compiled
/// without it.
pub(crate) fn ready(checkout: &Checkout) -> Result<(), Trouble> {
    if checkout.top.join("ui/dist/index.html").is_file() || !checkout.has_desktop()? {
        return Ok(());
    }
    build(checkout)
}

/// Builds the page as it is now, unless it was built since anything of it changed: the program has the page inside, and
/// a page that is written anew is compiled and linked anew with it.
pub(crate) fn build(checkout: &Checkout) -> Result<(), Trouble> {
    packages(checkout)?;
    let ui = checkout.top.join("ui");
    let built = fs::metadata(ui.join("dist/index.html")).and_then(|page| page.modified());
    if let Ok(built) = built
        && !MADE_OF.iter().any(|part| changed_since(&ui.join(part), built))
    {
        return Ok(());
    }
    npm(checkout).args(["run", "build"]).run()
}

/// What the built page is made of.
const MADE_OF: [&str; 7] = [
    "src",
    "index.html",
    "package.json",
    "package-lock.json",
    "svelte.config.js",
    "tsconfig.json",
    "vite.config.ts",
];

/// Whether a file, or a folder or anything in it, was written since; what can't be read counts as written. A folder is
/// written when something is taken out of it.
fn changed_since(path: &Path, time: SystemTime) -> bool {
    if !fs::metadata(path).and_then(|known| known.modified()).is_ok_and(|changed| changed < time) {
        return true;
    }
    let within = fs::read_dir(path).into_iter().flatten();
    within.flatten().any(|entry| changed_since(&entry.path(), time))
}

fn is_here(checkout: &Checkout) -> bool {
    checkout.top.join("ui/package.json").is_file()
}

/// What a person is told of the page before a commit: format and types, of which only what changed is read again. It
/// runs beside something else, so what it writes is kept until it has ended.
pub(crate) fn check_aside(checkout: &Checkout) -> (String, Result<(), Trouble>) {
    match packages(checkout) {
        Ok(()) => npm(checkout).args(["run", "--silent", "check", "--", "--incremental"]).run_aside(),
        Err(trouble) => (String::new(), Err(trouble)),
    }
}

/// Where the page is served while it is being written: on this machine alone.
pub(crate) const SERVED_AT: SocketAddr = SocketAddr::new(IpAddr::V4(Ipv4Addr::LOCALHOST), 5178);

/// Serves the page as it is being written; it changes in the window as soon as a file of it does.
pub(crate) fn serve(checkout: &Checkout) -> Result<Running, Trouble> {
    packages(checkout)?;
    let ui = checkout.top.join("ui");
    let port = SERVED_AT.port().to_string();
    // Called by Node itself: npm would leave the server running when it is stopped.
    let server = Call::new("node").dir(&ui).arg("node_modules/vite/bin/vite.js");
    let at = ["--host", "127.0.0.1", "--port", port.as_str(), "--strictPort", "--clearScreen", "false"];
    let mut running = server.args(at).start()?;
    for _ in 0..SERVER_WAITS {
        if let Some(ended) = running.ended() {
            ended?;
            return Err(Trouble::said("The page's server ended by itself."));
        }
        if TcpStream::connect_timeout(&SERVED_AT, SERVER_WAIT).is_ok() {
            return Ok(running);
        }
        std::thread::sleep(SERVER_WAIT);
    }
    Err(Trouble::said(format!("The page's server does not answer at {SERVED_AT}.")))
}

/// How often, and how long each time, the page's server is waited for.
const SERVER_WAITS: u32 = 150;
const SERVER_WAIT: Duration = Duration::from_millis(200);

/// Installs exactly what the lock file names, unless that was done for this very lock file.
pub(crate) fn packages(checkout: &Checkout) -> Result<(), Trouble> {
    let lock = read(&checkout.top.join("ui/package-lock.json"))?;
    let stamp = checkout.top.join("ui/node_modules/.lock-installed");
    if done_for(&stamp, &lock) {
        return Ok(());
    }
    npm(checkout).args(["ci", "--no-audit", "--no-fund"]).run()?;
    fs::write(&stamp, lock).map_err(Trouble::file(&stamp, "written"))
}

fn npm(checkout: &Checkout) -> Call {
    Call::new("npm").dir(&checkout.top.join("ui"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_written_or_taken_out_since_is_noticed() {
        let home = tempfile::tempdir().unwrap();
        let (file, folder) = (home.path().join("one"), home.path().join("in"));
        fs::create_dir(&folder).unwrap();
        fs::write(&file, "1").unwrap();
        fs::write(folder.join("two"), "2").unwrap();
        let (long_ago, later) = (SystemTime::UNIX_EPOCH, SystemTime::now() + Duration::from_secs(60));
        assert!(changed_since(home.path(), long_ago), "written since");
        assert!(!changed_since(home.path(), later), "nothing was written");
        fs::remove_file(folder.join("two")).unwrap();
        let moment = fs::metadata(&folder).unwrap().modified().unwrap();
        assert!(changed_since(home.path(), moment), "something was taken out");
        assert!(changed_since(&folder.join("two"), later), "what is not there is written");
    }
}
