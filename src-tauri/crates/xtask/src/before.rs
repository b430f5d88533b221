//! `cargo xtask check`: what a person runs before a commit. It takes seconds where little has changed.

use std::time::Instant;

use crate::checkout::Checkout;
use crate::told::spell;
use crate::trouble::Trouble;
use crate::{checks, page};

/// Format, lints, the page's types and the quick tests. The page is checked beside the rest, and told at the end.
pub(crate) fn check(checkout: &Checkout) -> Result<(), Trouble> {
    let start = Instant::now();
    page::ready(checkout)?;
    checks::fmt(checkout)?;
    let (ours, (wrote, pages)) = std::thread::scope(|scope| {
        let pages = scope.spawn(|| page::check_aside(checkout));
        let ours = checks::clippy(checkout).and_then(|_| checks::quick_tests(checkout));
        let stopped = |_| (String::new(), Err(Trouble::said("The page's check stopped in the middle.")));
        (ours, pages.join().unwrap_or_else(stopped))
    });
    println!("{}", wrote.trim_end());
    // Both are told: a person wants to put everything right in one round.
    match (ours, pages) {
        (Ok(()), Ok(())) => {
            println!("\nchecked in {}; `cargo xtask test` does the rest", spell(start.elapsed()));
            Ok(())
        }
        (Err(trouble), Ok(())) | (Ok(()), Err(trouble)) => Err(trouble),
        (Err(first), Err(second)) => Err(Trouble::said(format!("{first}\n{second}"))),
    }
}
