/**
 * The one door between the page and the program. Every command is named here with what it takes and what it answers;
 * the shapes come from `bindings/`, which the program writes itself. Money and quantities cross as strings.
 */

import { Channel, invoke } from '@tauri-apps/api/core';

import type { About } from './bindings/About';
import type { Acceptance } from './bindings/Acceptance';
import type { Accepted } from './bindings/Accepted';
import type { Added } from './bindings/Added';
import type { Asked } from './bindings/Asked';
import type { Asking } from './bindings/Asking';
import type { AsIf } from './bindings/AsIf';
import type { Bank } from './bindings/Bank';
import type { BillCheck } from './bindings/BillCheck';
import type { BillDesk } from './bindings/BillDesk';
import type { JobBilling } from './bindings/JobBilling';
import type { MatchedLines } from './bindings/MatchedLines';
import type { Payables } from './bindings/Payables';
import type { VendorStatement } from './bindings/VendorStatement';
import type { Statement } from './bindings/Statement';
import type { Subcontractors } from './bindings/Subcontractors';
import type { TypedBill } from './bindings/TypedBill';
import type { TypedRate } from './bindings/TypedRate';
import type { UsualLists } from './bindings/UsualLists';
import type { ChangeSheet } from './bindings/ChangeSheet';
import type { Checked } from './bindings/Checked';
import type { Closed } from './bindings/Closed';
import type { CountedIn } from './bindings/CountedIn';
import type { Damage } from './bindings/Damage';
import type { Damaged } from './bindings/Damaged';
import type { DeskState } from './bindings/DeskState';
import type { Devices } from './bindings/Devices';
import type { DraftView } from './bindings/DraftView';
import type { Dropped } from './bindings/Dropped';
import type { Estimate } from './bindings/Estimate';
import type { Explanation } from './bindings/Explanation';
import type { FirmBudget } from './bindings/FirmBudget';
import type { FirmYear } from './bindings/FirmYear';
import type { Overhead } from './bindings/Overhead';
import type { FirmForm } from './bindings/FirmForm';
import type { HandOffDone } from './bindings/HandOffDone';
import type { HandOffPreview } from './bindings/HandOffPreview';
import type { Attached } from './bindings/Attached';
import type { Further } from './bindings/Further';
import type { InTouchView } from './bindings/InTouchView';
import type { InvoiceDraft } from './bindings/InvoiceDraft';
import type { InvoiceCalculation } from './bindings/InvoiceCalculation';
import type { OpenedRecord } from './bindings/OpenedRecord';
import type { OpenPart } from './bindings/OpenPart';
import type { Priced } from './bindings/Priced';
import type { ToBill } from './bindings/ToBill';
import type { Applied } from './bindings/import/Applied';
import type { Choices } from './bindings/import/Choices';
import type { Kind } from './bindings/import/Kind';
import type { Preview } from './bindings/import/Preview';
import type { RoofFile } from './bindings/import/RoofFile';
import type { JobName } from './bindings/JobName';
import type { JobPage } from './bindings/JobPage';
import type { CashAhead } from './bindings/CashAhead';
import type { ConditionHistory } from './bindings/ConditionHistory';
import type { Lists } from './bindings/Lists';
import type { LooseEnd } from './bindings/LooseEnd';
import type { Question } from './bindings/Question';
import type { MonthEnd } from './bindings/MonthEnd';
import type { PaperForm } from './bindings/PaperForm';
import type { PlacedOrder } from './bindings/PlacedOrder';
import type { Rates } from './bindings/Rates';
import type { Calculated } from './bindings/Calculated';
import type { RecordedFact } from './bindings/RecordedFact';
import type { Calculation } from './bindings/Calculation';
import type { Code } from './bindings/Code';
import type { Refusal as Full } from './bindings/Refusal';
import type { Relettered } from './bindings/Relettered';
import type { SavedPaper } from './bindings/SavedPaper';
import type { Role } from './bindings/Role';
import type { DeskPerson } from './bindings/DeskPerson';
import type { Saved } from './bindings/Saved';
import type { Settlement } from './bindings/Settlement';
import type { SetUp } from './bindings/SetUp';
import type { SiteDay } from './bindings/SiteDay';
import type { SiteRoof } from './bindings/SiteRoof';
import type { Step } from './bindings/Step';
import type { TakenByHand } from './bindings/TakenByHand';
import type { Wanted } from './bindings/Wanted';
import type { Which } from './bindings/Which';
import type { Workmanship } from './bindings/Workmanship';
import type { Year } from './bindings/Year';
import type { FactForm, FieldsOf } from './facts';

