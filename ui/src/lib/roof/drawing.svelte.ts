/**
 * The state of the sheet while a roof is drawn on it: where the pen is, the outline that is not closed yet, what is
 * picked, and what was before. Keys and pointer both go through here, so that neither can do what the other can't.
 */

import * as edits from './edits';
import { begin, change, type History, redo, settle, undo } from './history';
import { readLength, sayLength } from './length';
import {
  boxOf,
  boxOfRoof,
  distance,
  type Edge,
  edgeNear,
  edgesOf,
  nearest,
  type Point,
  pointOf,
  pointsOf,
  same,
} from './plan';
import { EDGES, type EdgeKind, edgeWord, FEATURES, type FeatureKind, featureWord, type Roof } from './shape';
import { snap, type Snapped } from './snap';
import { FIRST_VIEW, fit, follow, push, type View, zoom } from './view';

export type Mode = 'draw' | 'edges' | 'corners' | 'features';

export const MODES: readonly { mode: Mode; word: string }[] = [
  { mode: 'draw', word: 'Draw' },
  { mode: 'edges', word: 'Name edges' },
  { mode: 'corners', word: 'Move corners' },
  { mode: 'features', word: 'Features' },
];

export interface Picked {
  kind: 'edge' | 'corner' | 'feature';
  /** The section; of a feature, nothing. */
  section: number;
  index: number;
}

/** A key as the sheet needs it. */
export interface Press {
  key: string;
  shift?: boolean;
  /** Ctrl, or the command key. */
  ctrl?: boolean;
}

const WAYS: Record<string, Point> = {
  ArrowLeft: { x: -1, y: 0 },
  ArrowRight: { x: 1, y: 0 },
  ArrowUp: { x: 0, y: 1 },
  ArrowDown: { x: 0, y: -1 },
  Home: { x: -1, y: 1 },
  PageUp: { x: 1, y: 1 },
  End: { x: -1, y: -1 },
  PageDown: { x: 1, y: -1 },
};

const TO_WORDS: Record<Snapped['to'], string> = {
  corner: 'on a corner',
  edge: 'on an edge',
  line: 'in line',
  square: '',
};

export class Drawing {
  mode = $state<Mode>('draw');
  cursor = $state.raw<Point>({ x: 0, y: 0 });
  /** The corners set so far of a section that isn't closed. */
  outline = $state.raw<readonly Point[]>([]);
  /** A length that is being typed. */
  typed = $state('');
  picked = $state.raw<Picked>();
  /** What the next tap puts down, while features are put on the plan. */
  putting = $state<FeatureKind>();
  /** The finest square, in inches. */
  step = $state(12);
  /** What was just done, for the line below the sheet and for those who hear it. */
  said = $state('');
  /** What the crosshair was drawn to. */
  near = $state<Snapped['to']>('square');
  view = $state.raw<View>(FIRST_VIEW);
  width = 0;
  height = 0;
  /** Whether the person has chosen what the sheet shows; until then it shows all, whatever its size. */
  moved = false;

  /** A pointer is at work: nothing moves away under it. */
  #still = false;
  #history = $state.raw<History<Roof>>(begin({} as Roof));
  #write: (roof: Roof) => void;

  constructor(roof: Roof, write: (roof: Roof) => void) {
    this.#history = begin($state.snapshot(roof));
    this.#write = write;
  }

  get roof(): Roof {
    return this.#history.now;
  }

  get canUndo(): boolean {
    return this.outline.length > 0 || this.#history.past.length > 0;
  }

  get canRedo(): boolean {
    return this.#history.next.length > 0;
  }

  /** The roof was changed elsewhere, as in its tables: that is one step to be taken back like any other. */
  adopt(roof: Roof): void {
    // What was written here may come back wrapped in a proxy: it is another object with the same in it.
    if (JSON.stringify(roof) === JSON.stringify(this.roof)) return;
    this.#history = change(this.#history, $state.snapshot(roof));
    this.#drop();
  }

