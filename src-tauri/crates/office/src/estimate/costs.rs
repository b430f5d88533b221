//! One choice, calculated: parts and work from the takeoff, then cost, overhead, margin and price.

use super::book::DayBook;
use super::draft::{Choice, Estimate, PriceBy};
use super::view::{
    BudgetLine, BudgetUnits, CalculatedChoice, ExtraLine, LaborLine, PartLine, Problem, Scheduled,
};
use crate::billing::terms::sales_tax;
use crate::job::own_day::{crew_days_of, overhead_base};
use desk::OfficeError;
use ledger::Id;
use ledger::facts::Part;
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use trade::price::{PricedAt, offer_price};
use trade::roof::{
    Around, Asked, Line, Measured, OnSlopes, PartFacts, Planned, Recipe, Takeoff, Warning, WarningCode,
    WorkStep, around, in_measure, on_slopes, plan,
};
use trade::shown::{in_sentence, percent, with_unit};
use trade::{CostKind, Item, Measure, Money, Qty, Rate, Steepness};

/// What the calculation of a choice rests on.
pub(super) struct Ground<'a> {
    pub(super) book: &'a DayBook,
    pub(super) estimate: &'a Estimate,
    pub(super) measured: &'a Measured,
    pub(super) crew: Option<Id>,
}

/// Items that are work alone: nothing is bought for them.
const WORK_ALONE: [Item; 1] = [Item::TearOff];

/// Items that come with the work on others, or with whoever brings them: they need no rate of their own.
const NO_WORK: [Item; 6] =
    [Item::Haul, Item::Fasteners, Item::Permit, Item::Machine, Item::DeckBoard, Item::Other];

