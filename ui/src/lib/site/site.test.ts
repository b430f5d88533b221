import { render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { beforeEach, expect, it } from 'vitest';

import { AT_DESK, ON_CREW } from '../../../tests/desk';
import { faults } from '../../../tests/page';
import { program, refuse } from '../../../tests/program';
import siteDay from '../../../tests/fixtures/site-day.json';
import { toasts } from '../kit';
import { desk } from '../start/desk.svelte';
import { remember } from './last';
import SitePage from './SitePage.svelte';
import { counted, repairs, whereOf } from './counted';

const JOB = '26-020';

beforeEach(() => {
  desk.set({ ...AT_DESK, person: ON_CREW });
});

function at(decisions: Parameters<typeof program>[0] = {}) {
  const stands = program(decisions);
  render(SitePage, { onleave: () => {} });
  return stands;
}

/** A day on which job 26-022 has its condition asked for, and the change order waits. */
function askedDay() {
  const day = structuredClone(siteDay);
  const job = day.jobs.find((each) => each.number === '26-022');
  const condition = job?.conditions[0];
  if (!job || !condition) throw new Error('The fixture has lost its condition.');
  condition.to_ask = false;
  Object.assign(job, {
    changes: [
      {
        id: 'c1',
        number: '1',
        title: `Condition ${condition.number}: roof to wall`,
        price: '392.00',
        state: 'waiting',
        conditions: [condition.id],
      },
    ],
  });
  return day;
}

it('logs two sheets, a valley and a photo in three taps and one button', async () => {
  const { last, count } = at();
  const photo = new File([new Uint8Array([1, 2, 3])], 'valley.jpg', { type: 'image/jpeg' });
  await userEvent.click(await screen.findByRole('button', { name: 'Valley' }));
  await userEvent.click(screen.getByRole('button', { name: 'One more: How many' }));
  await userEvent.upload(screen.getByLabelText('Photo'), photo);
  await waitFor(() => expect(count('attach')).toBe(1));
  expect(last('attach').paper).toEqual({
    bytes_base64: 'AQID',
    media_type: 'image/jpeg',
    name: 'valley.jpg',
    original: true,
  });
  await userEvent.click(await screen.findByRole('button', { name: 'Log it: 2 sheets, valley' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts).toEqual([
    {
      kind: 'condition',
      id: expect.stringMatching(/^[0-9a-f-]{36}$/),
      date: '2026-11-02',
      job: JOB,
      number: '2',
      place: 'valley',
      cause: 'not-said',
      damaged: 'deck-sheet',
      counted_in: 'sheet',
      count: '2',
      photos: [{ photo: 'ab'.repeat(32), original: 'cd'.repeat(32) }],
    },
  ]);
  await waitFor(() => expect(toasts.shown.at(-1)?.text).toBe('Logged on 26-020: 2 sheets, valley.'));
  await toasts.undo();
  expect(last('reverse')).toEqual({ id: last('record').facts[0].id, reason: 'Logged by mistake' });
});

it('runs the included sheets down and says the unit price to the homeowner', async () => {
  at();
  await screen.findByText('0 sheets left');
  await userEvent.click(screen.getByRole('button', { name: 'One more: How many' }));
  expect((await screen.findByText(/2 sheets beyond: the homeowner pays/)).textContent).toContain('$196.00');
});

it('keeps what was typed when the program refuses, and says why', async () => {
  const { count } = at({ record: () => refuse('The disk is full.') });
  await userEvent.click(await screen.findByRole('button', { name: 'Chimney' }));
  await userEvent.click(screen.getByRole('button', { name: 'Log it: 1 sheet, chimney' }));
  await screen.findByText(/The disk is full/);
  expect(screen.getByRole('button', { name: 'Chimney', pressed: true })).toBeTruthy();
  expect(count('delete_draft')).toBe(0);
});

it('records the cause that the crew names, and guesses none', async () => {
  const { last, count } = at();
  await userEvent.click(await screen.findByRole('button', { name: 'Roof to wall' }));
  // A second step, behind a press, which says that nothing was said.
  const why = screen.getByLabelText<HTMLSelectElement>('Why');
  expect(why.value).toBe('not-said');
  const second = why.closest('details');
  expect(second?.open).toBe(false);
  expect(second?.querySelector('summary')?.textContent).toContain('Deck sheet, cause not said.');
  await userEvent.selectOptions(screen.getByLabelText('Why'), 'missing-kick-out');
  await userEvent.click(screen.getByRole('button', { name: 'Log it: 1 sheet, roof to wall' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0].cause).toBe('missing-kick-out');
});

it('takes three taps from open to logged with a photo: the place, the photo, the button', async () => {
  remember({ job: '26-021', side: 'north' });
  const { last, count } = at();
  const valley = await screen.findByRole('button', { name: 'Valley' });
  let taps = 0;
  const tapped = () => (taps += 1);
  document.addEventListener('pointerdown', tapped);
  await userEvent.click(valley);
  const camera = screen.getByLabelText<HTMLInputElement>('Photo');
  // On the roof the system's own capture is asked for.
  expect(camera.getAttribute('capture')).toBe('environment');
  await userEvent.upload(camera, new File([new Uint8Array([1])], 'valley.jpg', { type: 'image/jpeg' }));
  await waitFor(() => expect(count('attach')).toBe(1));
  await userEvent.click(await screen.findByRole('button', { name: 'Log it: 1 sheet, valley, north side' }));
  document.removeEventListener('pointerdown', tapped);
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({ place: 'valley', count: '1', photos: [{}] });
  expect(taps).toBe(3);
});

it('asks an owner, who may have the picture already, for a file', async () => {
  desk.set(AT_DESK);
  at();
  expect((await screen.findByLabelText('Photo')).hasAttribute('capture')).toBe(false);
});

it('has hours, how far it is and today’s own entries before what was found, each one press away', async () => {
  at();
  const links = within(await screen.findByRole('navigation', { name: 'On this page' })).getAllByRole('link');
  expect(links.map((link) => link.textContent)).toEqual([
    'Hours',
    'How far',
    'Found',
    'Checklist',
    'What I entered today',
  ]);
  const order = screen.getAllByRole('heading', { level: 2 }).map((heading) => heading.textContent);
  const at2 = (words: RegExp) => order.findIndex((each) => words.test(each ?? ''));
  expect(at2(/^Hours on/)).toBeLessThan(at2(/^Found on/));
  expect(at2(/^How far/)).toBeLessThan(at2(/^What I entered today/));
  expect(at2(/^What I entered today/)).toBeLessThan(at2(/^Found on/));
});

it('tells where the job is, when it begins, and whom to call, and lists jobs as they are planned', async () => {
  at();
  await screen.findByText(/6 Beacon Hill, begun 10\/07\/2026/);
  expect(screen.getByRole('link', { name: '555-0147' }).getAttribute('href')).toBe('tel:555-0147');
  const jobs = within(screen.getByLabelText('Job')).getAllByRole('option');
  expect(jobs.map((job) => (job as HTMLOptionElement).value)).toEqual(siteDay.jobs.map((job) => job.number));
  const planned = siteDay.jobs.map(({ begun, begins }) => `${begun ? 0 : 1} ${begins ?? '9999'}`);
  expect(planned).toEqual([...planned].sort());
});

it('says that work begins, what is laid, and that all is done, and asks before a second tap counts', async () => {
  const { last, count } = at();
  const waits = siteDay.jobs.find((job) => !job.begun)!;
  await userEvent.selectOptions(await screen.findByLabelText('Job'), waits.number);
  expect(screen.queryByRole('button', { name: 'All of it is done' })).toBeNull();
  await userEvent.click(screen.getByRole('button', { name: 'Work begins today' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({ kind: 'job-status', job: waits.number, stage: 'begun' });

  await userEvent.selectOptions(screen.getByLabelText('Job'), JOB);
  const far = within(screen.getByRole('region', { name: `How far it is on ${JOB}` }));
  await userEvent.click(far.getByRole('button', { name: 'Log what is done' }));
  expect(far.getAllByText(/Choose which work it is\./).length).toBeGreaterThan(0);
  await userEvent.selectOptions(far.getByLabelText('Work'), 'shingle');
  await userEvent.type(far.getByLabelText(/Done since the last entry/), '4.5');
  await userEvent.tab();
  await userEvent.click(far.getByRole('button', { name: 'Log what is done: 4.5 squares, Field shingles' }));
  await waitFor(() => expect(count('record')).toBe(2));
  expect(last('record').facts).toEqual([
    expect.objectContaining({ kind: 'units-done', job: JOB, code: 'shingle', quantity: '4.5' }),
  ]);
  await userEvent.type(far.getByLabelText(/Done since the last entry/), '4.5');
  await userEvent.tab();
  await userEvent.click(far.getByRole('button', { name: /^Log what is done: 4.5 squares/ }));
  await far.findByText('The same was logged a moment ago. Is this more?');
  expect(count('record')).toBe(2);
  await userEvent.click(far.getByRole('button', { name: 'No, leave it' }));

  await userEvent.click(far.getByRole('button', { name: 'All of it is done' }));
  expect(count('record')).toBe(2);
  await userEvent.click(far.getByRole('button', { name: 'Not yet' }));
  await userEvent.click(far.getByRole('button', { name: 'All of it is done' }));
  await userEvent.click(far.getByRole('button', { name: 'Yes, all of it is done' }));
  await waitFor(() => expect(count('record')).toBe(3));
  expect(last('record').facts[0]).toMatchObject({ kind: 'job-status', job: JOB, stage: 'finished' });
}, 15_000);

it('offers fascia, soffit, trim and a hidden layer among what is damaged, and two notes apart', async () => {
  const { last, count } = at();
  await userEvent.click(await screen.findByRole('button', { name: 'Eave' }));
  const damaged = screen.getByLabelText<HTMLSelectElement>('What is damaged');
  const words = [...damaged.options].map((option) => option.value);
  expect(words).toEqual(expect.arrayContaining(['fascia', 'soffit', 'trim', 'hidden-layer']));
  await userEvent.selectOptions(damaged, 'fascia');
  await userEvent.type(screen.getByLabelText(/^Note for the firm/), 'He is slow to pay');
  await userEvent.type(screen.getByLabelText(/^Note for the homeowner/), 'The gutter hung on it');
  expect(screen.getByText('The homeowner never reads it.')).toBeTruthy();
  expect(screen.getByText('It stands on the sheet that they sign.')).toBeTruthy();
  await userEvent.click(screen.getByRole('button', { name: /^Log it/ }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({
    damaged: 'fascia',
    note: 'He is slow to pay',
    for_homeowner: 'The gutter hung on it',
  });
});

it('asks before the same condition is logged twice in a row', async () => {
  const { count } = at();
  for (const _ of [1, 2]) {
    await userEvent.click(await screen.findByRole('button', { name: 'Ridge', pressed: false }));
    await userEvent.click(screen.getByRole('button', { name: /^Log it: 1 sheet, ridge/ }));
    await waitFor(() => expect(count('record')).toBe(1));
  }
  await screen.findByText(/1 sheet, ridge.* was logged a moment ago\. Is this another one\?/);
  expect(count('record')).toBe(1);
  await userEvent.click(screen.getByRole('button', { name: 'Yes, record it' }));
  await waitFor(() => expect(count('record')).toBe(2));
});

it('does not log what has no place', async () => {
  const { count } = at();
  await userEvent.click(await screen.findByRole('button', { name: 'Log it' }));
  // At the buttons, and beside Log, wherever the page is scrolled to.
  expect(screen.getAllByText(/Tap where on the roof it is\./)).toHaveLength(2);
  expect(count('record')).toBe(0);
});

it('finds what was typed before the machine stopped', async () => {
  const fields = { place: 'eave', side: 'north', damaged: 'deck-sheet', count: '3' };
  const lists = { photos: [{ photo: 'cd'.repeat(32) }] };
  const body = { on: '26-021', values: { fields, lists }, ids: ['01a20000-0000-7000-8000-00000000000f'] };
  const { last, count } = at({
    drafts: [{ id: 'd', kind: 'site-condition', job: null, changed_at: '2026-11-02T10:00:00Z', body }],
  });
  await userEvent.click(await screen.findByRole('button', { name: 'Log it: 3 sheets, eave, north side' }));
  await waitFor(() => expect(count('delete_draft')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({
    id: '01a20000-0000-7000-8000-00000000000f',
    job: '26-021',
    side: 'north',
    photos: [{ photo: 'cd'.repeat(32) }],
  });
});

it('saves the draft a moment after a tap', async () => {
  const { last, count } = at();
  await userEvent.click(await screen.findByRole('button', { name: 'Ridge' }));
  await waitFor(() => expect(count('save_draft')).toBe(1), { timeout: 2000 });
  expect(last('save_draft').kind).toBe('site-condition');
  expect(last('save_draft').body.values.fields.place).toBe('ridge');
});

it('puts a waiting change order before the homeowner and takes the decision by phone', async () => {
  const { last, count } = at({ site_day: askedDay });
  await userEvent.selectOptions(await screen.findByLabelText('Job'), '26-022');
  await userEvent.click(screen.getByRole('button', { name: 'Show it and get the decision' }));
  await screen.findByRole('heading', { name: 'Change order 1 for job 26-022' });
  expect(screen.getByText(/If it is left:/)).toBeTruthy();
  await userEvent.click(screen.getByRole('button', { name: 'Approved' }));
  expect(screen.getByText(/The homeowner signs in the field above/)).toBeTruthy();
  await userEvent.click(screen.getByRole('button', { name: 'By phone' }));
  await userEvent.click(screen.getByRole('button', { name: 'Approved' }));
  expect(screen.getByText(/Type the number at which they said so\./)).toBeTruthy();
  expect(count('record')).toBe(0);
  await userEvent.type(screen.getByLabelText(/Number that was called/), '555 0100');
  await userEvent.type(screen.getByLabelText(/Time of the call/), '4 pm');
  await userEvent.click(screen.getByRole('button', { name: 'Approved' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({
    kind: 'decision',
    change_order: 'c1',
    verdict: 'approved',
    decided_by: 'Hyacinth Bellweather',
    method: 'phone',
    note: '555 0100, 4 pm',
    caution_given: false,
  });
});

it('finds the homeowner’s half-given decision after a kill, and throws it away once it is recorded', async () => {
  const fields = {
    method: 'phone',
    who: 'B. Bellweather',
    number: '555 0100',
    time: '4 pm',
    warned: '',
    declining: '',
  };
  const body = { on: 'c1', values: { fields, lists: {} }, ids: ['01a20000-0000-7000-8000-0000000000aa'] };
  const drafts = ({ kind }: { kind: string }) =>
    kind === 'site-decision' ? [{ id: 'd', kind, job: null, changed_at: 'x', body }] : [];
  const { last, count } = at({ site_day: askedDay, drafts });
  await userEvent.selectOptions(await screen.findByLabelText('Job'), '26-022');
  await userEvent.click(screen.getByRole('button', { name: 'Show it and get the decision' }));
  await screen.findByDisplayValue('B. Bellweather');
  await userEvent.click(screen.getByRole('button', { name: 'Approved' }));
  await waitFor(() => expect(count('delete_draft')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({
    id: '01a20000-0000-7000-8000-0000000000aa',
    method: 'phone',
    note: '555 0100, 4 pm',
  });
});

it('withdraws a change order that waits, and the condition can be asked for again', async () => {
  const { last, count } = at({ site_day: askedDay });
  await userEvent.selectOptions(await screen.findByLabelText('Job'), '26-022');
  await userEvent.click(screen.getByRole('button', { name: 'Withdraw change order 1' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({
    kind: 'decision',
    change_order: 'c1',
    verdict: 'withdrawn',
    decided_by: ON_CREW.name,
  });
  // Nobody sent or signed it: it came by no way.
  expect(last('record').facts[0]).not.toHaveProperty('method');
});

it('begins on the job and side of the last condition, so that three taps are enough', async () => {
  remember({ job: '26-021', side: 'north' });
  const { last, count } = at();
  await screen.findByRole('button', { name: 'north', pressed: true });
  let taps = 0;
  const tapped = () => (taps += 1);
  document.addEventListener('pointerdown', tapped);
  await userEvent.click(screen.getByRole('button', { name: 'Valley' }));
  await userEvent.click(screen.getByRole('button', { name: 'One more: How many' }));
  const photo = new File([new Uint8Array([1])], 'valley.jpg', { type: 'image/jpeg' });
  // The third tap is on the photo's button; the picture itself comes from the camera.
  await userEvent.upload(screen.getByLabelText('Photo'), photo);
  const log = await screen.findByRole('button', { name: 'Log it: 2 sheets, valley, north side' });
  await waitFor(() => expect(count('attach')).toBe(1));
  document.removeEventListener('pointerdown', tapped);
  await userEvent.click(log);
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({
    job: '26-021',
    side: 'north',
    place: 'valley',
    count: '2',
  });
  expect(taps).toBe(3);
});

it('gives the caution before a decline', async () => {
  const { last, count } = at({ site_day: askedDay });
  await userEvent.selectOptions(await screen.findByLabelText('Job'), '26-022');
  await userEvent.click(screen.getByRole('button', { name: 'Show it and get the decision' }));
  await userEvent.click(await screen.findByRole('button', { name: 'Declined' }));
  await userEvent.click(screen.getByRole('button', { name: 'Record the decline' }));
  expect(screen.getByText(/Give the caution first/)).toBeTruthy();
  await userEvent.click(screen.getByRole('checkbox'));
  await userEvent.click(screen.getByRole('button', { name: 'Record the decline' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({ verdict: 'declined', caution_given: true });
});

it('draws up the change order for a condition beyond what is included', async () => {
  const { last } = at({ ask_and_record: { id: 'c9', number: '1', title: 't', lines: [], price: '392.00' } });
  await userEvent.selectOptions(await screen.findByLabelText('Job'), '26-022');
  await userEvent.click(screen.getByRole('button', { name: 'Ask the homeowner' }));
  const condition = siteDay.jobs.find((job) => job.number === '26-022')?.conditions[0];
  await waitFor(() => expect(last('ask_and_record')).toEqual({ condition: condition?.id }));
});

it('logs the hours of the whole crew in one go', async () => {
  const { last, count } = at();
  const who = await screen.findByRole('group', { name: 'Who worked' });
  await userEvent.click(within(who).getByLabelText('Tomas Brandt'));
  await userEvent.click(screen.getByRole('button', { name: 'One less: Hours each' }));
  await userEvent.click(screen.getByRole('button', { name: 'Log 7.5 h for 3 people' }));
  await waitFor(() => expect(count('record')).toBe(1));
  const facts = last('record').facts;
  expect(facts).toHaveLength(3);
  expect(facts[0]).toMatchObject({ kind: 'time-entry', job: JOB, code: 'tear', hours: '7.5', crew: 'North' });
  await waitFor(() => expect(toasts.shown.at(-1)?.undo).toBeTruthy());
  await toasts.undo();
  expect(count('reverse')).toBe(3);
});

it('says on the button what is typed, before the field is left', async () => {
  at();
  const hours = await screen.findByRole('textbox', { name: 'Hours each, in h' });
  await userEvent.clear(hours);
  await userEvent.type(hours, '1');
  expect(screen.getByRole('button', { name: /^Log 1 h for/ })).toBeTruthy();
  await userEvent.type(hours, '.5');
  expect((hours as HTMLInputElement).value).toBe('1.5');
  expect(screen.getByRole('button', { name: /^Log 1.5 h for/ })).toBeTruthy();
});

it('says at once that hours cost nothing where nobody is paid for them', async () => {
  const told = 'Ada Quill has no pay yet, so these hours cost nothing so far.';
  at({ record: ({ facts }) => facts.map(({ id }) => ({ id, repeated: false, cautions: [told] })) });
  await userEvent.click(await screen.findByRole('button', { name: /^Log 8 h for/ }));
  await waitFor(() => expect(toasts.shown.at(-1)).toMatchObject({ tone: 'refused', text: told }));
});

it('finds the hours that were typed before the machine stopped, on their own job', async () => {
  const ada = siteDay.people.find((person) => person.name === 'Ada Quill');
  const values = {
    fields: { code: 'haul', hours: '4' },
    lists: { people: [{ person: ada?.id ?? '', on: '' }] },
  };
  const kept = (on: string) => ({
    id: on,
    kind: 'site-hours',
    changed_at: 'x',
    body: { on, values, ids: [] },
  });
  const drafts = ({ kind }: { kind: string }) => (kind === 'site-hours' ? [kept('26-021'), kept(JOB)] : []);
  const { last, count } = at({ drafts });
  await userEvent.click(await screen.findByRole('button', { name: 'Log 4 h for 3 people' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({ code: 'haul', hours: '4' });
  await waitFor(() => expect(last('delete_draft')).toEqual({ id: JOB }));
});

it('has words for counts and places', () => {
  expect(repairs({ conditions: ['a', 'b'] }, { id: 'b' })).toBe(true);
  expect(repairs({ conditions: [] }, { id: 'b' })).toBe(false);
  expect(counted('1', 'deck-sheet')).toBe('1 sheet');
  expect(counted('2.5', 'deck-board')).toBe('2.5 feet');
  expect(whereOf('roof-to-wall', 'sun porch')).toBe('roof to wall, sun porch');
});

it('says what can hurt with its source, what matters now first, and what is to be settled before work', async () => {
  const day = askedDay();
  const inside =
    'Work is planned for November 6, 2026, and the customer may cancel until midnight of that day.';
  for (const job of day.jobs) Object.assign(job, { before_work: [inside] });
  at({ site_day: day });
  expect(await screen.findByText(inside)).toBeTruthy();
  const cautions = within(screen.getByRole('region', { name: 'Cautions' }));
  const falls = cautions.getByText(/^Falls:/);
  expect(falls.textContent).toContain('29 CFR 1926.501(b)');
  expect(falls.closest('details')).toBeNull();
  expect(cautions.getByText(/^Holes:/).closest('details')).toBeNull();
});

it('has the checklist of the job that is chosen, closed until it is wanted', async () => {
  const { last, count } = at();
  await screen.findByRole('heading', { name: `Checklist of ${JOB}` });
  const line = await screen.findByText('1 of 8 points are settled.');
  expect(line.closest('details')?.open).toBe(false);
  await userEvent.selectOptions(screen.getByLabelText('Job'), '26-021');
  await screen.findByRole('heading', { name: 'Checklist of 26-021' });
  await waitFor(() => expect(count('workmanship')).toBe(2));
  expect(last('workmanship')).toEqual({ job: '26-021' });
});

it('has names and roles in order', async () => {
  at({ site_day: askedDay });
  await screen.findByText('Take care');
  expect(await faults('region')).toEqual([]);
});

/** A day on which the homeowner of 26-022 declined a repair that the roof rests on. */
function declinedDay() {
  const day = askedDay();
  const job = day.jobs.find((each) => each.number === '26-022')!;
  Object.assign(job.conditions[0]!, {
    declined: true,
    to_ask: true,
    stops: true,
    may_be_repaired: false,
    stop_words: 'The homeowner declined. Nothing is laid over this as it is.',
    price: null,
  });
  Object.assign(job.changes[0]!, { state: 'declined', decided_by: 'Ada' });
  return day;
}

async function openDeclined() {
  const stands = at({ site_day: declinedDay });
  await userEvent.selectOptions(await screen.findByLabelText('Job'), '26-022');
  await screen.findByText(/Nothing is laid over this as it is/);
  return stands;
}

it('stops at rot whose repair was declined: a crew is offered no work on it', async () => {
  await openDeclined();
  expect(screen.getByText('Work stops here.')).toBeTruthy();
  expect(screen.queryByRole('button', { name: 'Work has begun' })).toBeNull();
  expect(screen.queryByRole('button', { name: 'It is repaired' })).toBeNull();
  expect(screen.queryByRole('button', { name: /at our own cost/ })).toBeNull();
});

it('lets the owner say there what becomes of it', async () => {
  desk.set(AT_DESK);
  const { last, count } = await openDeclined();
  await userEvent.click(screen.getByRole('button', { name: /^Repair it at our own cost/ }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({
    kind: 'declined-repair',
    course: 'own-cost',
    date: '2026-11-02',
  });
});

it('asks before the same hours are logged twice, and before a day longer than anybody’s', async () => {
  const day = structuredClone(siteDay);
  const [person] = day.people.filter((each) => each.crew === 'North');
  const worked = { person: person!.id, date: day.today, job: JOB, code: 'tear', hours: '8' };
  Object.assign(day, { worked: [worked] });
  const { count } = at({ site_day: () => day });
  await userEvent.click(await screen.findByRole('button', { name: /^Log 8 h for/ }));
  await screen.findByText(/has the same hours there already/);
  expect(count('record')).toBe(0);
  await userEvent.click(screen.getByRole('button', { name: 'No, leave it' }));
  await userEvent.click(screen.getByRole('button', { name: 'One less: Hours each' }));
  await userEvent.click(screen.getByRole('button', { name: /^Log 7.5 h for/ }));
  await screen.findByText(/this makes 15.5 h on that day/);
  expect(count('record')).toBe(0);
  await userEvent.click(screen.getByRole('button', { name: 'Yes, record it' }));
  await waitFor(() => expect(count('record')).toBe(1));
});

it('logs several codes of one day for the whole crew at once', async () => {
  const { last, count } = at();
  await userEvent.click(await screen.findByRole('button', { name: 'And other work that day' }));
  const other = within(screen.getByRole('group', { name: 'Other work 1' }));
  await userEvent.selectOptions(other.getByLabelText('Work'), 'haul');
  for (let press = 0; press < 4; press += 1) {
    await userEvent.click(screen.getAllByRole('button', { name: 'One less: Hours each' })[0]!);
  }
  await userEvent.click(screen.getByRole('button', { name: /^Log 7 h for/ }));
  await waitFor(() => expect(count('record')).toBe(1));
  const facts = last('record').facts as { person: string; code: string; hours: string }[];
  const first = facts.filter(({ person }) => person === facts[0]!.person);
  expect(first.map(({ code, hours }) => `${code} ${hours}`)).toEqual(['tear 6', 'haul 1']);
  expect(facts.length).toBe(2 * new Set(facts.map(({ person }) => person)).size);
});

it('asks about more sheets than the whole roof takes', async () => {
  const { count } = at();
  const roof = siteDay.jobs.find((each) => each.number === JOB)?.roof_sheets;
  expect(roof).toBeTruthy();
  await userEvent.click(await screen.findByRole('button', { name: 'Eave' }));
  const many = screen.getByRole('textbox', { name: /^How many/ });
  await userEvent.clear(many);
  await userEvent.type(many, '999');
  await userEvent.tab();
  await userEvent.click(screen.getByRole('button', { name: 'Log it: 999 sheets, eave' }));
  await screen.findByText(`The whole roof takes ${roof} sheets. Are 999 sheets, eave meant?`);
  expect(count('record')).toBe(0);
});

it('leaves what is half made on its own job, and says so on another', async () => {
  const fields = { place: 'eave', count: '3' };
  const body = { on: JOB, values: { fields, lists: {} }, ids: [] };
  const kept = (kind: string) =>
    kind === 'site-condition' ? [{ id: 'd', kind, job: null, changed_at: 'x', body }] : [];
  at({ drafts: ({ kind }: { kind: string }) => kept(kind) });
  await screen.findByRole('button', { name: 'Log it: 3 sheets, eave' });
  await userEvent.selectOptions(screen.getByLabelText('Job'), '26-021');
  await screen.findByText(`A condition is begun on ${JOB} and not logged.`);
  expect(screen.getByRole('button', { name: 'Log it' })).toBeTruthy();
});

it('keeps today’s own entries in reach, and takes one back in words', async () => {
  const day = structuredClone(siteDay);
  const entry = {
    id: 'o1',
    says: '8 h for Ada Quill on 26-020: tear',
    recorded_at: '2026-11-02T15:00:00.000Z',
  };
  Object.assign(day, { own: [entry] });
  const { last, count } = at({ site_day: () => day });
  await userEvent.click(await screen.findByRole('button', { name: `Take back: ${entry.says}` }));
  await userEvent.click(screen.getByRole('button', { name: 'Take it back' }));
  expect(count('reverse')).toBe(0);
  await userEvent.type(screen.getByLabelText(/Why it is taken back/), 'Typed twice');
  await userEvent.click(screen.getByRole('button', { name: 'Take it back' }));
  await waitFor(() => expect(last('reverse')).toEqual({ id: 'o1', reason: 'Typed twice' }));
});

it('lets a declined repair be asked again, and the crew ask only at the contract’s prices', async () => {
  await openDeclined();
  const job = siteDay.jobs.find((each) => each.number === '26-022')!;
  const condition = job.conditions[0]!;
  const priced = job.prices.some(
    (each) => each.damaged === condition.damaged && each.counted_in === condition.counted_in,
  );
  expect(priced).toBe(true);
  expect(screen.getByRole('button', { name: 'Ask them again' })).toBeTruthy();
  expect(screen.queryByRole('button', { name: /Choose how to ask/ })).toBeNull();
});

it('speaks Spanish with who reads it: trade words in both languages, records as ever, refusals too', async () => {
  desk.set({ ...AT_DESK, person: { ...ON_CREW, language: 'es' } });
  const { last, count } = at({
    record: () => refuse('7 is already a condition of this job.', 'number'),
  });
  await screen.findByRole('heading', { level: 1, name: 'Obra' });
  await screen.findByRole('heading', { name: `Horas en ${JOB}` });
  expect(screen.getByRole('heading', { name: 'Tenga cuidado' })).toBeTruthy();
  // What can hurt stands in both.
  expect(screen.getAllByText(/^Caídas: a 6 pies/).length).toBeGreaterThan(0);
  expect(screen.getAllByText(/^Falls: at 6 ft/).length).toBeGreaterThan(0);
  await userEvent.click(screen.getByRole('button', { name: 'Limahoya (Valley)' }));
  await userEvent.click(screen.getByRole('button', { name: 'Anotarlo: 1 hoja, limahoya' }));
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('record').facts[0]).toMatchObject({
    place: 'valley',
    cause: 'not-said',
    damaged: 'deck-sheet',
  });
  expect((await screen.findAllByText(/ya es un daño de este trabajo/)).length).toBeGreaterThan(0);
  expect(screen.queryByText(/already a condition/)).toBeNull();
});

it('is English again where the next one reads English', async () => {
  desk.set({ ...AT_DESK, person: { ...ON_CREW, language: 'es' } });
  at();
  await screen.findByRole('heading', { level: 1, name: 'Obra' });
  desk.set({ ...AT_DESK, person: ON_CREW });
  await screen.findByRole('heading', { level: 1, name: 'Site' });
});
