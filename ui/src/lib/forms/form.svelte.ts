/**
 * The engine of every form: what is typed, what is wrong with it, its draft, and recording it. How it is drawn is left
 * to the page: as a sheet where it belongs, as a dialog, or as the crew's large fields.
 */

import { say, told } from '../kit/say.svelte';
import { tick } from 'svelte';

import { call, Refused } from '../ipc';
import { toasts } from '../kit';
import { NOTHING_CHOSEN } from '../start/desk.svelte';
import { Asker } from './asker';
import { Draft, typedIn, type Typed } from './draft';
import { newId } from './ids';
import {
  isBlank,
  pathOf,
  problemsIn,
  shownLists,
  type Around,
  type FieldSpec,
  type FormSpec,
  type Line,
  type ListSpec,
  type Values,
} from './spec';
import { recorded } from './take-back';

export interface Options<C extends Around> {
  /** What the form may look at, as it is now. */
  context: () => C;
  /** What it is opened about: the condition, or the change order. */
  about?: Line;
  /** What its draft stands on, and its job where that is something else. Left out, no draft is kept. */
  keeps?: { on: string; job?: string };
  /** Something in it was changed: it stands like this now. */
  ontyped?: (values: Values) => unknown;
  /** It is in, as it was typed. */
  onrecorded?: (values: Values) => unknown;
  /** Its draft is open again. */
  onrestored?: () => unknown;
  /** Something was recorded, with these ids, or taken back: the page is to be read again. */
  onchanged?: (ids: readonly string[]) => unknown;
  onrefused?: (refusal: Refused) => unknown;
}

export class Form<C extends Around = Around> {
  readonly spec: FormSpec<C>;
  readonly #options: Options<C>;
  readonly #draft: Draft<Typed> | undefined;
  readonly #asker: Asker;
  #closed = false;
  values: Values = $state({ fields: {}, lists: {} });
  /** What is wrong, by path. */
  problems = $state<Record<string, string>>({});
  /** What is wrong with no field, or with one that isn't here. */
  refused = $state('');
  /** What is asked before it is recorded all the same. */
  doubt = $state('');
  /** When the draft that is open again was left. */
  restored = $state('');
  unsaved = $state(false);
  busy = $state(false);
  /** A photo is being kept. */
  taking = $state(false);
  /** Where it is drawn. */
  root: HTMLElement | undefined;
  #ids: string[] = [];
  /** Dates that were asked about, by field: recorded again as they are, they are right. */
  #asked: Record<string, unknown> = {};
  /** Where the page itself found something wrong, and can see when it is put right. */
  #found: readonly string[] = [];

