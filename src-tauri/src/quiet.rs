//! Work that nobody waits for: it takes of the processors what the window leaves.

use std::thread::JoinHandle;

/// How far it stands back, of 19 steps: beside a busy thread it gets a tenth of a core, so that it ends in time on a
/// machine that is always busy, and a start or a key hardly feels it.
const STEPS: i32 = 10;

/// Does it in a thread of its own that gives way, and so do the threads that it starts.
pub(crate) fn aside(work: impl FnOnce() + Send + 'static) -> JoinHandle<()> {
    std::thread::spawn(move || {
        give_way();
        work();
    })
}

/// Linux counts by the thread and not by the program, and hands it on to each new one (the manual's page on
/// `setpriority`, section “C library/kernel differences”). Where the system would not have it, it is done all the same.
#[cfg(target_os = "linux")]
fn give_way() {
    let _ = rustix::process::nice(STEPS);
}

/// Elsewhere untried, and left as it is.
#[cfg(not(target_os = "linux"))]
fn give_way() {
    let _ = STEPS;
}

#[cfg(test)]
#[cfg(target_os = "linux")]
mod tests {
    use super::*;
    use std::sync::mpsc::channel;

    /// How far this thread stands back, as the system tells it.
    fn steps() -> i32 {
        let told = std::fs::read_to_string("/proc/thread-self/stat").unwrap();
        // The name may hold blanks; after it, niceness is the 17th word.
        let (_, after) = told.rsplit_once(") ").unwrap();
        after.split(' ').nth(16).unwrap().parse().unwrap()
    }

    #[test]
    fn what_is_done_aside_gives_way_with_all_that_it_starts_and_nobody_else_does() {
        let before = steps();
        let (tell, told) = channel();
        let thread = aside(move || {
            tell.send(steps()).unwrap();
            tell.send(std::thread::spawn(steps).join().unwrap()).unwrap();
        });
        thread.join().unwrap();
        let expected = (before + STEPS).min(19);
        assert_eq!(told.iter().collect::<Vec<_>>(), [expected, expected]);
        assert_eq!(steps(), before);
    }
}
