import { describe, expect, it } from 'vitest';

import { Drawing } from './drawing.svelte';
import * as edits from './edits';
import { ELL } from '../../../tests/roof';
import { guessAlone, shared } from './guess';
import { begin, change, redo, settle, undo } from './history';
import { decimalOf, readLength, sayLength, showLength } from './length';
import { placeAt, placesOf } from './place';
import { compass, holds, inside, onto, pointsOf, rises } from './plan';
import { addReady, type ReadyKind, readyProblem } from './ready';
import { newRoof, type Roof, type Section } from './shape';
import { snap } from './snap';
import { addDecimals, feetOf, setFeet } from './typed';
import { fit, follow, toPlan, toSheet, zoom } from './view';

const at = (x: number, y: number) => ({ x, y });
const kindsOf = (section: Section | undefined) => section?.outline.map((corner) => corner.edge);
const cornersOf = (section: Section | undefined) => section?.outline.map(({ x_in, y_in }) => [x_in, y_in]);

describe('a length', () => {
  it.each([
    [`24'6"`, '294'],
    [`24' 6"`, '294'],
    ['24’ 6”', '294'],
    [`24''`, '24'],
    ['24-6', '294'],
    ['24 6', '294'],
    ['24 ft 6 in', '294'],
    ['24.5', '294'],
    ['24', '288'],
    [`24'`, '288'],
    ['294in', '294'],
    ['294"', '294'],
    [`24'6 1/2"`, '294.5'],
    ['24-6-1/2', '294.5'],
    [`3/4"`, '0.75'],
    [`1 1/3"`, '1.3333'],
    ['.5', '6'],
    ['0', '0'],
  ])('reads %s', (typed, inches) => {
    expect(readLength(typed)).toEqual({ ok: true, value: inches });
  });

  it.each(['', 'x', `6'x`, '1/0"', '12-', `'6`, '1e3', '24.5.1', '-4', '999999'])(
    'refuses %j in words',
    (typed) => {
      const read = readLength(typed);
      expect(read.ok).toBe(false);
      expect(read.ok ? '' : read.problem).toMatch(/[.?]$/);
    },
  );

  it('takes a sign where a place on the plan is meant', () => {
    expect(readLength('-4-6', true)).toEqual({ ok: true, value: '-54' });
    expect(readLength('\u22121', true)).toEqual({ ok: true, value: '-12' });
  });

  it('is written as on a drawing, and for the ear', () => {
    expect(['294', '288', '6', '0', '-54', '294.5'].map(showLength)).toEqual([
      `24' 6"`,
      `24'`,
      `6"`,
      `0'`,
      `\u22124' 6"`,
      `24' 6.5"`,
    ]);
    expect(showLength('11.999')).toBe(`1'`);
    expect(sayLength(-54)).toBe('minus 4 ft 6 in');
    expect(decimalOf(203.64675298)).toBe('203.6468');
    expect(decimalOf(-0.00001)).toBe('0');
  });
});

describe('snapping', () => {
  const reach = 8;

  it('takes the squares where nothing else is near', () => {
    expect(snap(at(17, 41), { step: 12, reach })).toEqual({ at: at(12, 36), to: 'square' });
    expect(snap(at(17, 41), { step: 6, reach }).at).toEqual(at(18, 42));
    expect(snap(at(17.4, -0.2), { step: 1, reach }).at).toEqual(at(17, 0));
  });

  it('goes to a corner before an edge', () => {
    const edges = [{ from: at(0, 0), to: at(100, 0) }];
    const found = snap(at(98, 5), { step: 12, reach, corners: [at(100, 0)], edges });
    expect(found).toEqual({ at: at(100, 0), to: 'corner' });
  });

  it('keeps the squares along a level edge, and lies on a sloped one', () => {
    expect(snap(at(50, 5), { step: 12, reach, edges: [{ from: at(0, 3), to: at(100, 3) }] })).toEqual({
      at: at(48, 3),
      to: 'edge',
    });
    const sloped = snap(at(30, 13), { step: 12, reach, edges: [{ from: at(0, 0), to: at(100, 50) }] });
    expect(sloped.to).toBe('edge');
    expect(sloped.at.y).toBeCloseTo(sloped.at.x / 2, 9);
  });

  it('keeps to 45° and 90° from the last corner', () => {
    expect(snap(at(61, 55), { step: 12, reach, from: at(0, 0) })).toEqual({ at: at(60, 60), to: 'line' });
    expect(snap(at(61, 4), { step: 12, reach, from: at(6, 1) })).toEqual({ at: at(66, 1), to: 'line' });
  });

  it('stops where such a line meets an edge', () => {
    const edges = [{ from: at(77, -100), to: at(77, 100) }];
    expect(snap(at(75, 2), { step: 12, reach, edges, from: at(0, 0) })).toEqual({
      at: at(77, 0),
      to: 'edge',
    });
  });
});

