/** Written by the program: what people read for the words of the closed lists. */

import type { Age } from './Age';
import type { AgeBand } from './AgeBand';
import type { BudgetedLine } from './BudgetedLine';
import type { BurdenOn } from './BurdenOn';
import type { CashFor } from './CashFor';
import type { CashFrom } from './CashFrom';
import type { Cause } from './Cause';
import type { ChangeState } from './ChangeState';
import type { CheckState } from './CheckState';
import type { CostKind } from './CostKind';
import type { CountedIn } from './CountedIn';
import type { Course } from './Course';
import type { CutUp } from './CutUp';
import type { Damaged } from './Damaged';
import type { DecidedBy } from './DecidedBy';
import type { DeckKind } from './DeckKind';
import type { EdgeKind } from './EdgeKind';
import type { Every } from './Every';
import type { FeatureKind } from './FeatureKind';
import type { ForecastRule } from './ForecastRule';
import type { HabitOf } from './HabitOf';
import type { HistoryFigure } from './HistoryFigure';
import type { InvoiceFor } from './InvoiceFor';
import type { Item } from './Item';
import type { JobStatusWord } from './JobStatusWord';
import type { JournalLine } from './JournalLine';
import type { Language } from './Language';
import type { LineState } from './LineState';
import type { LooseEndKind } from './LooseEndKind';
import type { MarkKind } from './MarkKind';
import type { Measure } from './Measure';
import type { NoticeOf } from './NoticeOf';
import type { Origin } from './Origin';
import type { OtherBankLine } from './OtherBankLine';
import type { OverheadBy } from './OverheadBy';
import type { OwedFrom } from './OwedFrom';
import type { PaidBy } from './PaidBy';
import type { PamphletBy } from './PamphletBy';
import type { Place } from './Place';
import type { PremiumTo } from './PremiumTo';
import type { Pricing } from './Pricing';
import type { RecordStrength } from './RecordStrength';
import type { RepairStage } from './RepairStage';
import type { Role } from './Role';
import type { Setback } from './Setback';
import type { ShingleKind } from './ShingleKind';
import type { Stage } from './Stage';
import type { Steepness } from './Steepness';
import type { TaxRounding } from './TaxRounding';
import type { Topic } from './Topic';
import type { UnrecoveredReason } from './UnrecoveredReason';
import type { ValleyLining } from './ValleyLining';
import type { ValleyMethod } from './ValleyMethod';
import type { Verdict } from './Verdict';
import type { WeekDay } from './WeekDay';
import type { WorkState } from './WorkState';

/** How many days past due. */
export const AGES: Readonly<Record<Age, string>> = {
  "current": "Not yet due",
  "1-30": "1–30 days",
  "31-60": "31–60 days",
  "61-90": "61–90 days",
  "over-90": "Over 90 days",
};

/** What became of a line of the bank. */
export const BANK_LINE_STATES: Readonly<Record<LineState, string>> = {
  "matched": "Matched",
  "fits": "Fits",
  "other-amount": "Another amount",
  "not-in-books": "Not in the books",
};

/** The lines of the firm's budget. */
export const BUDGETED_LINES: Readonly<Record<BudgetedLine, string>> = {
  "earned": "Earned",
  "cost": "Cost of jobs",
  "profit": "Gross profit",
  "overhead": "Overhead",
  "net-profit": "Net profit",
  "crew-days": "Crew-days",
};

/** What a burden is calculated on. */
export const BURDEN_ON: Readonly<Record<BurdenOn, string>> = {
  "pay": "A percent of pay",
  "hundred-of-pay": "Each $100 of pay",
  "hour": "Each hour",
};

/** What money is expected for. */
export const CASH_CAUSES: Readonly<Record<CashFor, string>> = {
  "invoice": "Open invoices",
  "retainage": "Retainage",
  "to-bill": "Still to be billed",
  "credit": "Credits of customers",
  "bill": "Bills of vendors",
  "worked": "Work done, not paid yet",
  "crew": "Pay of planned crews",
  "to-buy": "Still to be bought for jobs",
  "recurring": "Overhead that comes again",
  "overhead": "Other overhead by the budget",
};