/** A refusal; the field is there when one field of a form was refused. */
export type Refusal = Omit<Full, 'field'> & Partial<Pick<Full, 'field'>>;

export type { FactForm } from './facts';
export type {
  About,
  DeskState,
  DraftView,
  Explanation,
  JobPage,
  Lists,
  MonthEnd,
  DeskPerson,
  SiteDay,
  Step,
  Year,
};

type Nothing = Record<string, never>;

/** Long work that can be stopped by its name. */
export type Work = 'verify' | 'back_up' | 'hand_off' | 'import';

/** Every command: what it takes and what it answers. Those that report progress say so with `progress: true`. */
export interface Commands {
  about: { takes: Nothing; answers: About };
  painted: { takes: Nothing; answers: null };

  desk_state: { takes: Nothing; answers: DeskState };
  /** Asks for the file with the system's own dialog. */
  open_file: { takes: Nothing; answers: DeskState };
  open_recent: { takes: { path: string }; answers: DeskState };
  /** Asks where the new file shall lie. */
  make_firm: { takes: { firm: FirmForm }; answers: DeskState };
  /** Writes the made-up firm anew and opens it. */
  open_sample: { takes: Nothing; answers: DeskState };
  close_file: { takes: Nothing; answers: DeskState };
  people: { takes: Nothing; answers: DeskPerson[] };
  sit: { takes: { person: string; pin?: string }; answers: DeskState };
  set_pin: { takes: { role: Role; old?: string | null; pin: string | null }; answers: DeskState };

  year: { takes: { year?: number | null }; answers: Year };
  condition_history: { takes: { year: number | null }; answers: ConditionHistory };
  /** Opens a figure of the record. */
  open_history: { takes: { year: number | null; which: Which }; answers: OpenedRecord };
  month_end: { takes: { month: string }; answers: MonthEnd };
  /** What the whole firm made, month by month from January on. */
  firm_budget: { takes: { month: string }; answers: FirmBudget };
  /** Thirteen weeks of cash ahead, as it is or as if; nothing is recorded. */
  cash_ahead: { takes: { asked: AsIf }; answers: CashAhead };
  explain_cash: { takes: { asked: AsIf; figure: string }; answers: Explanation };
  firm_year: { takes: { month: string }; answers: FirmYear };
  /** What the firm costs beside its jobs. */
  overhead: { takes: { month: string }; answers: Overhead };
  /** What vendors are owed today. */
  customer_statement: { takes: { customer: string }; answers: Statement };
  payables: { takes: Nothing; answers: Payables };
  /** A vendor's statement, as it was typed or pasted, beside the books. */
  vendor_statement: { takes: { vendor: string; lines: string }; answers: VendorStatement };
  /** The bank by the statement that ends on a day, or by the last one. */
  bank: { takes: { ends: string | null }; answers: Bank };
  /** Matches every line of that statement that fits. */
  match_bank: { takes: { ends: string }; answers: MatchedLines };
  subcontractors: { takes: { year?: number }; answers: Subcontractors };
  /** What a pile of bills is typed with. */
  bill_desk: { takes: Nothing; answers: BillDesk };
  /** What is known of a bill being typed: whether it is there already, its terms, and its order. */
  check_bill: { takes: { bill: TypedBill }; answers: BillCheck };
  /** What a job is billed and what came for it; no cost. */
  job_billing: { takes: { job: string }; answers: JobBilling };
  loose_ends: { takes: { month: string }; answers: LooseEnd[] };
  /** Where devices contradict each other, with every side. */
  questions: { takes: { month: string }; answers: Question[] };
  close_month: { takes: { month: string; accept: boolean }; answers: Closed };
  job_page: { takes: { number: string; month?: string | null }; answers: JobPage };
  /** `of` is `firm` or a job's number. */
  explain: { takes: { of: string; month: string; figure: string }; answers: Explanation };
  job_names: { takes: Nothing; answers: JobName[] };
  lists: { takes: Nothing; answers: Lists };
  /** Parts, prices, production, standards and the checklist, as they stand today. */
  rates: { takes: Nothing; answers: Rates };
  /** Records the usual standards that are not set yet. Answers how many. */
  begin_standards: { takes: Nothing; answers: number };
  /** Puts the usual points on the checklist. Answers how many. */
  begin_checklist: { takes: Nothing; answers: number };