describe('the plan', () => {
  const square = [at(0, 0), at(120, 0), at(120, 60), at(0, 60)];
  const hook = [at(0, 0), at(100, 0), at(100, 100), at(90, 100), at(90, 10), at(0, 10)];

  it('knows what is inside, even of a hooked section', () => {
    expect(holds(square, at(60, 30))).toBe(true);
    expect(holds(square, at(60, 61))).toBe(false);
    expect(holds(hook, inside(hook))).toBe(true);
    expect(inside(square)).toEqual(at(60, 30));
    const clear = inside(square, [at(60, 30)]);
    expect(holds(square, clear)).toBe(true);
    expect(Math.hypot(clear.x - 60, clear.y - 30)).toBeGreaterThan(20);
  });

  it('finds the nearest place on a line, ends included', () => {
    expect(onto(at(5, 7), at(0, 0), at(10, 0))).toEqual(at(5, 0));
    expect(onto(at(-5, 7), at(0, 0), at(10, 0))).toEqual(at(0, 0));
  });

  it('names directions by the compass, wherever north lies', () => {
    expect(compass(at(0, 1))).toBe('north');
    expect(compass(at(-1, -1))).toBe('south-west');
    expect(compass(at(0, 1), 90)).toBe('west');
    expect(compass(at(1, 0), 90)).toBe('north');
    expect(compass(at(1, 3), 0, true)).toBe('north');
  });

  it('keeps a place where it is when the sheet comes nearer, and shows all of a box', () => {
    const view = zoom({ scale: 2, left: -10, top: 100 }, 1.5, at(40, 60));
    expect(toPlan(view, at(40, 60))).toEqual(toPlan({ scale: 2, left: -10, top: 100 }, at(40, 60)));
    const whole = fit({ left: 0, right: 1200, bottom: 0, top: 300 }, 800, 500);
    expect(toSheet(whole, at(0, 0)).x).toBeCloseTo(56, 6);
    expect(toSheet(whole, at(1200, 300)).x).toBeCloseTo(744, 6);
    const moved = follow(whole, at(2000, 150), 800, 500);
    expect(toSheet(moved, at(2000, 150)).x).toBeCloseTo(768, 6);
    expect(follow(whole, at(600, 150), 800, 500)).toBe(whole);
  });
});

describe('guessing edges', () => {
  it('takes the first edge for the eave of a section alone', () => {
    expect(guessAlone([at(0, 0), at(100, 0), at(100, 50), at(0, 50)])).toEqual([
      'eave',
      'rake',
      'ridge',
      'rake',
    ]);
    // Clockwise, and lying on its side.
    expect(guessAlone([at(0, 0), at(0, 100), at(50, 100), at(50, 0)])).toEqual([
      'eave',
      'rake',
      'ridge',
      'rake',
    ]);
    expect(guessAlone([at(0, 0), at(100, 0), at(50, 50)])).toEqual(['eave', 'hip', 'hip']);
    expect(guessAlone([at(0, 0), at(50, 0), at(100, 50), at(-50, 50)])).toEqual([
      'eave',
      'valley',
      'ridge',
      'valley',
    ]);
  });

  it('names what sections share, on both sides, and leaves what a person named', () => {
    const first = edits.addSection(newRoof(), [at(0, 0), at(240, 0), at(240, 120), at(0, 120)]) as Roof;
    const back = [at(240, 240), at(0, 240), at(0, 120), at(240, 120)];
    const both = edits.addSection(first, back) as Roof;
    expect(both.sections.map(kindsOf)).toEqual([
      ['eave', 'rake', 'ridge', 'rake'],
      ['eave', 'rake', 'ridge', 'rake'],
    ]);
    // A steeper part goes on above: the slope changes there.
    const above = edits.addSection(first, [at(0, 120), at(240, 120), at(240, 240), at(0, 240)]) as Roof;
    expect(kindsOf(above.sections[0])?.[2]).toBe('transition');
    expect(kindsOf(above.sections[1])?.[0]).toBe('transition');
    const named = edits.nameEdge(first, 0, 2, 'headwall');
    expect(kindsOf(edits.addSection(named, back)?.sections[0])?.[2]).toBe('headwall');
  });

  it('finds the hips, valley and ridges of an L from its outlines alone', () => {
    let roof = newRoof();
    for (const section of ELL.sections) roof = edits.addSection(roof, pointsOf(section)) as Roof;
    expect(roof.sections.map(kindsOf)).toEqual(ELL.sections.map(kindsOf));
  });

  it('knows how much of an edge is shared', () => {
    const long = { from: at(0, 0), to: at(100, 0) };
    expect(shared(long, { from: at(75, 0), to: at(200, 0) })).toBeCloseTo(0.25, 9);
    expect(shared(long, { from: at(0, 1), to: at(100, 1) })).toBe(0);
  });
});

