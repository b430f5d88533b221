//! Calls that run side by side, as many at once as the machine has cores.

use std::collections::VecDeque;
use std::num::NonZero;
use std::sync::{Mutex, PoisonError};

use crate::call::Call;
use crate::trouble::Trouble;

/// Runs all of them, even after a failure, and tells each with what it wrote when it has ended.
pub(crate) fn side_by_side(calls: Vec<Call>) -> Result<(), Trouble> {
    let at_once = std::thread::available_parallelism().map_or(1, NonZero::get);
    let (left, troubles) = (Mutex::new(VecDeque::from(calls)), Mutex::new(Vec::new()));
    let next = || left.lock().unwrap_or_else(PoisonError::into_inner).pop_front();
    std::thread::scope(|scope| {
        for _ in 0..at_once {
            scope.spawn(|| {
                while let Some(call) = next() {
                    let (wrote, outcome) = call.run_aside();
                    println!("{}\n", wrote.trim_end());
                    let mut troubles = troubles.lock().unwrap_or_else(PoisonError::into_inner);
                    troubles.extend(outcome.err());
                }
            });
        }
    });
    let troubles = troubles.into_inner().unwrap_or_else(PoisonError::into_inner);
    if troubles.is_empty() {
        return Ok(());
    }
    let told: Vec<String> = troubles.iter().map(ToString::to_string).collect();
    Err(Trouble::said(told.join("\n")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_of_them_run_and_every_failure_is_named() {
        let home = tempfile::tempdir().unwrap();
        let last = home.path().join("last");
        let calls = vec![
            Call::new("ls").arg("no-such-eaves"),
            Call::new("ls").arg("no-such-ridge"),
            Call::new("touch").arg(&last),
        ];
        let said = side_by_side(calls).unwrap_err().to_string();
        assert!(said.contains("no-such-eaves") && said.contains("no-such-ridge"), "{said}");
        assert!(last.is_file());
        assert!(side_by_side(vec![Call::new("true")]).is_ok());
    }
}