impl Ground<'_> {
    /// The recipe of a choice, with what the parts that it uses say of themselves.
    fn recipe(&self, choice: &Choice) -> Recipe {
        let chosen = choice.parts.iter().filter_map(|chosen| self.part(choice, chosen.item));
        chosen.fold(choice.recipe.clone(), |recipe, (_, part)| {
            let facts = PartFacts {
                shingle: part.shingle,
                pieces_per_square: part.pieces_per_square,
                exposure_in: part.exposure_in,
                nails_each: part.nails_each,
                free_area_sqin: part.free_area_sqin,
                cfm: part.cfm,
            };
            recipe.with_part(part.item, &facts)
        })
    }

    fn part(&self, choice: &Choice, item: Item) -> Option<(Id, &Part)> {
        let chosen = choice.parts.iter().find(|chosen| chosen.item == item)?;
        self.book.part_named(&chosen.part)
    }

    /// What the roof asks for, built as a choice says and as somebody asks, without what the choice leaves out.
    pub(super) fn takeoff(&self, choice: &Choice, asked: &Asked) -> Takeoff {
        let roof = &self.estimate.roof;
        let recipe = self.recipe(choice);
        let (house, features) = (&roof.house, &roof.features);
        let mut takeoff =
            trade::roof::takeoff_without(self.measured, house, features, asked, &recipe, &choice.left_out);
        takeoff.lines.retain(|line| !line.net.is_zero());
        takeoff
    }

    /// The parts of a takeoff, with what stands in the way.
    pub(super) fn parts(
        &self,
        choice: &Choice,
        takeoff: &Takeoff,
        problems: &mut Vec<Problem>,
    ) -> Vec<PartLine> {
        let items = takeoff.items().into_iter();
        items.map(|item| self.part_line(choice, takeoff, item, problems)).collect()
    }

    fn part_line(
        &self,
        choice: &Choice,
        takeoff: &Takeoff,
        item: Item,
        problems: &mut Vec<Problem>,
    ) -> PartLine {
        let places: Vec<_> = takeoff.lines.iter().filter(|line| line.item == item).cloned().collect();
        let net = takeoff.net(item);
        let mut line = PartLine {
            item,
            part: None,
            title: String::new(),
            product_line: None,
            color: None,
            colors: Vec::new(),
            code: None,
            cost_kind: None,
            places,
            net,
            measure: item.measure(),
            waste: Rate::ZERO,
            gross: net,
            covers: None,
            package: None,
            packages: Qty::ZERO,
            packages_words: String::new(),
            steps: Vec::new(),
            price: None,
            vendor: None,
            since: None,
            amount: Money::ZERO,
            tax: Money::ZERO,
            cost: Money::ZERO,
        };
        if WORK_ALONE.contains(&item) {
            return line;
        }
        let field = format!("parts.{item}");
        let Some((id, part)) = self.part(choice, item) else {
            problems.push(problem(&field, "No part is chosen for this. Choose one, or leave the item out."));
            return line;
        };
        line.part = Some(part.name.clone());
        line.title.clone_from(&part.title);
        line.product_line.clone_from(&part.product_line);
        line.colors = part.colors.iter().map(|color| color.color.clone()).collect();
        line.color = self.color(choice, item, &line.colors, problems);
        line.code = self.book.codes.get(&part.code).map(|code| code.code.clone());
        line.cost_kind = Some(part.cost_kind);
        line.covers = Some(part.covers);
        line.package = Some(part.package.clone());
        let waste = choice.recipe.waste_of(item, self.measured.cut_up);
        match trade::roof::buy(&takeoff.lines, item, waste, part.covers) {
            Ok(Some(bought)) => {
                line.waste = bought.waste;
                line.gross = bought.gross;
                line.packages = bought.packages;
                line.packages_words = if bought.packages.is_zero() {
                    String::new()
                } else {
                    with_unit(bought.packages, &part.package)
                };
                line.steps = bought.steps;
            }
            Ok(None) => {}
            Err(error) => problems.push(problem(&field, &error.to_string())),
        }
        let Some(priced) = self.book.price(id) else {
            let words = format!("“{}” has no price on this day. Type one in Rates.", part.title);
            problems.push(problem(&field, &words));
            return line;
        };
        line.price = Some(priced.price);
        line.vendor =
            priced.vendor.and_then(|vendor| self.book.vendors.get(&vendor)).map(|vendor| vendor.name.clone());
        line.since = Some(priced.since);
        line.amount = trade::line_amount(priced.price, line.packages);
        line.tax = self.tax_on(part.cost_kind, line.amount);
        line.cost = line.amount + line.tax;
        line
    }

    /// The tax that will be cost of something bought.
    pub(super) fn tax_on(&self, kind: CostKind, amount: Money) -> Money {
        if self.book.firm.material_tax_is_cost && kind == CostKind::Material {
            trade::tax_foreseen(amount, self.estimate.terms.material_tax)
        } else {
            Money::ZERO
        }
    }

    /// The color that was chosen, where the part comes in it.
    fn color(
        &self,
        choice: &Choice,
        item: Item,
        offered: &[String],
        problems: &mut Vec<Problem>,
    ) -> Option<String> {
        let chosen = choice.parts.iter().find(|chosen| chosen.item == item)?.color.clone()?;
        if !offered.contains(&chosen) {
            let words = format!(
                "{} does not come in “{chosen}”. Choose a color that is offered, or leave it open.",
                item.label()
            );
            problems.push(problem(&format!("parts.{item}"), &words));
            return None;
        }
        Some(chosen)
    }

    /// The work of a takeoff, each part at the rate of the slope that it lies on.
    pub(super) fn labor(
        &self,
        choice: &Choice,
        takeoff: &Takeoff,
        problems: &mut Vec<Problem>,
    ) -> Vec<LaborLine> {
        let Some(hour) = self.book.loaded_hour(self.crew) else {
            problems.push(problem("crew", "Nobody has a pay rate on this day. Type one in Rates."));
            return Vec::new();
        };
        let mut lines = Vec::new();
        for item in takeoff.items() {
            let kind = self.part(choice, item).map(|(_, part)| part.cost_kind);
            // Who is paid to do it brings his own people.
            if NO_WORK.contains(&item) || kind.is_some_and(CostKind::brings_its_work) {
                continue;
            }
            match self.hours(choice, item, takeoff) {
                None => {
                    let words = format!(
                        "There is no production rate for {} on a roof of this steepness and height. Type one in Rates, \
                         or leave the item out.",
                        in_sentence(item.label())
                    );
                    problems.push(problem(&format!("labor.{item}"), &words));
                }
                // Its work is in the hours of something else.
                Some((_, planned)) if planned.hours.is_zero() => {}
                Some((code, planned)) => {
                    lines.push(labor_line(item, code, takeoff.net(item), planned, hour));
                }
            }
        }
        lines
    }

    /// The hours of one measure of an item where the roof is largest.
    pub(super) fn hours_of(&self, choice: &Choice, item: Item, net: Qty) -> Option<Qty> {
        let slope = self.measured.sections.iter().max_by_key(|section| section.area_sqft)?.slope;
        let parts = OnSlopes::from([(self.steepness(choice, slope), net.decimal())]);
        self.planned(item, &parts).map(|(_, planned)| planned.hours)
    }

    fn steepness(&self, choice: &Choice, slope: Qty) -> Steepness {
        choice.recipe.steepness(slope)
    }

    fn hours(&self, choice: &Choice, item: Item, takeoff: &Takeoff) -> Option<(String, Planned)> {
        let features = &self.estimate.roof.features;
        let how_steep = |slope| self.steepness(choice, slope);
        self.planned(item, &on_slopes(takeoff, item, self.measured, features, how_steep)?)
    }

    fn planned(&self, item: Item, parts: &OnSlopes) -> Option<(String, Planned)> {
        let stories = self.estimate.roof.house.stories;
        let production = |steepness| self.book.production(item, steepness, stories);
        let planned = plan(parts, |steepness| Some(production(steepness)?.hours))?;
        let code = production(*parts.keys().next()?)?.code;
        Some((self.book.codes.get(&code)?.code.clone(), planned))
    }

    /// The work round the roof, for the days that the work on it takes: of what the firm has a rate for. Where it has
    /// none, that is said, so that nobody takes the hours for counted.
    fn work_around(&self, choice: &Choice, labor: &mut Vec<LaborLine>, warnings: &mut Vec<Warning>) {
        let Some(hour) = self.book.loaded_hour(self.crew) else { return };
        let crew = self.crew.and_then(|crew| self.book.crews.get(&crew));
        let given = Around {
            hours: labor.iter().map(|line| line.hours).sum(),
            // Without any crew, a crew-day is one person's eight hours (company rule, as in the month end).
            people: crew.map_or(1, |crew| u32::try_from(crew.size).unwrap_or(1)),
            hours_a_day: crew.map_or(Qty::from_e4(80_000), |crew| crew.hours_a_day),
            miles: self.estimate.miles,
        };
        let lines = around(self.measured, &given);
        let wanted = lines.iter().filter(|line| !choice.left_out.contains(&line.item));
        let (mut counted, mut uncounted) = (Vec::new(), Vec::new());
        for line in wanted {
            match self.on_the_ground(line) {
                Some((code, mut planned)) => {
                    planned.steps = line.steps.iter().cloned().chain(planned.steps).collect();
                    counted.push(labor_line(line.item, code, line.net, planned, hour));
                }
                None => uncounted.push(in_sentence(line.item.label())),
            }
        }
        labor.extend(counted);
        if !uncounted.is_empty() {
            warnings.push(Warning {
                code: WarningCode::HoursUncounted,
                section: None,
                words: format!(
                    "There is no production rate for {}: no hours are counted for it.",
                    uncounted.join(", ")
                ),
                remedy: "Type it in Rates, or leave it out here.".to_owned(),
            });
        }
    }

    /// What is done on the ground takes no longer for a steep roof: where the firm has a rate for one steepness alone,
    /// that one holds.
    fn on_the_ground(&self, line: &Line) -> Option<(String, Planned)> {
        let on = |steepness: &Steepness| OnSlopes::from([(*steepness, line.net.decimal())]);
        Steepness::ALL.iter().find_map(|steepness| self.planned(line.item, &on(steepness)))
    }
}

