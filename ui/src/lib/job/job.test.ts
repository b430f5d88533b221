import { configure, render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { tick } from 'svelte';
import { describe, expect, it } from 'vitest';

import { toasts } from '../kit';

import { FIGURES } from '../bindings/Figures';
import type { JobBar } from '../bindings/JobBar';
import { handOn } from '../jobs/opening';
import { faults, hearKeys, main } from '../../../tests/page';
import { program, type Program } from '../../../tests/program';
import toBill from '../../../tests/fixtures/to-bill.json';
import page from '../../../tests/fixtures/job-page.json';
import year from '../../../tests/fixtures/year.json';
import { Toasts } from '../kit';
import JobPage from './JobPage.svelte';

// Whether each element is drawn takes most of the time on a page this long, and nothing here is hidden.
configure({ defaultHidden: true });
hearKeys();

async function shown(answers: Parameters<typeof program>[0] = {}): Promise<Program> {
  const door = program(answers);
  render(JobPage, { target: main(), props: { number: '26-021', month: '2026-10', today: '2026-10-31' } });
  await screen.findByRole('heading', { level: 1, name: /orchard/ });
  await whole();
  return door;
}

/** Every part of the page is drawn. */
function whole() {
  return waitFor(() => expect(document.querySelector('.job')?.getAttribute('aria-busy')).toBe('false'));
}

/** Opens a form by its key, and answers what is in it. */
async function form(key: string, name: string) {
  await userEvent.keyboard(key);
  return within(await screen.findByRole('form', { name }));
}

const recordKey = '{Control>}{Enter}{/Control}';

function facts(door: Program, at = 0): Record<string, unknown>[] {
  return (door.taken('record')[at]?.facts ?? []) as Record<string, unknown>[];
}

/** A condition's fact, opened where it stands. */
async function opened(entry: string) {
  await userEvent.click(screen.getByRole('button', { name: new RegExp(`^Fact ${entry}: `) }));
  return within(screen.getByRole('group', { name: `condition ${entry}` }));
}

describe('a job opened from the list', () => {
  const bar = year.jobs.find((each) => each.number === '26-021') as JobBar;
  const opened = { number: '26-021', month: '2026-10', today: '2026-10-31' };

  it('has its line before the rest of it is read, and the same line after', async () => {
    let answer: (page: unknown) => void = () => undefined;
    program({ job_page: () => new Promise((resolve) => (answer = resolve)) });
    handOn(bar, '2026-10');
    const { container } = render(JobPage, { target: main(), props: opened });
    const line = () => screen.getByRole('group', { name: 'Job line' }).textContent;
    const before = line();
    expect(before).toContain('28,060.00');
    expect(before).toContain('7,144.64');
    expect(container.querySelector('.job')?.getAttribute('aria-busy')).toBe('true');
    expect(screen.queryByRole('heading', { level: 2 })).toBeNull();
    answer(page);
    await whole();
    expect(line()).toBe(before);
    expect(screen.getAllByRole('heading', { level: 2 })).toHaveLength(5);
  });

  it('has all its parts in place before it goes to one', async () => {
    program();
    render(JobPage, { target: main(), props: { ...opened, section: 'billing' } });
    await waitFor(() => expect(document.activeElement?.id).toBe('part-billing'));
    expect(screen.getAllByRole('heading', { level: 2 })).toHaveLength(5);
  });

  it('shows nothing of another job, of another month, or of what was handed on before', () => {
    program({ job_page: () => new Promise(() => undefined) });
    const isThere = (props: typeof opened) => {
      const { unmount } = render(JobPage, { target: main(), props });
      const found = screen.queryByRole('group', { name: 'Job line' }) !== null;
      unmount();
      return found;
    };
    for (const other of [{ number: '26-020' }, { month: '2026-09' }]) {
      handOn(bar, '2026-10');
      expect(isThere({ ...opened, ...other })).toBe(false);
      expect(isThere(opened), 'what was handed on is gone').toBe(false);
    }
    handOn(bar, '2026-10');
    expect(isThere(opened)).toBe(true);
    expect(isThere(opened)).toBe(false);
  });
});

describe('a job on one page', () => {
  it('has its line pinned on top, and its five parts', async () => {
    await shown();
    const line = within(screen.getByRole('group', { name: 'Job line' }));
    expect(line.getByRole('button', { name: 'sold: 28,060.00. Open' })).toBeTruthy();
    expect(line.getByRole('button', { name: 'margin: 7,144.64. Open' })).toBeTruthy();
    const parts = screen.getAllByRole('heading', { level: 2 }).map((each) => each.textContent?.trim());
    expect(parts).toEqual(['Contract 1', 'Changes 2', 'Costs 3', 'Billing 4', 'Result 5']);
  });

  it('goes to its parts by 1 to 5', async () => {
    await shown();
    for (const [key, word] of ['Contract', 'Changes', 'Costs', 'Billing', 'Result'].entries()) {
      await userEvent.keyboard(String(key + 1));
      expect(document.activeElement?.textContent).toContain(word);
    }
  });

  it('opens a figure: rule, working and facts, under its own word', async () => {
    const door = await shown();
    await userEvent.click(screen.getByRole('button', { name: /^spent on deck: / }));
    const dialog = within(await screen.findByRole('dialog', { name: 'Cost, deck' }));
    await dialog.findByText('Rule');
    expect(door.taken('explain')).toEqual([{ of: '26-021', month: '2026-10', figure: 'cost/deck' }]);
    expect(dialog.getByText(/Source: /)).toBeTruthy();
    expect(dialog.getAllByRole('button', { name: /^Fact A-/ }).length).toBeGreaterThan(3);
  });

  it('opens a step of the walk', async () => {
    const door = await shown();
    await userEvent.click(screen.getByRole('button', { name: /^Hours of work : minus 3,749.93/ }));
    await waitFor(() => expect(door.taken('explain')[0]?.figure).toBe('labor-hours'));
  });

  it('opens every figure under a word that the program knows', async () => {
    const door = await shown();
    const figures = screen.getAllByRole('button', { name: /\. Open$/ });
    expect(figures.length).toBeGreaterThan(40);
    for (const figure of figures) {
      figure.click();
      await tick();
    }
    const known = Object.keys(FIGURES);
    // Two neighbors that open the same word are one opening.
    expect(door.taken('explain').length).toBeGreaterThan(35);
    for (const { figure } of door.taken('explain')) expect(known).toContain(String(figure).split('/')[0]);
  });

  it('reverses a fact where it stands, with a reason', async () => {
    const door = await shown();
    const condition = await opened(page.conditions[1]!.source.entry);
    await userEvent.click(condition.getByRole('button', { name: 'Reverse it' }));
    await userEvent.click(condition.getByRole('button', { name: 'Reverse the condition' }));
    expect(condition.getByText(/A reversal needs its reason/)).toBeTruthy();
    await userEvent.type(condition.getByLabelText('Why is it reversed?'), 'Counted twice{Enter}');
    await waitFor(() => expect(door.taken('reverse')).toHaveLength(1));
    expect(door.taken('reverse')[0]).toEqual({ id: page.conditions[1]?.source.id, reason: 'Counted twice' });
    await waitFor(() => expect(door.taken('job_page')).toHaveLength(2));
  });

  it('says why a reversal is refused', async () => {
    await shown({
      reverse: () => {
        throw {
          code: 'refused',
          field: 'reverses',
          message: 'reverses: 1 other fact(s) rest on it.',
          remedy: 'Reverse those first.',
        };
      },
    });
    const condition = await opened(page.conditions[1]!.source.entry);
    await userEvent.click(condition.getByRole('button', { name: 'Reverse it' }));
    await userEvent.type(condition.getByLabelText('Why is it reversed?'), 'Wrong{Enter}');
    await condition.findByText(/rest on it. Reverse those first./);
  });

  it('draws up a change order for a condition that nobody asked for, and offers to take it back', async () => {
    const door = await shown({
      // A new answer each time, as the program gives it.
      job_page: () => ({
        ...page,
        changes: [],
        conditions: page.conditions.map((each) => ({ ...each, to_ask: each.number === '2' })),
      }),
      ask_and_record: () => ({ id: 'c-1', number: '1', title: 'Deck', lines: [], price: '588.00' }),
    });
    render(Toasts);
    await userEvent.click(screen.getByRole('button', { name: 'Ask for condition 2' }));
    await screen.findByText(/Change order 1 drawn up at 588.00/);
    expect(door.taken('ask_and_record')).toEqual([{ condition: page.conditions[1]?.source.id }]);
    await userEvent.click(screen.getByRole('button', { name: 'Undo' }));
    await waitFor(() => expect(door.taken('reverse')[0]?.id).toBe('c-1'));
  });

  it('opens what a change order by time and material comes to', async () => {
    const change = {
      ...page.changes[0],
      pricing: 'time-and-material',
      state: 'approved',
      approved: '480.00',
      owed: '360.00',
      decided_by: 'Ada Birch',
    };
    const door = await shown({
      job_page: () => ({ ...page, changes: [change] }),
      settle_change: () => ({
        change: change.id,
        number: '1',
        pricing: 'time-and-material',
        state: 'approved',
        approved: '480.00',
        cost: '300.00',
        markup: '0.2',
        not_to_exceed: '600.00',
        marked_up: '360.00',
        price: '360.00',
        capped: false,
        unrecovered: '0.00',
        billed: '400.00',
        to_bill: '-40.00',
        description: 'Change order 1: Deck (time and material)',
        words: ['Spent so far 300.00; with the markup 360.00.'],
      }),
    });
    await userEvent.click(screen.getByRole('button', { name: 'What 1 comes to' }));
    const dialog = within(await screen.findByRole('dialog', { name: 'What change order 1 comes to' }));
    expect(door.taken('settle_change')).toEqual([{ change: change.id }]);
    expect(dialog.getByText('Spent so far 300.00; with the markup 360.00.')).toBeTruthy();
    expect(dialog.getByText('To be credited').parentElement?.textContent).toContain('40.00');
    await userEvent.click(dialog.getByRole('button', { name: 'Go back' }));
    await waitFor(() => expect(screen.queryByText('To be credited')).toBeNull());
  });

  it('says that there is no such job, and the way back', async () => {
    program({
      job_page: () => {
        throw { code: 'not-found', field: null, message: 'There is no job 9.', remedy: 'Check the number.' };
      },
    });
    render(JobPage, { number: '9', month: '2026-10', today: '2026-10-31' });
    expect((await screen.findByRole('alert')).textContent).toContain('There is no job 9. Check the number.');
    expect(screen.getByRole('link', { name: 'Back to the jobs' })).toBeTruthy();
  });

  it('has names and roles in order, with a form open', async () => {
    await shown();
    await form('r', 'Bill');
    expect(await faults()).toEqual([]);
  });
});

it('Q orders what the contract names and is not ordered yet, and the orders can be taken back', async () => {
  const order = {
    id: 'o-1',
    number: '7',
    vendor: 'The Yard',
    needed_by: '2026-11-05',
    amount: '10.00',
    cautions: ['Check PO 6.'],
  };
  const { count, last } = await shown({ place_orders: [order] });
  await userEvent.keyboard('q');
  await waitFor(() =>
    expect(toasts.last?.text).toMatch(/^Ordered, needed by .*: 7 from The Yard\. Check PO 6\.$/),
  );
  expect(last('place_orders')).toEqual({ job: '26-021' });
  await toasts.undo();
  expect([count('place_orders'), last('reverse').id]).toEqual([1, 'o-1']);
});

describe('a bill', () => {
  it('is typed with the keys alone, over two jobs, and can be taken back', async () => {
    const door = await shown({ line_amounts: ['345.00'] });
    render(Toasts);
    const inside = await form('r', 'Bill');
    expect(document.activeElement).toBe(inside.getByLabelText('Date on it'));
    await userEvent.keyboard('10/30{Tab}Three Forks Roofing Wholesale{Tab}TF-9001');
    const first = within(inside.getByRole('group', { name: 'Line 1' }));
    await userEvent.selectOptions(first.getByLabelText('Code'), 'shingle');
    await userEvent.type(first.getByLabelText(/^How many/), '10');
    await userEvent.type(first.getByLabelText(/^Price of one/), '34.50{Tab}');
    await waitFor(() =>
      expect(first.getByLabelText<HTMLInputElement>('Amount before tax').value).toBe('345.00'),
    );
    expect(door.taken('line_amounts').at(-1)).toEqual({ lines: [{ quantity: '10', unit_price: '34.50' }] });
    await userEvent.keyboard('{Alt>}l{/Alt}');
    const second = within(await inside.findByRole('group', { name: 'Line 2' }));
    await userEvent.clear(second.getByLabelText('Job'));
    await userEvent.type(second.getByLabelText('Job'), '26-022');
    await userEvent.selectOptions(second.getByLabelText('Code'), 'sundry');
    await userEvent.type(second.getByLabelText('Amount before tax'), '12.5');
    await userEvent.keyboard(recordKey);
    await waitFor(() => expect(door.taken('record')).toHaveLength(1));
    const [bill] = facts(door);
    expect(bill).toMatchObject({
      kind: 'bill',
      date: '2026-10-30',
      reference: 'TF-9001',
      lines: [
        { job: '26-021', code: 'shingle', quantity: '10', unit: 'bundle', amount: '345.00' },
        { job: '26-022', code: 'sundry', amount: '12.50' },
      ],
    });
    expect(bill).not.toHaveProperty('credit');
    // The page is read again, the form is gone, and the way back is offered.
    await waitFor(() => expect(screen.queryByRole('form')).toBeNull());
    expect(door.taken('job_page')).toHaveLength(2);
    await screen.findByText('Bill TF-9001 recorded.');
    await userEvent.keyboard('{Control>}z{/Control}');
    await waitFor(() => expect(door.taken('reverse')).toHaveLength(1));
    expect(door.taken('reverse')[0]?.id).toBe(bill?.id);
  });

  it('says at the field what is missing, and goes there', async () => {
    const door = await shown();
    const inside = await form('r', 'Bill');
    await userEvent.keyboard(recordKey);
    await inside.findByText('From whom is missing.');
    expect(inside.getByText('Number on it is missing.')).toBeTruthy();
    expect(document.activeElement).toBe(inside.getByLabelText('From whom'));
    expect(door.taken('record')).toHaveLength(0);
  });

  it('shows a refusal at the field that it names, and keeps what was typed', async () => {
    await shown({
      record: () => {
        throw {
          code: 'refused',
          field: 'lines[0].job',
          message: 'there is no job “26-999”.',
          remedy: 'Record it first, or check the spelling.',
        };
      },
    });
    const inside = await form('r', 'Bill');
    await userEvent.type(inside.getByLabelText('From whom'), 'Ridge Rental');
    await userEvent.type(inside.getByLabelText('Number on it'), '7');
    const line = within(inside.getByRole('group', { name: 'Line 1' }));
    await userEvent.selectOptions(line.getByLabelText('Code'), 'sundry');
    await userEvent.type(line.getByLabelText('Amount before tax'), '5');
    await userEvent.keyboard(recordKey);
    const job = line.getByLabelText('Job');
    await waitFor(() => expect(job.getAttribute('aria-invalid')).toBe('true'));
    expect(line.getByText(/There is no job “26-999”. Record it first/)).toBeTruthy();
    expect(document.activeElement).toBe(job);
    expect(inside.getByLabelText<HTMLInputElement>('Number on it').value).toBe('7');
  });

  it('shows a refusal that names no field at the foot', async () => {
    await shown({
      record: () => {
        throw { code: 'io', field: null, message: 'The disk is full.', remedy: 'Make room and try again.' };
      },
    });
    const inside = await form('c', 'Direct cost without a bill');
    await userEvent.selectOptions(inside.getByLabelText('Code'), 'sundry');
    await userEvent.type(inside.getByLabelText('What for'), 'Fee');
    await userEvent.type(inside.getByLabelText('Amount'), '5');
    await userEvent.keyboard(recordKey);
    await waitFor(() =>
      expect(inside.getByRole('alert').textContent).toContain('The disk is full. Make room and try again.'),
    );
  });

  it('adds a vendor that is new', async () => {
    const door = await shown();
    const inside = await form('o', 'Purchase order');
    expect(inside.getByLabelText<HTMLInputElement>('Number').value).toBe(toBill.next.order);
    await userEvent.clear(inside.getByLabelText('Number'));
    await userEvent.type(inside.getByLabelText('Number'), 'PO 500');
    await userEvent.type(inside.getByLabelText('From whom'), 'Weir Lumber');
    expect(inside.getByText(/A new vendor/)).toBeTruthy();
    const line = within(inside.getByRole('group', { name: 'Line 1' }));
    await userEvent.selectOptions(line.getByLabelText('Code'), 'deck');
    await userEvent.type(line.getByLabelText('Amount before tax'), '80');
    await userEvent.keyboard(recordKey);
    await waitFor(() => expect(door.taken('record')).toHaveLength(1));
    const [vendor, order] = facts(door);
    expect(vendor).toMatchObject({ kind: 'vendor', name: 'Weir Lumber' });
    expect(order).toMatchObject({ kind: 'purchase-order', vendor: vendor?.id, job: '26-021' });
  });
});

describe('a draft', () => {
  it('is saved as one types, found again after the form was closed, and gone when recorded', async () => {
    const door = await shown();
    let inside = await form('f', 'My own forecast');
    await userEvent.selectOptions(inside.getByLabelText('Code'), 'ridge');
    await userEvent.type(inside.getByLabelText('Cost at the end'), '900{Tab}');
    await userEvent.keyboard('{Escape}');
    expect(screen.queryByRole('form')).toBeNull();
    await waitFor(() => expect(door.taken('save_draft').length).toBeGreaterThan(0));
    expect(door.taken('save_draft').at(-1)).toMatchObject({ kind: 'forecast', job: '26-021' });
    await screen.findByRole('button', { name: 'Forecast, draft kept' });
    inside = await form('f', 'My own forecast');
    await inside.findByText(/is open again/);
    expect(inside.getByLabelText<HTMLSelectElement>('Code').value).toBe('ridge');
    expect(inside.getByLabelText<HTMLInputElement>('Cost at the end').value).toBe('900.00');
    await userEvent.keyboard(recordKey);
    await waitFor(() => expect(door.taken('delete_draft')).toHaveLength(1));
    expect(facts(door)[0]).toMatchObject({ kind: 'forecast', code: 'ridge', amount: '900.00' });
  });

  it('can be left for a fresh start', async () => {
    const door = await shown();
    let inside = await form('f', 'My own forecast');
    await userEvent.type(inside.getByLabelText('Cost at the end'), '900{Tab}');
    await userEvent.keyboard('{Escape}');
    await waitFor(() => expect(door.taken('save_draft').length).toBeGreaterThan(0));
    inside = await form('f', 'My own forecast');
    await userEvent.click(await inside.findByRole('button', { name: 'Start over' }));
    expect(inside.getByLabelText<HTMLInputElement>('Cost at the end').value).toBe('');
    expect(door.taken('delete_draft')).toHaveLength(1);
  });
});
