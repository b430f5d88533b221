import { render } from '@testing-library/svelte';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';

import { Drawing } from './drawing.svelte';
import DrawingBoard from './DrawingBoard.svelte';
import * as edits from './edits';
import { answerFor, ELL } from '../../../tests/roof';
import { type Block, overlap, placed, textBlock } from './labels';
import { addReady } from './ready';
import RoofPicture from './RoofPicture.svelte';
import { EDGES, newRoof, type Roof } from './shape';

/** A porch: so small that its names have hardly room. */
const SMALL = addReady(newRoof(), 'gable', { span: 60, length: 84, overhang: 6, slope: '4' });

/** A house with wings, and much that stands close together on it. */
const LARGE: Roof = (() => {
  let roof: Roof = ELL;
  for (const out of [60, 96, 132]) {
    roof = addReady(roof, 'hip', { span: 72, length: out + 24, overhang: 6, slope: '9' });
    roof = addReady(roof, 'ell', { span: 96, length: 144, overhang: 6, slope: '7', out });
  }
  for (const x of [60, 70, 80, 90, 100, 110]) roof = edits.addFeature(roof, 'pipe', { x, y: 60 });
  roof = edits.addFeature(roof, 'chimney', { x: 85, y: 85 });
  return edits.addFeature(roof, 'skylight', { x: 300, y: 230 });
})();

const ROOFS: [string, Roof][] = [
  ['a small roof', SMALL],
  ['an L', ELL],
  ['a large roof', LARGE],
];
const WIDTHS = [360, 640, 1100];

let wide = 640;

beforeEach(() => {
  vi.spyOn(HTMLElement.prototype, 'clientWidth', 'get').mockImplementation(() => wide);
  vi.spyOn(HTMLElement.prototype, 'clientHeight', 'get').mockImplementation(() => 480);
});

afterEach(() => vi.restoreAllMocks());

/** Where a text is written, read off the picture itself. */
function blockOf(text: SVGTextElement, size: number): Block {
  const moved = (text.getAttribute('transform') ?? text.parentElement?.getAttribute('transform') ?? '').match(
    /translate\(([-\d.e]+) ([-\d.e]+)\)(?: rotate\(([-\d.e]+)\))?/,
  );
  const [dx, dy, turned] = [1, 2, 3].map((part) => Number(moved?.[part] ?? 0));
  const at = (name: 'x' | 'y') => Number(text.getAttribute(name) ?? 0);
  const line = { x: (dx ?? 0) + at('x'), y: (dy ?? 0) + (moved ? 0 : at('y') - size * 0.35) };
  return textBlock(text.textContent ?? '', size, line, turned);
}

/** The pairs of texts that lie over one another. */
function collisions(svg: Element, size: number): string[] {
  const texts = [...svg.querySelectorAll<SVGTextElement>('text')].filter((text) => !text.closest('defs'));
  const all = texts.map((text) => ({
    says: text.textContent,
    block: blockOf(text, size === 13 && text.matches('.name') ? 15 : size),
  }));
  return all.flatMap((one, index) =>
    all
      .slice(index + 1)
      .filter((other) => overlap(one.block, other.block))
      .map((other) => `${one.says} over ${other.says}`),
  );
}

describe('the words on the picture', () => {
  for (const [name, roof] of ROOFS) {
    for (const width of WIDTHS) {
      for (const large of [false, true]) {
        it(`none lies over another: ${name}, ${width} px${large ? ', for gloves' : ''}`, () => {
          wide = width;
          const pins = [{ id: 'p', x_in: '40', y_in: '30', label: 'Eave', state: 'waiting' as const }];
          const look = { title: 'Roof', roof, measured: answerFor(roof), locale: 'en-US', pins, large };
          const { container } = render(RoofPicture, look);
          const svg = container.querySelector('svg');
          expect(svg?.getAttribute('width')).toBe(String(width));
          expect(svg && collisions(svg, large ? 16 : 13)).toEqual([]);
        });
      }
    }
  }

  it('what has no room stands in the list beside, and each edge has its name as a title', () => {
    wide = 360;
    const { container } = render(RoofPicture, {
      title: 'Roof',
      roof: LARGE,
      measured: answerFor(LARGE),
      locale: 'en-US',
    });
    const written = [...container.querySelectorAll('text.edge, text.name')].map((text) => text.textContent);
    const beside = [...container.querySelectorAll('details li')].map((line) => line.textContent ?? '');
    expect(beside.length).toBeGreaterThan(5);
    expect(written.length).toBeGreaterThan(5);
    for (const section of LARGE.sections) {
      const listed = beside.some((line) => line.startsWith(`Section ${section.name},`));
      expect(listed !== written.includes(section.name), section.name).toBe(true);
    }
    const titles = [...container.querySelectorAll('g > title')].map((title) => title.textContent);
    expect(titles).toContain('Eave 26 ft, front');
    expect(titles.length).toBe(LARGE.sections.reduce((sum, section) => sum + section.outline.length, 0));
  });

  it('an L has room for all of its names', () => {
    wide = 1100;
    const { container } = render(RoofPicture, {
      title: 'Roof',
      roof: ELL,
      measured: answerFor(ELL),
      locale: 'en-US',
    });
    expect(container.querySelector('details')).toBeNull();
    const kinds = [...container.querySelectorAll('text.edge')].map((text) => text.textContent?.split(' ')[0]);
    expect(new Set(kinds)).toEqual(new Set(['Eave', 'Rake', 'Ridge', 'Valley', 'Hip']));
  });
});

