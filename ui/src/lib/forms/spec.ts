/**
 * What a form is made of. One engine checks, keeps and records them all, and one component draws their fields, so that
 * every one keeps drafts, keys and refusals alike.
 */

import { say } from '../kit/say.svelte';
import type { Lists } from '../bindings/Lists';
import type { FactForm } from '../facts';

export interface Choice {
  value: string;
  label: string;
}

/** One line of a list in a form: texts by field. What is ticked is `yes`, what isn't is empty. */
export type Line = Record<string, string>;

export interface Values {
  fields: Line;
  lists: Record<string, Line[]>;
}

/** What every form may look at. Forms of one part of the page look at more. */
export interface Around {
  today: string;
  /** The firm's own lists; its currency is taken from them. */
  lists?: Lists;
}

export type FieldKind =
  | 'date'
  | 'money'
  | 'qty'
  | 'rate'
  | 'percent'
  | 'text'
  | 'note'
  | 'secret'
  | 'choice'
  /** One of a few, each a button that a glove can hit. */
  | 'buttons'
  /** A number between a large less and a large more. */
  | 'stepper'
  | 'check'
  /** Photos, as the lines of the list of the same name. */
  | 'photos'
  /** One photo, as the field's value. */
  | 'photo';

export interface FieldSpec<C extends Around = Around> {
  name: string;
  label: string | ((line: Line, context: C) => string);
  kind: FieldKind;
  required?: boolean;
  /** What to say when it is needed and empty: a sentence. */
  missing?: string | ((line: Line) => string);
  /** Whether less than nothing makes sense. */
  negative?: boolean;
  /** How many digits may stand after the decimal mark, where its kind does not say. */
  places?: number;
  /** How many lines of a note are shown. */
  rows?: number;
  hint?: (values: Values, context: C, line: Line) => string | undefined;
  /** What counts while nothing is typed: it is shown in the field. */
  usual?: (context: C, values: Values) => string;
  choices?: (context: C, values: Values, line: Line) => readonly Choice[];
  /** What stands in a choice that may stay open. */
  none?: string;
  known?: (context: C) => readonly string[];
  unit?: (line: Line, context: C, values: Values) => string | undefined;
  /** What a press of a stepper's buttons adds, and how far it goes. */
  step?: { by: string; least: string; most: string };
  /** What photos are of, after “Photo 1 of”. */
  of?: (values: Values, context: C, line: Line) => string;
  /** Left out of the form while this says no. */
  when?: (values: Values, context: C, line: Line) => boolean;
  /** Not marked as optional though it is: where most stay empty. */
  unmarked?: boolean;
  /** What stands in it, lightly, while it is empty. */
  example?: string;
  /** Takes more room than a figure. */
  wide?: boolean;
  /** With this one a new group of fields begins, under this heading. */
  heading?: string;
}

