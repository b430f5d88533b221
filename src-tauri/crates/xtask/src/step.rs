//! The steps of `cargo xtask test`: which there are, in which order, and how they are told.

use std::time::{Duration, Instant};

use crate::checkout::Checkout;
use crate::outcome::Outcome;
use crate::told::spell;
use crate::trouble::Trouble;
use crate::{checks, license, machine, page, python, window};

/// One step: a name to ask for it by, and what it does. Each step sees to what it needs, so that it can run alone.
struct Step {
    name: &'static str,
    does: &'static str,
    run: fn(&Checkout) -> Result<Outcome, Trouble>,
}

/// In the order of cost: what fails in a second is asked first. The page comes before the first build of the
/// workspace, because the window has the built page inside it.
const STEPS: &[Step] = &[
    Step { name: "machine", does: "install what this machine lacks", run: machine::prepare },
    Step { name: "fmt", does: "the code is formatted", run: checks::fmt },
    Step { name: "licenses", does: "every dependency's license is on our list", run: license::check },
    Step { name: "page", does: "the page: types, components, build", run: page::check },
    Step { name: "clippy", does: "no lint in any crate or test", run: checks::clippy },
    Step { name: "python", does: "a second opinion from Python is at hand", run: python::check },
    Step { name: "tests", does: "every crate's tests, scenarios, faults, tidy", run: checks::tests },
    Step { name: "docs", does: "the documentation builds without a warning", run: checks::docs },
    Step { name: "window", does: "the window itself, driven as a person would", run: window::check },
];

/// In place of the last one where what ships is to be driven: ten minutes of optimizing more.
const AS_SHIPPED: Step = Step {
    name: "window",
    does: "the window as it ships, driven as a person would",
    run: window::check_as_shipped,
};

/// A step's telling in the summary.
struct Told {
    name: &'static str,
    outcome: Outcome,
    took: Duration,
}

/// Runs the steps that the words ask for; all of them if none is named.
pub(crate) fn test(checkout: &Checkout, words: &[String]) -> Result<(), Trouble> {
    if words == ["--list"] {
        for step in STEPS {
            println!("{:<10} {}", step.name, step.does);
        }
        return Ok(());
    }
    let chosen = choose(words)?;
    let mut told = Vec::new();
    for step in chosen {
        println!("\n== {}: {}", step.name, step.does);
        let start = Instant::now();
        let outcome = (step.run)(checkout);
        let took = start.elapsed();
        match outcome {
            Ok(outcome) => {
                if let Outcome::Skipped(why) = &outcome {
                    println!("  skipped: {why}");
                }
                told.push(Told { name: step.name, outcome, took });
            }
            Err(trouble) => {
                println!("\n{trouble}");
                summarize(&told);
                return Err(Trouble::said(format!(
                    "Step `{name}` failed after {took}. To see only that step again: cargo xtask test --only {name}",
                    name = step.name,
                    took = spell(took)
                )));
            }
        }
    }
    summarize(&told);
    println!("{}", verdict(&told));
    Ok(())
}

/// The steps named by `--only`, in the house's order.
fn choose(words: &[String]) -> Result<Vec<&'static Step>, Trouble> {
    let mut names = Vec::new();
    let mut as_shipped = false;
    let mut words = words.iter();
    while let Some(word) = words.next() {
        let name = match word.as_str() {
            "--as-shipped" => {
                as_shipped = true;
                continue;
            }
            "--only" => words.next().ok_or_else(|| Trouble::said("`--only` wants the name of a step."))?,
            _ => {
                return Err(Trouble::said(format!(
                    "`{word}` means nothing here. Try --list, --only STEP or --as-shipped."
                )));
            }
        };
        if !STEPS.iter().any(|step| step.name == name) {
            let known: Vec<&str> = STEPS.iter().map(|step| step.name).collect();
            return Err(Trouble::said(format!(
                "There is no step `{name}`. There are: {}.",
                known.join(", ")
            )));
        }
        names.push(name.as_str());
    }
    let chosen = STEPS.iter().filter(|step| names.is_empty() || names.contains(&step.name));
    Ok(chosen
        .map(|step| if as_shipped && step.name == AS_SHIPPED.name { &AS_SHIPPED } else { step })
        .collect())
}

fn summarize(told: &[Told]) {
    println!();
    for Told { name, outcome, took } in told {
        let took = spell(*took);
        match outcome {
            Outcome::Passed => println!("{name:<10} passed   {took:>13}"),
            Outcome::Skipped(why) => println!("{name:<10} skipped  {took:>13}  {why}"),
        }
    }
}

/// The last line. It says "all passed" only if nothing was left out.
fn verdict(told: &[Told]) -> String {
    let all = told.len();
    let skipped = told.iter().filter(|step| step.outcome != Outcome::Passed).count();
    let steps = if all == 1 { "step" } else { "steps" };
    match skipped {
        0 => format!("{all} {steps}: all passed"),
        _ => format!("{all} {steps}: {} passed, {skipped} skipped, none failed", all.saturating_sub(skipped)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(line: &str) -> Vec<String> {
        line.split_whitespace().map(str::to_owned).collect()
    }

    fn names(line: &str) -> Vec<&'static str> {
        choose(&words(line)).unwrap().iter().map(|step| step.name).collect()
    }

    fn told(outcomes: &[Outcome]) -> Vec<Told> {
        outcomes
            .iter()
            .map(|outcome| Told { name: "x", outcome: outcome.clone(), took: Duration::ZERO })
            .collect()
    }

    #[test]
    fn no_words_mean_every_step_and_names_keep_the_order_of_the_house() {
        assert_eq!(names("").len(), STEPS.len());
        assert_eq!(names("--only tests --only fmt"), ["fmt", "tests"]);
    }

    #[test]
    fn the_window_as_it_ships_takes_the_place_of_the_quicker_one() {
        let last = |line: &str| choose(&words(line)).unwrap().last().map(|step| step.does).unwrap();
        assert_eq!(names("--as-shipped"), names(""));
        assert_eq!(last("--as-shipped"), AS_SHIPPED.does);
        assert_ne!(last("--only window"), AS_SHIPPED.does);
    }

    #[test]
    fn a_step_that_is_not_there_is_refused_with_those_that_are() {
        let refusal = |line: &str| choose(&words(line)).err().map(|trouble| trouble.to_string()).unwrap();
        assert!(refusal("--only lint").contains("no step `lint`. There are: machine, fmt"));
        assert!(refusal("--only").contains("wants the name"));
        assert!(refusal("fmt").contains("`fmt` means nothing here"));
    }

    #[test]
    fn no_two_steps_have_the_same_name() {
        let mut seen: Vec<&str> = STEPS.iter().map(|step| step.name).collect();
        seen.sort_unstable();
        seen.dedup();
        assert_eq!(seen.len(), STEPS.len());
    }

    #[test]
    fn a_skipped_step_is_never_counted_as_passed() {
        assert_eq!(verdict(&told(&[Outcome::Passed, Outcome::Passed])), "2 steps: all passed");
        assert_eq!(verdict(&told(&[Outcome::Passed])), "1 step: all passed");
        let mixed = told(&[Outcome::Passed, Outcome::skipped("no case")]);
        assert_eq!(verdict(&mixed), "2 steps: 1 passed, 1 skipped, none failed");
    }
}