  /** A change made here. `going` names one that goes on, such as a drag. */
  set(roof: Roof, going?: string): void {
    if (roof === this.roof) return;
    this.#history = change(this.#history, roof, going);
    this.#write(roof);
  }

  settle(): void {
    this.#history = settle(this.#history);
  }

  undo(): void {
    if (this.outline.length > 0) return this.#takeBackCorner();
    if (this.#history.past.length === 0) return this.say('There is nothing to take back.');
    this.#history = undo(this.#history);
    this.#write(this.roof);
    this.#drop();
    this.say('Taken back.');
  }

  redo(): void {
    if (!this.canRedo) return this.say('There is nothing to do again.');
    this.#history = redo(this.#history);
    this.#write(this.roof);
    this.#drop();
    this.say('Done again.');
  }

  say(words: string): void {
    this.said = words;
  }

  /** What is picked may be gone after a change that was not made through it. */
  #drop(): void {
    const picked = this.picked;
    if (!picked) return;
    const there =
      picked.kind === 'feature'
        ? picked.index < this.roof.features.length
        : picked.index < (this.roof.sections[picked.section]?.outline.length ?? 0);
    if (!there) this.picked = undefined;
  }

  turnTo(mode: Mode): void {
    this.mode = mode;
    this.picked = undefined;
    this.putting = undefined;
    this.typed = '';
    if (mode !== 'draw') this.outline = [];
    const word = MODES.find((each) => each.mode === mode)?.word ?? mode;
    this.say(`${word}. ${HELP[mode]}`);
  }

  /** Shows all that is drawn, or the first 40 feet of an empty sheet. */
  fit(): void {
    const box = boxOfRoof(this.roof);
    const empty = { x: -24, y: -24 };
    const of = box ?? boxOf([empty, { x: 480, y: 336 }, ...this.outline]);
    this.moved = false;
    if (this.width > 0) this.view = fit(of, this.width, this.height);
  }

  zoom(factor: number, at: Point = { x: this.width / 2, y: this.height / 2 }): void {
    this.view = zoom(this.view, factor, at);
    this.moved = true;
  }

  /** Pushes the paper by pixels. */
  push(dx: number, dy: number): void {
    this.view = push(this.view, dx, dy);
    this.moved = true;
  }

  /** Puts the crosshair near a place, drawn to what is there. `reach` is in inches. */
  aim(raw: Point, reach: number): void {
    const moving = this.mode === 'corners' && this.picked?.kind === 'corner' ? this.picked : undefined;
    const stands = moving && this.roof.sections[moving.section]?.outline[moving.index];
    const held = stands && pointOf(stands);
    // What moves along is nothing to be drawn to.
    const others = edgesOf(this.roof).filter(
      (edge) => !held || (edge.section !== moving.section && !same(edge.from, held) && !same(edge.to, held)),
    );
    const own = this.mode === 'draw' ? this.outline : [];
    const features = this.mode === 'features';
    const found = snap(raw, {
      step: this.step,
      reach,
      corners: features ? [] : [...own, ...others.map((edge) => edge.from)],
      edges: features ? [] : others,
      from: this.mode === 'draw' ? this.outline.at(-1) : undefined,
    });
    this.cursor = found.at;
    this.near = found.to;
  }

  /** A tap or click at a place. What it does hangs on the mode. */
  tap(raw: Point, reach: number): void {
    this.#stand(() => this.#tap(raw, reach));
  }

