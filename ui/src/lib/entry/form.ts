/**
 * What a form for facts is made of. One component draws them all, so that every one keeps drafts, keys and errors
 * alike.
 */

import type { JobPage } from '../bindings/JobPage';
import type { Lists } from '../bindings/Lists';
import type { OpenInvoice } from '../bindings/OpenInvoice';
import type { ToBill } from '../bindings/ToBill';
import type { FactForm } from '../facts';
import type { Choice } from './words';

/** One line of a list in a form: texts by field. What is ticked is `yes`, what isn't is empty. */
export type Line = Record<string, string>;

export interface Values {
  fields: Line;
  lists: Record<string, Line[]>;
}

/** What a form may look at. */
export interface Context {
  /** The job that the form stands on; absent while a new one is made. */
  job?: JobPage;
  lists: Lists;
  today: string;
  /** Numbers of jobs seen so far, to be suggested. */
  jobs: readonly string[];
  /** What this customer has not paid yet, oldest first. */
  open: readonly OpenInvoice[];
  /** What of the job is to be billed next, and the numbers that come next. */
  next?: ToBill;
}

export type FieldKind = 'date' | 'money' | 'qty' | 'rate' | 'percent' | 'text' | 'note' | 'choice' | 'check';

export interface FieldSpec {
  name: string;
  label: string | ((line: Line) => string);
  kind: FieldKind;
  required?: boolean;
  /** Whether less than nothing makes sense. */
  negative?: boolean;
  hint?: (values: Values, context: Context, line: Line) => string | undefined;
  choices?: (context: Context, values: Values, line: Line) => readonly Choice[];
  /** What stands in a choice that may stay open. */
  none?: string;
  known?: (context: Context) => readonly string[];
  unit?: (line: Line, context: Context) => string | undefined;
  /** Left out of the form while this says no. */
  when?: (values: Values, context: Context, line: Line) => boolean;
  /** Not marked as optional though it is: where most stay empty. */
  unmarked?: boolean;
  /** Takes more room than a figure. */
  wide?: boolean;
}

export interface ListSpec {
  name: string;
  /** What one line is called, for those who hear it: "Line". */
  line: string | ((line: Line) => string);
  title: string;
  fields: readonly FieldSpec[];
  /** A new line. Left out, the lines are given and none can be added or taken out. */
  blank?: (values: Values, context: Context) => Line;
  /** How many lines the form keeps, even if they are blank. */
  least?: number;
  when?: (values: Values) => boolean;
  /** What to say when there is no line. */
  empty?: string;
}

export interface Sum {
  name: string;
  value: string;
  /** A quantity of this unit, not money. */
  unit?: string;
}

/** What a form asks the program while it is typed: a rule of the trade is not worked out in the page. */
export interface Question {
  /** The same words for the same question: one that was answered is not asked again. */
  key: string;
  ask: () => Promise<(values: Values) => void>;
  /** A person may change the answer: it is asked again only when what it rests on has changed. */
  byHand?: boolean;
}

export interface FormSpec {
  /** Under this word its drafts are kept. */
  kind: string;
  title: string;
  /** What the button says. */
  record: string;
  fields: readonly FieldSpec[];
  lists: readonly ListSpec[];
  start: (context: Context, about: Line) => Values;
  /** Called when a person changed a field, as `date` or `lines[0].amount`; may fill in what follows from it. */
  changed?: (values: Values, path: string, context: Context) => void;
  /** What is to be asked of the program as the form stands now; its answer is filled in when it comes. */
  asks?: (values: Values, context: Context) => Question | undefined;
  sums?: (values: Values, context: Context) => Sum[];
  /** What to think of before recording: sentences. */
  cautions?: (values: Values, context: Context) => string[];
  /** Problems that show before the ledger is asked, by path. */
  problems?: (values: Values, context: Context) => Record<string, string>;
  /** The facts, in the order in which they rest on each other. `id(n)` is the nth fact's own, always the same. */
  facts: (values: Values, context: Context, id: (index: number) => string) => FactForm[];
  /** What was recorded, in words, for the message that offers to take it back. */
  says: (values: Values, context: Context) => string;
}

/** The field of a list's line, taken apart; undefined for a field of the form itself. */
export function pathOf(path: string): { list: string; index: number; name: string } | undefined {
  const match = /^(\w+)\[(\d+)\]\.(\w+)$/.exec(path);
  return match ? { list: match[1] ?? '', index: Number(match[2]), name: match[3] ?? '' } : undefined;
}

/** Whether anything is filled in but what a new line comes with. */
export function isBlank(line: Line, blank: Line): boolean {
  return Object.entries(line).every(([name, value]) => value === '' || value === (blank[name] ?? ''));
}

/** A job's own number; a form that needs one is only opened on a job. */
export function jobNumber(context: Context): string {
  return context.job?.figures.number ?? '';
}

export function missing(field: FieldSpec, line: Line): string {
  const label = typeof field.label === 'string' ? field.label : field.label(line);
  return field.kind === 'choice' ? `Choose: ${label.toLowerCase()}.` : `${label} is missing.`;
}