fn labor_line(
    item: Item,
    code: String,
    quantity: Qty,
    planned: Planned,
    (loaded, people): (Rate, usize),
) -> LaborLine {
    let cost = trade::line_amount(loaded, planned.hours);
    let mut steps = planned.steps;
    steps.push(step(format!("× loaded hour, mean of {people}: {loaded}"), cost));
    LaborLine { item, code, quantity, measure: item.measure(), hours: planned.hours, loaded, cost, steps }
}

pub(super) fn step(words: impl Into<String>, figure: Money) -> WorkStep {
    WorkStep { words: words.into(), figure: figure.grouped() }
}

pub(super) fn problem(field: &str, words: &str) -> Problem {
    Problem { field: field.to_owned(), section: None, edge: None, words: words.to_owned() }
}

/// Calculates a choice from its takeoff.
pub(super) fn calculate_choice(
    ground: &Ground<'_>,
    choice: &Choice,
    asked: &Asked,
) -> Result<CalculatedChoice, OfficeError> {
    let mut takeoff = ground.takeoff(choice, asked);
    let mut problems = Vec::new();
    let parts = ground.parts(choice, &takeoff, &mut problems);
    let mut labor = ground.labor(choice, &takeoff, &mut problems);
    ground.work_around(choice, &mut labor, &mut takeoff.warnings);
    let extras = extras(ground, choice, &mut problems);
    problems.extend(bare_sections(&takeoff, &extras));
    let budget = budget(ground, &parts, &labor, &extras);
    let cost: Money = budget.iter().map(|line| line.amount).sum();
    let hours: Qty = budget.iter().filter_map(|line| line.hours).sum();
    let labor_cost: Money =
        budget.iter().filter(|line| line.cost_kind == CostKind::Labor).map(|line| line.amount).sum();
    let crew_days = crew_days_of(ground.crew.and_then(|crew| ground.book.crews.get(&crew)), hours);
    let overhead = overhead(ground, hours, labor_cost, crew_days);
    let full_cost = cost + overhead;
    let (price, mut price_steps) = price(choice.price, cost, overhead).unwrap_or_else(|words| {
        problems.push(problem("price", &words));
        (full_cost, Vec::new())
    });
    let mut doubts = doubts(price, cost, full_cost);
    doubts.extend(open_colors(&parts));
    let sales_tax = sales_tax(&ground.book.firm, &[price]);
    price_steps.push(step("sales tax on the price", sales_tax));
    let calculated = CalculatedChoice {
        letter: choice.letter.clone(),
        title: choice.title.clone(),
        standard: choice.standard,
        warnings: takeoff.warnings,
        units: units(ground, &labor),
        included_sheets: choice.recipe.included_sheets,
        included_feet: choice.recipe.included_board_ft,
        cost,
        hours,
        crew_days,
        overhead,
        full_cost,
        price,
        margin: price - cost,
        margin_ratio: trade::margin(price, cost),
        after_overhead: price - full_cost,
        after_overhead_ratio: trade::margin(price, full_cost),
        price_steps,
        sales_tax,
        total: price + sales_tax,
        payments: payments(ground.estimate, price, &mut problems),
        sensitivity: Vec::new(),
        problems,
        doubts,
        parts,
        labor,
        extras,
        budget,
    };
    Ok(calculated)
}