export interface ListSpec<C extends Around = Around> {
  name: string;
  /** What one line is called, for those who hear it: "Line". */
  line: string | ((line: Line, index: number) => string);
  /** Shows the name of each line above it. */
  named?: boolean;
  title?: string;
  fields: readonly FieldSpec<C>[];
  /** A new line. Left out, the lines are given and none can be added or taken out. */
  blank?: (values: Values, context: C) => Line;
  /** What the button says that adds a line. */
  add?: (lines: readonly Line[]) => string;
  /** What the button says that takes one out. */
  out?: string;
  /** Given lines are a few fields wide: each is a row, as added ones are. */
  inRows?: boolean;
  /** How many lines the form keeps, even if they are blank. */
  least?: number;
  /** A line that nobody filled in is checked as any other, and not dropped. */
  keepsBlank?: boolean;
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

/** The facts, in the order in which they rest on each other. `id(n)` is the nth fact's own, always the same. */
export type FactsOf<C extends Around> = (
  values: Values,
  context: C,
  id: (index: number) => string,
) => FactForm[];

export interface FormSpec<C extends Around = Around> {
  /** Under this word its drafts are kept. */
  kind: string;
  title: string;
  /** What the button says. */
  record: string | ((values: Values) => string);
  fields: readonly FieldSpec<C>[];
  lists?: readonly ListSpec<C>[];
  /** What stands in it at first. Left out, nothing. */
  start?: (context: C, about: Line) => Values;
  /** What stands in it for the next one, after it was recorded. Left out, it begins anew. */
  again?: (values: Values, context: C) => Values;
  /** Called when a person changed a field, as `date` or `lines[0].amount`; may fill in what follows from it. */
  changed?: (values: Values, path: string, context: C) => void;
  /** What is to be asked of the program as the form stands now; its answer is filled in when it comes. */
  asks?: (values: Values, context: C) => Question | undefined;
  sums?: (values: Values, context: C) => Sum[];
  /** What is unlikely enough to be asked about before it is recorded: a question that is answered by a second press. */
  doubt?: (values: Values, context: C) => string | undefined;
  /** What to think of before recording: sentences. */
  cautions?: (values: Values, context: C) => string[];
  /** Problems that show before the ledger is asked, by path; under no path, what stands at the foot. */
  problems?: (values: Values, context: C) => Record<string, string>;
  /** What to say at the foot, too, while something is missing. */
  incomplete?: string;
  /** What is recorded. Where there is none, nothing was changed, and nothing is recorded. */
  facts?: FactsOf<C>;
  /** What is asked of the program instead of recording facts; answers the facts that can be taken back. */
  send?: (
    values: Values,
    context: C,
    id: (index: number) => string,
  ) => Promise<readonly string[] | undefined | void>;
  /** What was done, in words, for the message that offers to take it back. Empty where the page itself shows it. */
  says?: (values: Values, context: C) => string;
  /** Why it is reversed when it is taken back. False where that is not offered. */
  undo?: string | false;
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

export function labelOf<C extends Around>(field: FieldSpec<C>, line: Line, context: C): string {
  return typeof field.label === 'string' ? field.label : field.label(line, context);
}

/** What is missing and what to do, in one field, if anything. */
function missingIn<C extends Around>(
  field: FieldSpec<C>,
  line: Line,
  values: Values,
  context: C,
): string | undefined {
  if (!field.required || !(field.when?.(values, context, line) ?? true)) return undefined;
  if ((line[field.name] || field.usual?.(context, values) || '').trim() !== '') return undefined;
  if (field.missing) return typeof field.missing === 'string' ? field.missing : field.missing(line);
  const label = labelOf(field, line, context);
  return field.kind === 'choice'
    ? say('Choose: {what}.', { what: label.toLowerCase() })
    : say('{label} is missing.', { label });
}

/** The lists that stand in a form as it is now. */
export function shownLists<C extends Around>(spec: FormSpec<C>, values: Values): readonly ListSpec<C>[] {
  return (spec.lists ?? []).filter((list) => list.when?.(values) ?? true);
}

/** What stands in the way of recording, by path, before the program is asked. */
export function problemsIn<C extends Around>(
  spec: Pick<FormSpec<C>, 'fields' | 'lists' | 'problems'>,
  values: Values,
  context: C,
): Record<string, string> {
  const found: Record<string, string> = {};
  const look = (fields: readonly FieldSpec<C>[], line: Line, at: string) => {
    for (const field of fields) {
      const missing = missingIn(field, line, values, context);
      if (missing) found[at + field.name] = missing;
    }
  };
  look(spec.fields, values.fields, '');
  for (const list of (spec.lists ?? []).filter((each) => each.when?.(values) ?? true)) {
    (values.lists[list.name] ?? []).forEach((line, index) => {
      look(list.fields, line, `${list.name}[${index}].`);
    });
  }
  return { ...found, ...spec.problems?.(values, context) };
}