/** Where the cash that it begins with comes from. */
export const CASH_FROM: Readonly<Record<CashFrom, string>> = {
  "typed": "As it was typed",
  "statement": "By the bank's last statement and the books since",
  "nothing": "Nothing says what is at the bank",
};

/** Why it rotted. */
export const CAUSES: Readonly<Record<Cause, string>> = {
  "missing-kick-out": "No kick-out at the wall",
  "failed-flashing": "Flashing failed",
  "ice-dam": "Ice dam",
  "condensation": "Condensation",
  "puncture": "Puncture",
  "old-leak": "Old leak",
  "other": "Another cause",
  "not-said": "Not said",
};

/** The state of a change order. */
export const CHANGE_STATES: Readonly<Record<ChangeState, string>> = {
  "waiting": "Waiting",
  "approved": "Approved",
  "partly-approved": "Partly approved",
  "declined": "Declined",
  "withdrawn": "Withdrawn",
};

/** How a point of the checklist stands. */
export const CHECK_STATES: Readonly<Record<CheckState, string>> = {
  "good": "Good",
  "open": "Open",
  "not-here": "Not on this roof",
};

/** What a cost is for. */
export const COST_KINDS: Readonly<Record<CostKind, string>> = {
  "material": "Material",
  "labor": "Labor",
  "subcontract": "Subcontract",
  "equipment": "Equipment",
  "disposal": "Disposal",
  "permit": "Permit",
  "other": "Other",
};

/** What damage is counted in, and one of it. */
export const COUNTED_IN: Readonly<Record<CountedIn, { label: string; single: string; }>> = {
  "sheet": { label: "sheets", single: "sheet" },
  "foot": { label: "feet", single: "foot" },
  "square-foot": { label: "square feet", single: "square foot" },
  "each": { label: "pieces", single: "piece" },
};

/** What the owner decides of a repair that the homeowner declined. */
export const COURSES: Readonly<Record<Course, string>> = {
  "own-cost": "Repair it at our own cost",
  "by-others": "They have it repaired by others",
  "stop": "Stop here",
};

/** How cut up a roof is. */
export const CUT_UP: Readonly<Record<CutUp, string>> = {
  "plain": "Plain: two planes, few cuts",
  "some": "Some hips, valleys or dormers",
  "much": "Much cut up",
};

/** What was damaged, and how it is counted where nothing else is said. */
export const DAMAGED: Readonly<Record<Damaged, { label: string; counted_in: CountedIn; single: string; several: string; }>> = {
  "deck-sheet": { label: "Deck sheet", counted_in: "sheet", single: "sheet", several: "sheets" },
  "deck-board": { label: "Deck board", counted_in: "foot", single: "foot", several: "feet" },
  "rafter": { label: "Rafter", counted_in: "each", single: "rafter", several: "rafters" },
  "wall-sheathing": { label: "Wall sheathing", counted_in: "square-foot", single: "sq ft", several: "sq ft" },
  "framing": { label: "Wall framing", counted_in: "foot", single: "foot", several: "feet" },
  "insulation": { label: "Insulation", counted_in: "square-foot", single: "sq ft", several: "sq ft" },
  "fascia": { label: "Fascia", counted_in: "foot", single: "foot", several: "feet" },
  "soffit": { label: "Soffit", counted_in: "foot", single: "foot", several: "feet" },
  "trim": { label: "Trim", counted_in: "foot", single: "foot", several: "feet" },
  "hidden-layer": { label: "Hidden layer", counted_in: "square-foot", single: "sq ft", several: "sq ft" },
};

/** How a decision came. */
export const DECIDED_BY: Readonly<Record<DecidedBy, string>> = {
  "signed": "Signed",
  "phone": "By phone",
  "text": "By text message",
  "email": "By e-mail",
};

/** What the deck is made of. */
export const DECKS: Readonly<Record<DeckKind, string>> = {
  "plywood": "Plywood, 4 × 8",
  "strand-board": "Strand board, 4 × 8",
  "boards": "Boards laid tight",
  "spaced-boards": "Boards laid apart",
};