/// What to think of before a price is offered. A firm may have its reasons to work for less: it is told, not stopped.
fn doubts(price: Money, cost: Money, full_cost: Money) -> Vec<Problem> {
    let words = if price < cost {
        "The price does not cover what the work costs: the job is foreseen to lose."
    } else if price < full_cost {
        "The price does not cover cost and overhead."
    } else {
        return Vec::new();
    };
    vec![problem("price", words)]
}

/// Colors that are still to be chosen with the homeowner: before ordering at the latest.
fn open_colors(parts: &[PartLine]) -> Vec<Problem> {
    let open = parts.iter().filter(|line| line.color.is_none() && !line.colors.is_empty());
    let open = open.map(|line| {
        problem(&format!("parts.{}", line.item), &format!("The color of “{}” is open.", line.title))
    });
    open.collect()
}

/// What keeps a choice from being taken while a section too flat for shingles has no covering priced.
fn bare_sections(takeoff: &Takeoff, extras: &[ExtraLine]) -> Vec<Problem> {
    let priced = extras.iter().filter(|extra| !extra.cost.is_zero());
    let items: Vec<&str> = priced.map(|extra| extra.words.as_str()).collect();
    let uncovered = takeoff.uncovered(&items);
    let problems = uncovered.into_iter().map(|warning| Problem {
        field: "extras".to_owned(),
        section: warning.section.clone(),
        edge: None,
        words: format!(
            "{} {} Name the section in that item, and type what it costs.",
            warning.words, warning.remedy
        ),
    });
    problems.collect()
}

