//! The package installed as a person's machine would install it: into a Debian that has nothing yet, so that what it
//! does not ask for is not there.

use std::fs;
use std::path::Path;

use crate::call::Call;
use crate::checkout::Checkout;
use crate::trouble::Trouble;
use crate::{machine, sample};

/// What makes a small Debian in a folder.
const MAKER: &str = "debootstrap";

/// What is done there first: the programs find all that they are linked to, the command line does its main job, and the
/// manual can be found.
const TRIED: &str = "
    if ldd /usr/bin/tearoff-desktop /usr/bin/tearoff | grep 'not found'; then exit 1; fi
    cd /srv
    tearoff sample firm.tearoff
    tearoff verify firm.tearoff
    tearoff month-end firm.tearoff --month $MONTH
    test -f /usr/share/man/man1/tearoff-month-end.1
    grep --quiet application/x-tearoff /usr/share/mime/globs2
";

/// Installs the package into a new Debian of this machine's own version, and tries it there.
pub(crate) fn installed(checkout: &Checkout, package: &Path) -> Result<(), Trouble> {
    machine::with_package(MAKER)?;
    let root = checkout.target.join("package/clean");
    Call::new(MAKER).args(["--variant=minbase", &version()?]).arg(&root).run()?;
    for (from, to) in [(package, "srv/tearoff.deb"), (Path::new("/etc/resolv.conf"), "etc/resolv.conf")] {
        let to = root.join(to);
        fs::copy(from, &to).map_err(Trouble::file(&to, "written"))?;
    }
    let install =
        "apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq /srv/tearoff.deb";
    for script in [install, TRIED] {
        inside(&root).env("MONTH", sample::MONTH).args(["sh", "-e", "-c", script]).run()?;
    }
    // Half a gigabyte that the next package makes anew.
    fs::remove_dir_all(&root).map_err(Trouble::file(&root, "removed"))
}

/// A call in that root, with processes and mounts of its own, which go when it ends.
fn inside(root: &Path) -> Call {
    let processes = format!("--mount-proc={}", root.join("proc").display());
    Call::new("unshare").args(["--mount", "--pid", "--fork", &processes, "chroot"]).arg(root)
}

/// The name of the Debian that this is.
fn version() -> Result<String, Trouble> {
    let told = Path::new("/etc/os-release");
    let text = fs::read_to_string(told).map_err(Trouble::file(told, "read"))?;
    name_of(&text).ok_or_else(|| Trouble::said("This system does not tell which Debian it is."))
}

fn name_of(release: &str) -> Option<String> {
    let value = release.lines().find_map(|line| line.strip_prefix("VERSION_CODENAME="))?;
    Some(value.trim_matches('"').to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_debian_is_the_one_that_the_system_names() {
        assert_eq!(name_of("ID=debian\nVERSION_CODENAME=bookworm\n").as_deref(), Some("bookworm"));
        assert_eq!(name_of("VERSION_CODENAME=\"noble\"").as_deref(), Some("noble"));
        assert_eq!(name_of("NAME=Other\n"), None);
    }
}
