//! One file that runs where it is put, without being installed: an AppImage. It is a small program, the runtime, with
//! an image of the package's files behind it; the runtime comes from the package registry, in a package that carries
//! it, and is run by nobody here but the person who opens the file.
//!
//! The system's web view is not in it: on the machine there must be WebKitGTK 4.1, as the Debian package asks for too.

use std::fs;
use std::path::{Path, PathBuf};

use crate::call::Call;
use crate::checkout::Checkout;
use crate::machine;
use crate::trouble::Trouble;

/// The package of the registry that carries the runtime, and where in it.
const CARRIER: &str = "appimage";
const CARRIER_VERSION: &str = "0.4.0";
const RUNTIME: &str = "assets/runtime-x86_64";

/// What makes the image.
const IMAGE_MAKER: &str = "squashfs-tools";

/// Makes the file from the unpacked Debian package.
pub(crate) fn portable(checkout: &Checkout, root: &Path) -> Result<PathBuf, Trouble> {
    if !cfg!(target_arch = "x86_64") {
        return Err(Trouble::said("The runtime of an AppImage is at hand for x86-64 alone."));
    }
    let folder = checkout.target.join("package");
    let files = folder.join("AppDir");
    Call::new("cp").arg("--archive").arg(root).arg(&files).run()?;
    // What the runtime starts and shows stands at the top.
    let icon = "tearoff-desktop.png";
    for (name, of) in [
        ("AppRun", "usr/bin/tearoff-desktop"),
        ("Tearoff.desktop", "usr/share/applications/Tearoff.desktop"),
        (icon, "usr/share/icons/hicolor/128x128/apps/tearoff-desktop.png"),
        (".DirIcon", icon),
    ] {
        Call::new("ln").args(["--symbolic", of]).arg(files.join(name)).run()?;
    }
    if !files.join(icon).exists() {
        return Err(Trouble::said(format!("The package has no icon {icon} of 128 pixels.")));
    }
    let image = folder.join("image");
    machine::with_package(IMAGE_MAKER)?;
    let make = Call::new("mksquashfs").arg(&files).arg(&image);
    make.args(["-root-owned", "-noappend", "-quiet", "-no-progress"]).run()?;

    let mut whole = runtime(checkout, &folder)?;
    whole.extend(fs::read(&image).map_err(Trouble::file(&image, "read"))?);
    let out = checkout.target.join("release/bundle/appimage");
    fs::create_dir_all(&out).map_err(Trouble::file(&out, "made"))?;
    let made = out.join(format!("Tearoff_{}_x86_64.AppImage", env!("CARGO_PKG_VERSION")));
    fs::write(&made, whole).map_err(Trouble::file(&made, "written"))?;
    Call::new("chmod").arg("755").arg(&made).run()?;
    Ok(made)
}

/// Unpacks the file as a person can who has no way to mount it, and answers the root of what was in it.
pub(crate) fn unpacked(checkout: &Checkout, made: &Path) -> Result<PathBuf, Trouble> {
    let folder = checkout.target.join("package/unpacked");
    fs::create_dir_all(&folder).map_err(Trouble::file(&folder, "made"))?;
    Call::new(made).dir(&folder).arg("--appimage-extract").read()?;
    Ok(folder.join("squashfs-root"))
}

/// The runtime's bytes, by an ordinary client of the registry.
fn runtime(checkout: &Checkout, folder: &Path) -> Result<Vec<u8>, Trouble> {
    let carrier = folder.join("runtime");
    fs::create_dir_all(&carrier).map_err(Trouble::file(&carrier, "made"))?;
    let manifest = carrier.join("Cargo.toml");
    let text = format!(
        "[package]\nname = \"runtime\"\nversion = \"0.0.0\"\n\n[lib]\npath = \"lib.rs\"\n\n[workspace]\n\n\
         [dependencies]\n{CARRIER} = \"={CARRIER_VERSION}\"\n"
    );
    fs::write(&manifest, text).map_err(Trouble::file(&manifest, "written"))?;
    fs::write(carrier.join("lib.rs"), "").map_err(Trouble::file(&carrier, "written"))?;
    let asked = checkout.cargo().dir(&carrier).args(["metadata", "--format-version", "1"]).read()?;
    let known: serde_json::Value =
        serde_json::from_str(&asked).map_err(|error| Trouble::said(error.to_string()))?;
    let packages = known["packages"].as_array().into_iter().flatten();
    let found = packages.filter(|package| package["name"] == CARRIER).find_map(|package| {
        let manifest = Path::new(package["manifest_path"].as_str()?);
        Some(manifest.parent()?.join(RUNTIME))
    });
    let Some(path) = found else {
        return Err(Trouble::said(format!("The registry's package {CARRIER} was not found.")));
    };
    fs::read(&path).map_err(Trouble::file(&path, "read"))
}
