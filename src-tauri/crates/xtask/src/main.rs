//! The chores of the checkout; `cargo xtask help` lists them.
//!
//! It starts other programs and says what they did. It must never hold a rule of the trade, read a firm's file, or
//! change anything outside the checkout but for the system packages that `setup` names and installs.

#![expect(clippy::print_stdout, reason = "a chore speaks to the person at the terminal")]

mod before;
mod built;
mod call;
mod checkout;
mod checks;
mod clean_root;
mod dev;
mod license;
mod long;
mod machine;
mod outcome;
mod package;
mod page;
mod portable;
mod python;
mod sample;
mod side_by_side;
mod step;
mod told;
mod trouble;
mod unkept;
mod window;

use std::process::ExitCode;

use checkout::Checkout;
use trouble::Trouble;

const USAGE: &str = "\
cargo xtask CHORE

For everybody
  run                  the made-up firm: in the window, or as its month end where there is no display
  test                 every check, in order; stops at the first that fails
  test --list          names the steps
  test --only STEP     only that step (may be given more than once)
  test --as-shipped    the window's cases drive the release build, which takes some ten minutes more

While you work
  setup                says what this machine lacks, then installs it; --check only says it
  dev                  the window on the made-up firm, made anew whenever a file of page or program changes
  check                what to run before a commit: format, lints, the page's types, the quick tests

Now and then
  bindings             the page's types, written from the program's
  pictures             the pictures of every screen in ui/pictures, taken from the window
  package              what a person installs: a .deb and an AppImage of window, command line and manual; --drive
                       installs the .deb into an empty Debian, and drives the window that was in it
  bench [ARGS]         measures against raw SQLite and an empty window; ARGS go to the bench
  soak                 the long loops: kills, power cuts, flipped bytes, inputs made wrong, all of it at once
  mutants [ARGS]       changes `trade` and `ledger` line by line, says what no test notices; ARGS go to cargo-mutants
  deny                 licenses, bans and sources of every dependency, who keeps them, advisories where they lie here
  docs                 the documentation of our own crates, with no warning
";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match chore(&words) {
        Ok(()) => ExitCode::SUCCESS,
        Err(trouble) => {
            println!("\n{trouble}");
            ExitCode::FAILURE
        }
    }
}

/// Does the chore that the words name.
fn chore(words: &[String]) -> Result<(), Trouble> {
    let Some((name, rest)) = words.split_first() else {
        println!("{USAGE}");
        return Ok(());
    };
    let checkout = Checkout::find()?;
    match name.as_str() {
        "test" => step::test(&checkout, rest),
        "setup" => match rest {
            [word] if word == "--check" => machine::set_up(&checkout, true),
            _ => no_more(rest).and_then(|()| machine::set_up(&checkout, false)),
        },
        "dev" => no_more(rest).and_then(|()| dev::dev(&checkout)),
        "check" => no_more(rest).and_then(|()| before::check(&checkout)),
        "run" => no_more(rest).and_then(|()| sample::run(&checkout)),
        "bindings" => no_more(rest).and_then(|()| window::bindings(&checkout)),
        "pictures" => no_more(rest).and_then(|()| window::pictures(&checkout)),
        "package" => match rest {
            [word] if word == "--drive" => package::package(&checkout, true),
            _ => no_more(rest).and_then(|()| package::package(&checkout, false)),
        },
        "bench" => long::bench(&checkout, rest),
        "soak" => no_more(rest).and_then(|()| long::soak(&checkout)),
        "mutants" => long::mutants(&checkout, rest),
        "deny" => no_more(rest).and_then(|()| long::deny(&checkout)),
        "docs" => no_more(rest).and_then(|()| checks::docs(&checkout)).map(|_| ()),
        "help" | "--help" | "-h" => {
            println!("{USAGE}");
            Ok(())
        }
        other => Err(Trouble::said(format!("There is no chore `{other}`.\n\n{USAGE}"))),
    }
}

/// Refuses words that a chore would silently ignore.
fn no_more(rest: &[String]) -> Result<(), Trouble> {
    match rest.first() {
        None => Ok(()),
        Some(word) => Err(Trouble::said(format!("`{word}` means nothing here.\n\n{USAGE}"))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(line: &str) -> Vec<String> {
        line.split_whitespace().map(str::to_owned).collect()
    }

    #[test]
    fn an_unknown_chore_is_named_and_the_known_ones_listed() {
        let said = chore(&words("tset")).unwrap_err().to_string();
        assert!(said.contains("no chore `tset`") && said.contains("soak"), "{said}");
    }

    #[test]
    fn a_word_too_many_is_refused_before_anything_runs() {
        let said = chore(&words("soak --gently")).unwrap_err().to_string();
        assert!(said.contains("`--gently` means nothing here"), "{said}");
    }
}