/** What an edge of a roof is called, and what it is. */
export const EDGES: Readonly<Record<EdgeKind, { label: string; about: string; }>> = {
  "eave": { label: "Eave", about: "the low edge, level" },
  "rake": { label: "Rake", about: "a sloped edge in the open" },
  "valley": { label: "Valley", about: "two sections meet and water runs in" },
  "hip": { label: "Hip", about: "two sections meet and water runs off" },
  "ridge": { label: "Ridge", about: "the high edge, level" },
  "wall": { label: "Wall", about: "a sloped edge against a side wall" },
  "headwall": { label: "Headwall", about: "a level high edge against a wall" },
  "transition": { label: "Transition", about: "a level edge where the slope changes" },
};

/** How often a cost comes again. */
export const EVERY: Readonly<Record<Every, string>> = {
  "month": "Every month",
  "quarter": "Every three months",
  "year": "Every year",
};

/** What comes through the roof or stands at it. */
export const FEATURES: Readonly<Record<FeatureKind, string>> = {
  "pipe": "Pipe",
  "chimney": "Chimney",
  "skylight": "Skylight",
  "wall-end": "Wall end",
  "old-vent": "Old vent",
};

/** The rule that gave a forecast. */
export const FORECAST_RULES: Readonly<Record<ForecastRule, string>> = {
  "own": "Own forecast",
  "units": "Pace of the work",
  "spent": "Spent",
  "larger-of": "Larger of spent and budget",
};

/** Whose invoices show when a customer pays. */
export const HABITS: Readonly<Record<HabitOf, string>> = {
  "own": "By their own invoices",
  "everybody": "By all customers' invoices: they have paid too few",
  "nobody": "When due: too few invoices were paid",
};

/** The figures of the history of hidden conditions. */
export const HISTORY_FIGURES: Readonly<Record<HistoryFigure, string>> = {
  "roofs": "Roofs opened",
  "conditions": "Hidden conditions",
  "jobs": "Jobs with hidden conditions",
  "sheets": "Deck sheets",
  "spent": "Spent on hidden conditions",
  "billed": "Billed for hidden conditions",
  "recovery": "Recovery",
  "unrecovered": "Unrecovered cost",
  "spent-a-job": "Spent a job",
  "price-each": "Price of a kick-out",
  "pieces": "Kick-outs",
  "pieces-cost": "Kick-outs at today’s price",
};

/** What an item is called, in the order of work. */
export const ITEMS: Readonly<Record<Item, string>> = {
  "tear-off": "Tear-off",
  "haul": "Haul-off and dump fees",
  "deck-sheet": "Deck sheet",
  "deck-board": "Deck board",
  "barrier": "Membrane",
  "underlayment": "Underlayment",
  "drip-edge": "Drip edge",
  "starter": "Starter",
  "shingles": "Field shingles",
  "valley-metal": "Valley metal",
  "roll-roofing": "Roll roofing in valleys",
  "step-flashing": "Step flashing",
  "apron": "Apron flashing",
  "counter-flashing": "Counter-flashing",
  "kick-out": "Kick-out",
  "cricket": "Cricket",
  "chimney-flashing": "Chimney flashing",
  "skylight-flashing": "Skylight flashing",
  "pipe-boot": "Pipe boot",
  "ridge-vent": "Ridge vent",
  "box-vent": "Box vent",
  "turbine-vent": "Turbine vent",
  "power-vent": "Power vent",
  "intake": "Intake vent",
  "ridge-cap": "Ridge and hip cap",
  "fasteners": "Fasteners",
  "insulation": "Attic insulation",
  "baffle": "Baffle",
  "gutter": "Gutter",
  "downspout": "Downspout",
  "permit": "Permit",
  "machine": "Lift or other machine",
  "set-up": "Setting up",
  "covering": "Covering and protection",
  "clean-up": "Clean-up",
  "driving": "Driving",
  "other": "Anything else",
};

