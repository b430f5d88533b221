//! What a command is handed, and how it tells how far it is.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use office::{Desk, Month};
use tauri::State;
use tauri::ipc::Channel;

use crate::page_value::month;
use crate::refusal::Refusal;
use crate::room::Room;
use crate::views::Step;

/// The room, as a command is handed it.
pub(crate) type InRoom<'a> = State<'a, Arc<Room>>;

/// The month asked for, or the last one in which anything is booked.
pub(crate) fn month_or_last(desk: &Desk, asked: Option<&str>) -> Result<Month, Refusal> {
    match asked {
        Some(text) => month(text),
        None => {
            let booked = office::booked_months(desk)?;
            Ok(booked.map_or_else(|| Month::of(desk.clock.today()), |(_, last)| last))
        }
    }
}

/// Tells the page how far long work is, and hears whether it is to go on.
pub(crate) struct Teller {
    steps: Channel<Step>,
    stop: Arc<AtomicBool>,
}

impl Teller {
    pub(crate) fn new(steps: Channel<Step>, stop: Arc<AtomicBool>) -> Self {
        Self { steps, stop }
    }

    /// Says how far it is. Answers whether to go on.
    pub(crate) fn tell(&self, what: &str, done: u64, total: u64) -> bool {
        let total = Some(total).filter(|total| *total > 0);
        // If the page has gone away meanwhile, the work still is worth finishing.
        let _ = self.steps.send(Step { done, total, what: what.to_owned() });
        !self.stop.load(Ordering::Relaxed)
    }
}