describe('the letters on the sheet', () => {
  for (const [name, roof] of ROOFS) {
    for (const width of WIDTHS) {
      it(`none lies over another: ${name}, ${width} px`, () => {
        wide = width;
        const drawing = new Drawing(roof, () => {});
        drawing.picked = { kind: 'edge', section: 0, index: 0 };
        const { container } = render(DrawingBoard, { drawing, problems: [] });
        const svg = container.querySelector('svg');
        // The feet along the sides are the paper's, beneath all that is drawn.
        const drawn = [...(svg?.querySelectorAll('text') ?? [])];
        for (const text of drawn) if (/^-?\d+′$/.test(text.textContent ?? '')) text.remove();
        expect(svg && collisions(svg, 13)).toEqual([]);
      });
    }
  }
});

describe('places', () => {
  const sheet = { width: 200, height: 100 };
  const block = (x: number, y: number, turned = 0): Block => ({ x, y, width: 60, height: 16, turned });

  it('boxes overlap as they are turned, not as they would lie straight', () => {
    expect(overlap(block(50, 50), block(100, 60))).toBe(true);
    expect(overlap(block(50, 50), block(111, 50))).toBe(false);
    // Side by side on a slope, where upright boxes round them would meet.
    expect(overlap(block(50, 50, 45), block(60, 40, 45))).toBe(true);
    expect(overlap(block(50, 50, 45), block(66, 34, 45))).toBe(false);
    expect(overlap(block(50, 50, 45), block(66, 34, -45))).toBe(true);
    expect(overlap(block(50, 50, 45), block(72, 50, 45))).toBe(true);
    expect(overlap(block(50, 50, 45), block(74, 50, 45))).toBe(false);
  });

  it('the first served keeps its place, the next takes its second, and one off the sheet is left out', () => {
    const found = placed(
      [
        { key: 'a', tries: [{ as: 'whole', block: block(50, 50) }] },
        {
          key: 'b',
          tries: [
            { as: 'whole', block: block(60, 50) },
            { as: 'part', block: block(130, 50) },
          ],
        },
        { key: 'c', tries: [{ as: 'whole', block: block(190, 50) }] },
        { key: 'd', tries: [{ as: 'whole', block: block(50, 52) }] },
      ],
      [],
      sheet,
    );
    expect([...found].map(([key, { as }]) => `${key} ${as}`)).toEqual(['a whole', 'b part']);
  });

  it('a label stands beside a line where it can, and across it rather than nowhere', () => {
    const line = { x: 100, y: 50, width: 2, height: 100, turned: 0 };
    const across = { as: 'across', block: block(100, 30) };
    const beside = { as: 'beside', block: block(40, 70) };
    const name = (tries: (typeof across)[]) =>
      placed([{ key: 'name', tries }], [], sheet, [line]).get('name')?.as;
    expect(name([across, beside])).toBe('beside');
    expect(name([across])).toBe('across');
    const left = placed([{ key: 'name', tries: [across], clear: true }], [], sheet, [line]);
    expect(left.get('name')).toBeUndefined();
  });
});

const NAMED: [string, Roof, number][] = [
  ['an L', ELL, 568],
  ['an L', ELL, 1100],
  ['a porch', SMALL, 568],
  ['a house with wings', LARGE, 480],
  ['a house with wings', LARGE, 1100],
];

it.each(NAMED)('no name on %s touches an edge', (what, roof, width) => {
  wide = width;
  const { container } = render(DrawingBoard, { drawing: new Drawing(roof, () => {}), problems: [] });
  const names = [...container.querySelectorAll<SVGTextElement>('text.name')].map((text) => blockOf(text, 15));
  const lines = [...container.querySelectorAll('path.edge')].map((line) => {
    const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = (line.getAttribute('d') ?? '')
      .split(/[ML ]/)
      .slice(1)
      .map(Number);
    return { from: { x: x1, y: y1 }, to: { x: x2, y: y2 } };
  });
  expect([names.length > 0, lines.length >= names.length]).toEqual([true, true]);
  if (what === 'an L') expect(names).toHaveLength(ELL.sections.length);
  for (const name of names) {
    for (const { from, to } of lines) {
      const turned = (Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI;
      const at = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
      const line = { ...at, width: Math.hypot(to.x - from.x, to.y - from.y), height: 5, turned };
      expect(overlap(name, line)).toBe(false);
    }
  }
});

it('every kind of edge has strokes of its own, without any color', async () => {
  const { readFileSync } = await import('node:fs');
  const css = readFileSync('src/lib/roof/EdgeLine.svelte', 'utf8').split('@media')[0] ?? '';
  const of = (kind: string) => new RegExp(`\\.${kind} \\{([^}]*)\\}`).exec(css)?.[1] ?? '';
  const strokes = EDGES.map(({ kind }) => {
    const width =
      /stroke-width: ([\d.]+)/.exec(of(kind) || of('edge'))?.[1] ??
      /stroke-width: ([\d.]+)/.exec(of('edge'))?.[1];
    return `${width} ${/stroke-dasharray: ([\d ]+)/.exec(of(kind))?.[1] ?? 'whole'}`;
  });
  expect(new Set(strokes).size).toBe(EDGES.length);
});