describe('ready shapes', () => {
  const of = { span: 288, length: 480, overhang: 12, slope: '6', out: 192 };

  it.each<[ReadyKind, string[]]>([
    ['gable', ['front', 'back']],
    ['hip', ['front', 'right end', 'back', 'left end']],
    ['shed', ['shed']],
    ['ell', ['front', 'back', 'leg inside', 'leg outside']],
  ])('%s: sections that rise from their eaves', (kind, names) => {
    const roof = addReady(newRoof(), kind, of);
    expect(roof.sections.map((section) => section.name)).toEqual(names);
    for (const section of roof.sections) {
      expect(section.outline.filter((corner) => corner.edge === 'eave').length).toBe(1);
      const up = rises(section) ?? at(0, 0);
      expect(Math.hypot(up.x, up.y)).toBeCloseTo(1, 9);
    }
  });

  it('puts the overhang all round', () => {
    const [front, back] = addReady(newRoof(), 'gable', of).sections;
    expect(cornersOf(front)).toEqual([
      ['0', '0'],
      ['504', '0'],
      ['504', '156'],
      ['0', '156'],
    ]);
    expect(cornersOf(back)?.[0]).toEqual(['504', '312']);
  });

  it('runs a hip roof’s ridge along the longer side, and makes a point of a square', () => {
    const deep = addReady(newRoof(), 'hip', { ...of, span: 480, length: 288 });
    expect(deep.sections.map((section) => section.outline.length)).toEqual([3, 4, 3, 4]);
    const square = addReady(newRoof(), 'hip', { ...of, length: 288 });
    expect(square.sections.map((section) => section.outline.length)).toEqual([3, 3, 3, 3]);
  });

  it('stands beside what is drawn, under names of its own, and refuses nonsense in words', () => {
    const two = addReady(addReady(newRoof(), 'gable', of), 'gable', of);
    expect(two.sections.map((section) => section.name)).toEqual(['front', 'back', 'front 2', 'back 2']);
    expect(two.sections[2]?.outline[0]).toMatchObject({ x_in: '552', y_in: '0' });
    expect(readyProblem('gable', { ...of, span: 0 })).toContain('span');
    expect(readyProblem('ell', { ...of, length: 200 })).toContain('longer than its span');
    expect(readyProblem('ell', of)).toBeUndefined();
  });
});