  /** The sheet stands still under a pointer: it follows what is picked or set by the keys alone. */
  #stand<T>(what: () => T): T {
    this.#still = true;
    try {
      return what();
    } finally {
      this.#still = false;
    }
  }

  #tap(raw: Point, reach: number): void {
    if (this.mode === 'draw') {
      this.aim(raw, reach);
      this.corner();
    } else if (this.mode === 'features' && this.putting) {
      this.aim(raw, reach);
      this.put(this.putting);
    } else this.#grab(raw, reach);
  }

  /** Picks what is near a place. Says whether it can be dragged. */
  grab(raw: Point, reach: number): boolean {
    return this.#stand(() => this.#grab(raw, reach));
  }

  #grab(raw: Point, reach: number): boolean {
    if (this.mode === 'edges') {
      const edge = edgeNear(edgesOf(this.roof), raw, reach);
      if (edge) this.pickEdge(edge.section, edge.edge);
      else this.picked = undefined;
      return false;
    }
    if (this.mode === 'corners') {
      const edge = nearest(edgesOf(this.roof), (one) => distance(one.from, raw), reach * 1.5);
      if (edge) this.pickCorner(edge.section, edge.edge);
      else this.picked = undefined;
      return edge !== undefined;
    }
    if (this.mode === 'features' && !this.putting) {
      const all = this.roof.features.flatMap((each, index) =>
        each.at ? [{ index, at: pointOf(each.at) }] : [],
      );
      const found = nearest(all, (one) => distance(one.at, raw), reach * 2);
      if (found) this.pickFeature(found.index);
      else this.picked = undefined;
      return found !== undefined;
    }
    return false;
  }

  /** Moves what is picked along with the pointer; the whole drag is one step. */
  drag(raw: Point, reach: number): void {
    const picked = this.picked;
    if (!picked) return;
    this.aim(raw, reach);
    this.#move(picked, this.cursor, 'drag');
  }

  #move(picked: Picked, to: Point, how: string): void {
    const going = `${how} ${picked.kind} ${picked.section} ${picked.index}`;
    if (picked.kind === 'corner') {
      this.set(edits.moveCorner(this.roof, picked.section, picked.index, to), going);
      this.say(`Corner ${picked.index + 1} at ${where(to)}.`);
    } else if (picked.kind === 'feature') {
      this.set(edits.moveFeature(this.roof, picked.index, to), going);
      const feature = this.roof.features[picked.index];
      this.say(`${featureWord(feature?.kind ?? 'pipe')} at ${where(to)}.`);
    }
    this.cursor = to;
  }

  // ---- drawing an outline

  /** Sets a corner where the crosshair is; on the first corner, the outline is closed. */
  corner(at: Point = this.cursor): void {
    const first = this.outline[0];
    const last = this.outline.at(-1);
    this.typed = '';
    if (first && this.outline.length >= 3 && same(at, first)) return this.close();
    if (last && same(at, last)) return this.say('The last corner is here already. Move the crosshair first.');
    this.outline = [...this.outline, at];
    this.cursor = at;
    const long = last ? `, ${sayLength(distance(last, at))} from the last` : '';
    this.say(`Corner ${this.outline.length} at ${where(at)}${long}.`);
    this.#follow();
  }

  /** The typed length in a direction from the last corner, or from the crosshair where there is none. */
  #line(way: Point): void {
    const read = readLength(this.typed);
    if (!read.ok) return this.say(read.problem);
    const inches = Number(read.value);
    if (inches === 0) return this.say('That length is nothing. Type another.');
    if (this.outline.length === 0) this.outline = [this.cursor];
    const from = this.outline.at(-1) ?? this.cursor;
    const unit = Math.hypot(way.x, way.y) || 1;
    const at = { x: from.x + (way.x / unit) * inches, y: from.y + (way.y / unit) * inches };
    const first = this.outline[0];
    // A hundredth short of the first corner is the first corner: slanted lengths are rounded on their way.
    this.corner(first && distance(first, at) < 0.05 ? first : at);
  }

  #takeBackCorner(): void {
    this.outline = this.outline.slice(0, -1);
    const last = this.outline.at(-1);
    if (last) this.cursor = last;
    this.say(
      last ? `Corner taken back. The last one is at ${where(last)}.` : 'Corner taken back. None is set now.',
    );
  }

  close(): void {
    if (this.outline.length < 3) {
      const more = 3 - this.outline.length;
      return this.say(`A section needs three corners: set ${more} more before it is closed.`);
    }
    const next = edits.addSection(this.roof, this.outline);
    if (!next) return this.say('These corners lie in one line and enclose nothing. Take one back.');
    this.outline = [];
    this.typed = '';
    this.set(next);
    const index = next.sections.length - 1;
    const section = next.sections[index];
    const kinds = section?.outline.map((corner) => edgeWord(corner.edge).toLowerCase()).join(', ') ?? '';
    this.mode = 'edges';
    this.picked = { kind: 'edge', section: index, index: 0 };
    this.say(
      `${section?.name ?? ''} closed. Its edges, as guessed: ${kinds}. Tab goes through them; letters name them.`,
    );
  }

  // ---- picking

  pickEdge(section: number, edge: number): void {
    const found = this.#edge(section, edge);
    if (!found) return;
    this.mode = 'edges';
    this.picked = { kind: 'edge', section, index: edge };
    const name = this.roof.sections[section]?.name ?? '';
    this.say(
      `${name}, edge ${edge + 1}: ${edgeWord(found.kind).toLowerCase()}, ${this.#long(found)} in plan.`,
    );
    this.#follow({ x: (found.from.x + found.to.x) / 2, y: (found.from.y + found.to.y) / 2 });
  }

  pickCorner(section: number, corner: number): void {
    const at = this.roof.sections[section]?.outline[corner];
    if (!at) return;
    this.mode = 'corners';
    this.picked = { kind: 'corner', section, index: corner };
    this.cursor = pointOf(at);
    this.settle();
    this.say(`${this.roof.sections[section]?.name ?? ''}, corner ${corner + 1} at ${where(this.cursor)}.`);
    this.#follow();
  }

  pickFeature(index: number): void {
    const feature = this.roof.features[index];
    if (!feature) return;
    this.mode = 'features';
    this.picked = { kind: 'feature', section: -1, index };
    if (feature.at) this.cursor = pointOf(feature.at);
    this.settle();
    this.say(
      `${featureWord(feature.kind)} ${index + 1}${feature.at ? ` at ${where(this.cursor)}` : ', not on the plan'}.`,
    );
    this.#follow();
  }

  #edge(section: number, edge: number): Edge | undefined {
    return edgesOf(this.roof, section).find((each) => each.edge === edge);
  }

  #long(edge: Edge): string {
    return sayLength(distance(edge.from, edge.to));
  }

  /** The next or last thing of the mode's kind. False at either end, so that Tab can leave the sheet. */
  #walk(forward: boolean, round: boolean): boolean {
    const all: Picked[] =
      this.mode === 'features'
        ? this.roof.features.map((_, index) => ({ kind: 'feature', section: -1, index }))
        : edgesOf(this.roof).map((edge) => ({
            kind: this.mode === 'corners' ? 'corner' : 'edge',
            section: edge.section,
            index: edge.edge,
          }));
    const picked = this.picked;
    const at = picked
      ? all.findIndex((one) => one.section === picked.section && one.index === picked.index)
      : -1;
    let to = at === -1 ? (forward ? 0 : all.length - 1) : at + (forward ? 1 : -1);
    if (round && all.length > 0) to = (to + all.length) % all.length;
    const next = all[to];
    if (!next) return false;
    if (next.kind === 'edge') this.pickEdge(next.section, next.index);
    else if (next.kind === 'corner') this.pickCorner(next.section, next.index);
    else this.pickFeature(next.index);
    return true;
  }

  // ---- changing what is picked

  nameEdge(kind: EdgeKind): void {
    const picked = this.picked;
    if (picked?.kind !== 'edge') return this.say('Pick an edge first: Tab goes through them.');
    this.set(edits.nameEdge(this.roof, picked.section, picked.index, kind));
    this.say(`Edge ${picked.index + 1} is ${edgeWord(kind).toLowerCase()}.`);
  }

  splitEdge(): void {
    const picked = this.picked;
    if (picked?.kind !== 'edge') return this.say('Pick an edge first: Tab goes through them.');
    this.set(edits.splitEdge(this.roof, picked.section, picked.index));
    this.pickCorner(picked.section, picked.index + 1);
  }

  remove(): void {
    const picked = this.picked;
    if (!picked) return this.say('Nothing is picked. Tab goes through what is there.');
    const section = this.roof.sections[picked.section];
    if (picked.kind === 'feature') {
      const kind = this.roof.features[picked.index]?.kind ?? 'pipe';
      this.set(edits.removeFeature(this.roof, picked.index));
      this.say(`${featureWord(kind)} removed. Ctrl+Z brings it back.`);
    } else if (picked.kind === 'corner') {
      if ((section?.outline.length ?? 0) <= 3) {
        return this.say(
          'A section keeps at least three corners. To remove all of it, pick one of its edges.',
        );
      }
      this.set(edits.removeCorner(this.roof, picked.section, picked.index));
      this.say(`Corner ${picked.index + 1} removed. Ctrl+Z brings it back.`);
    } else {
      this.set(edits.removeSection(this.roof, picked.section));
      this.say(`${section?.name ?? 'Section'} removed. Ctrl+Z brings it back.`);
    }
    this.picked = undefined;
  }

  put(kind: FeatureKind): void {
    this.set(edits.addFeature(this.roof, kind, this.cursor));
    const index = this.roof.features.length - 1;
    const on = this.roof.features[index]?.section;
    this.picked = { kind: 'feature', section: -1, index };
    this.say(`${featureWord(kind)} put at ${where(this.cursor)}${on ? `, on ${on}` : ', on no section'}.`);
  }

  // ---- keys

  /** Does what a key says. False where it means nothing here, so that the page may have it. */
  press(press: Press): boolean {
    const { key, shift = false, ctrl = false } = press;
    if (ctrl) return this.#held(key, shift);
    if (key === 'Escape') return this.#escape();
    if (this.mode === 'draw' && this.#typing(key)) return true;
    if (key === '+' || key === '=') return done(this.zoom(1.25));
    if (key === '-' || key === '_') return done(this.zoom(0.8));
    const letter = key.length === 1 ? key.toUpperCase() : key;
    if (letter === 'F') return done(this.fit());
    if (letter === 'N') return done(this.turnTo('draw'));
    if (letter === 'M') {
      const at = MODES.findIndex((each) => each.mode === this.mode);
      return done(this.turnTo(MODES[(at + 1) % MODES.length]?.mode ?? 'draw'));
    }
    if (this.mode === 'draw') return this.#drawKey(letter, shift);
    if (key === 'Tab') return this.#walk(!shift, false);
    if (key === 'Delete') return done(this.remove());
    if (this.mode === 'edges') return this.#edgeKey(letter);
    const feature = this.mode === 'features' && FEATURES.find((each) => each.letter === letter);
    if (feature) return done(this.put(feature.kind));
    return this.#arrow(key, shift ? 1 : this.step);
  }

  #held(key: string, shift: boolean): boolean {
    const letter = key.toLowerCase();
    if (letter === 'z') return done(shift ? this.redo() : this.undo());
    if (letter === 'y') return done(this.redo());
    return this.#arrow(key, 120);
  }

  #escape(): boolean {
    if (this.typed) this.typed = '';
    else if (this.outline.length > 0) {
      this.outline = [];
      this.say('The outline is dropped. Sections that were closed stay.');
    } else if (this.picked || this.putting) {
      this.picked = undefined;
      this.putting = undefined;
    } else return false;
    return true;
  }

  /** Digits and marks begin a length; letters of its units only go on with one. */
  #typing(key: string): boolean {
    const begins = /^[0-9.]$/.test(key);
    const goesOn = this.typed !== '' && /^['"’”/ \-finteh]$/i.test(key);
    if (begins || goesOn) this.typed += key;
    else if (key === 'Backspace' && this.typed) this.typed = this.typed.slice(0, -1);
    else return false;
    return true;
  }

  #drawKey(letter: string, shift: boolean): boolean {
    const way = WAYS[letter];
    if (way && this.typed) return done(this.#line(way));
    if (way) return this.#arrow(letter, shift ? 1 : this.step);
    if (letter === 'Enter' && this.typed) {
      const from = this.outline.at(-1);
      if (!from || same(from, this.cursor)) {
        return done(this.say('Press an arrow for the direction of that length.'));
      }
      return done(this.#line({ x: this.cursor.x - from.x, y: this.cursor.y - from.y }));
    }
    if (letter === 'Enter') return done(this.corner());
    if (letter === 'C') return done(this.close());
    if (letter === 'Backspace' || letter === 'Delete') {
      if (this.outline.length > 0) this.#takeBackCorner();
      else this.say('No corner is set yet.');
      return true;
    }
    return false;
  }

  #edgeKey(letter: string): boolean {
    if (letter === 'ArrowRight' || letter === 'ArrowDown') return this.#walk(true, true);
    if (letter === 'ArrowLeft' || letter === 'ArrowUp') return this.#walk(false, true);
    if (letter === 'I') return done(this.splitEdge());
    const edge = EDGES.find((each) => each.letter === letter);
    if (!edge) return false;
    return done(this.nameEdge(edge.kind));
  }

  /** Moves what is picked, or else the crosshair: in squares, or by single inches. */
  #arrow(key: string, by: number): boolean {
    const way = WAYS[key];
    if (!way || this.mode === 'edges') return false;
    const to = { x: this.cursor.x + way.x * by, y: this.cursor.y + way.y * by };
    if (this.picked) this.#move(this.picked, to, 'keys');
    else {
      this.cursor = to;
      const on = this.#under(to);
      this.near = on;
      const last = this.mode === 'draw' ? this.outline.at(-1) : undefined;
      const long = last && !same(last, to) ? `, ${sayLength(distance(last, to))} from the last corner` : '';
      this.say(`${where(to)}${TO_WORDS[on] ? `, ${TO_WORDS[on]}` : ''}${long}.`);
    }
    this.#follow();
    return true;
  }

  /** What lies right under a place, so that whoever can't see the sheet hears it. */
  #under(at: Point): Snapped['to'] {
    const corners = [...this.outline, ...this.roof.sections.flatMap(pointsOf)];
    if (corners.some((corner) => same(corner, at))) return 'corner';
    return edgeNear(edgesOf(this.roof), at, 0.05) ? 'edge' : 'square';
  }

  #follow(at: Point = this.cursor): void {
    if (this.width === 0 || this.#still) return;
    const view = follow(this.view, at, this.width, this.height);
    this.moved ||= view !== this.view;
    this.view = view;
  }
}

/** So that a step can be the last word of a key's branch. */
function done(_: void): true {
  return true;
}

export function where(at: Point): string {
  return `${sayLength(at.x)}, ${sayLength(at.y)}`;
}

export const HELP: Record<Mode, string> = {
  draw:
    'Begin at the eave: its edge first, then up the slope. Arrows move the crosshair, Enter sets a corner. ' +
    'Or type a length and press an arrow. C closes the section.',
  edges:
    'Tab or arrows pick an edge, its letter names it. I puts a corner in its middle, Delete removes the section.',
  corners: 'Tab picks a corner, arrows move it, with Shift by an inch. Delete removes it.',
  features:
    'Arrows move the crosshair, a letter puts a feature there. Tab picks one, arrows move it, Delete removes it.',
};
