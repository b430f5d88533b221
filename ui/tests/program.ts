/**
 * A program that answers as the real one does, for tests of pages: what it says of the made-up firm, as written by the
 * program itself, and drafts that are kept until the test ends. It notes what it was asked.
 */

import { mockIPC } from '@tauri-apps/api/mocks';

import type { Commands, DeskState, Refusal } from '../src/lib/ipc';
import { AT_DESK } from './desk';
import cost from './fixtures/explanation-cost-deck.json';
import hours from './fixtures/explanation-labor-hours.json';
import margin from './fixtures/explanation-margin.json';
import cashAhead from './fixtures/cash-ahead.json';
import cashOut from './fixtures/explanation-cash-out.json';
import bank from './fixtures/bank.json';
import billDesk from './fixtures/bill-desk.json';
import firmBudget from './fixtures/firm-budget.json';
import firmYear from './fixtures/firm-year.json';
import jobBilling from './fixtures/job-billing.json';
import overhead from './fixtures/overhead.json';
import statement from './fixtures/customer-statement.json';
import payables from './fixtures/payables.json';
import vendorStatement from './fixtures/vendor-statement.json';
import subcontractors from './fixtures/subcontractors.json';
import handOff from './fixtures/hand-off-preview.json';
import history from './fixtures/condition-history.json';
import page from './fixtures/job-page.json';
import lists from './fixtures/lists.json';
import ends from './fixtures/loose-ends.json';
import monthEnd from './fixtures/month-end.json';
import people from './fixtures/people.json';
import rates from './fixtures/rates.json';
import siteDay from './fixtures/site-day.json';
import toBill from './fixtures/to-bill.json';
import workmanship from './fixtures/workmanship.json';
import year from './fixtures/year.json';

type Name = keyof Commands;
// What was sent is looked at by the test that sent it.
type Sent = any; // eslint-disable-line @typescript-eslint/no-explicit-any
type Answer = (sent: Sent) => unknown;
/** An answer may be a value, or a function of what was sent. */
export type Answers = {
  [N in Name]?: object | string | number | null | ((sent: Commands[N]['takes']) => unknown);
};
export type Program = ReturnType<typeof program>;

/** Throw this to refuse, as the program does. */
export function refuse(message: string, field: string | null = null): never {
  const refusal: Refusal = { code: 'refused', field, message, remedy: 'Try it another way.' };
  throw refusal;
}

/** What the program says of so many further sheets on a job of the day, in whole numbers. */
function furtherOf({ job, damaged, count }: Commands['further']['takes']) {
  const of = siteDay.jobs.find((each) => each.number === job);
  const left = damaged === 'deck-sheet' ? Number(of?.sheets_left ?? 0) : 0;
  const unitPrice = of?.prices.find((price) => price.damaged === damaged)?.price ?? null;
  const beyond = Math.max(0, Number(count) - left);
  const price =
    unitPrice !== null && beyond > 0 ? `${BigInt(beyond) * BigInt(unitPrice.replace('.00', ''))}.00` : null;
  return { covered: String(Number(count) - beyond), beyond: String(beyond), unit_price: unitPrice, price };
}

function explanationOf(figure: string) {
  if (figure.startsWith('cost')) return cost;
  return figure === 'margin' ? margin : hours;
}

/** Drafts as the ledger keeps them. */
function drafts() {
  const kept = new Map<string, Commands['save_draft']['takes']>();
  return {
    drafts: ({ kind }: Commands['drafts']['takes']) =>
      [...kept.values()].filter((draft) => !kind || draft.kind === kind),
    save_draft: ({ id, ...draft }: Commands['save_draft']['takes']) => {
      const named = id ?? `draft-${kept.size + 1}`;
      const whole = { ...draft, id: named, changed_at: '2026-10-31T12:00:00Z' };
      kept.set(named, whole);
      return named;
    },
    delete_draft: ({ id }: Commands['delete_draft']['takes']) => kept.delete(id),
  };
}

/** Stands in for the program. */
export function program(answers: Answers = {}, state: DeskState = AT_DESK) {
  const asked: { name: Name; sent: Sent }[] = [];
  // As the program's: what the last exchange came to is what a look tells.
  let inTouch: Commands['in_touch']['answers'] = { came: 0, last: null, refused: null, unsound: null };
  const usual: Answers = {
    about: { name: 'Tearoff', version: '1.2.3' },
    painted: null,
    desk_state: state,
    people,
    devices: { here: 'A', is_site_copy: false, devices: [], store: null, waiting: 0, last: null },
    in_touch: () => inTouch,
    lists,
    rates,
    year,
    condition_history: history,
    month_end: ({ month }) => ({
      ...monthEnd,
      month,
      closed: month < '2026-10',
    }),
    firm_budget: ({ month }) => ({ ...firmBudget, month }),
    firm_year: ({ month }) => ({ ...firmYear, month }),
    cash_ahead: ({ asked }) => ({ ...structuredClone(cashAhead), as_if: asked }),
    explain_cash: cashOut,
    overhead: ({ month }) => ({ ...overhead, month }),
    customer_statement: ({ customer }) => ({ ...statement, id: customer }),
    payables,
    vendor_statement: vendorStatement,
    bank,
    match_bank: { matched: 2, left: 2 },
    subcontractors,
    bill_desk: billDesk,
    check_bill: { same: null, due: null, differences: [] },
    job_billing: jobBilling,
    loose_ends: ends,
    job_page: page,
    job_names: year.jobs.map(({ number, title, customer }) => ({ number, title, customer })),
    explain: ({ of, figure }) => ({ ...explanationOf(figure), of, figure }),
    site_day: () => structuredClone(siteDay),
    site_roof: null,
    workmanship: ({ job }) => ({ ...structuredClone(workmanship), job }),
    further: furtherOf,
    to_bill: toBill,
    calculate_invoice: {
      net: '100.00',
      tax: '8.25',
      rate: '0.0825',
      tax_words: '8.25 % of 100.00, rounded once for the invoice.',
      retainage: '0.00',
      retainage_words: 'The contract holds nothing back.',
      total: '108.25',
      due: '108.25',
      beyond: '0.00',
    },
    line_amounts: ({ lines }) => lines.map(() => '2794.50'),
    spread_payment: ({ open }) => open.map((_, index) => (index === 0 ? '300.00' : '0.00')),
    hand_off_preview: handOff,
    ...drafts(),
    attach: { id: 'a', hash: 'ab'.repeat(32), media_type: 'image/jpeg', bytes: 3, original: 'cd'.repeat(32) },
    attachment: 'data:image/png;base64,iVBORw0KGgo=',
    record: ({ facts }) => facts.map(({ id }) => ({ id, repeated: false, cautions: [] })),
    far_from_usual: [],
    reverse: '019caea2-0000-7000-8000-000000000000',
    stop: null,
  };
  mockIPC((name, sent) => {
    asked.push({ name: name as Name, sent });
    const answer = { ...usual, ...answers }[name as Name];
    if (answer === undefined) {
      throw { code: 'broken', message: `Nobody answers ${name}.`, remedy: '' } satisfies Refusal;
    }
    const told: unknown = typeof answer === 'function' ? (answer as Answer)(sent) : answer;
    if (name === 'exchange_now') inTouch = told as typeof inTouch;
    return told;
  });
  const taken = (name: Name): Sent[] => asked.filter((call) => call.name === name).map((call) => call.sent);
  return {
    /** What was sent with each call of a command, in order. */
    taken,
    /** What was sent with the last call of a command. */
    last: (name: Name): Sent => taken(name).at(-1),
    count: (name: Name) => taken(name).length,
  };
}