describe('edits', () => {
  it('never change the roof that they are given', () => {
    const was = JSON.stringify(ELL);
    edits.moveCorner(ELL, 0, 0, at(5, 5));
    edits.splitEdge(ELL, 0, 0);
    edits.removeSection(ELL, 1);
    edits.addFeature(ELL, 'pipe', at(60, 300));
    expect(JSON.stringify(ELL)).toBe(was);
  });

  it('moves a corner in every section that meets there, and one slope goes to all', () => {
    const [front] = ELL.sections;
    const shared = front!.outline.findIndex((corner) =>
      ELL.sections
        .slice(1)
        .some((each) =>
          each.outline.some((other) => other.x_in === corner.x_in && other.y_in === corner.y_in),
        ),
    );
    const was = front!.outline[shared]!;
    const held = (roof: Roof, x: string, y: string) =>
      roof.sections.filter((each) => each.outline.some((corner) => corner.x_in === x && corner.y_in === y))
        .length;
    const before = held(ELL, was.x_in, was.y_in);
    expect(before).toBeGreaterThan(1);
    const moved = edits.moveCorner(ELL, 0, shared, at(1234, 777));
    expect(held(moved, '1234', '777')).toBe(before);
    expect(held(moved, was.x_in, was.y_in)).toBe(0);
    expect(edits.slopeAll(ELL, '9').sections.map((each) => each.slope)).toEqual(ELL.sections.map(() => '9'));
  });

  it('a section drawn from its ridge is guessed anew once its eave is named', () => {
    // From the ridge at the top, right to left, and down to the eave.
    const drawn = edits.addSection(newRoof(), [at(0, 120), at(240, 120), at(240, 0), at(0, 0)]) as Roof;
    expect(kindsOf(drawn.sections[0])).toEqual(['eave', 'rake', 'ridge', 'rake']);
    const named = edits.nameEdge(drawn, 0, 2, 'eave');
    expect(kindsOf(named.sections[0])).toEqual(['eave', 'rake', 'ridge', 'rake']);
    expect(named.sections[0]!.outline[0]).toMatchObject({ x_in: '240', y_in: '0' });
    expect(rises(named.sections[0]!)).toEqual(at(0, 1));
    // Once a person has named another edge, only what is named changes.
    const own = edits.nameEdge(edits.nameEdge(drawn, 0, 1, 'wall'), 0, 2, 'eave');
    expect(kindsOf(own.sections[0])).toEqual(['eave', 'wall', 'eave', 'rake']);
  });

  it('the sheet stands still under a pointer and follows the keys', () => {
    const drawing = new Drawing(newRoof(), () => {});
    drawing.width = 600;
    drawing.height = 400;
    drawing.fit();
    const view = drawing.view;
    drawing.tap({ x: 470, y: 330 }, 6);
    drawing.tap({ x: -20, y: 330 }, 6);
    expect(drawing.view).toEqual(view);
    for (let steps = 0; steps < 60; steps += 1) drawing.press({ key: 'ArrowRight' });
    expect(drawing.view).not.toEqual(view);
  });

  it('split, move and take out corners', () => {
    const split = edits.splitEdge(ELL, 0, 0);
    expect(split.sections[0]?.outline[1]).toEqual({ x_in: '156', y_in: '192', edge: 'eave' });
    expect(edits.removeCorner(split, 0, 1).sections[0]).toEqual(ELL.sections[0]);
    const three = edits.addSection(newRoof(), [at(0, 0), at(100, 0), at(50, 50)]) as Roof;
    expect(edits.removeCorner(three, 0, 0).sections[0]?.outline).toHaveLength(3);
    expect(edits.addSection(newRoof(), [at(0, 0), at(50, 0), at(100, 0)])).toBeUndefined();
  });

  it('keep features with their section', () => {
    const put = edits.addFeature(ELL, 'pipe', at(60, 300));
    expect(put.features[0]).toMatchObject({ section: 'front', at: { x_in: '60', y_in: '300' }, count: 1 });
    expect(edits.changeSection(put, 0, { name: 'street' }).features[0]?.section).toBe('street');
    expect(edits.moveFeature(put, 0, at(60, 400)).features[0]?.section).toBe('back');
    expect(edits.removeSection(put, 0).features[0]?.section).toBeNull();
  });
});

describe('the history', () => {
  it('goes back and forth, and a drag is one step', () => {
    let line = begin(0);
    line = change(line, 1);
    line = change(line, 2, 'drag');
    line = change(line, 3, 'drag');
    line = change(settle(line), 4, 'drag');
    expect(line.past).toEqual([0, 1, 3]);
    line = undo(undo(line));
    expect([line.now, line.next]).toEqual([1, [3, 4]]);
    expect(redo(line).now).toBe(3);
    expect(change(line, 9).next).toEqual([]);
    expect(undo(begin(7)).now).toBe(7);
    expect(redo(begin(7)).now).toBe(7);
  });
});