  /** The draft with which a job's estimate begins. */
  begin_estimate: { takes: { job: string; recipe?: string }; answers: Estimate };
  calculate_estimate: { takes: { job: string; estimate: Estimate }; answers: Calculated };
  /** Records the roof and the contract. */
  accept_estimate: { takes: { job: string; estimate: Estimate; acceptance: Acceptance }; answers: Accepted };
  /** Orders what the contract names and no order has yet, of each vendor one. */
  place_orders: { takes: { job: string }; answers: PlacedOrder[] };
  read_roof_csv: { takes: { text: string; choices: Partial<Choices> }; answers: RoofFile };

  /** All or none. */
  record: { takes: { facts: FactForm[] }; answers: RecordedFact[] };
  /** Answers the reversal's id. */
  reverse: { takes: { id: string; reason: string }; answers: string };

  site_day: { takes: Nothing; answers: SiteDay };
  /** How the work was done: checks, inspections, what was built in, warranty. No cost. */
  workmanship: { takes: { job: string }; answers: Workmanship };
  /** Draws up the change order for a condition and records it. */
  ask_and_record: { takes: { condition: string }; answers: Asked };
  /** Counts damage from its patches, with what it means to the price. */
  calculate_damage: {
    takes: { job: string; damage: Pick<Damage, 'damaged' | 'counted_in' | 'patches'> & Partial<Damage> };
    answers: Calculation;
  };
  /** The measured roof of a job, to tap on. */
  site_roof: { takes: { job: string }; answers: SiteRoof | null };
  /** How a condition would usually be put before the homeowner. */
  asking: { takes: { condition: string }; answers: Asking };
  /** Draws up the change order as it was chosen and records it. */
  draw_up: { takes: { condition: string; asking: Asking }; answers: Asked };
  change_sheet: { takes: { change: string }; answers: ChangeSheet };
  /** Where answers contradict each other: the one that holds; those before are taken back. */
  settle_decisions: { takes: { decision: FieldsOf<'decision'> }; answers: string };
  /** What is to be billed of a change order, with its cost. */
  settle_change: { takes: { change: string }; answers: Settlement };

  /** What so many further ones would mean: covered, beyond, and what the homeowner pays. */
  further: {
    takes: { job: string; damaged: Damaged; countedIn: CountedIn; count: string };
    answers: Further;
  };

  /** What of a job is to be billed next, and the numbers that come next. */
  to_bill: { takes: { job: string }; answers: ToBill };
  calculate_invoice: { takes: { job: string; draft: InvoiceDraft }; answers: InvoiceCalculation };
  /** What of a rate, price or coverage that is typed lies far from what is usual, in sentences. */
  far_from_usual: { takes: { typed: TypedRate }; answers: string[] };
  /** What a company has set up, and what is left before its first price. */
  what_is_set_up: { takes: Nothing; answers: SetUp };
  /** What most firms begin with, without what this one has. */
  usual_lists: { takes: Nothing; answers: UsualLists };
  /** What lines come to, each rounded once. */
  line_amounts: { takes: { lines: Priced[] }; answers: string[] };
  /** How a payment is applied to invoices, in the order of `open`. */
  spread_payment: { takes: { amount: string; open: OpenPart[] }; answers: string[] };

  drafts: { takes: { kind?: string | null }; answers: DraftView[] };
  save_draft: {
    takes: { id?: string | null; kind: string; job?: string | null; body: unknown };
    answers: string;
  };
  delete_draft: { takes: { id: string }; answers: boolean };

  attach: { takes: { paper: PaperForm }; answers: Attached };
  /** A data URL. */
  attachment: { takes: { hash: string; preview: boolean }; answers: string };
  print_paper: { takes: { wanted: Wanted }; answers: SavedPaper };