fn extras(ground: &Ground<'_>, choice: &Choice, problems: &mut Vec<Problem>) -> Vec<ExtraLine> {
    let loaded = ground.book.loaded_hour(ground.crew).map_or(Rate::ZERO, |(loaded, _)| loaded);
    let mut lines = Vec::new();
    for (index, extra) in choice.extras.iter().enumerate() {
        let field = format!("extras[{index}]");
        if !ground.book.codes.values().any(|code| code.code == extra.code) {
            problems.push(problem(
                &field,
                &format!("There is no code “{}”. Choose one of the list.", extra.code),
            ));
            continue;
        }
        let is_labor = extra.cost_kind == CostKind::Labor;
        if is_labor && extra.hours.is_none() {
            problems
                .push(problem(&field, "Labor is typed in hours: their cost follows from pay and burden."));
        }
        let hours = extra.hours.filter(|_| is_labor);
        let cost = hours.map_or(extra.amount, |hours| trade::line_amount(loaded, hours));
        lines.push(ExtraLine {
            words: extra.words.clone(),
            code: extra.code.clone(),
            cost_kind: extra.cost_kind,
            hours,
            cost,
        });
    }
    lines
}

/// The contract's lines: cost by code and kind. What of a code's material is bought in the unit in which the code's
/// bills are counted is a line of its own, with its quantity, so that nothing else is in the price of one.
fn budget(
    ground: &Ground<'_>,
    parts: &[PartLine],
    labor: &[LaborLine],
    extras: &[ExtraLine],
) -> Vec<BudgetLine> {
    let mut sums: BTreeMap<(i64, String, usize, bool), BudgetLine> = BTreeMap::new();
    let position = |code: &str| {
        ground.book.codes.values().find(|known| known.code == code).map_or(i64::MAX, |known| known.position)
    };
    let mut add =
        |code: &str, kind: CostKind, amount: Money, quantity: Option<(Qty, &str)>, hours: Option<Qty>| {
            let order = CostKind::ALL.iter().position(|known| *known == kind).unwrap_or_default();
            let key = (position(code), code.to_owned(), order, quantity.is_none());
            let line = sums.entry(key).or_insert_with(|| BudgetLine {
                code: code.to_owned(),
                cost_kind: kind,
                amount: Money::ZERO,
                quantity: None,
                unit: None,
                quantity_words: None,
                hours: None,
            });
            line.amount += amount;
            if let Some((quantity, unit)) = quantity {
                let quantity = line.quantity.unwrap_or_default() + quantity;
                line.quantity_words = Some(with_unit(quantity, unit));
                line.quantity = Some(quantity);
                line.unit = Some(unit.to_owned());
            }
            if let Some(hours) = hours {
                line.hours = Some(line.hours.unwrap_or_default() + hours);
            }
        };
    for line in parts.iter().filter(|line| !line.cost.is_zero()) {
        let (Some(code), Some(kind)) = (&line.code, line.cost_kind) else { continue };
        let known = ground.book.codes.values().find(|known| known.code == *code);
        let unit = known.and_then(|known| known.bought_in.as_deref());
        let counted = unit.filter(|unit| kind == CostKind::Material && line.package.as_deref() == Some(unit));
        add(code, kind, line.cost, counted.map(|unit| (line.packages, unit)), None);
    }
    for line in labor {
        add(&line.code, CostKind::Labor, line.cost, None, Some(line.hours));
    }
    for line in extras {
        add(&line.code, line.cost_kind, line.cost, None, line.hours);
    }
    sums.into_values().collect()
}