describe('places on the picture', () => {
  it('names the nearest edge, or the field, with its side', () => {
    expect(placeAt(ELL, at(100, 194))).toEqual({
      section: 'front',
      edge: 'eave',
      place: 'eave',
      side: 'south',
    });
    expect(placeAt(ELL, at(150, 270))).toMatchObject({
      section: 'front',
      edge: null,
      place: 'field',
      side: 'south',
    });
    expect(placeAt(ELL, at(4, 280))).toMatchObject({ edge: 'rake', place: 'rake', side: 'west' });
    expect(placeAt(ELL, at(390, 272))).toMatchObject({ edge: 'valley', place: 'valley' });
    expect(placeAt(ELL, at(-5, 280))).toMatchObject({ place: 'rake' });
    expect(placeAt(ELL, at(-200, 0))).toBeUndefined();
    expect(placeAt(ELL, at(100, 194), 24, 180)?.side).toBe('north');
  });

  it('names a feature before the edge beside it, and a wall as roof-to-wall', () => {
    const chimney = edits.addFeature(ELL, 'chimney', at(100, 220));
    expect(placeAt(chimney, at(110, 216))).toMatchObject({ place: 'chimney', section: 'front' });
    const walled = edits.nameEdge(ELL, 0, 3, 'wall');
    expect(placeAt(walled, at(4, 280))).toMatchObject({ edge: 'wall', place: 'roof-to-wall', side: 'west' });
    expect(placesOf(chimney).some((each) => each.label === 'front: chimney')).toBe(true);
    expect(new Set(placesOf(ELL).map((each) => each.nearest.place))).toEqual(
      new Set(['field', 'eave', 'rake', 'valley', 'hip', 'ridge']),
    );
  });
});

describe('typed measures', () => {
  it('add exactly, and keep one figure a kind where the first stood', () => {
    expect(addDecimals('0.1', '0.2')).toBe('0.3');
    expect(addDecimals('12', '8')).toBe('20');
    expect(addDecimals('1.5', '2.5')).toBe('4');
    const edges = [
      { kind: 'eave', length_ft: '10.5' },
      { kind: 'rake', length_ft: '7' },
      { kind: 'eave', length_ft: '4' },
    ] as const;
    const section: Section = {
      name: 'a',
      slope: '6',
      outline: [],
      typed: { area_sqft: '1', edges: [...edges] },
    };
    expect(feetOf(section, 'eave')).toBe('14.5');
    expect(feetOf(section, 'hip')).toBe('');
    expect(setFeet(edges, 'eave', '20')).toEqual([{ kind: 'eave', length_ft: '20' }, edges[1]]);
    expect(setFeet(edges, 'rake', '')).toEqual([edges[0], edges[2]]);
  });
});

