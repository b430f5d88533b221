import { clearMocks } from '@tauri-apps/api/mocks';
import { configure, render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import axe from 'axe-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

import type { Estimate } from '../bindings/Estimate';
import type { Reckoned } from '../bindings/Reckoned';
import { openDoor, type Door } from '../fixtures/door';
import fixture from '../fixtures/estimate.json';
import { keyboard, toasts } from '../kit';
import EstimatePage from './EstimatePage.svelte';
import { PARTS } from './parts';
import { SAVE_MS, Work } from './work.svelte';

configure({ defaultHidden: true });

const estimate = fixture.estimate as Estimate;
const reckoned = fixture.reckoned as unknown as Reckoned;
const listen = (event: KeyboardEvent) => keyboard.handle(event);

type Answers = Parameters<typeof openDoor>[0];

/** The made-up firm's program, with a job that has no promise yet. */
function door(answers: Answers = {}): Door {
  return openDoor({
    job_page: () => fixture.page,
    begin_estimate: () => structuredClone(estimate),
    reckon_estimate: () => structuredClone(reckoned),
    ...answers,
  });
}

async function shown(answers: Answers = {}): Promise<Door> {
  const opened = door(answers);
  const target = document.body.appendChild(document.createElement('main'));
  render(EstimatePage, {
    target,
    props: { number: '26-900', today: '2026-11-25', locale: 'en-US' },
  });
  await screen.findByRole('group', { name: 'Estimate line' });
  return opened;
}

/** The estimate with which the program was last asked. */
const asked = (opened: Door) => opened.taken('reckon_estimate').at(-1)?.estimate as Estimate;

const of = (letter: string) => {
  const found = reckoned.choices.find((choice) => choice.letter === letter);
  if (!found) throw new Error(`The fixture has no choice ${letter}.`);
  return found;
};

/** As the page writes money. */
const money = (value: string) =>
  Number(value).toLocaleString('en-US', { minimumFractionDigits: 2, maximumFractionDigits: 2 });

beforeEach(() => {
  window.addEventListener('keydown', listen);
  // jsdom lays nothing out, so it has nowhere to scroll to.
  Element.prototype.scrollIntoView = () => undefined;
  location.hash = '';
});

afterEach(() => {
  window.removeEventListener('keydown', listen);
  for (const toast of toasts.shown) toasts.dismiss(toast.id);
  clearMocks();
});

describe('the estimate in one scroll', () => {
  it('has its line on top, of the house standard’s choice first, and of the one looked at', async () => {
    await shown();
    const line = screen.getByRole('group', { name: 'Estimate line' });
    await waitFor(() => expect(line.textContent).toContain(money(of('B').price)));
    expect(line.textContent).toContain(money(of('B').cost));
    await userEvent.keyboard('a');
    expect(line.textContent).toContain(money(of('A').price));
    expect(within(line).getByRole('button', { name: /^A,/ }).getAttribute('aria-pressed')).toBe('true');
  });

  it('goes to its nine parts by 1 to 9', async () => {
    await shown();
    for (const { key, word } of PARTS) {
      await userEvent.keyboard(key);
      expect(document.activeElement?.textContent).toContain(word);
    }
  });

  it('opens a part to its places, rule and steps', async () => {
    await shown();
    await screen.findByRole('table', { name: 'Parts' });
    const line = of('B').parts.find((part) => part.item === 'shingles')!;
    const row = within(screen.getByRole('table', { name: 'Parts' })).getByRole('button', {
      name: /Shingles/,
    });
    await userEvent.click(row);
    expect(row.getAttribute('aria-expanded')).toBe('true');
    expect(screen.getByText(line.places[0]!.rule)).toBeTruthy();
    expect(screen.getAllByText(line.steps[0]!.words).length).toBeGreaterThan(0);
    await userEvent.click(screen.getByRole('button', { name: 'Open all workings' }));
    expect(screen.getAllByRole('button', { expanded: false }).length).toBe(0);
  });

  it('shows code beside house with the source, what changes and its price', async () => {
    await shown();
    const table = await screen.findByRole('table', { name: /Code and house standard/ });
    const point = reckoned.differences.find((each) => each.items.length > 0)!;
    expect(table.textContent).toContain(point.words);
    expect(table.textContent).toContain(point.code_source);
    expect(screen.getByText(/check your local code/)).toBeTruthy();
  });

  it('compares the choices line by line and says where they differ', async () => {
    await shown();
    const table = await screen.findByRole('table', { name: /choices compared/ });
    const rows = within(table).getAllByRole('row');
    const barrier = rows.find((row) => row.textContent?.includes('Leak barrier'))!;
    expect(barrier.textContent).toContain('differs');
    expect(table.textContent).toContain(money(of('A').total));
    const before = rows.length;
    await userEvent.click(screen.getByRole('checkbox', { name: 'Only what differs' }));
    expect(within(table).getAllByRole('row').length).toBeLessThan(before);
  });

  it('says what could move the margin, and where the work can hurt', async () => {
    await shown();
    expect(await screen.findByText('Shingles 5 % dearer')).toBeTruthy();
    const cautions = screen.getByRole('region', { name: 'Cautions' });
    expect(cautions.textContent).toContain(reckoned.cautions[0]!.words);
  });

  it('says what the record advises, with its chances as a table too', async () => {
    const opened = await shown();
    const advice = await screen.findByRole('region', { name: 'What the record advises' });
    expect(advice.textContent).toContain('8 jobs');
    await userEvent.click(within(advice).getByRole('button', { name: /As a table/ }));
    expect(within(advice).getAllByRole('row').length).toBeGreaterThan(2);
    await userEvent.click(within(advice).getByRole('button', { name: /^Include/ }));
    await waitFor(() =>
      expect(asked(opened).choices[1]?.recipe.included_sheets).toBe(
        String(reckoned.advice.covers_eight_in_ten),
      ),
    );
  });

  it('has nothing that the checker of accessibility finds', async () => {
    await shown();
    await screen.findByRole('table', { name: 'Parts' });
    await userEvent.click(screen.getByRole('button', { name: 'Open all workings' }));
    for (const closed of document.querySelectorAll('details')) closed.open = true;
    const { violations } = await axe.run(document.body, {
      rules: { 'color-contrast': { enabled: false }, 'page-has-heading-one': { enabled: true } },
    });
    expect(violations.map((each) => `${each.id}: ${each.nodes.map((node) => node.html).join(' ')}`)).toEqual(
      [],
    );
  });
});

describe('changing it', () => {
  it('asks the program for every figure anew, once typing rests', async () => {
    const opened = await shown();
    await screen.findByRole('table', { name: 'Parts' });
    const field = screen.getByLabelText('Margin left after overhead');
    await userEvent.clear(field);
    await userEvent.type(field, '22.5{Enter}');
    await waitFor(() => expect(asked(opened).choices[1]?.price).toEqual({ by: 'margin', value: '0.225' }));
    expect(asked(opened).choices[0]?.price).toEqual(estimate.choices[0]?.price);
  });

  it('takes another part, leaves an item out, and adds an extra', async () => {
    const opened = await shown();
    await screen.findByRole('table', { name: 'Parts' });
    await userEvent.selectOptions(screen.getByLabelText('Part for starter'), 'None chosen');
    await waitFor(() =>
      expect(asked(opened).choices[1]?.parts.some((part) => part.item === 'starter')).toBe(false),
    );
    await userEvent.click(screen.getByLabelText('Leave out starter'));
    await waitFor(() => expect(asked(opened).choices[1]?.left_out).toEqual(['starter']));
    await userEvent.click(screen.getByRole('button', { name: 'Add an extra' }));
    await userEvent.type(screen.getByLabelText('What for'), 'Chimney cap');
    await userEvent.selectOptions(screen.getByLabelText('Kind of cost'), 'Labour');
    await userEvent.type(screen.getByLabelText('Hours'), '2.5{Enter}');
    await waitFor(() =>
      expect(asked(opened).choices[1]?.extras[0]).toMatchObject({
        words: 'Chimney cap',
        cost_kind: 'labour',
        hours: '2.5',
      }),
    );
  });

  it('adds choice C as a copy and looks at it', async () => {
    const opened = await shown();
    await screen.findByRole('table', { name: 'Parts' });
    await userEvent.click(screen.getByRole('button', { name: 'Add choice C, as a copy of B' }));
    await waitFor(() =>
      expect(asked(opened).choices.map((choice) => choice.letter)).toEqual(['A', 'B', 'C']),
    );
    expect((screen.getByLabelText('Title of choice C') as HTMLInputElement).value).toContain('changed');
  });

  it('changes the terms: shares, unit prices, what is not covered', async () => {
    const opened = await shown();
    await screen.findByRole('table', { name: 'Parts' });
    const share = screen.getAllByLabelText(/^Share, /)[0]!;
    await userEvent.clear(share);
    await userEvent.type(share, '30{Enter}');
    await waitFor(() => expect(asked(opened).terms.payments[0]?.share).toBe('0.3'));
    const lines = screen.getByLabelText(/^Not covered/);
    await userEvent.clear(lines);
    await userEvent.type(lines, 'Painting{Enter}{Enter}Gutters');
    await userEvent.tab();
    await waitFor(() => expect(asked(opened).terms.exclusions).toEqual(['Painting', 'Gutters']));
  });

  it('says in words why a file was not taken, by line and column', async () => {
    const words = 'It is missing. Type it.';
    const opened = await shown({
      read_roof_csv: ({ text }) =>
        (text as string).includes('back')
          ? { sections: estimate.roof.sections.slice(0, 1), problems: [] }
          : { sections: [], problems: [{ field: 'line 2, slope', section: 'front', edge: null, words }] },
    });
    await userEvent.click(screen.getByRole('button', { name: 'Read a CSV' }));
    const field = screen.getByLabelText('Roof measures, CSV');
    await userEvent.upload(field, new File(['section\nfront'], 'roof.csv', { type: 'text/csv' }));
    expect(await screen.findByText('line 2, slope')).toBeTruthy();
    expect(asked(opened).roof.sections.length).toBe(estimate.roof.sections.length);
    await userEvent.upload(field, new File(['section\nback'], 'roof.csv', { type: 'text/csv' }));
    expect(await screen.findByText('One section read from roof.csv.')).toBeTruthy();
    await waitFor(() => expect(asked(opened).roof.sections.length).toBe(1));
  });
});

describe('what stands in the way', () => {
  const missing = { field: 'parts.starter', section: null, edge: null, words: 'No part is chosen for this.' };
  const blocked = () => ({
    ...structuredClone(reckoned),
    choices: structuredClone(reckoned.choices).map((choice) => ({ ...choice, problems: [missing] })),
  });

  it('is listed with a link to its field, and accepting is refused in words', async () => {
    const opened = await shown({ reckon_estimate: blocked });
    const links = await screen.findAllByRole('link', { name: 'To starter' });
    await userEvent.click(links[0]!);
    await waitFor(() => expect(document.activeElement).toBe(screen.getByLabelText('Part for starter')));
    await userEvent.click(screen.getByRole('button', { name: 'Accept choice B' }));
    expect(await screen.findByText(/can’t be accepted while this stands in its way/)).toBeTruthy();
    expect(opened.taken('accept_estimate')).toEqual([]);
  });

  it('leaves the last good figures in sight while the roof can’t be measured', async () => {
    const words = 'Section "front", edge 1: The edge has no length.';
    let broken = false;
    await shown({
      reckon_estimate: () =>
        broken
          ? {
              ...structuredClone(reckoned),
              measured: null,
              choices: [],
              compared: [],
              problems: [{ field: 'roof', section: 'front', edge: 0, words }],
            }
          : structuredClone(reckoned),
    });
    await screen.findByRole('table', { name: 'Parts' });
    broken = true;
    await userEvent.selectOptions(screen.getByLabelText('Deck'), 'Boards laid tight');
    await screen.findAllByText(words);
    const line = screen.getByRole('group', { name: 'Estimate line' });
    expect(line.textContent).toContain(money(of('B').price));
    expect(line.textContent).toContain('figures as they were');
  });
});

describe('accepting', () => {
  it('records the choice, lets the draft go, and leads to the promise', async () => {
    const opened = await shown({ accept_estimate: () => ({ roof: 'r', promise: 'p' }) });
    await screen.findByRole('table', { name: 'Parts' });
    await userEvent.selectOptions(screen.getByLabelText('Choice taken'), 'A: To the code');
    await userEvent.type(screen.getByLabelText(/^Signed by/), 'Hester Vane');
    await userEvent.click(screen.getByRole('button', { name: 'Accept choice A' }));
    await waitFor(() => expect(location.hash).toBe('#/job/26-900/promise'));
    expect(opened.taken('accept_estimate')[0]).toMatchObject({
      job: '26-900',
      acceptance: { letter: 'A', date: '2026-11-25', note: 'Signed by Hester Vane.', proposal: null },
    });
  });

  it('says what the program refuses, and that nothing was recorded', async () => {
    await shown({
      accept_estimate: () => {
        throw {
          code: 'refused',
          field: 'job',
          message: 'this job already has its promise',
          remedy: 'Look at it.',
        };
      },
    });
    await screen.findByRole('table', { name: 'Parts' });
    await userEvent.click(screen.getByRole('button', { name: 'Accept choice B' }));
    expect(await screen.findByText(/already has its promise.*Nothing was recorded/)).toBeTruthy();
  });

  it('is not offered once there is a promise', async () => {
    const promise = { ...fixture.page, promise: {} };
    openDoor({ job_page: () => promise });
    const target = document.body.appendChild(document.createElement('main'));
    render(EstimatePage, { target, props: { number: '26-900', today: '2026-11-25' } });
    expect(await screen.findByText(/This job has its promise/)).toBeTruthy();
    expect(screen.queryByRole('button', { name: /^Accept/ })).toBeNull();
  });
});

describe('the estimate at work', () => {
  const settled = () => new Promise((done) => setTimeout(done, SAVE_MS + 150));

  it('drops an answer to an older question', async () => {
    const waiting: ((answer: Reckoned) => void)[] = [];
    const opened = door({
      reckon_estimate: () => new Promise<Reckoned>((answer) => waiting.push(answer)),
    });
    const work = new Work('26-900');
    const ready = work.open();
    await waitFor(() => expect(waiting.length).toBe(1));
    waiting[0]!(structuredClone(reckoned));
    await ready;
    work.change({ north_deg: 10 });
    await waitFor(() => expect(waiting.length).toBe(2));
    work.change({ north_deg: 20 });
    await waitFor(() => expect(waiting.length).toBe(3));
    const first = { ...structuredClone(reckoned), cancel_by: '2001-01-01' };
    const second = { ...structuredClone(reckoned), cancel_by: '2002-02-02' };
    waiting[2]!(second);
    await waitFor(() => expect(work.reckoned?.cancel_by).toBe('2002-02-02'));
    waiting[1]!(first);
    await settled();
    expect(work.reckoned?.cancel_by).toBe('2002-02-02');
    expect(work.waiting).toBe(false);
    expect(opened.taken('reckon_estimate').length).toBe(3);
  });

  it('keeps the draft a moment after the last change, finds it again, and saves at once when left', async () => {
    const opened = door();
    const work = new Work('26-900');
    await work.open();
    expect(opened.taken('save_draft')).toEqual([]);
    for (const north_deg of [1, 2, 3]) work.change({ north_deg });
    await settled();
    expect(opened.taken('save_draft').length).toBe(1);
    work.change({ north_deg: 90 });
    work.leave();
    await waitFor(() => expect(opened.taken('save_draft').length).toBe(2));
    const again = new Work('26-900');
    await again.open();
    expect(again.estimate?.north_deg).toBe(90);
    expect(again.resumed).toBeTruthy();
    const other = new Work('26-901');
    await other.open();
    expect(other.estimate?.north_deg).toBe(0);
  });

  it('says so when the draft can’t be kept, and tries again with the next change', async () => {
    let full = true;
    door({
      save_draft: () => {
        if (full) throw { code: 'disk', message: 'The disk is full.', remedy: 'Make room.' };
        return 'd';
      },
    });
    const work = new Work('26-900');
    await work.open();
    work.change({ north_deg: 5 });
    await work.keep();
    expect(work.unsaved).toBe('The disk is full. Make room.');
    full = false;
    await work.keep();
    expect(work.unsaved).toBe('');
  });

  it('waits with the measures until they are those of the roof as it is', async () => {
    door();
    const work = new Work('26-900');
    await work.open();
    work.change({ roof: { ...estimate.roof } });
    expect(work.waiting).toBe(true);
    const measured = await work.measured(work.estimate!.roof);
    expect(work.waiting).toBe(false);
    expect(measured.squares).toBe(reckoned.measured?.squares);
  });
});