/// The work of measured codes: the sum of what is worked on in the code's own unit.
fn units(ground: &Ground<'_>, labor: &[LaborLine]) -> Vec<BudgetUnits> {
    let mut units: Vec<BudgetUnits> = Vec::new();
    for line in labor {
        let unit =
            ground.book.codes.values().find(|code| code.code == line.code).and_then(|code| code.unit.clone());
        let Some(unit) = unit else { continue };
        let Some(quantity) = in_unit(line.quantity, line.measure, &unit) else { continue };
        match units.iter_mut().find(|known| known.code == line.code) {
            Some(known) => known.quantity += quantity,
            None => units.push(BudgetUnits { code: line.code.clone(), unit, quantity }),
        }
    }
    units
}

/// A quantity in the unit of a code, where the two measure the same thing. The firm's words for a square, a foot and a
/// piece are read in one and in many.
pub(super) fn in_unit(quantity: Qty, measure: Measure, unit: &str) -> Option<Qty> {
    let unit = match unit.trim_end_matches('s') {
        "square" => Measure::Square,
        "square foot" | "sq ft" | "square-foot" => Measure::SquareFoot,
        "foot" | "ft" | "feet" => Measure::Foot,
        "each" | "piece" => Measure::Each,
        "ton" => Measure::Ton,
        "day" => Measure::Day,
        _ => return None,
    };
    in_measure(quantity, measure, unit)
}

pub(super) fn overhead(ground: &Ground<'_>, hours: Qty, labor: Money, crew_days: Decimal) -> Money {
    let firm = &ground.book.firm;
    let measure = trade::measure_of(overhead_base(firm.overhead_by), hours, labor.decimal(), crew_days);
    trade::absorbed([(firm.overhead_rate, measure)])
}

/// The price over cost and overhead, with its working.
///
/// # Errors
/// The reason why there is none.
pub(super) fn price(by: PriceBy, cost: Money, overhead: Money) -> Result<(Money, Vec<WorkStep>), String> {
    let mut steps = vec![step("cost", cost), step("overhead", overhead)];
    let (priced_at, words) = match by {
        PriceBy::Margin(margin) => {
            (PricedAt::Margin(margin), format!("÷ (1 − {} % margin)", percent(margin.decimal())))
        }
        PriceBy::Markup(markup) => {
            (PricedAt::Markup(markup), format!("and {} % markup", percent(markup.decimal())))
        }
        PriceBy::Price(price) => {
            steps.push(step("price as set", price));
            return Ok((price, steps));
        }
    };
    let price = offer_price(cost, overhead, priced_at).map_err(|error| error.to_string())?.price;
    steps.push(step(words, price));
    Ok((price, steps))
}

/// The price split by the schedule's shares; the sum is kept.
fn payments(estimate: &Estimate, price: Money, problems: &mut Vec<Problem>) -> Vec<Scheduled> {
    let shares: Vec<Decimal> =
        estimate.terms.payments.iter().map(|payment| payment.share.decimal()).collect();
    if shares.is_empty() {
        return Vec::new();
    }
    let whole: Decimal = shares.iter().sum();
    if whole != Decimal::ONE {
        problems.push(problem(
            "payments",
            &format!("The shares come to {} %, not 100 %. Make them whole.", percent(whole)),
        ));
    }
    match trade::split(price, &shares) {
        Ok(amounts) => {
            let titles = estimate.terms.payments.iter().map(|payment| payment.title.clone());
            titles.zip(amounts).map(|(title, amount)| Scheduled { title, amount }).collect()
        }
        Err(error) => {
            problems.push(problem("payments", &error.to_string()));
            Vec::new()
        }
    }
}