describe('drawing by keys', () => {
  function begun() {
    const drawing = new Drawing(newRoof(), () => {});
    const keys = (...all: string[]) => all.forEach((key) => drawing.press({ key }));
    return { drawing, keys };
  }

  it('draws a section from typed lengths', () => {
    const { drawing, keys } = begun();
    keys('Enter', ...`24'6"`, 'ArrowRight', ...'12', 'ArrowUp', ...'24-6', 'ArrowLeft', 'c');
    expect(cornersOf(drawing.roof.sections[0])).toEqual([
      ['0', '0'],
      ['294', '0'],
      ['294', '144'],
      ['0', '144'],
    ]);
    expect(kindsOf(drawing.roof.sections[0])).toEqual(['eave', 'rake', 'ridge', 'rake']);
    expect(drawing.said).toContain('section 1 closed');
    expect(drawing.mode).toBe('edges');
  });

  it('closes on the first corner, by Enter or by the last length', () => {
    const { drawing, keys } = begun();
    keys(...'10', 'ArrowRight', ...'10', 'ArrowUp', ...'10', 'ArrowLeft', ...'10', 'ArrowDown');
    expect(drawing.roof.sections).toHaveLength(1);
    expect(drawing.roof.sections[0]?.outline).toHaveLength(4);
  });

  it('goes along slanted lines, and towards the crosshair', () => {
    const { drawing, keys } = begun();
    keys('Enter', ...'10', 'PageUp');
    expect(drawing.outline[1]?.x).toBeCloseTo(120 / Math.SQRT2, 9);
    keys('ArrowRight', 'ArrowRight', ...'1', 'Enter');
    expect((drawing.outline[2]?.x ?? 0) - (drawing.outline[1]?.x ?? 0)).toBeCloseTo(12, 9);
  });

  it('moves by squares and, with Shift, by inches', () => {
    const { drawing } = begun();
    drawing.press({ key: 'ArrowRight' });
    drawing.press({ key: 'ArrowUp', shift: true });
    drawing.press({ key: 'ArrowRight', ctrl: true });
    expect(drawing.cursor).toEqual(at(132, 1));
    drawing.step = 6;
    drawing.press({ key: 'ArrowLeft' });
    expect(drawing.cursor).toEqual(at(126, 1));
  });

  it('says what is wrong with a length or an outline, and keeps what is there', () => {
    const { drawing, keys } = begun();
    keys('Enter', '4', '/', 'ArrowRight');
    expect(drawing.said).toContain('“4/” is not a length');
    keys('Escape', 'c');
    expect(drawing.said).toContain('set 2 more');
    keys('Enter');
    expect(drawing.said).toContain('The last corner is here already');
    expect(drawing.outline).toHaveLength(1);
    keys('Backspace');
    expect(drawing.outline).toHaveLength(0);
  });

  it('takes back corners, then sections, and does them again', () => {
    const { drawing, keys } = begun();
    keys('Enter', ...'10', 'ArrowRight', ...'5', 'ArrowUp', 'c');
    drawing.press({ key: 'z', ctrl: true });
    expect(drawing.roof.sections).toHaveLength(0);
    drawing.press({ key: 'Z', ctrl: true, shift: true });
    expect(drawing.roof.sections).toHaveLength(1);
    keys('n', 'Enter', ...'3', 'ArrowRight');
    drawing.press({ key: 'z', ctrl: true });
    expect(drawing.outline).toHaveLength(1);
  });

  it('goes through edges with Tab, leaves at the end, and names by letter', () => {
    const drawing = new Drawing(ELL, () => {});
    drawing.turnTo('edges');
    const tabs = Array.from({ length: 17 }, () => drawing.press({ key: 'Tab' }));
    expect(tabs.filter(Boolean)).toHaveLength(16);
    expect(tabs.at(-1)).toBe(false);
    drawing.pickEdge(0, 3);
    drawing.press({ key: 'w' });
    expect(kindsOf(drawing.roof.sections[0])?.[3]).toBe('wall');
    expect(drawing.said).toBe('Edge 4 is wall.');
    drawing.press({ key: 'ArrowRight' });
    expect(drawing.picked).toMatchObject({ section: 1, index: 0 });
    drawing.press({ key: 'Delete' });
    expect(drawing.roof.sections.map((each) => each.name)).not.toContain('back');
  });

  it('moves a picked corner, in one step to be taken back', () => {
    const drawing = new Drawing(ELL, () => {});
    drawing.pickCorner(0, 0);
    drawing.press({ key: 'ArrowLeft' });
    drawing.press({ key: 'ArrowLeft' });
    expect(drawing.roof.sections[0]?.outline[0]).toMatchObject({ x_in: '-24', y_in: '192' });
    expect(drawing.said).toBe('Corner 1 at minus 2 ft, 16 ft.');
    drawing.undo();
    expect(drawing.roof).toEqual(ELL);
  });

  it('puts features where the crosshair is, and moves and removes them', () => {
    const drawing = new Drawing(ELL, () => {});
    drawing.turnTo('features');
    drawing.cursor = at(60, 300);
    drawing.press({ key: 'k' });
    expect(drawing.roof.features[0]).toMatchObject({ kind: 'chimney', section: 'front', width_in: '32' });
    drawing.press({ key: 'ArrowRight' });
    expect(drawing.roof.features[0]?.at).toEqual({ x_in: '72', y_in: '300' });
    drawing.press({ key: 'Delete' });
    expect(drawing.roof.features).toEqual([]);
  });

  it('takes what was changed elsewhere as a step, but not its own roof in other clothes', () => {
    const drawing = new Drawing(ELL, () => {});
    drawing.adopt(JSON.parse(JSON.stringify(ELL)) as Roof);
    expect(drawing.canUndo).toBe(false);
    drawing.adopt(edits.removeSection(ELL, 0));
    expect(drawing.canUndo).toBe(true);
  });
});
