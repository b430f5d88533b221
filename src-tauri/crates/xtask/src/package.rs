//! `cargo xtask package`: what a person installs, made of the release build: a Debian package, and one file that runs
//! where it is put.
//!
//! It holds the window, the command line, the manual's pages, the shells' completions and the type of our files, so
//! that a ledger opens in the window when it is double-clicked. The system's own installer looks after the rest.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::json;

use crate::call::Call;
use crate::checkout::Checkout;
use crate::trouble::Trouble;
use crate::{clean_root, page, portable, window};

/// Makes the packages and unpacks them; if `driven`, installs the one into an empty Debian, and drives the window that
/// was unpacked.
pub(crate) fn package(checkout: &Checkout, driven: bool) -> Result<(), Trouble> {
    if !cfg!(target_os = "linux") {
        return Err(Trouble::said(
            "Packages are made for Debian and its kin so far; nobody has tried others.",
        ));
    }
    window::build_with_command_line(checkout)?;
    let program = checkout.built("release", "tearoff");
    let folder = checkout.target.join("package");
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(Trouble::file(&folder, "removed"))?;
    }
    let manual = folder.join("manual");
    Call::new(&program).arg("manual").arg(&manual).run()?;
    let settings = folder.join("package.json");
    let files = files(checkout, &program, &manual)?;
    let text = json!({ "bundle": { "linux": { "deb": { "files": files } } } }).to_string();
    fs::write(&settings, text).map_err(Trouble::file(&settings, "written"))?;
    page::packages(checkout)?;
    // Called by Node itself, as the page's server is: npm would print a page of its own around it.
    let bundler = checkout.top.join("ui/node_modules/@tauri-apps/cli/tauri.js");
    let bundle = Call::new("node").dir(&checkout.top.join("src-tauri")).arg(bundler);
    bundle.args(["bundle", "--bundles", "deb", "--config"]).arg(&settings).run()?;
    let made = made(&checkout.target.join("release/bundle/deb"))?;
    let root = folder.join("root");
    Call::new("dpkg-deb").arg("--extract").arg(&made).arg(&root).run()?;
    complete(&root)?;
    let portable = portable::portable(checkout, &root)?;
    complete(&portable::unpacked(checkout, &portable)?)?;
    for made in [&made, &portable] {
        println!("\n{} holds the window, the command line and their manual", made.display());
    }
    if !driven {
        return Ok(());
    }
    clean_root::installed(checkout, &made)?;
    window::drive_installed(checkout, &root.join("usr/bin/tearoff-desktop"))
}

/// What the package holds beside the window: its place in the system, and where it lies now.
fn files(
    checkout: &Checkout,
    program: &Path,
    manual: &Path,
) -> Result<serde_json::Map<String, serde_json::Value>, Trouble> {
    let icons = checkout.top.join("src-tauri/icons");
    let mut files = vec![
        ("/usr/bin/tearoff".to_owned(), program.to_owned()),
        (
            "/usr/share/mime/packages/tearoff.xml".to_owned(),
            checkout.top.join("src-tauri/package/file-type.xml"),
        ),
        (
            "/usr/share/icons/hicolor/scalable/mimetypes/application-x-tearoff.svg".to_owned(),
            icons.join("icon.svg"),
        ),
        ("/usr/share/doc/tearoff/copyright".to_owned(), checkout.top.join("LICENSE")),
    ];
    let written = fs::read_dir(manual).map_err(Trouble::file(manual, "read"))?;
    for entry in written {
        let path = entry.map_err(Trouble::file(manual, "read"))?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if let Some(page) = place_of(&name) {
            files.push((page, path));
        }
    }
    Ok(files.into_iter().map(|(place, path)| (place, json!(path))).collect())
}

/// Where the system looks for a page of the manual or a completion, by the name that it was written under.
fn place_of(name: &str) -> Option<String> {
    let place = match name.rsplit_once('.') {
        Some((_, "1")) => format!("/usr/share/man/man1/{name}"),
        Some(("tearoff", "bash")) => "/usr/share/bash-completion/completions/tearoff".to_owned(),
        Some(("tearoff", "fish")) => format!("/usr/share/fish/vendor_completions.d/{name}"),
        None if name == "_tearoff" => "/usr/share/zsh/vendor-completions/_tearoff".to_owned(),
        _ => return None,
    };
    Some(place)
}

