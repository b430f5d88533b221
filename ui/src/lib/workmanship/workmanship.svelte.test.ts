import { render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { beforeEach, describe, expect, it } from 'vitest';

import { AT_DESK, ON_CREW } from '../../../tests/desk';
import { faults } from '../../../tests/page';
import { program, refuse } from '../../../tests/program';
import workmanship from '../../../tests/fixtures/workmanship.json';
import { toasts } from '../kit';
import { desk } from '../start/desk.svelte';
import JobWork from './JobWork.svelte';
import SiteWork from './SiteWork.svelte';
import { named } from '../photos/shots';
import { byPart, itemsOf, standsAt } from './points';
import type { Workmanship } from '../bindings/Workmanship';

const WORK = workmanship as Workmanship;
const JOB = '26-021';
const MAGNET = 'Lawn, beds and drive swept with a magnet';
const VALLEYS = 'Membrane in valleys, round penetrations and along walls';
const PHOTO = { photo: 'ab'.repeat(32), original: 'cd'.repeat(32) };

beforeEach(() => {
  desk.set({ ...AT_DESK, person: ON_CREW });
});

async function onSite(answers: Parameters<typeof program>[0] = {}) {
  const stands = program(answers);
  render(SiteWork, { job: JOB, today: '2026-11-03', open: true });
  await screen.findByRole('heading', { name: 'Membrane' });
  return stands;
}

async function onTheJob(answers: Parameters<typeof program>[0] = {}) {
  desk.set(AT_DESK);
  const stands = program(answers);
  render(JobWork, { job: JOB, today: '2026-11-03' });
  await screen.findByRole('heading', { name: 'Warranty' });
  return stands;
}

function pointOf(words: string): string {
  const point = WORK.points.find((each) => each.words === words);
  if (!point) throw new Error(`The fixture has lost its point “${words}”.`);
  return point.id;
}

async function noViolation() {
  for (const closed of document.querySelectorAll('details')) closed.open = true;
  expect(await faults('region', 'heading-order')).toEqual([]);
}

describe('the words', () => {
  it('group points by part in the order of the list, the same part once', () => {
    const parts = byPart(WORK.points);
    expect(parts.map(({ part }) => part)).toEqual([
      'The whole job',
      'Tear-off',
      'Membrane',
      'Field shingles',
    ]);
    expect(parts[0]?.points.at(-1)?.words).toBe('Photos of every side of the finished roof');
    expect(parts.map(({ settled }) => settled)).toEqual([1, 0, 0, 0]);
    expect(standsAt(WORK.points)).toBe('1 of 8 points are settled.');
    expect(standsAt([])).toBe('No point is asked of this roof.');
    expect(standsAt(WORK.points.map((point) => ({ ...point, settled: true })))).toBe(
      'All 8 points are settled.',
    );
  });

  it('offer only what stays on a roof, and name a photo’s original where there is one', () => {
    const items = itemsOf(WORK).map(({ value }) => value);
    expect(items).toEqual(['barrier', 'shingles', 'drip-edge', 'other']);
    expect(named([PHOTO, { photo: 'ee', original: '' }])).toEqual([PHOTO, { photo: 'ee' }]);
  });
});

describe('the checklist on site', () => {
  it('takes a point as good with one tap, and takes it back', async () => {
    const { last, count } = await onSite();
    await userEvent.click(screen.getByRole('button', { name: `Good: ${MAGNET}` }));
    await waitFor(() => expect(count('record')).toBe(1));
    expect(last('record').facts).toEqual([
      {
        kind: 'work-check',
        id: expect.stringMatching(/^[0-9a-f-]{36}$/),
        date: '2026-11-03',
        job: JOB,
        point: pointOf(MAGNET),
        state: 'good',
        person: ON_CREW.id,
      },
    ]);
    await waitFor(() => expect(count('workmanship')).toBe(2));
    await toasts.undo();
    expect(last('reverse')).toEqual({ id: last('record').facts[0].id, reason: 'Recorded by mistake' });
  });

  it('says who saw a point and when, what is open, and what the packet waits for', async () => {
    await onSite();
    const row = screen.getByText(VALLEYS).closest('li');
    expect(row?.textContent).toMatch(/open\s+Tomas Brandt, .*: Strip along the porch wall is short/);
    expect(row?.textContent).toContain('the packet waits for it');
    expect(screen.getByText('1 of 8 points are settled.')).toBeTruthy();
    await userEvent.click(screen.getByRole('button', { name: 'Show only what is open' }));
    expect(screen.queryByText('Fall protection in place before anybody is on the roof')).toBeNull();
    expect(screen.getByText(VALLEYS)).toBeTruthy();
  });

  it('takes an open point with its note and photo, and not without a word', async () => {
    const { last, count } = await onSite();
    await userEvent.click(screen.getByRole('button', { name: `Open: ${MAGNET}` }));
    const form = within(screen.getByRole('group', { name: `Check: ${MAGNET}` }));
    await userEvent.click(form.getByRole('button', { name: 'Record the check' }));
    expect(form.getByText('Say in a few words what is open.')).toBeTruthy();
    expect(count('record')).toBe(0);
    await userEvent.type(form.getByLabelText(/^Note/), 'Drive still to do');
    const photo = new File([new Uint8Array([1, 2, 3])], 'drive.jpg', { type: 'image/jpeg' });
    await userEvent.upload(form.getByLabelText('Photo'), photo);
    await form.findByText('Another photo');
    await userEvent.click(form.getByRole('button', { name: 'Record the check' }));
    await waitFor(() => expect(count('record')).toBe(1));
    expect(last('record').facts).toMatchObject([
      {
        kind: 'work-check',
        point: pointOf(MAGNET),
        state: 'open',
        note: 'Drive still to do',
        photos: [PHOTO],
      },
    ]);
    await waitFor(() => expect(screen.queryByRole('group', { name: `Check: ${MAGNET}` })).toBeNull());
  });

  it('finds a check, lots and an inspection half typed before the machine stopped', async () => {
    const drafts = [
      {
        id: 'd1',
        kind: 'work-check',
        body: {
          on: `${JOB} ${pointOf(MAGNET)}`,
          values: { fields: { state: 'not-here', note: 'Snow' }, lists: { photos: [PHOTO] } },
          ids: ['01a20000-0000-7000-8000-00000000000f'],
        },
      },
      {
        id: 'd2',
        kind: 'installed',
        body: {
          on: JOB,
          values: {
            fields: {},
            lists: {
              lines: [{ id: '01a2', item: 'shingles', description: 'Slate gray', lot: 'L-9', from: '' }],
            },
          },
          ids: ['01a2'],
        },
      },
      {
        id: 'd3',
        kind: 'inspection',
        body: { on: JOB, values: { fields: { title: 'Deck' }, lists: {} }, ids: ['01a3'] },
      },
    ];
    const { last, count } = await onSite({
      drafts: ({ kind }: { kind?: string }) =>
        drafts
          .filter((draft) => draft.kind === kind)
          .map((draft) => ({ ...draft, job: null, changed_at: '2026-11-03T10:00:00Z' })),
    });
    expect(await screen.findByDisplayValue('L-9')).toBeTruthy();
    expect(await screen.findByDisplayValue('Deck')).toBeTruthy();
    await userEvent.click(screen.getByRole('button', { name: `Note or photo: ${MAGNET}` }));
    const form = within(screen.getByRole('group', { name: `Check: ${MAGNET}` }));
    await form.findByDisplayValue('Snow');
    await userEvent.click(form.getByRole('button', { name: 'Record the check' }));
    await waitFor(() => expect(count('record')).toBe(1));
    expect(last('record').facts).toMatchObject([
      { id: '01a20000-0000-7000-8000-00000000000f', state: 'not-here', note: 'Snow', photos: [PHOTO] },
    ]);
    expect(last('delete_draft')).toEqual({ id: 'd1' });
  });

  it('keeps what was typed when the program refuses, and says why', async () => {
    const { count } = await onSite({ record: () => refuse('The disk is full.') });
    await userEvent.click(screen.getByRole('button', { name: `Note or photo: ${MAGNET}` }));
    const form = within(screen.getByRole('group', { name: `Check: ${MAGNET}` }));
    await userEvent.type(form.getByLabelText(/^Note/), 'Swept twice');
    await userEvent.click(form.getByRole('button', { name: 'Record the check' }));
    await form.findByText(/The disk is full/);
    expect(form.getByDisplayValue('Swept twice')).toBeTruthy();
    expect(count('delete_draft')).toBe(0);
  });

  it('reverses a check where it stands', async () => {
    const { last } = await onSite();
    const row = within(screen.getByText(VALLEYS).closest('li') as HTMLElement);
    await userEvent.click(row.getByRole('button', { name: /^Fact A-/ }));
    await userEvent.click(row.getByRole('button', { name: 'Reverse it' }));
    await userEvent.type(row.getByLabelText(/Why is it reversed/), 'Other wall');
    await userEvent.click(row.getByRole('button', { name: /Reverse the work check/ }));
    const check = WORK.points.find((point) => point.words === VALLEYS)?.check;
    await waitFor(() => expect(last('reverse')).toEqual({ id: check?.source.id, reason: 'Other wall' }));
  });

  it('has names and roles in order', async () => {
    await onSite();
    await userEvent.click(screen.getByRole('button', { name: `Open: ${MAGNET}` }));
    await userEvent.click(screen.getByText(/^Built in, with lots/));
    await userEvent.click(screen.getByRole('button', { name: 'Take over all 2 parts of the contract' }));
    await userEvent.click(screen.getByRole('button', { name: 'Add an inspection' }));
    await noViolation();
  });
});

describe('workmanship on the job’s page', () => {
  it('takes the contract’s parts over with one press, then place and lot are typed', async () => {
    const { last, count } = await onTheJob();
    await userEvent.click(screen.getByRole('button', { name: 'Take over all 2 parts of the contract' }));
    expect(screen.queryByRole('group', { name: 'From the contract' })).toBeNull();
    const first = within(screen.getByRole('group', { name: 'Part 1, from the contract' }));
    await userEvent.selectOptions(first.getByLabelText(/^Where/), 'eave');
    await userEvent.type(first.getByLabelText(/^Lot on the package/), 'LB-7');
    await userEvent.click(screen.getByRole('button', { name: 'Record 2 parts' }));
    await waitFor(() => expect(count('record')).toBe(1));
    const id = expect.stringMatching(/^[0-9a-f-]{36}$/);
    const both = { kind: 'installed', id, date: '2026-11-03', job: JOB };
    expect(last('record').facts).toEqual([
      {
        ...both,
        item: 'barrier',
        description: 'Membrane, 2 squares a roll',
        place: 'eave',
        lot: 'LB-7',
        quantity: '5',
      },
      { ...both, item: 'shingles', description: 'Laminated shingles', quantity: '62' },
    ]);
    await toasts.undo();
    expect(count('reverse')).toBe(2);
  });

  it('takes an inspection with who, how it went and photos', async () => {
    const { last, count } = await onTheJob();
    await userEvent.click(screen.getByRole('button', { name: 'Add an inspection' }));
    const form = within(screen.getByRole('group', { name: 'Inspection' }));
    await userEvent.type(form.getByLabelText(/^What was inspected/), 'Final inspection');
    await userEvent.type(form.getByLabelText(/^By whom/), 'Ruth Quill');
    await userEvent.click(form.getByRole('button', { name: 'Record the inspection' }));
    expect(form.getByText('Say whether it passed.')).toBeTruthy();
    await userEvent.click(form.getByRole('button', { name: 'Passed' }));
    await userEvent.click(form.getByRole('button', { name: 'Record the inspection' }));
    await waitFor(() => expect(count('record')).toBe(1));
    expect(last('record').facts).toMatchObject([
      {
        kind: 'inspection',
        date: '2026-11-03',
        job: JOB,
        title: 'Final inspection',
        inspector: 'Ruth Quill',
        passed: true,
      },
    ]);
  });

  it('offers the last warranty’s words, and records them as this job’s own', async () => {
    const { last, count } = await onTheJob();
    expect(screen.getByText(/Job 26-018 has 10 years; its words are offered/)).toBeTruthy();
    await userEvent.click(screen.getByRole('button', { name: 'Give the warranty' }));
    const form = within(screen.getByRole('group', { name: 'Warranty' }));
    await userEvent.click(form.getByRole('button', { name: 'Record the warranty' }));
    await waitFor(() => expect(count('record')).toBe(1));
    expect(last('record').facts).toMatchObject([
      {
        kind: 'warranty',
        job: JOB,
        begins: '2026-11-03',
        years: 10,
        terms: WORK.warranty_before?.terms,
        care: WORK.warranty_before?.care,
      },
    ]);
  });

  it('leaves the warranty to the owner', async () => {
    program();
    render(JobWork, { job: JOB, today: '2026-11-03' });
    await screen.findByRole('heading', { name: 'Warranty' });
    expect(screen.queryByRole('button', { name: 'Give the warranty' })).toBeNull();
  });

  it('says in words what the packet waits for', async () => {
    await onTheJob();
    const points = WORK.waiting.length;
    expect(screen.getByText(`The completion packet waits for ${points} points`)).toBeTruthy();
    expect(screen.getByText(`${VALLEYS}: Strip along the porch wall is short`)).toBeTruthy();
    expect(screen.getByText(`${MAGNET} (not looked at)`)).toBeTruthy();
  });

  it('has names and roles in order', async () => {
    await onTheJob();
    await userEvent.click(screen.getByRole('button', { name: 'Give the warranty' }));
    await userEvent.click(screen.getByRole('button', { name: 'Add an inspection' }));
    await userEvent.click(screen.getByRole('button', { name: 'Type a part' }));
    await noViolation();
  });
});