/** Where a job is, as it is recorded. */
export const JOB_STATUSES: Readonly<Record<JobStatusWord, string>> = {
  "begun": "Work began",
  "finished": "Work is done",
  "canceled": "It will not be done",
};

/** The lines of the journal, and what stands on each. */
export const JOURNAL_LINES: Readonly<Record<JournalLine, { label: string; about: string; }>> = {
  "bank": { label: "Bank", about: "where payments arrive" },
  "receivable": { label: "Receivable", about: "invoices not yet paid" },
  "retainage-receivable": { label: "Retainage receivable", about: "held by customers as retainage" },
  "customer-credit": { label: "Customers’ credit", about: "payments and credit memos neither applied nor given back" },
  "sales-tax-payable": { label: "Sales tax payable", about: "owed on what was billed" },
  "payable": { label: "Payable", about: "suppliers’ and subcontractors’ bills" },
  "wages-payable": { label: "Wages payable", about: "pay earned by the crew" },
  "burden-payable": { label: "Burden payable", about: "taxes, insurance and benefits on pay" },
  "costs-applied": { label: "Costs applied", about: "direct costs of jobs, without a bill" },
  "cost-material": { label: "Cost: material", about: "of jobs" },
  "cost-labor": { label: "Cost: labor", about: "of jobs" },
  "cost-subcontract": { label: "Cost: subcontract", about: "of jobs" },
  "cost-equipment": { label: "Cost: equipment", about: "of jobs" },
  "cost-disposal": { label: "Cost: disposal", about: "of jobs" },
  "cost-permit": { label: "Cost: permits", about: "of jobs" },
  "cost-other": { label: "Cost: other", about: "of jobs" },
  "revenue": { label: "Revenue", about: "earned on contracts" },
  "under-billed": { label: "Under-billed", about: "earned and not yet billed, job by job" },
  "over-billed": { label: "Over-billed", about: "billed and not yet earned, job by job" },
  "loss-provision": { label: "Loss provision", about: "losses foreseen on open jobs" },
  "loss-expense": { label: "Loss expense", about: "the cost of foreseeing them" },
  "overhead": { label: "Overhead", about: "what the firm costs beside its jobs" },
  "set-aside": { label: "Set aside", about: "costs of the firm that nobody asks for yet" },
  "discounts-taken": { label: "Discounts taken", about: "what vendors let off for being paid early" },
};

/** In what a person reads the site view. */
export const LANGUAGES: Readonly<Record<Language, string>> = {
  "en": "English",
  "es": "Spanish",
};

/** What lies under the shingles of a closed valley. */
export const LININGS: Readonly<Record<ValleyLining, string>> = {
  "membrane": "Membrane",
  "smooth-roll": "Smooth roll roofing",
  "mineral-roll": "Two plies of mineral roll roofing",
  "metal": "Metal",
};

/** The heading under which loose ends of a kind stand. */
export const LOOSE_ENDS: Readonly<Record<LooseEndKind, string>> = {
  "condition-without-decision": "Conditions without a decision",
  "work-at-risk": "Work at risk",
  "forgotten-condition": "Repaired, never asked for",
  "declined-repair": "Declined, and the roof rests on it",
  "change-without-cost": "Change orders without their cost",
  "contradicting-decisions": "Decisions that contradict each other",
  "approved-not-billed": "Approved, not billed",
  "ended-not-billed": "Ended, not billed in full",
  "open-color": "Colors still open",
  "order-without-bill": "Ordered, no bill",
  "lead-pamphlet-missing": "Houses from before 1978 without the pamphlet on lead",
  "insulation-receipt-missing": "Insulation without its receipt",
  "week-without-time-entries": "Weeks without time cards",
  "hours-without-pay": "Hours without a pay rate",
  "wage-base-of-another-year": "Wage bases of an earlier year",
  "unapplied-payment": "Payments not applied to an invoice",
  "question": "Devices that contradict each other",
  "unapplied-credit": "Credit memos not applied to an invoice",
  "cost-without-contract": "Cost without a contract",
  "billed-beyond-contract": "Billed beyond the contract",
  "order-on-ended-job": "Ordered for an ended job",
  "recurring-not-recorded": "Due again, not recorded",
  "bill-not-as-ordered": "Bills that are not as ordered",
  "subcontractor-without-w9": "Subcontractors without number or W-9",
  "subcontractor-uninsured": "Subcontractors not known to be insured",
  "retainage-not-as-agreed": "Retainage not as agreed",
  "sales-tax-not-by-rule": "Sales tax that no rule gives",
  "bank-line-unmatched": "Lines of the bank not matched",
};