  constructor(spec: FormSpec<C>, options: Options<C>) {
    this.spec = spec;
    this.#options = options;
    const { keeps } = options;
    if (keeps) this.#draft = new Draft(spec.kind, keeps.on, typedIn, keeps.job);
    this.#asker = new Asker(
      (fill) => fill(this.values),
      (error) => this.tell(error),
    );
    this.begin();
  }

  /** Attached where it is drawn: Enter in a form, and Ctrl+Enter anywhere in it, record it. */
  readonly here = (element: HTMLElement): (() => void) => {
    this.root = element;
    const submit = (event: Event) => {
      event.preventDefault();
      void this.record();
    };
    const press = (event: KeyboardEvent) => {
      if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) submit(event);
    };
    element.addEventListener('submit', submit);
    element.addEventListener('keydown', press);
    return () => {
      this.root = undefined;
      element.removeEventListener('submit', submit);
      element.removeEventListener('keydown', press);
    };
  };

  get context(): C {
    return this.#options.context();
  }

  get lists(): readonly ListSpec<C>[] {
    return shownLists(this.spec, this.values);
  }

  get says(): string {
    const { record } = this.spec;
    return typeof record === 'string' ? record : record(this.values);
  }

  #begun(): Values {
    return this.spec.start?.(this.context, this.#options.about ?? {}) ?? { fields: {}, lists: {} };
  }

  /** What stands in it is what it begins with. */
  begin() {
    this.values = this.#begun();
  }

  /** The nth fact's own id: what is sent twice is then recognized by the ledger. */
  id(index: number): string {
    while (this.#ids.length <= index) this.#ids.push(newId());
    return this.#ids[index] ?? newId();
  }

  fieldOf(name: string): FieldSpec<C> | undefined {
    return this.spec.fields.find((field) => field.name === name);
  }

  shows(field: FieldSpec<C>, line: Line = this.values.fields): boolean {
    return field.when?.(this.values, this.context, line) ?? true;
  }

  /** Takes up the draft that was left. Answers what to do when the form goes away. */
  open(): () => void {
    this.#askAsItStands();
    if (!this.#options.about || Object.keys(this.#options.about).length === 0) void this.#takeUp();
    return () => this.close();
  }

  async #takeUp() {
    try {
      const kept = await this.#draft?.find();
      if (!kept || this.#closed) return;
      const fresh = this.#begun();
      const { values, ids } = kept.body;
      this.values = {
        fields: { ...fresh.fields, ...values.fields },
        lists: { ...fresh.lists, ...values.lists },
      };
      this.#ids = ids;
      this.restored = kept.at;
      this.#options.onrestored?.();
      this.#asker.restored(this.spec.asks?.($state.snapshot(this.values), this.context));
    } catch (error) {
      this.tell(error);
    }
  }

  close() {
    this.#closed = true;
    this.#asker.stop();
    void this.#draft?.now().catch((error: unknown) => this.tell(error));
  }

  /** A person changed a field: `path` is its name, or that of a line's field. */
  set(path: string, line: Line, name: string, value: string) {
    if ((line[name] ?? '') === value) return;
    line[name] = value;
    this.spec.changed?.(this.values, path, this.context);
    this.#rightAt(path);
    this.touched();
  }

  /** What is wrong stays said until it is put right: in the field that changed, or by it in another. */
  #rightAt(path: string) {
    const wrong = problemsIn(this.spec, this.values, this.context);
    const stays = ([at]: [string, string]) => at !== path && (at in wrong || !this.#found.includes(at));
    this.problems = Object.fromEntries(Object.entries(this.problems).filter(stays));
  }

  /** As `set`, for a field of the form itself. */
  put(name: string, value: string) {
    this.set(name, this.values.fields, name, value);
  }

  #askAsItStands() {
    this.#asker.later(this.spec.asks?.($state.snapshot(this.values), this.context));
  }

  /** What is typed has changed: it is asked about, and kept. */
  touched() {
    this.refused = '';
    this.doubt = '';
    this.unsaved = true;
    this.#askAsItStands();
    const values = $state.snapshot(this.values);
    this.#options.ontyped?.(values);
    const kept = (error?: unknown) => {
      if (error !== undefined) this.tell(error);
    };
    // What is as it began is nothing to keep.
    if (textOf(values) === textOf(this.#begun())) void this.#draft?.drop().catch(kept);
    else this.#draft?.later({ values, ids: [this.id(0), ...this.#ids.slice(1)] }, kept);
  }

  tell(error: unknown) {
    if (!(error instanceof Refused)) throw error;
    if (this.#closed) toasts.refused(told(error.message), told(error.remedy));
    else this.refused = `${told(error.message)} ${told(error.remedy)}`.trim();
  }

  add(list: ListSpec<C>, lines: readonly Line[] = list.blank ? [list.blank(this.values, this.context)] : []) {
    const all = [...(this.values.lists[list.name] ?? []), ...lines];
    this.values.lists[list.name] = all;
    this.touched();
    void this.#focusLine(list.name, all.length - lines.length);
  }

  takeOut(list: ListSpec<C>, index: number) {
    this.values.lists[list.name]?.splice(index, 1);
    this.problems = {};
    this.spec.changed?.(this.values, list.name, this.context);
    this.touched();
    void this.#focusLine(list.name, Math.max(0, index - 1));
  }

  async #focusLine(list: string, index: number) {
    await tick();
    this.focus(this.root?.querySelector(`[data-line="${list}-${index}"]`));
  }

  focus(within: Element | null | undefined = this.root) {
    within?.querySelector<HTMLElement>('input, select, textarea')?.focus();
  }

  /** Lines that nobody filled in are no lines. */
  #dropBlanks() {
    for (const list of this.lists) {
      const blank = list.blank?.(this.values, this.context);
      const lines = this.values.lists[list.name];
      if (!blank || !lines || list.keepsBlank) continue;
      const kept = lines.filter((line) => !isBlank(line, blank));
      this.values.lists[list.name] = kept.length === 0 ? lines.slice(0, list.least ?? 0) : kept;
    }
  }

  /** Records it; `sure` where what was doubted is meant so. Whether it is in. */
  async record(sure = false): Promise<boolean> {
    if (this.busy || this.taking) return false;
    this.busy = true;
    try {
      // What stands half-typed in a field is taken when the field is left.
      if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
      await tick();
      await this.#asker.now();
      this.#dropBlanks();
      const { '': foot, ...problems } = problemsIn(this.spec, this.values, this.context);
      this.problems = problems;
      this.#found = Object.keys(problems);
      const wrong = foot !== undefined || Object.keys(problems).length > 0;
      this.refused = foot ?? '';
      // What the program refused before is no longer marked; what stands half-typed in a field still is.
      await tick();
      if (!wrong && !this.root?.querySelector('[aria-invalid="true"]')) {
        this.doubt = (!sure && this.spec.doubt?.($state.snapshot(this.values), this.context)) || '';
        if (this.doubt) return false;
        await this.#send();
        return true;
      }
      this.refused ||= this.spec.incomplete ?? '';
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      if (error.code !== NOTHING_CHOSEN) this.#place(this.#askAbout(error));
      await this.#options.onrefused?.(error);
    } finally {
      this.busy = false;
    }
    await this.#showWrong();
    return false;
  }

  async #send() {
    const { spec, context } = this;
    const values: Values = $state.snapshot(this.values);
    const id = (index: number) => this.id(index);
    const sure = Object.keys(this.#asked).filter((name) => this.#asked[name] === values.fields[name]);
    const surely = sure.length > 0 ? { sure_of: sure } : {};
    const facts = (spec.facts?.(values, context, id) ?? []).map((each) => ({ ...each, ...surely }));
    let ids: readonly string[] = [];
    let cautions: readonly string[] = [];
    if (spec.send) ids = (await spec.send(values, context, id)) ?? [];
    else if (facts.length > 0) {
      const made = await call('record', { facts });
      ids = made.map((each) => each.id);
      cautions = made.flatMap((each) => each.cautions);
      cautions = cautions.filter((words, index) => cautions.indexOf(words) === index);
    }
    const changed = spec.send !== undefined || facts.length > 0;
    await this.#draft?.drop().catch((error: unknown) => this.tell(error));
    this.#ids = [];
    this.#asked = {};
    this.values = spec.again?.(values, context) ?? this.#begun();
    this.unsaved = false;
    this.restored = '';
    const says = changed ? spec.says?.(values, context) : undefined;
    if (says && ids.length > 0 && spec.undo !== false) {
      recorded(says, ids, () => this.#options.onchanged?.([]), spec.undo);
    } else if (says) toasts.done(says);
    else if (!changed) toasts.done(say('Nothing is changed: all stands as it was.'));
    // What is recorded, and can hardly be meant so, is told where it cannot be passed over.
    if (cautions.length > 0) toasts.refused(cautions.map(told).join(' '));
    await this.#options.onrecorded?.(values);
    await this.#options.onchanged?.(ids);
  }

  /** A date that may be a slip is taken when it is recorded once more as it stands. */
  #askAbout(refused: Refused): Refused {
    const { code, field, message } = refused;
    if (code !== 'unusual-date' || !field || this.spec.send) return refused;
    this.#asked[field] = this.values.fields[field];
    return new Refused({
      code,
      field,
      message,
      remedy: say('Correct the year, or record it again if it is right.'),
    });
  }

  /** A refusal goes to the field that it names; what names none, or one that isn't here, stands at the foot. */
  #place({ field, message, remedy }: Refused) {
    const said = told(message);
    const sentence = `${said.charAt(0).toUpperCase()}${said.slice(1)} ${told(remedy)}`.trim();
    this.#found = [];
    if (field && this.#isHere(field)) this.problems = { [field]: sentence };
    else this.refused = sentence;
  }

  #isHere(path: string): boolean {
    const at = pathOf(path);
    if (!at) {
      const field = this.fieldOf(path);
      return field ? this.shows(field) : this.lists.some((list) => list.name === path);
    }
    const line = this.values.lists[at.list]?.[at.index];
    const field = this.lists
      .find((list) => list.name === at.list)
      ?.fields.find((each) => each.name === at.name);
    return Boolean(line && field && this.shows(field, line));
  }

  async #showWrong() {
    await tick();
    // Where no field is at fault, the sentence itself is gone to: the keys still work from there.
    const wrong = this.root?.querySelector<HTMLElement>('[aria-invalid="true"], [data-wrong]');
    (wrong ?? this.root?.querySelector<HTMLElement>('.refused'))?.focus();
  }

  /** Throws the draft away and begins anew. */
  async afresh() {
    this.restored = '';
    this.doubt = '';
    this.#ids = [];
    this.problems = {};
    this.begin();
    this.unsaved = false;
    this.#askAsItStands();
    await this.#draft?.drop().catch((error: unknown) => this.tell(error));
    this.focus();
  }
}

/** What is filled in, as text. */
function textOf(values: Values): string {
  return JSON.stringify(values, (_name, value: unknown) => (value === '' ? undefined : value));
}
