import { configure, render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { beforeEach, describe, expect, it } from 'vitest';

import { faults, hearKeys, main } from '../../../tests/page';
import { program } from '../../../tests/program';
import year from '../../../tests/fixtures/year.json';
import JobsPage, { forgetList } from './JobsPage.svelte';

// Whether each element is drawn takes most of the time on a page this long, and nothing here is hidden.
configure({ defaultHidden: true });
hearKeys();

beforeEach(() => {
  forgetList();
});

async function shown(answers = {}) {
  const door = program(answers);
  render(JobsPage, { target: main(), props: { today: '2026-10-31' } });
  await screen.findByRole('listbox');
  return door;
}

function active(): string {
  const list = screen.getByRole('listbox');
  return document.getElementById(list.getAttribute('aria-activedescendant') ?? '')?.textContent ?? '';
}

describe('the year', () => {
  it('says how many jobs there are and how many lose, and draws them', async () => {
    await shown();
    expect(screen.getByRole('heading', { level: 1 }).textContent?.trim()).toBe('Jobs 2026');
    expect(screen.getByText(/^24 jobs, 2 at a loss/)).toBeTruthy();
    expect(screen.getByRole('img', { name: /The year/ })).toBeTruthy();
  });

  it('is walked with the keys, and Enter opens the job', async () => {
    await shown();
    await userEvent.keyboard('l{ArrowDown}{ArrowDown}');
    expect(active()).toContain('26-003');
    await userEvent.keyboard('{Enter}');
    expect(location.hash).toBe('#/job/26-003');
  });

  it('walks the bars along with the list', async () => {
    await shown();
    await userEvent.keyboard('l{ArrowDown}');
    expect(screen.getByRole('button', { name: /^26-002 .* Job 2 of 24/ })).toBeTruthy();
  });

  it('sorts by the next figure on S, worst first', async () => {
    await shown();
    await userEvent.keyboard('sl');
    expect(active()).toContain('26-020');
    expect(screen.getByLabelText<HTMLSelectElement>('Sort by').value).toBe('margin');
  });

  it('searches on /, and opens what is found', async () => {
    await shown();
    await userEvent.keyboard('/orchard');
    expect(screen.getByText(/^1 of 24 jobs/)).toBeTruthy();
    await userEvent.keyboard('{Enter}');
    expect(location.hash).toBe('#/job/26-021');
    await userEvent.keyboard('{Escape}');
    expect(screen.getByText(/^24 jobs, 2 at a loss/)).toBeTruthy();
  });

  it('is found again as it was left, when one comes back from a job', async () => {
    program();
    const first = render(JobsPage, { target: main(), props: { today: '2026-10-31' } });
    await screen.findByRole('listbox');
    await userEvent.keyboard('s');
    await userEvent.keyboard('sl{ArrowDown}{ArrowDown}');
    const number = /26-\d{3}/.exec(active())?.[0] ?? '';
    first.unmount();
    await shown();
    await waitFor(() => expect(active()).toContain(number));
    expect(screen.getByLabelText<HTMLSelectElement>('Sort by').value).toBe('per-crew-day');
  });

  it('says what to do when a search finds nothing', async () => {
    await shown();
    await userEvent.keyboard('/zzz');
    expect(screen.getByText(/Press Escape to clear the search/)).toBeTruthy();
  });

  it('shows the newest year that has jobs, where this one has none yet', async () => {
    const door = program({
      year: (takes) => (takes.year === 2026 ? year : { ...year, year: takes.year, jobs: [] }),
    });
    render(JobsPage, { target: main(), props: { today: '2027-01-02' } });
    await screen.findByRole('listbox');
    expect(door.taken('year')).toEqual([{ year: 2027 }, { year: 2026 }]);
  });

  it('goes to another year', async () => {
    await shown({ year: () => ({ ...year, years: [2025, 2026] }) });
    expect(screen.getByRole('link', { name: '2025' }).getAttribute('href')).toBe('#/jobs/2025');
    await userEvent.keyboard('[[');
    expect(location.hash).toBe('#/jobs/2025');
  });

  it('says what was refused and what to do', async () => {
    program({
      year: () => {
        throw {
          code: 'not-allowed',
          field: null,
          message: 'Only the owner sees the year.',
          remedy: 'Ask them.',
        };
      },
    });
    render(JobsPage, { today: '2026-10-31' });
    await waitFor(() => expect(screen.getByRole('alert').textContent).toContain('the year. Ask them.'));
  });

  it('draws no more rows of 4,000 jobs than fit', async () => {
    const jobs = Array.from({ length: 4000 }, (_, index) => ({
      ...year.jobs[index % 24],
      number: `J-${index}`,
    }));
    await shown({ year: () => ({ ...year, jobs }) });
    expect(screen.getAllByRole('option').length).toBeLessThan(60);
    await userEvent.keyboard('l{End}');
    expect(active()).toContain('J-3999');
  });

  it('has names and roles in order', async () => {
    await shown();
    expect(await faults()).toEqual([]);
  });
});

describe('a new job', () => {
  it('is offered the next number, and records its customer, itself and its contract together', async () => {
    const door = await shown();
    await userEvent.keyboard('n');
    const form = await screen.findByRole('form', { name: 'New job' });
    const inside = within(form);
    expect(inside.getByLabelText<HTMLInputElement>('Number').value).toBe('26-025');
    await userEvent.type(inside.getByLabelText('What is done'), 'Re-roof');
    await userEvent.type(inside.getByLabelText('Customer'), 'Mabel Thorne');
    expect(inside.getByText(/A new customer/)).toBeTruthy();
    await userEvent.type(inside.getByLabelText('Where'), '9 Weir Street');
    await userEvent.click(inside.getByLabelText('The contract is signed'));
    await userEvent.type(inside.getByLabelText('Price before sales tax'), '12000');
    const cost = within(inside.getByRole('group', { name: 'Cost 1' }));
    await userEvent.selectOptions(cost.getByLabelText('Code'), 'shingle');
    await userEvent.type(cost.getByLabelText('Cost'), '4000');
    await userEvent.keyboard('{Control>}{Enter}{/Control}');
    await waitFor(() => expect(door.taken('record')).toHaveLength(1));
    const facts = door.taken('record')[0]?.facts as Record<string, unknown>[];
    expect(facts.map((fact) => fact.kind)).toEqual(['customer', 'job', 'contract']);
    expect(facts[1]?.customer).toBe(facts[0]?.id);
    expect(facts[2]).toMatchObject({
      job: facts[1]?.id,
      price: '12000.00',
      lines: [{ code: 'shingle', cost_kind: 'material', amount: '4000.00' }],
      unit_prices: [],
      payments: [],
    });
  });
});
