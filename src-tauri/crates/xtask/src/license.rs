//! Every dependency's license is one that we have said yes to, in `.deny.toml`.
//!
//! This reads what the packages say of themselves and installs nothing, so that it can be part of every test run.
//! `cargo xtask deny` looks at the license texts as well.

use spdx::{Expression, Licensee, ParseMode};

use crate::checkout::{Checkout, read};
use crate::outcome::Outcome;
use crate::trouble::Trouble;

/// Compares every package that cargo or the page's lock file names with the list.
pub(crate) fn check(checkout: &Checkout) -> Result<Outcome, Trouble> {
    let allowed = Allowed::parse(&read(&checkout.top.join(".deny.toml"))?)?;
    let metadata = checkout.cargo().args(["metadata", "--format-version", "1", "--quiet"]).read()?;
    let mut packages = of_cargo(&metadata)?;
    let lock = checkout.top.join("ui/package-lock.json");
    if lock.is_file() {
        packages.extend(of_page(&read(&lock)?)?);
    }
    let refused: Vec<String> = packages.iter().filter_map(|package| allowed.refusal(package)).collect();
    if !refused.is_empty() {
        return Err(Trouble::said(format!(
            "{}\nUse another package, or say yes to the license in .deny.toml and why.",
            refused.join("\n")
        )));
    }
    println!("  {} packages, all under licenses on the list", packages.len());
    Ok(Outcome::Passed)
}

/// A package and what it says of its license.
#[derive(Debug, PartialEq, Eq)]
struct Package {
    name: String,
    license: Option<String>,
}

/// The packages of `cargo metadata`, our own among them.
fn of_cargo(metadata: &str) -> Result<Vec<Package>, Trouble> {
    let value = json(metadata, "what cargo metadata wrote")?;
    let packages = value.get("packages").and_then(serde_json::Value::as_array);
    let packages = packages.ok_or_else(|| Trouble::said("What cargo metadata wrote has no `packages`."))?;
    Ok(packages
        .iter()
        .map(|package| Package {
            name: format!("{} {}", text(package, "name"), text(package, "version")),
            license: package.get("license").and_then(serde_json::Value::as_str).map(str::to_owned),
        })
        .collect())
}

/// The packages of the page's lock file that end up in the page. What only builds or tests it is not handed out.
fn of_page(lock: &str) -> Result<Vec<Package>, Trouble> {
    let value = json(lock, "ui/package-lock.json")?;
    let packages = value.get("packages").and_then(serde_json::Value::as_object);
    let packages = packages.ok_or_else(|| Trouble::said("ui/package-lock.json has no `packages`."))?;
    let handed_out = packages.iter().filter(|(_, package)| package.get("dev").is_none());
    Ok(handed_out
        .map(|(place, package)| Package {
            name: format!("ui/{place} {}", text(package, "version")),
            license: package.get("license").and_then(serde_json::Value::as_str).map(str::to_owned),
        })
        .collect())
}

fn json(wrote: &str, what: &str) -> Result<serde_json::Value, Trouble> {
    serde_json::from_str(wrote).map_err(|error| Trouble::said(format!("{what} is not JSON: {error}")))
}

fn text<'a>(package: &'a serde_json::Value, field: &str) -> &'a str {
    package.get(field).and_then(serde_json::Value::as_str).unwrap_or("?")
}

/// What an expression may look like: as the SPDX specification has it, and with `/` for OR, as some packages still
/// write it.
const READ_AS: ParseMode = ParseMode { allow_slash_as_or_operator: true, ..ParseMode::STRICT };

/// The licenses that we said yes to.
struct Allowed(Vec<Licensee>);

impl Allowed {
    /// Reads `licenses.allow` of `.deny.toml`.
    fn parse(settings: &str) -> Result<Self, Trouble> {
        let table: toml::Table = settings
            .parse()
            .map_err(|error| Trouble::said(format!(".deny.toml could not be read: {error}")))?;
        let list =
            table.get("licenses").and_then(|licenses| licenses.get("allow")).and_then(toml::Value::as_array);
        let list = list.ok_or_else(|| Trouble::said(".deny.toml has no list `allow` under [licenses]."))?;
        let names = list.iter().filter_map(toml::Value::as_str);
        let license = |name: &str| {
            Licensee::parse(name)
                .map_err(|_| Trouble::said(format!(".deny.toml allows {name:?}, which SPDX does not know.")))
        };
        names.map(license).collect::<Result<_, _>>().map(Self)
    }

