//! A progress bar for long work. Ctrl-C ends the program; since every change is one transaction, nothing is
//! half-written then.

use indicatif::{ProgressBar, ProgressStyle};

/// A bar over a known number of steps, drawn on the error stream so that the answer stays clean.
pub(crate) fn bar(what: &str, steps: u64) -> ProgressBar {
    let bar = ProgressBar::new(steps);
    let style = ProgressStyle::with_template("{msg} {bar:30} {pos}/{len} {eta}");
    if let Ok(style) = style {
        bar.set_style(style);
    }
    bar.set_message(what.to_owned());
    bar
}

/// A bar for work in several stages.
pub(crate) struct Shown {
    bar: ProgressBar,
}

impl Shown {
    pub(crate) fn begin() -> Shown {
        Shown { bar: bar("", 0) }
    }

    /// Shows how far it is; the work goes on.
    pub(crate) fn tell(&mut self, progress: office::keep::Progress) -> bool {
        self.bar.set_message(progress.stage.as_str());
        self.bar.set_length(progress.total);
        self.bar.set_position(progress.done);
        true
    }

    pub(crate) fn end(&self) {
        self.bar.finish_and_clear();
    }
}