/// The package that the bundler has left.
fn made(folder: &Path) -> Result<PathBuf, Trouble> {
    let entries = fs::read_dir(folder).map_err(Trouble::file(folder, "read"))?;
    let packages = entries.flatten().map(|entry| entry.path());
    let mut packages: Vec<PathBuf> =
        packages.filter(|path| path.extension().is_some_and(|ending| ending == "deb")).collect();
    packages.sort();
    packages.pop().ok_or_else(|| Trouble::said(format!("There is no package in {}.", folder.display())))
}

/// What a person would miss if it were not in the package.
const PARTS: [&str; 8] = [
    "usr/bin/tearoff",
    "usr/bin/tearoff-desktop",
    "usr/share/applications/Tearoff.desktop",
    "usr/share/mime/packages/tearoff.xml",
    "usr/share/man/man1/tearoff.1",
    "usr/share/man/man1/tearoff-month-end.1",
    "usr/share/bash-completion/completions/tearoff",
    "usr/share/zsh/vendor-completions/_tearoff",
];

/// What only tests say to the window.
const SEAMS: [&str; 1] = ["TEAROFF_DIALOG_ANSWER"];

/// Refuses a package in which something is missing, that hears what only tests say, or whose window does not take a
/// file to open.
fn complete(root: &Path) -> Result<(), Trouble> {
    if let Some(part) = PARTS.iter().find(|part| !root.join(part).is_file()) {
        return Err(Trouble::said(format!("The package has no {part}.")));
    }
    let window = root.join(PARTS[1]);
    let program = fs::read(&window).map_err(Trouble::file(&window, "read"))?;
    if let Some(seam) =
        SEAMS.iter().find(|seam| program.windows(seam.len()).any(|part| part == seam.as_bytes()))
    {
        return Err(Trouble::said(format!(
            "The package's window still hears {seam}, which only tests may say."
        )));
    }
    let entry = root.join(PARTS[2]);
    let text = fs::read_to_string(&entry).map_err(Trouble::file(&entry, "read"))?;
    let opens = text.lines().any(|line| line == "Exec=tearoff-desktop %f");
    let ours =
        text.lines().any(|line| line.starts_with("MimeType=") && line.contains("application/x-tearoff"));
    if opens && ours {
        return Ok(());
    }
    Err(Trouble::said(format!("A double click on a ledger would not open the window:\n{text}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_and_completions_go_where_the_system_looks_for_them() {
        assert_eq!(place_of("tearoff-job.1").as_deref(), Some("/usr/share/man/man1/tearoff-job.1"));
        assert_eq!(place_of("_tearoff").as_deref(), Some("/usr/share/zsh/vendor-completions/_tearoff"));
        assert_eq!(place_of("notes"), None);
        assert_eq!(place_of("other.bash"), None);
    }

    #[test]
    fn a_package_without_its_parts_is_refused_by_the_part_that_is_missing() {
        let root = tempfile::tempdir().unwrap();
        assert!(complete(root.path()).unwrap_err().to_string().contains("no usr/bin/tearoff."));
        for part in PARTS {
            let path = root.path().join(part);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, "").unwrap();
        }
        assert!(complete(root.path()).unwrap_err().to_string().contains("would not open the window"));
        fs::write(root.path().join(PARTS[1]), "\0TEAROFF_DIALOG_ANSWER\0").unwrap();
        assert!(complete(root.path()).unwrap_err().to_string().contains("which only tests may say"));
        fs::write(root.path().join(PARTS[1]), "").unwrap();
        let entry = "Exec=tearoff-desktop %f\nMimeType=application/x-tearoff;\n";
        fs::write(root.path().join(PARTS[2]), entry).unwrap();
        complete(root.path()).unwrap();
    }
}