/** What is drawn on a photo. */
export const MARKS: Readonly<Record<MarkKind, string>> = {
  "arrow": "Arrow",
  "ring": "Ring",
  "note": "Note",
};

/** What an item is measured in, behind a figure, and one of it. */
export const MEASURES: Readonly<Record<Measure, { label: string; single: string; }>> = {
  "square": { label: "squares", single: "square" },
  "square-foot": { label: "sq ft", single: "sq ft" },
  "foot": { label: "ft", single: "ft" },
  "each": { label: "pieces", single: "piece" },
  "ton": { label: "tons", single: "ton" },
  "day": { label: "days", single: "day" },
  "mile": { label: "miles", single: "mile" },
};

/** What a notice of a state is about. */
export const NOTICES: Readonly<Record<NoticeOf, string>> = {
  "cancellation": "The right to cancel",
  "deposit": "Deposit before the work",
  "lien": "Lien",
};

/** Who asks for it. */
export const ORIGINS: Readonly<Record<Origin, string>> = {
  "code": "To the code",
  "company": "To the company standard",
};

/** What a line of the bank is of which the books hold no payment. */
export const OTHER_BANK_LINES: Readonly<Record<OtherBankLine, string>> = {
  "wages": "Pay and payroll taxes",
  "taxes": "Other taxes",
  "owner": "Put in or taken out by the owner",
  "own-account": "Between the firm’s own accounts",
  "loan": "A loan, or paid back of one",
  "bank-error": "The bank’s own mistake",
  "something-else": "Something else",
};

/** What overhead is spread by, and what its rate is for. */
export const OVERHEAD_BY: Readonly<Record<OverheadBy, { label: string; rate_of: string; }>> = {
  "labor-hours": { label: "Hours worked", rate_of: "an hour worked" },
  "labor-cost": { label: "Labor cost", rate_of: "of labor cost" },
  "crew-days": { label: "Crew-days", rate_of: "a crew-day" },
};

/** Where a cost of the firm without a bill comes from. */
export const OWED_FROM: Readonly<Record<OwedFrom, string>> = {
  "bank": "From the bank",
  "wages": "Pay that is owed",
  "set-aside": "Set aside",
};

/** How money came. */
export const PAID_BY: Readonly<Record<PaidBy, string>> = {
  "check": "Check",
  "card": "Card",
  "transfer": "Bank transfer",
  "cash": "Cash",
};

/** What shows that the pamphlet on lead was given. */
export const PAMPHLET_BY: Readonly<Record<PamphletBy, string>> = {
  "signed-receipt": "A signed receipt",
  "certificate-of-mailing": "A certificate of mailing",
};

/** Where on the roof. */
export const PLACES: Readonly<Record<Place, string>> = {
  "field": "Open field",
  "eave": "Eave",
  "rake": "Rake",
  "valley": "Valley",
  "hip": "Hip",
  "ridge": "Ridge",
  "roof-to-wall": "Roof to wall",
  "chimney": "Chimney",
  "skylight": "Skylight",
  "pipe": "Pipe",
};

/** Where the overtime premium goes. */
export const PREMIUM_TO: Readonly<Record<PremiumTo, string>> = {
  "hours": "Over the week’s jobs by hours",
  "cause": "To the job that caused it",
};

/** How a change order is priced. */
export const PRICINGS: Readonly<Record<Pricing, string>> = {
  "unit-price": "Unit price of the contract",
  "time-and-material": "Time and material",
  "lump-sum": "Lump sum",
};

