//! The work round the roof: setting up, covering, cleaning up, and the way there and back.

use rust_decimal::Decimal;

use crate::crew::crew_days;
use crate::money::Qty;
use crate::roof::given::{step, up};
use crate::roof::kinds::{EdgeKind, Item};
use crate::roof::line::Line;
use crate::roof::measured::Measured;

/// What the work round a roof depends on beyond the roof itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Around {
    /// Hours of the work on the roof.
    pub hours: Qty,
    /// People in the crew.
    pub people: u32,
    /// Hours that each of them works a day.
    pub hours_a_day: Qty,
    /// Miles from the shop to the job.
    pub miles: Qty,
}

/// The work that a day, an edge, a square or a mile asks for beside the roof's own (company rule; the firm's own rates
/// say how long it takes). A day begun is a day: 33 hours of four people at eight are two.
///
/// The crew sets up and puts away each day, covers what lies below eaves and rakes once, cleans up by the square, and
/// every one of them drives there and back each day.
#[must_use]
pub fn around(measured: &Measured, given: &Around) -> Vec<Line> {
    let days = up(crew_days(given.hours, given.people, given.hours_a_day));
    let of_hours = step(
        format!(
            "{} hours of {} people at {} a day, rounded up",
            given.hours, given.people, given.hours_a_day
        ),
        days,
        "days",
    );
    let below = (measured.length_ft(EdgeKind::Eave) + measured.length_ft(EdgeKind::Rake)).decimal();
    let squares = measured.area_sqft.decimal() / Decimal::ONE_HUNDRED;
    let miles = Decimal::TWO * given.miles.decimal() * Decimal::from(given.people) * days;
    let driven = step(
        format!("there and back, {} miles each way, {} people", given.miles, given.people),
        miles,
        "miles",
    );
    let lines = [
        Line::new(Item::SetUp, days, vec![of_hours.clone()], "Each day of work (company rule)."),
        Line::new(
            Item::Covering,
            below,
            vec![step("all eaves and rakes together", below, "ft")],
            "Along eaves and rakes, once (company rule).",
        ),
        Line::new(
            Item::CleanUp,
            squares,
            vec![step("roof surface", squares, "squares")],
            "By the square (company rule).",
        ),
        Line::new(
            Item::Driving,
            miles,
            vec![of_hours, driven],
            "Everybody's way there and back each day; from where the crew meets it is time worked (29 CFR 785.38).",
        ),
    ];
    lines.into_iter().filter(|line| line.net.is_positive()).collect()
}
