//! The trade's arithmetic: what a careful bookkeeper would do with a pencil, as pure functions over exact
//! decimals.
//!
//! Every rule that a person could dispute (rounding, overtime, burden, tax, progress, the margin walk) is one
//! function here, with its reasoning and its source in its doc comment and its published example in `tests/`.
//!
//! **What this crate must never do:** read or write a file, a database or the network; look at a clock; keep
//! state; use a float; depend on another crate of ours. Times, dates and ids come in as arguments. Nothing
//! here panics on what a person can type: what cannot be computed is an error that says what to do next.
//!
//! Money is [`Money`], exact to the cent and rounded once, at the line. Quantities are [`Qty`], unit prices
//! and shares are [`Rate`]. Figures that are only shown (percent complete, margin) stay unrounded decimals.

pub mod bank;
pub mod burden;
pub mod cancellation;
pub mod cash;
pub mod closed_list;
pub mod crew;
pub mod currency;
pub mod cut_list;
pub mod deck;
pub mod expected;
pub mod forecast;
pub mod hazard;
pub mod hidden;
mod information_return;
pub mod kind;
pub mod labor;
pub mod lead;
pub mod matching;
pub mod money;
pub mod month;
pub mod overhead;
pub mod patch;
pub mod price;
pub mod progress;
pub mod receivable;
pub mod recurrence;
pub mod roof;
pub mod shown;
pub mod split;
pub mod tax;
pub mod unit;
pub mod usual;
pub mod variance;
pub mod vendor_statement;
pub mod walk;
pub mod week;
pub mod working;

pub use bank::{Match, Moved, Reconciliation, match_up};
pub use burden::{
    BurdenBasis, BurdenPart, BurdenSpell, Earned, LoadedLine, LoadedWeek, PayCounted, loaded_week,
    week_burden,
};
pub use cancellation::{begins_while_cancelable, cancel_by, federal_holidays, is_business_day};
pub use cash::{
    CashWeek, Flow, HABIT_FROM, WEEKS_AHEAD, bought_paid_on, cash_ahead, counts_in, crew_days_left, crew_pay,
    habit, lowest, overhead_left, paid_on, pay_day, payment_days, short_of, still_to_bill, still_to_buy,
    weeks_ahead, weeks_later, work_days,
};
pub use closed_list::WordError;
pub use crew::{LONG_DAY, crew_days, crew_hours, margin_per_crew_day, usual_week};
pub use currency::{Currency, CurrencyError};
pub use cut_list::{Count, CutList, Placed, Sheet, USUAL_KERF, Wanted, count_sheets, cut_list};
pub use deck::{may_be_repaired, sheets_of_whole_roof, work_stops};
pub use expected::{
    AgeBand, ExpectedError, NextJob, PastJob, Prior, Record, RecordStrength, age_band, next_job, prior_from,
    update,
};
pub use forecast::{CodeStanding, Forecast, ForecastRule, forecast};
pub use hazard::{Hazard, HazardKind, Site, hazards};
pub use hidden::{
    BilledAs, CostOfCondition, IncludedUse, Priced, beyond_quantity, beyond_share, billed_as, deal_to_work,
    forecast_of_conditions, owed_so_far, part_for_work, recovery, time_and_material, unrecovered,
    use_included,
};
pub use information_return::{is_reported, reported_from};
pub use kind::CostKind;
pub use labor::{
    FEDERAL_WEEK, LaborError, Overlap, OvertimeRule, PremiumSpread, Week, WeekPay, WorkLine, week_pay,
};
pub use lead::{PamphletStanding, lead_record_until, pamphlet_days, pamphlet_standing};
pub use matching::{Amounted, to_pay};
pub use money::{AmountError, Money, Qty, Rate, line_amount};
pub use month::{Month, MonthError};
pub use overhead::{
    OverheadBase, absorbed, labor_of_hours, measure_of, net_profit, overhead_rate, under_absorbed,
};
pub use patch::{
    BoardRun, Boards, GrowReason, Grown, Patch, PatchError, Piece, SheetSize, area_sqft, feet_of_board,
};
pub use price::{
    AtStake, OfferPrice, PriceError, PricedAt, Sensitivity, Setback, beside_budget, cost_at_margin_sold,
    cost_at_markup, cost_of_change, margin, markup, offer_price, payment_shares, price_at_margin,
    price_at_markup, sales_for_profit, sensitivity, still_to_sell, units_for_profit,
};
pub use progress::{
    Progress, ProgressInput, backlog, profit_in_backlog, progress, quantity_used, stored_material,
};
pub use receivable::{
    Age, AgeTable, OpenItem, age_bucket, aging, apply_oldest_first, days_past_due, retainage,
};
pub use recurrence::due_in;
pub use roof::{
    CutUp, DeckKind, EdgeKind, FeatureKind, Item, Measure, Origin, PartFact, ShingleKind, Steepness, Topic,
    ValleyLining, ValleyMethod,
};
pub use split::{SplitError, split};
pub use tax::{TaxBy, rate_behind, sales_tax, tax_foreseen};
pub use unit::{cost_of_one, hourly, mean_amount, price_behind, price_change, price_of_one, share_of};
pub use usual::{
    BOUGHT_FOR_EVERY_ROOF, UsualRange, WORKED_ON_EVERY_ROOF, of_a_square, unusual_price, usual_coverage,
    usual_hours,
};
pub use variance::two_way;
pub use vendor_statement::{Differing, ListedBill, StatementGap, compare_statement};
pub use walk::{
    CountedPart, Step, StepKind, Walk, WalkCode, WalkError, WalkInput, forecast_weights, spread_forecast,
    used_by_part, walk,
};
pub use week::{WorkWeek, WorkWeeks, week_start};
pub use working::{Join, Rounding, join_terms};
