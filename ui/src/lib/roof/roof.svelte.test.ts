import { fireEvent, render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { describe, expect, it, vi } from 'vitest';

import * as edits from './edits';
import { answerFor, ELL } from '../../../tests/roof';
import HouseFields from './HouseFields.svelte';
import RoofPicture from './RoofPicture.svelte';
import RoofSheet from './RoofSheet.svelte';
import { type House, newRoof, type Problem, type Roof } from './shape';
import TypedMeasures from './TypedMeasures.svelte';
import { boxOfRoof, type Point } from './plan';
import { fit, toSheet } from './view';
import { faults } from '../../../tests/page';

/** What the sheet takes itself to be where nothing is laid out. */
const SHEET = { width: 800, height: 520 };

const clean = () => faults('region');

function sheet(given: { roof?: Roof; problems?: Problem[]; measure?: (roof: Roof) => Promise<never> } = {}) {
  const changes: Roof[] = [];
  const measure = vi.fn(given.measure ?? ((roof: Roof) => Promise.resolve(answerFor(roof))));
  render(RoofSheet, {
    roof: given.roof ?? newRoof(),
    problems: given.problems,
    measure,
    onchange: (roof: Roof) => changes.push(roof),
    locale: 'en-US',
  });
  return { changes, measure, last: () => changes.at(-1) as Roof, board: screen.getByRole('application') };
}

const kindsOf = (roof: Roof, index = 0) => roof.sections[index]?.outline.map((corner) => corner.edge);
const cornersOf = (roof: Roof, index = 0) =>
  roof.sections[index]?.outline.map((corner) => [corner.x_in, corner.y_in]);

/** Where a place of the roof is on the sheet that has just shown all of it. */
function at(roof: Roof, x: number, y: number): Point {
  const box = boxOfRoof(roof) ?? { left: -24, right: 480, bottom: -24, top: 336 };
  return toSheet(fit(box, SHEET.width, SHEET.height), { x, y });
}

function pointer(board: HTMLElement, type: string, where: Point, more: PointerEventInit = {}) {
  const init = {
    clientX: where.x,
    clientY: where.y,
    pointerId: 1,
    pointerType: 'mouse',
    bubbles: true,
    ...more,
  };
  return fireEvent(board, new PointerEvent(type, init));
}

async function click(board: HTMLElement, where: Point, more: PointerEventInit = {}) {
  await pointer(board, 'pointerdown', where, more);
  await pointer(board, 'pointerup', where, more);
}

describe('the sheet', () => {
  it('draws a section by keys alone, and says each corner', async () => {
    const { last, board } = sheet();
    board.focus();
    await userEvent.keyboard('{Enter}');
    expect(screen.getByText('Corner 1 at 0 ft, 0 ft.')).toBeTruthy();
    await userEvent.keyboard(`24'6"{ArrowRight}`);
    expect(screen.getByText('Corner 2 at 24 ft 6 in, 0 ft, 24 ft 6 in from the last.')).toBeTruthy();
    await userEvent.keyboard(`12{ArrowUp}24-6{ArrowLeft}c`);
    expect(cornersOf(last())).toEqual([
      ['0', '0'],
      ['294', '0'],
      ['294', '144'],
      ['0', '144'],
    ]);
    await userEvent.keyboard('{Tab}w');
    expect(kindsOf(last())).toEqual(['eave', 'wall', 'ridge', 'rake']);
    await userEvent.keyboard('{Control>}z{/Control}');
    expect(kindsOf(last())).toEqual(['eave', 'rake', 'ridge', 'rake']);
    await userEvent.keyboard('{Control>}{Shift>}z{/Shift}{/Control}');
    expect(kindsOf(last())?.[1]).toBe('wall');
  });

  it('draws a section by pointer, snapping to the squares and closing on the first corner', async () => {
    const { last, board } = sheet();
    const empty = newRoof();
    for (const [x, y] of [
      [1, 2],
      [239, -2],
      [242, 121],
      [-2, 118],
      [2, 1],
    ] as const) {
      await pointer(board, 'pointermove', at(empty, x, y));
      await click(board, at(empty, x, y));
    }
    expect(cornersOf(last())).toEqual([
      ['0', '0'],
      ['240', '0'],
      ['240', '120'],
      ['0', '120'],
    ]);
  });

  it('draws by touch as well', async () => {
    const { last, board } = sheet();
    const touch = { pointerType: 'touch' };
    for (const [x, y] of [
      [0, 0],
      [120, 0],
      [60, 60],
      [0, 0],
    ] as const) {
      await click(board, at(newRoof(), x, y), touch);
    }
    expect(kindsOf(last())).toEqual(['eave', 'hip', 'hip']);
  });

  it('pushes the paper with two fingers, and draws nothing meanwhile', async () => {
    const { changes, board } = sheet({ roof: ELL });
    const [a, b] = [
      { x: 100, y: 100 },
      { x: 300, y: 100 },
    ];
    const path = () => board.querySelector('path.section')?.getAttribute('d');
    const was = path();
    await pointer(board, 'pointerdown', a, { pointerType: 'touch', pointerId: 1 });
    await pointer(board, 'pointerdown', b, { pointerType: 'touch', pointerId: 2 });
    await pointer(board, 'pointermove', { x: 400, y: 150 }, { pointerType: 'touch', pointerId: 2 });
    await pointer(board, 'pointerup', { x: 400, y: 150 }, { pointerType: 'touch', pointerId: 2 });
    await pointer(board, 'pointerup', a, { pointerType: 'touch', pointerId: 1 });
    expect(path()).not.toBe(was);
    expect(changes).toEqual([]);
    expect(screen.queryByText(/Corner 1 at/)).toBeNull();
  });

  it('picks an edge by pointer and names it from the list', async () => {
    const { last, board } = sheet({ roof: ELL });
    await userEvent.click(screen.getByRole('button', { name: 'Name edges' }));
    await click(board, at(ELL, 3, 280));
    expect(screen.getByText('front, edge 4: rake, 13 ft in plan.')).toBeTruthy();
    await userEvent.click(screen.getByRole('button', { name: /^Wall/ }));
    expect(kindsOf(last())?.[3]).toBe('wall');
  });

  it('drags a corner in one step', async () => {
    const { changes, last, board } = sheet({ roof: ELL });
    await userEvent.click(screen.getByRole('button', { name: 'Move corners' }));
    await pointer(board, 'pointerdown', at(ELL, 0, 192));
    await pointer(board, 'pointermove', at(ELL, -13, 190));
    await pointer(board, 'pointermove', at(ELL, -37, 193));
    await pointer(board, 'pointerup', at(ELL, -37, 193));
    expect(cornersOf(last())?.[0]).toEqual(['-36', '192']);
    expect(changes.length).toBeGreaterThan(1);
    await userEvent.click(screen.getByRole('button', { name: /^Undo/ }));
    expect(last()).toEqual(ELL);
  });

  it('puts a feature where it is tapped, and lists it in the table', async () => {
    const { last, board } = sheet({ roof: ELL });
    await userEvent.click(screen.getByRole('button', { name: 'Features' }));
    await userEvent.click(screen.getByRole('button', { name: /^Skylight/ }));
    await click(board, at(ELL, 60, 300));
    expect(last().features).toMatchObject([
      { kind: 'skylight', section: 'front', at: { x_in: '60', y_in: '300' } },
    ]);
    const count = screen.getByRole('textbox', { name: 'Skylight 1: how many' });
    await userEvent.clear(count);
    await userEvent.type(count, '2{Tab}');
    expect(last().features[0]?.count).toBe(2);
    await userEvent.selectOptions(screen.getByRole('combobox', { name: 'Skylight 1: section' }), 'back');
    expect(last().features[0]?.section).toBe('back');
  });

  it('begins with a ready shape, and says what is missing', async () => {
    const { last } = sheet();
    const form = screen.getByRole('form', { name: 'Ready shape' });
    await userEvent.click(within(form).getByRole('button', { name: 'Add to the sheet' }));
    expect(screen.getByText(/Give the span and the length/)).toBeTruthy();
    await userEvent.type(within(form).getByRole('textbox', { name: 'Span' }), `24'`);
    await userEvent.type(within(form).getByRole('textbox', { name: 'Length' }), '40-6');
    await userEvent.click(within(form).getByRole('button', { name: 'Add to the sheet' }));
    expect(last().sections.map((section) => section.name)).toEqual(['front', 'back']);
    expect(cornersOf(last())?.[1]).toEqual(['510', '0']);
    expect(screen.getByText('Added: front, back.')).toBeTruthy();
  });

  it('is edited by its tables alone', async () => {
    const { last } = sheet();
    await userEvent.click(screen.getByRole('button', { name: 'Add a section by its corners' }));
    const right = screen.getByRole('textbox', { name: 'Corner 2 of section 1, right' });
    await userEvent.clear(right);
    await userEvent.type(right, `30'{Tab}`);
    expect(cornersOf(last())?.[1]).toEqual(['360', '0']);
    await userEvent.selectOptions(screen.getByRole('combobox', { name: 'Edge 3 of section 1' }), 'headwall');
    expect(kindsOf(last())).toEqual(['eave', 'rake', 'headwall', 'rake']);
    await userEvent.click(screen.getByRole('button', { name: 'Add a corner to section 1' }));
    expect(last().sections[0]?.outline).toHaveLength(5);
    await userEvent.click(screen.getByRole('button', { name: 'Remove corner 5 of section 1' }));
    expect(last().sections[0]?.outline).toHaveLength(4);
    const one = screen.getByRole('group', { name: 'section 1' });
    const slope = within(one).getByRole('textbox', { name: 'Slope' });
    await userEvent.clear(slope);
    await userEvent.type(slope, '8{Tab}');
    expect(last().sections[0]?.slope).toBe('8');
  });

  it('keeps a place that can’t be read as it was typed, and says why', async () => {
    const { changes } = sheet({ roof: ELL });
    const up = screen.getByRole('textbox', { name: 'Corner 1 of front, up', hidden: true });
    await userEvent.clear(up);
    await userEvent.type(up, 'high{Tab}');
    expect((up as HTMLInputElement).value).toBe('high');
    expect(up.getAttribute('aria-invalid')).toBe('true');
    expect(screen.getByText(/“high” is not a length/)).toBeTruthy();
    expect(changes).toEqual([]);
  });

  it('shows the program’s measures, and asks again when the roof changes', async () => {
    const { measure, board } = sheet({ roof: ELL });
    await waitFor(() => expect(screen.getByText('2,140.5 sq ft')).toBeTruthy());
    expect(measure).toHaveBeenCalledTimes(1);
    board.focus();
    await userEvent.keyboard('n{Enter}10{ArrowDown}10{ArrowLeft}c');
    await waitFor(() => expect(measure).toHaveBeenCalledTimes(2));
    expect(measure.mock.lastCall?.[0].sections).toHaveLength(5);
  });

  it('says why there are no measures', async () => {
    const refused = new Error('Section "front": The slope is 0.');
    sheet({ roof: ELL, measure: () => Promise.reject(refused) });
    await waitFor(() =>
      expect(screen.getByText(/Not measured as it is drawn now\. Section "front"/)).toBeTruthy(),
    );
  });

  it('leads from a problem to its edge', async () => {
    const words = 'The rake runs level, but a rake is a sloped edge. Call it eave, or move a corner.';
    const { board } = sheet({ roof: ELL, problems: [{ section: 'back', edge: 2, words }] });
    await userEvent.click(screen.getByRole('button', { name: /back, edge 2: The rake runs level/ }));
    expect(document.activeElement).toBe(board);
    expect(screen.getByText('back, edge 2: rake, 13 ft in plan.')).toBeTruthy();
    expect(board.querySelectorAll('path.halo.wrong').length).toBe(1);
  });

  it('leaves the wheel to the page, and comes nearer with Ctrl held', async () => {
    const { board } = sheet({ roof: ELL });
    const path = () => board.querySelector('path.section')?.getAttribute('d');
    const was = path();
    await fireEvent.wheel(board, { deltaY: -100 });
    board.focus();
    await fireEvent.wheel(board, { deltaY: -100 });
    expect(path()).toBe(was);
    await fireEvent.wheel(board, { deltaY: -100, ctrlKey: true });
    expect(path()).not.toBe(was);
  });

  it('has nothing for the checker, empty or full', async () => {
    sheet();
    expect(await clean()).toEqual([]);
  });

  it('has nothing for the checker with a roof on it', async () => {
    let roof = edits.addFeature(ELL, 'chimney', { x: 60, y: 300 });
    roof = edits.addFeature(roof, 'old-vent', { x: 60, y: 400 });
    sheet({ roof, problems: [{ section: 'front', edge: null, words: 'The slope is too low.' }] });
    await userEvent.click(screen.getByRole('button', { name: 'Name edges' }));
    expect(await clean()).toEqual([]);
  });
});

describe('the picture', () => {
  const pins = [
    { id: 'p1', x_in: '390', y_in: '272', label: 'Valley, 2 sheets', state: 'waiting' as const },
    { id: 'p2', x_in: '100', y_in: '200', label: 'Eave, 1 sheet', state: 'approved' as const },
  ];
  const look = { title: 'Roof of 26-020', roof: ELL, measured: answerFor(ELL), locale: 'en-US' };

  it('is an image whose description tells its sections', () => {
    render(RoofPicture, { ...look, pins });
    const image = screen.getByRole('img', { name: 'Roof of 26-020' });
    const words = document.getElementById(image.getAttribute('aria-describedby') ?? '')?.textContent;
    expect(words).toContain('front: 6 in 12, facing south');
    expect(words).toContain('2 marked: Valley, 2 sheets, Eave, 1 sheet');
  });

  it('gives the same as a table, with true measures', async () => {
    render(RoofPicture, { ...look, pins });
    await userEvent.click(screen.getByRole('button', { name: 'As a table: Roof of 26-020' }));
    const rows = within(screen.getByRole('table')).getAllByRole('row');
    const cells = rows.map((row) => [...row.children].map((cell) => cell.textContent));
    expect(cells[1]).toEqual(['front', 'Section, 6 in 12, faces south', '111.8 sq ft']);
    expect(cells[2]).toEqual(['front', 'Eave', '26 ft']);
    expect(cells.at(-2)).toEqual(['front', 'Valley, 2 sheets, waiting', '']);
  });

  it('opens a pin', async () => {
    const onpin = vi.fn();
    render(RoofPicture, { ...look, pins, onpin });
    await userEvent.click(screen.getByRole('button', { name: 'Eave, 1 sheet, approved' }));
    expect(onpin.mock.calls).toEqual([['p2']]);
  });

  it('tells the place and the side of a tap', async () => {
    const onplace = vi.fn();
    render(RoofPicture, { ...look, onplace, large: true });
    const surface = screen.getByRole('button', { name: 'Choose the place on the roof' });
    const box = boxOfRoof(ELL) ?? { left: 0, right: 1, bottom: 0, top: 1 };
    const where = toSheet(fit(box, 640, 520, 64), { x: 100, y: 195 });
    await fireEvent.click(surface, { clientX: where.x, clientY: where.y, detail: 1 });
    expect(onplace.mock.lastCall?.[1]).toEqual({
      section: 'front',
      edge: 'eave',
      place: 'eave',
      side: 'south',
    });
    expect(onplace.mock.lastCall?.[0].x).toBeCloseTo(100, 6);
    expect(screen.getByText('eave, south, on front.')).toBeTruthy();
    await fireEvent.click(surface, { clientX: 2, clientY: 2, detail: 1 });
    expect(onplace).toHaveBeenCalledTimes(1);
    expect(screen.getByText('That is off the roof. Tap on it.')).toBeTruthy();
  });

  it('takes the place from a list as well', async () => {
    const onplace = vi.fn();
    render(RoofPicture, { ...look, onplace });
    const list = screen.getByRole('combobox', { name: /Or choose the place/ });
    await userEvent.selectOptions(list, 'back: hip, north-east');
    expect(onplace.mock.lastCall?.[1]).toMatchObject({ section: 'back', edge: 'hip', place: 'hip' });
  });

  it('says which sections were measured by hand', () => {
    const typed = { name: 'porch', slope: '4', outline: [], typed: { area_sqft: '80', edges: [] } };
    render(RoofPicture, { ...look, roof: { ...ELL, sections: [...ELL.sections, typed] } });
    expect(screen.getByText(/Measured by hand, so not drawn: porch\./)).toBeTruthy();
  });

  it('has nothing for the checker', async () => {
    render(RoofPicture, { ...look, pins, onpin: () => {}, onplace: () => {} });
    expect(await clean()).toEqual([]);
  });
});

describe('measures by hand', () => {
  it('add a section, type its area and lengths, and take it away', async () => {
    const changes: Roof[] = [];
    render(TypedMeasures, { roof: newRoof(), onchange: (roof: Roof) => changes.push(roof), locale: 'en-US' });
    await userEvent.click(screen.getByRole('button', { name: 'Add a section measured by hand' }));
    await userEvent.type(screen.getByRole('textbox', { name: 'Area on the slope' }), '1,240.5{Tab}');
    await userEvent.type(screen.getByRole('textbox', { name: 'Valley' }), '18.25{Tab}');
    await userEvent.type(screen.getByRole('textbox', { name: 'Eave' }), '40{Tab}');
    expect(changes.at(-1)?.sections).toEqual([
      {
        name: 'section 1',
        slope: '6',
        outline: [],
        typed: {
          area_sqft: '1240.5',
          edges: [
            { kind: 'valley', length_ft: '18.25' },
            { kind: 'eave', length_ft: '40' },
          ],
        },
      },
    ]);
    expect(await clean()).toEqual([]);
    await userEvent.click(screen.getByRole('button', { name: 'Remove the section section 1' }));
    expect(changes.at(-1)?.sections).toEqual([]);
  });
});

describe('the house', () => {
  it('changes one thing at a time and refuses half a story', async () => {
    const changes: House[] = [];
    render(HouseFields, {
      house: newRoof().house,
      onchange: (house: House) => changes.push(house),
      locale: 'en-US',
    });
    await userEvent.selectOptions(screen.getByRole('combobox', { name: 'Deck' }), 'spaced-boards');
    expect(changes.at(-1)).toEqual({ ...newRoof().house, deck: 'spaced-boards' });
    await userEvent.click(screen.getByRole('checkbox', { name: /Built before 1978/ }));
    expect(changes.at(-1)).toMatchObject({ deck: 'spaced-boards', built_before_1978: true });
    const overhang = screen.getByRole('textbox', { name: 'Overhang at the eaves' });
    await userEvent.clear(overhang);
    await userEvent.type(overhang, `1'6"{Tab}`);
    expect(changes.at(-1)?.overhang_in).toBe('18');
    const stories = screen.getByRole('textbox', { name: 'Stories under the eaves' });
    await userEvent.clear(stories);
    await userEvent.type(stories, '0{Tab}');
    expect(screen.getByText('Write a whole number from 1 to 9.')).toBeTruthy();
    expect(changes.at(-1)?.stories).toBe(1);
    await userEvent.clear(stories);
    await userEvent.type(stories, '2{Tab}');
    expect(changes.at(-1)?.stories).toBe(2);
    expect(screen.queryByText('Write a whole number from 1 to 9.')).toBeNull();
    expect(await clean()).toEqual([]);
  });
});