/** What an invoice is for. */
export const PURPOSES: Readonly<Record<InvoiceFor, string>> = {
  "deposit": "Deposit",
  "progress": "Progress",
  "change-order": "Change order",
  "final": "Final",
  "credit": "Credit memo",
};

/** Why a cost was not recovered. */
export const REASONS: Readonly<Record<UnrecoveredReason, string>> = {
  "never-asked": "The homeowner was never asked",
  "declined": "Declined, and done all the same",
  "billed-too-little": "Less was billed than it cost",
};

/** How much the firm's own history can say. */
export const RECORDS: Readonly<Record<RecordStrength, string>> = {
  "none": "No history yet",
  "thin": "Little history: take it as a hint",
  "fair": "Some history",
  "good": "A good history",
};

/** How far the work on a condition is, as it is recorded. */
export const REPAIR_STAGES: Readonly<Record<RepairStage, string>> = {
  "begun": "Work begun",
  "done": "Work done",
};

/** What a person does at the firm, and what they see of it. */
export const ROLES: Readonly<Record<Role, { label: string; sees: string; }>> = {
  "owner": { label: "Owner", sees: "Sees everything: cost, margin, month end." },
  "crew": { label: "Crew", sees: "The site view: hidden conditions, decisions, hours. No cost, no margin." },
  "books": { label: "Books", sees: "Bills, what is owed, overhead, the bank, the hand-off. No pay; margin where the owner says so." },
};

/** How old a roof was. */
export const ROOF_AGES: Readonly<Record<AgeBand, string>> = {
  "under-10": "Under 10 years",
  "teens": "10 to 19 years",
  "twenties": "20 to 29 years",
  "thirty-or-more": "30 years and more",
};

/** What may go otherwise than priced. */
export const SETBACKS: Readonly<Record<Setback, string>> = {
  "two-sheets": "Two more deck sheets, given away",
  "rain-day": "A day of rain with the crew paid",
  "dearer-shingles": "Shingles 5 % dearer",
};

/** What a shingle is. */
export const SHINGLE_KINDS: Readonly<Record<ShingleKind, string>> = {
  "laminated": "Laminated",
  "strip": "Strips with tabs",
  "individual": "One by one",
};

/** What a recipe begins with for a kind of shingle that comes in one size. */
export const SHINGLE_SIZES: Readonly<Partial<Record<ShingleKind, { shingles_per_square: string; exposure_in: string }>>> = {
  "laminated": { shingles_per_square: "65", exposure_in: "5.625" },
  "strip": { shingles_per_square: "80", exposure_in: "5" },
};

/** Where a job is in its life. */
export const STAGES: Readonly<Record<Stage, string>> = {
  "contracted": "Contracted",
  "begun": "At work",
  "finished": "Finished",
  "canceled": "Canceled",
  "uncontracted": "No contract yet",
};

/** How steep a roof is. Where one ends and the next begins stands in a recipe. */
export const STEEPNESS: Readonly<Record<Steepness, string>> = {
  "low": "Low",
  "walkable": "Walkable",
  "steep": "Steep",
  "very-steep": "Very steep",
};

/** Where sales tax is rounded. */
export const TAX_ROUNDINGS: Readonly<Record<TaxRounding, string>> = {
  "invoice": "Once, on the invoice",
  "item": "On each item",
};