  hand_off_preview: { takes: { month: string }; answers: HandOffPreview };
  /** Asks for the folder in which to write. */
  hand_off: { takes: { month: string }; answers: HandOffDone; progress: true };
  back_up: { takes: Nothing; answers: Checked; progress: true };
  verify: { takes: Nothing; answers: Checked; progress: true };
  /** Asks for the folder, or goes back to the one beside the file. */
  set_back_up_folder: { takes: { beside: boolean }; answers: DeskState };

  /** Without choices, asks for the file, or takes what was dropped; with choices, reads the same file again. */
  import_read: {
    takes: { kind: Kind; choices: Partial<Choices> | null; dropped?: string };
    answers: Preview;
  };
  /** Records the file last read. */
  import_apply: { takes: Nothing; answers: Applied; progress: true };

  /** The firm's devices, and where their parcels lie. */
  devices: { takes: Nothing; answers: Devices };
  /** Asks where the joining file shall go. */
  add_device: { takes: { name: string; person: string; role: Role | null }; answers: Added };
  drop_device: { takes: { letter: string; reason: string | null }; answers: Dropped };
  /** Tries it before it is kept. */
  choose_store: { takes: { address: string; secret: string | null }; answers: Devices };
  /** What came and what waits; answers at once. */
  in_touch: { takes: Nothing; answers: InTouchView };
  exchange_now: { takes: Nothing; answers: InTouchView };
  /** Asks where the parcel shall go. */
  save_parcel: { takes: Nothing; answers: Saved };
  /** Asks for the parcel. */
  take_parcel: { takes: Nothing; answers: TakenByHand };
  /** Asks for the joining file, then for the place of this machine's own file. */
  join_firm: { takes: { passphrase: string }; answers: DeskState };
  /** Asks for the file, where none is open, then for the joining file. */
  reletter: { takes: { passphrase: string }; answers: Relettered };

  stop: { takes: { work: Work }; answers: null };
}

type Name = keyof Commands;
type LongName = { [N in Name]: Commands[N] extends { progress: true } ? N : never }[Name];
type Arguments<N extends Name> = Nothing extends Commands[N]['takes']
  ? [takes?: Commands[N]['takes']]
  : [takes: Commands[N]['takes']];

/** A command's refusal, as an error that can be thrown and shown. */
export class Refused extends Error {
  readonly code: Code;
  /** The field of the form that was refused, where it was one: `hours`, `lines[0].amount`. */
  readonly field: string | null;
  readonly remedy: string;

  constructor({ code, field, message, remedy }: Refusal) {
    super(message.charAt(0).toUpperCase() + message.slice(1));
    this.name = 'Refused';
    this.code = code;
    this.field = field ?? null;
    this.remedy = remedy;
  }
}

/** Asks the program. Throws `Refused`, and nothing else. */
export async function call<N extends Name>(name: N, ...args: Arguments<N>): Promise<Commands[N]['answers']> {
  try {
    return await invoke<Commands[N]['answers']>(name, args[0]);
  } catch (error) {
    throw new Refused(refusalOf(error, name));
  }
}

/** Asks for long work; `onStep` hears how far it is. */
export async function callWithProgress<N extends LongName>(
  name: N,
  takes: Commands[N]['takes'],
  onStep: (step: Step) => void,
): Promise<Commands[N]['answers']> {
  const steps = new Channel<Step>(onStep);
  try {
    return await invoke<Commands[N]['answers']>(name, { steps, ...takes });
  } catch (error) {
    throw new Refused(refusalOf(error, name));
  }
}

/**
 * Whatever came back, in the one shape. A command that doesn't exist, or isn't allowed, is refused by the shell in a
 * string.
 */
export function refusalOf(error: unknown, name: string): Refusal {
  if (
    typeof error === 'object' &&
    error !== null &&
    'code' in error &&
    'message' in error &&
    'remedy' in error
  ) {
    const { code, message, remedy } = error;
    const field = 'field' in error && typeof error.field === 'string' ? error.field : null;
    return { code: code as Code, field, message: String(message), remedy: String(remedy) };
  }
  const said = error instanceof Error ? error.message : String(error);
  return {
    code: 'broken',
    field: null,
    message: `The program did not answer “${name}”: ${said}. Nothing was changed.`,
    remedy: 'Close Tearoff and open it again. If it happens again, note these words and report them.',
  };
}