    /// Why a package may not be used; nothing if it may.
    fn refusal(&self, package: &Package) -> Option<String> {
        let Some(license) = &package.license else {
            return Some(format!("{} does not say under which license it is.", package.name));
        };
        match self.covers(license) {
            Some(true) => None,
            Some(false) => Some(format!("{} is under {license}, which is not on the list.", package.name)),
            None => Some(format!("{} says its license is {license:?}, which cannot be read.", package.name)),
        }
    }

    /// Whether a license expression can be met with the licenses on the list. Nothing if it is no such expression.
    fn covers(&self, expression: &str) -> Option<bool> {
        let expression = Expression::parse_mode(expression, READ_AS).ok()?;
        Some(expression.evaluate(|asked| self.0.iter().any(|allowed| allowed.satisfies(asked))))
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    fn allowed() -> Allowed {
        Allowed::parse(
            "[licenses]\nallow = [\"MIT\", \"Apache-2.0\", \"Apache-2.0 WITH LLVM-exception\", \"ISC\"]",
        )
        .unwrap()
    }

    #[rstest]
    #[case("MIT", Some(true))]
    #[case("GPL-3.0-only", Some(false))]
    #[case("GPL-3.0-only OR MIT", Some(true))]
    #[case("GPL-3.0-only/MIT", Some(true))]
    #[case("GPL-3.0-only AND MIT", Some(false))]
    #[case("MIT OR GPL-3.0-only AND ISC", Some(true))]
    #[case("(MIT OR ISC) AND GPL-3.0-only", Some(false))]
    #[case("(MIT OR GPL-3.0-only) AND Apache-2.0", Some(true))]
    #[case("Apache-2.0 WITH LLVM-exception", Some(true))]
    #[case("MIT WITH LLVM-exception", Some(false))]
    #[case("", None)]
    #[case("MIT OR", None)]
    #[case("(MIT", None)]
    #[case("MIT ISC", None)]
    #[case("MIT WITH", None)]
    fn an_expression_is_met_only_by_what_is_on_the_list(#[case] license: &str, #[case] met: Option<bool>) {
        assert_eq!(allowed().covers(license), met);
    }

    #[rstest]
    #[case(Some("MIT"), None)]
    #[case(Some("AGPL-3.0-only"), Some("nails 1.0.0 is under AGPL-3.0-only, which is not on the list."))]
    #[case(Some("see file"), Some("nails 1.0.0 says its license is \"see file\", which cannot be read."))]
    #[case(None, Some("nails 1.0.0 does not say under which license it is."))]
    fn a_refusal_names_the_package_and_its_license(
        #[case] license: Option<&str>,
        #[case] said: Option<&str>,
    ) {
        let package = Package { name: "nails 1.0.0".to_owned(), license: license.map(str::to_owned) };
        assert_eq!(allowed().refusal(&package).as_deref(), said);
    }

    #[test]
    fn only_what_the_page_hands_out_is_looked_at() {
        let lock = r#"{"packages": {"": {"version": "0.1.0", "license": "MIT"},
            "node_modules/type": {"version": "5.3.0", "license": "OFL-1.1"},
            "node_modules/checker": {"version": "1.0.0", "license": "MPL-2.0", "dev": true}}}"#;
        let names: Vec<String> = of_page(lock).unwrap().into_iter().map(|package| package.name).collect();
        assert_eq!(names, ["ui/ 0.1.0", "ui/node_modules/type 5.3.0"]);
    }

    #[test]
    fn a_package_without_a_license_is_not_dropped() {
        let wrote = r#"{"packages": [{"name": "nails", "version": "1.0.0", "license": null}]}"#;
        assert_eq!(of_cargo(wrote).unwrap(), [Package { name: "nails 1.0.0".to_owned(), license: None }]);
    }

    #[test]
    fn a_word_on_the_list_that_is_no_license_is_trouble() {
        let said = Allowed::parse("[licenses]\nallow = [\"MTI\"]").err().unwrap().to_string();
        assert!(said.contains("\"MTI\", which SPDX does not know"), "{said}");
    }

    #[test]
    fn a_list_that_is_not_there_is_trouble_and_not_an_empty_list() {
        assert!(
            Allowed::parse("[bans]").is_err_and(|trouble| trouble.to_string().contains("no list `allow`"))
        );
    }
}