/** What a topic asks about, and in what; no unit where it is a yes or a no. */
export const TOPICS: Readonly<Record<Topic, { label: string; unit: string; }>> = {
  "barrier-eave": { label: "Ice barrier at eaves", unit: "" },
  "barrier-eave-inside": { label: "Ice barrier at eaves, level inside the wall line", unit: "in" },
  "barrier-eave-along": { label: "Ice barrier at eaves, least width along a steep slope", unit: "in" },
  "barrier-eave-along-from": { label: "That least width counts from", unit: "in 12" },
  "barrier-rake": { label: "Membrane along rakes, width", unit: "in" },
  "barrier-valley": { label: "Membrane in valleys, width", unit: "in" },
  "barrier-hip": { label: "Membrane along hips, width", unit: "in" },
  "barrier-ridge": { label: "Membrane along ridges, width", unit: "in" },
  "barrier-wall": { label: "Membrane along walls, width", unit: "in" },
  "barrier-penetration": { label: "Membrane round penetrations, each side", unit: "in" },
  "least-slope": { label: "Least slope for shingles", unit: "in 12" },
  "double-underlayment-below": { label: "Underlayment doubled under", unit: "in 12" },
  "drip-edge-eave": { label: "Drip edge at eaves", unit: "" },
  "drip-edge-rake": { label: "Drip edge at rakes", unit: "" },
  "drip-edge-lap": { label: "Drip edge lap", unit: "in" },
  "starter-eave": { label: "Starter at eaves", unit: "" },
  "starter-rake": { label: "Starter at rakes", unit: "" },
  "valley-metal-width": { label: "Metal in open valleys, least width", unit: "in" },
  "valley-lining": { label: "Lining under a closed valley, width", unit: "in" },
  "valley-edge-strips": { label: "Strips over the edges of valley metal", unit: "" },
  "step-flashing-side": { label: "Step flashing, least side", unit: "in" },
  "kick-out": { label: "Kick-out where an eave ends at a wall", unit: "" },
  "cricket-over": { label: "Cricket behind what is wider than", unit: "in" },
  "vent-ratio": { label: "Attic floor for each unit of net free area, at the most", unit: "to 1" },
  "vent-upper-least": { label: "Vents high in the attic for that, at least", unit: "%" },
  "vent-upper-most": { label: "Vents high in the attic for that, at the most", unit: "%" },
  "vent-both": { label: "Both that share and a vapor retarder for it", unit: "" },
  "vent-retarder-zone": { label: "Vapor retarder for it in climate zone", unit: "and colder" },
  "nails-each": { label: "Nails in each strip shingle", unit: "nails" },
  "nails-individual": { label: "Nails in each single shingle", unit: "nails" },
  "nails-high-wind": { label: "Nails in each strip where very steep or windy", unit: "nails" },
  "nails-steep-over": { label: "Very steep for nails is over", unit: "in 12" },
  "new-flashings": { label: "New flashings in place of the old", unit: "" },
};

/** How a valley is made. */
export const VALLEYS: Readonly<Record<ValleyMethod, string>> = {
  "open": "Open metal",
  "open-three-layer": "Open metal, three layers",
  "open-roll": "Open, two plies of roll roofing",
  "closed-cut": "Closed cut",
};

/** The items that are vents: exhaust or intake, and the net free area that one is usually rated for. */
export const VENTS: Readonly<Partial<Record<Item, { label: string; level: string; free_area_sqin: string; unit: string }>>> = {
  "ridge-vent": { label: "Ridge vent", level: "exhaust", free_area_sqin: "18", unit: "ft" },
  "box-vent": { label: "Box vent", level: "exhaust", free_area_sqin: "50", unit: "pieces" },
  "turbine-vent": { label: "Turbine vent", level: "exhaust", free_area_sqin: "150", unit: "pieces" },
  "power-vent": { label: "Power vent", level: "exhaust", free_area_sqin: "0", unit: "pieces" },
  "intake": { label: "Intake vent", level: "intake", free_area_sqin: "9", unit: "ft" },
};

/** What the homeowner said, or the firm for a withdrawal. */
export const VERDICTS: Readonly<Record<Verdict, string>> = {
  "approved": "Approved",
  "declined": "Declined",
  "withdrawn": "Withdrawn by us",
};

/** The days of the week. */
export const WEEK_DAYS: Readonly<Record<WeekDay, string>> = {
  "monday": "Monday",
  "tuesday": "Tuesday",
  "wednesday": "Wednesday",
  "thursday": "Thursday",
  "friday": "Friday",
  "saturday": "Saturday",
  "sunday": "Sunday",
};

/** The state of the work on a condition. */
export const WORK_STATES: Readonly<Record<WorkState, string>> = {
  "not-begun": "Not begun",
  "at-risk": "At risk",
  "begun": "Begun",
  "done": "Done",
};
