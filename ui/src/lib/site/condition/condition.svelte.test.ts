import { fireEvent, render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { beforeEach, describe, expect, it } from 'vitest';

import type { ChangeSheet } from '../../bindings/ChangeSheet';
import type { Calculation } from '../../bindings/Calculation';
import { AT_DESK, ON_CREW } from '../../../../tests/desk';
import { faults } from '../../../../tests/page';
import { program, refuse } from '../../../../tests/program';
import siteDay from '../../../../tests/fixtures/site-day.json';
import { desk } from '../../start/desk.svelte';
import SitePage from '../SitePage.svelte';
import { fieldsOf, nothingMore, readMore } from './more';
import { takeAll } from '../../photos/take';

const JOB = '26-022';

beforeEach(() => {
  desk.set({ ...AT_DESK, person: ON_CREW });
});

function at(decisions: Parameters<typeof program>[0] = {}) {
  const stands = program(decisions);
  render(SitePage, { onleave: () => {} });
  return stands;
}

function calculated(count: string): Calculation {
  return {
    cut_outs: [{ along_eave: '48', up_slope: '40', why: ['Both ends go on to a rafter to be nailed to.'] }],
    cut_list: {
      sheets: [{ pieces: [{ patch: 0, piece: 0, x: '0', y: '0', width: '48', height: '40' }] }],
      bought: 1,
      area_bound: 1,
      proven_least: true,
    },
    sheet: { along_eave: '96', up_slope: '48' },
    rafter_spacing: '24',
    calculated: count,
    count,
    difference: null,
    unit: 'sheet',
    covered: '0',
    beyond: count,
    unit_price: '98.00',
    price: '98.00',
    words: ['The patch is cut out to rafters 24 in apart and sawn from 1 sheet of 4 × 8 ft; fewer can’t do.'],
  };
}

const SHEET: ChangeSheet = {
  id: 'c1',
  number: '1',
  job: JOB,
  customer: 'A. Bellweather',
  site: '4 Sluice Street',
  date: '2026-11-25',
  title: 'Condition 1: roof to wall',
  pricing: 'time-and-material',
  pricing_words: 'By time and material: what it really costs and 20 % on it, not to exceed 600.00.',
  not_to_exceed: '600.00',
  days: 1,
  if_left: 'Water still runs down behind the cladding.',
  if_declined: 'Nothing is laid over this as it is: work stops at this place until it is repaired.',
  lines: [
    {
      line: 1,
      description: '4 deck sheets at the wall',
      quantity: '4',
      unit: 'sheet',
      price: '480.00',
      approved: false,
    },
    { line: 2, description: 'The old cap', quantity: null, unit: null, price: '-60.00', approved: false },
  ],
  price: '420.00',
  conditions: [
    {
      id: 'f1',
      number: '1',
      place: 'roof-to-wall',
      side: 'north',
      cause: 'missing-kick-out',
      damaged: 'deck-sheet',
      counted_in: 'sheet',
      count: '5',
      count_reason: 'A sheet broke',
      covered: '1',
      beyond: '4',
      moisture: '31',
      note: 'Wet to the stud.',
      x_in: null,
      y_in: null,
      photos: ['ab'.repeat(32)],
      marks: [{ photo: 1, kind: 'arrow', x: '0.2', y: '0.2', to_x: '0.5', to_y: '0.5', words: 'here' }],
      after: [],
      calculation: calculated('4'),
      work: 'at-risk',
    },
  ],
  state: 'waiting',
  contradicted: false,
  decisions: [],
};

/** A day on which the change order of job 26-022 lies there, waiting or contradicted. */
function askedDay(contradicted = false) {
  const day = structuredClone(siteDay);
  const job = day.jobs.find((each) => each.number === JOB);
  const condition = job?.conditions[0];
  if (!job || !condition) throw new Error('The fixture has lost its condition.');
  condition.to_ask = false;
  const change = {
    id: 'c1',
    number: '1',
    title: 'Condition 1: roof to wall',
    price: '420.00',
    conditions: [condition.id],
  };
  Object.assign(job, {
    changes: [{ ...change, state: contradicted ? 'declined' : 'waiting', contradicted }],
  });
  return day;
}

async function clean() {
  expect(await faults('region')).toEqual([]);
}

async function openMore() {
  await userEvent.click(await screen.findByText('More: measure the damage, cut list, moisture'));
}

describe('the damage', () => {
  it('is drawn on the squared deck by a finger, calculated, and logged with its patches', async () => {
    const { last, count } = at({ calculate_damage: () => calculated('3') });
    await userEvent.click(await screen.findByRole('button', { name: 'Valley' }));
    await openMore();
    const board = screen.getByRole('img', { name: /Squared deck with 0 patches/ });
    board.getBoundingClientRect = () => ({ left: 0, top: 0, width: 192, height: 96 }) as DOMRect;
    const finger = { button: 0, pointerType: 'touch', pointerId: 1 };
    await fireEvent.pointerDown(board, { ...finger, clientX: 30, clientY: 20 });
    await fireEvent.pointerMove(board, { ...finger, clientX: 70, clientY: 60 });
    expect(screen.getByText('3\' 4" × 3\' 4"')).toBeTruthy();
    await fireEvent.pointerUp(board, { ...finger, clientX: 70, clientY: 60 });
    await waitFor(() => expect(count('calculate_damage')).toBe(1));
    expect(last('calculate_damage').damage).toEqual({
      damaged: 'deck-sheet',
      counted_in: 'sheet',
      patches: [{ along_eave: '40', up_slope: '40', from_rafter: '6' }],
    });
    await screen.findByText('3 sheets', { selector: 'strong' });
    expect(screen.getByRole('img', { name: /Cut list, sheet 1 of 1/ })).toBeTruthy();
    await userEvent.click(await screen.findByRole('button', { name: 'Log it: 3 sheets, valley' }));
    await waitFor(() => expect(count('record')).toBe(1));
    expect(last('record').facts[0]).toMatchObject({
      count: '3',
      patches: [{ along_eave_in: '40', up_slope_in: '40', from_rafter_in: '6' }],
    });
    expect(last('record').facts[0]).not.toHaveProperty('calculated');
  });

  it('is typed instead, and the crew’s own count wins with a reason', async () => {
    const { last, count } = at({ calculate_damage: () => calculated('1') });
    await userEvent.click(await screen.findByRole('button', { name: 'Eave' }));
    await openMore();
    await userEvent.click(screen.getByRole('button', { name: 'Type a patch by its measures' }));
    await userEvent.type(screen.getByLabelText(/Along the eave/), '40in');
    await userEvent.type(screen.getByLabelText(/Up the slope/), '3-4');
    await userEvent.tab();
    await waitFor(() => expect(count('calculate_damage')).toBe(1));
    await screen.findByText('1 sheet', { selector: 'strong' });
    await userEvent.click(screen.getByRole('button', { name: 'One more: How many' }));
    await userEvent.click(screen.getByRole('button', { name: /Log it: 2 sheets/ }));
    expect(screen.getAllByText(/Say why, under “More”/)).toHaveLength(2);
    expect(count('record')).toBe(0);
    await userEvent.type(screen.getByLabelText(/Why your count differs/), 'A sheet broke');
    await clean();
    await userEvent.click(screen.getByRole('button', { name: /Log it: 2 sheets/ }));
    await waitFor(() => expect(count('record')).toBe(1));
    expect(last('record').facts[0]).toMatchObject({
      count: '2',
      calculated: '1',
      count_reason: 'A sheet broke',
    });
  });

  it('says in words what cannot be calculated', async () => {
    at({ calculate_damage: () => refuse('It is 0 in.', 'patches[0].up_slope') });
    await openMore();
    await userEvent.click(screen.getByRole('button', { name: 'Type a patch by its measures' }));
    await userEvent.type(screen.getByLabelText(/Along the eave/), '40in');
    await userEvent.type(screen.getByLabelText(/Up the slope/), '0in');
    await userEvent.tab();
    expect(await screen.findByText(/It is 0 in/)).toBeTruthy();
  });

  it('is found in the draft after a kill', async () => {
    const more = {
      ...nothingMore(),
      patches: [{ along_eave: '40', up_slope: '30', from_rafter: '' }],
      moisture: '28',
    };
    const fields = { job: JOB, place: 'eave', count: '4', more: JSON.stringify(more) };
    const body = { on: JOB, values: { fields, lists: {} }, ids: ['01a20000-0000-7000-8000-0000000000ab'] };
    const drafts = ({ kind }: { kind: string }) =>
      kind === 'site-condition' ? [{ id: 'd', kind, job: null, changed_at: 'x', body }] : [];
    at({ drafts, calculate_damage: () => calculated('1') });
    await openMore();
    expect(await screen.findByDisplayValue('3\' 4"')).toBeTruthy();
    expect(screen.getByDisplayValue('28')).toBeTruthy();
    // The crew's own count stands, too: what the patches come to is only set beside it.
    expect(await screen.findByText('4 sheets', { selector: 'strong' })).toBeTruthy();
    expect(screen.getByRole('button', { name: 'Take 1 sheet' })).toBeTruthy();
    expect(readMore('{"patches": 7}')).toEqual(nothingMore());
    expect(readMore('not this')).toEqual(nothingMore());
  });
});

describe('photos', () => {
  const file = (name: string, type = 'image/jpeg', size = 3) =>
    new File([new Uint8Array(size)], name, { type });
  const kept = (name: string) => ({
    id: name,
    hash: name,
    media_type: 'image/jpeg',
    bytes: 3,
    original: `${name}-o`,
  });

  it('are kept one after another, and the window is free between them', async () => {
    let [now, most, ticks] = [0, 0, 0];
    const attach = async ({ paper }: { paper: { name: string } }) => {
      most = Math.max(most, ++now);
      await new Promise((done) => setTimeout(done, 2));
      now -= 1;
      return kept(paper.name);
    };
    program({ attach });
    const clock = setInterval(() => (ticks += 1), 1);
    const [told, steps]: [string[], string[]] = [[], []];
    const taken = await takeAll(
      Array.from({ length: 30 }, (_, n) => file(`roof-${n}.jpg`)),
      ({ hash }) => told.push(hash),
      (step) => step && steps.push(`${step.at} of ${step.of}`),
    );
    clearInterval(clock);
    expect(taken.kept.length).toBe(30);
    expect(told[29]).toBe('roof-29.jpg');
    expect(steps[4]).toBe('5 of 30');
    expect(most).toBe(1);
    expect(ticks).toBeGreaterThan(10);
  });

  it('that are bad are refused in words that name the file, and the others are kept', async () => {
    const attach = ({ paper }: { paper: { name: string } }) =>
      paper.name === 'half.jpg'
        ? refuse('The photo could not be read to its end.', 'photo')
        : kept(paper.name);
    const { count } = program({ attach });
    const big = file('big.jpg');
    Object.defineProperty(big, 'size', { value: 41 * 1024 * 1024 });
    const files = [
      file('a.jpg'),
      file('half.jpg'),
      file('list.pdf', 'application/pdf'),
      big,
      file('b.jpg'),
      file('nil.jpg', 'image/jpeg', 0),
    ];
    const taken = await takeAll(files, () => {});
    expect(taken.kept.map((each) => each.hash)).toEqual(['a.jpg', 'b.jpg']);
    expect(taken.refused).toEqual([
      'half.jpg was not kept. The photo could not be read to its end. Try it another way.',
      'list.pdf was not kept: it is no picture. Take a photo, or choose one.',
      'big.jpg was not kept: it has 41 MiB, and 40 MiB is the most. Take it at a smaller size.',
      'nil.jpg was not kept: the file is empty. Take the picture again.',
    ]);
    expect(count('attach')).toBe(3);
  });

  it('are drawn on by key, and what is drawn is logged with the photo’s number', async () => {
    const { last, count } = at();
    await userEvent.click(await screen.findByRole('button', { name: 'Valley' }));
    await userEvent.upload(screen.getByLabelText('Photo'), file('valley.jpg'));
    await userEvent.click(await screen.findByRole('button', { name: 'Draw on photo 1' }));
    await userEvent.type(screen.getByLabelText(/Words beside it/), 'rot');
    const surface = screen.getByRole('application', { name: 'Draw on the photo' });
    surface.focus();
    await userEvent.keyboard('{Enter}{Shift>}{ArrowRight}{ArrowDown}{/Shift}{ArrowDown}{Enter}');
    expect(await screen.findByText('Arrow drawn.')).toBeTruthy();
    await clean();
    await userEvent.click(screen.getByRole('button', { name: /Log it/ }));
    await waitFor(() => expect(count('record')).toBe(1));
    expect(last('record').facts[0].marks).toEqual([
      { photo: 1, kind: 'arrow', x: '0.5', y: '0.5', to_x: '0.6', to_y: '0.62', words: 'rot' },
    ]);
  });

  it('number what is drawn by the photos that are left', () => {
    const mark = { kind: 'ring' as const, x: '0.1', y: '0.1', to_x: '0.2', to_y: '0.2' };
    const more = {
      ...nothingMore(),
      marks: [
        { ...mark, photo: 'b' },
        { ...mark, photo: 'gone' },
      ],
    };
    expect(fieldsOf(more, ['a', 'b'], '1')).toEqual({ marks: [{ ...mark, photo: 2 }] });
  });
});

describe('the sheet before the homeowner', () => {
  async function shown(sheet: ChangeSheet, contradicted = false) {
    const stands = at({ site_day: () => askedDay(contradicted), change_sheet: sheet });
    await userEvent.selectOptions(await screen.findByLabelText('Job'), JOB);
    await userEvent.click(
      screen.getByRole('button', {
        name: contradicted ? 'See both and settle it' : 'Show it and get the decision',
      }),
    );
    await screen.findByRole('heading', { name: /Change order 1/ });
    return stands;
  }

  it('says what was found, what is covered, the price, the end date and what happens if it is left', async () => {
    await shown(SHEET);
    for (const words of [
      /1 sheet/,
      /covered by your price, used first/,
      /not to exceed 600/,
      /ends 1 day later/,
      /The likely cause: .*kick-out/,
      /Water still runs down/,
      /Work on it has begun before a decision/,
      /31 % moisture/,
    ]) {
      expect(screen.getAllByText(words).length).toBeGreaterThan(0);
    }
    await userEvent.click(screen.getByText('How it was counted'));
    await clean();
  });

  it('is approved without the lines that are struck out', async () => {
    const { last, count } = await shown(SHEET);
    await userEvent.click(screen.getByRole('checkbox', { name: 'The old cap' }));
    await userEvent.click(screen.getByRole('button', { name: 'By phone' }));
    await userEvent.type(screen.getByLabelText(/Number that was called/), '555 0100');
    await userEvent.type(screen.getByLabelText(/Time of the call/), 'noon');
    await userEvent.click(screen.getByRole('button', { name: 'Approved' }));
    await waitFor(() => expect(count('record')).toBe(1));
    expect(last('record').facts[0]).toMatchObject({
      verdict: 'approved',
      lines: [{ change_line: 2, verdict: 'declined' }],
    });
  });

  it('asks which of two decisions holds, and settles it by another', async () => {
    const decision = {
      method: 'phone' as const,
      date: '2026-11-25',
      recorded_at: '2026-11-25T12:00:00Z',
      recorded_by: 'Olive Marsh',
      note: null,
      caution_given: false,
      declined_lines: [],
    };
    const sheet: ChangeSheet = {
      ...SHEET,
      contradicted: true,
      decisions: [
        { ...decision, id: 'a', verdict: 'approved', decided_by: 'Ada', device: 'A' },
        { ...decision, id: 'b', verdict: 'declined', decided_by: 'Ben', device: 'B' },
      ],
    };
    const { last, count } = await shown(sheet, true);
    const both = within(screen.getByRole('region', { name: 'Which decision holds?' }));
    expect(both.getByText(/by Olive Marsh on device A/)).toBeTruthy();
    expect(both.getByText(/by Olive Marsh on device B/)).toBeTruthy();
    await clean();
    await userEvent.click(screen.getByRole('button', { name: 'By phone' }));
    await userEvent.type(screen.getByLabelText(/Number that was called/), '555 0100');
    await userEvent.type(screen.getByLabelText(/Time of the call/), 'noon');
    await userEvent.click(screen.getByRole('button', { name: 'Approved' }));
    await waitFor(() => expect(count('settle_decisions')).toBe(1));
    expect(count('record')).toBe(0);
    expect(last('settle_decisions').decision).toMatchObject({
      change_order: 'c1',
      verdict: 'approved',
      method: 'phone',
    });
    expect(last('settle_decisions').decision).not.toHaveProperty('kind');
  });
});

describe('how it is asked, and repaired', () => {
  const asking = {
    pricing: 'time-and-material',
    price: null,
    markup: null,
    not_to_exceed: null,
    deducts: [],
    days: null,
    if_left: 'Water still gets in.',
  };

  it('is priced by time and material with a most, a credit, and a later end', async () => {
    desk.set(AT_DESK);
    const { last, count } = at({
      asking,
      draw_up: { id: 'c9', number: '1', title: 't', lines: [], price: '480.00' },
    });
    await userEvent.selectOptions(await screen.findByLabelText('Job'), JOB);
    await userEvent.click(screen.getAllByRole('button', { name: /Choose how to ask/ })[0]!);
    await screen.findByDisplayValue('Water still gets in.');
    await userEvent.type(screen.getByLabelText(/Markup/), '20');
    await userEvent.type(screen.getByLabelText(/Not to exceed/), '600');
    await userEvent.type(screen.getByLabelText(/Days by which/), '1');
    await userEvent.click(screen.getByRole('button', { name: /Add a deduct/ }));
    await userEvent.type(screen.getByLabelText(/^What is deducted/), 'The old cap');
    await userEvent.type(screen.getByLabelText(/Credited for it/), '60');
    await userEvent.tab();
    await clean();
    await userEvent.click(screen.getByRole('button', { name: 'Put it before the homeowner' }));
    await waitFor(() => expect(count('draw_up')).toBe(1));
    expect(last('draw_up').asking).toEqual({
      pricing: 'time-and-material',
      price: null,
      markup: '0.20',
      not_to_exceed: '600.00',
      deducts: [{ description: 'The old cap', credit: '60.00' }],
      days: 1,
      if_left: 'Water still gets in.',
    });
  });

  it('is recorded as repaired with a photo of it', async () => {
    const { last, count } = at();
    await userEvent.selectOptions(await screen.findByLabelText('Job'), JOB);
    await userEvent.click(screen.getAllByRole('button', { name: 'It is repaired' })[0]!);
    const photo = new File([new Uint8Array([1])], 'after.jpg', { type: 'image/jpeg' });
    await userEvent.upload(screen.getByLabelText('Photo of the repair'), photo);
    await screen.findByRole('button', { name: 'Leave out photo 1 of the repair' });
    await userEvent.click(screen.getByRole('button', { name: 'Record it as repaired' }));
    await waitFor(() => expect(count('record')).toBe(1));
    expect(last('record').facts[0]).toMatchObject({
      kind: 'repair',
      stage: 'done',
      photos: [{ photo: 'ab'.repeat(32) }],
    });
  });

  it('takes the crew’s hours on a condition', async () => {
    const { last, count } = at();
    await userEvent.selectOptions(await screen.findByLabelText('Job'), JOB);
    const list = await screen.findByLabelText(/On a condition/);
    const condition = siteDay.jobs.find((each) => each.number === JOB)?.conditions[0];
    await userEvent.selectOptions(list, condition?.id ?? '');
    await userEvent.click(screen.getByRole('button', { name: /Log 8 h/ }));
    await waitFor(() => expect(count('record')).toBe(1));
    expect(last('record').facts[0]).toMatchObject({ kind: 'time-entry', condition: condition?.id });
  });
});
