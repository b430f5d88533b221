//! What is looked for on any page: that it stands still, and what has the focus.

use crate::desk::Desk;
use crate::driver::Outcome;

/// What the page waits for until nothing on the page is moving or changing color any more: what is judged in the middle
/// of a change of theme is neither theme. What moves without end is not waited for.
pub(crate) const SETTLED: &str = "Promise.all(document.getAnimations().filter((each) => \
     Number.isFinite(each.effect?.getComputedTiming().endTime) && each.playState === 'running').map((each) => \
     each.finished.catch(() => null)))";

/// The words of what has the focus.
pub(crate) fn focused(desk: &Desk) -> Outcome<String> {
    let text = desk.page.run("done(document.activeElement.textContent.trim())")?;
    Ok(text.as_str().unwrap_or_default().to_owned())
}

/// Whether nothing has to be moved sideways to be read: neither the page nor what scrolls in it.
pub(crate) const FITS: &str = "[document.documentElement, ...document.querySelectorAll('#app > .frame, #app > main')]\
     .every((each) => each.scrollWidth <= each.clientWidth)";
