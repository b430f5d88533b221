import { render, screen, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { expect, it, describe, vi } from 'vitest';

import { AGES, HOURS, WALK, yearOf } from '../../specimen/year';
import { AgeBars, Staircase, TwoLines, YearBars } from '.';

const look = { title: 'Picture', locale: 'en-US' };

/** The cells of the table that stands for the picture. */
async function asTable(): Promise<string[][]> {
  await userEvent.click(screen.getByRole('button', { name: 'As a table: Picture' }));
  expect(screen.queryByRole('img')).toBeNull();
  const rows = within(screen.getByRole('table')).getAllByRole('row');
  return rows.map((row) => [...row.children].map((cell) => cell.textContent ?? ''));
}

describe('the year as bars', () => {
  const jobs = yearOf(12);

  it('is an image with a title and a description', () => {
    render(YearBars, { ...look, jobs });
    const image = screen.getByRole('img', { name: 'Picture' });
    const described = document.getElementById(image.getAttribute('aria-describedby') ?? '')?.textContent;
    const losses = jobs.filter((job) => job.margin.startsWith('-')).length;
    expect(losses).toBeGreaterThan(0);
    expect(described).toContain('12 jobs');
    expect(described).toContain(`${losses} forecast to lose`);
  });

  it('is walked with arrows and opens the job that it reads out', async () => {
    const onopen = vi.fn();
    render(YearBars, { ...look, jobs, onopen });
    const bars = screen.getByRole('button', { name: /Job 1 of 12/ });
    bars.focus();
    await userEvent.keyboard('{ArrowRight}{ArrowRight}{ArrowLeft}');
    expect(bars.getAttribute('aria-label')).toContain(`${jobs[1]?.name}: sold`);
    await userEvent.keyboard('{Enter}');
    expect(onopen).toHaveBeenLastCalledWith('job-2');
    await userEvent.keyboard('{End}{ArrowRight}{Enter}');
    expect(onopen).toHaveBeenLastCalledWith('job-12');
  });

  it('draws four thousand jobs in as many shapes as four', () => {
    const { container } = render(YearBars, { ...look, jobs: yearOf(4000) });
    expect(container.querySelectorAll('svg *').length).toBeLessThan(40);
  });

  it('has the same figures as a table', async () => {
    render(YearBars, {
      ...look,
      jobs: [{ id: 'a', name: 'Oak Lane 1', sold: '1000.00', cost: '1200.50', margin: '-200.50' }],
    });
    expect(await asTable()).toEqual([
      ['Job', 'Sold', 'Forecast cost', 'Margin'],
      ['Oak Lane 1', '1,000.00', '1,200.50', '\u2212200.50'],
    ]);
  });

  it('says what to do when there is no job', () => {
    render(YearBars, { ...look, jobs: [] });
    expect(screen.getByText(/A job begins with an estimate/)).toBeTruthy();
  });
});

describe('the margin walk', () => {
  it('makes each step a button that opens its facts', async () => {
    const onopen = vi.fn();
    render(Staircase, { ...look, ...WALK, onopen });
    await userEvent.click(screen.getByRole('button', { name: /^Hours ?: minus 1,204.50. Open$/ }));
    expect(onopen.mock.calls).toEqual([['hours']]);
    expect(screen.queryByRole('alert')).toBeNull();
  });

  it('draws each step where the one before ended, to scale', () => {
    const { container } = render(Staircase, {
      ...look,
      sold: '100.00',
      steps: [{ id: 'a', label: 'Hours', amount: '-50.00' }],
      made: '50.00',
    });
    const [sold, step, made] = [...container.querySelectorAll('svg > rect')].map((bar) => ({
      x: Number(bar.getAttribute('x')),
      width: Number(bar.getAttribute('width')),
    }));
    expect(step?.width).toBeCloseTo((sold?.width ?? 0) / 2, 6);
    expect((step?.x ?? 0) + (step?.width ?? 0)).toBeCloseTo((sold?.x ?? 0) + (sold?.width ?? 0), 6);
    expect(made?.width).toBeCloseTo(step?.width ?? 0, 6);
  });

  it('says so when the steps do not lead to the margin made', () => {
    render(Staircase, { ...look, ...WALK, made: '3823.74' });
    expect(screen.getByRole('alert').textContent).toContain('lead to 3,823.75, not to 3,823.74');
  });

  it('has the running margin in its table', async () => {
    render(Staircase, { ...look, ...WALK });
    const table = await asTable();
    expect(table[1]).toEqual(['Margin sold', '6,420.00', '6,420.00']);
    expect(table[4]).toEqual(['Rate of pay', '+64.00', '5,683.45']);
    expect(table.at(-1)).toEqual(['Margin made', '3,823.75', '3,823.75']);
  });
});

describe('hours against plan', () => {
  it('names both lines with where they stand, in the picture and its description', () => {
    render(TwoLines, { ...look, points: HOURS });
    const image = screen.getByRole('img', { name: 'Picture' });
    expect(within(image).getByText('Plan 112 h')).toBeTruthy();
    expect(within(image).getByText('Worked 105.25 h')).toBeTruthy();
    const described = document.getElementById(image.getAttribute('aria-describedby') ?? '')?.textContent;
    expect(described).toBe('Plan 112 h by 05/08/2026; Worked 105.25 h by 05/07/2026.');
  });

  it('leaves out of its table what is not known yet', async () => {
    render(TwoLines, { ...look, points: HOURS });
    expect((await asTable()).at(-1)).toEqual(['05/08/2026', '112 h', '']);
  });

  it('stands with one day, and with none', () => {
    const { container, rerender } = render(TwoLines, { ...look, points: HOURS.slice(1, 2) });
    expect(container.innerHTML).not.toContain('NaN');
    void rerender({ points: [] });
  });
});

describe('what is owed by age', () => {
  it('opens an age that has invoices, and no other', async () => {
    const onopen = vi.fn();
    render(AgeBars, { ...look, ages: AGES, onopen });
    await userEvent.click(
      screen.getByRole('button', { name: /^Over 90 days late ?: 3,980.75, 1 invoice. Open$/ }),
    );
    expect(onopen.mock.calls).toEqual([['90']]);
    expect(screen.queryByRole('button', { name: /31–60/ })).toBeNull();
  });

  it('has the same figures as a table', async () => {
    render(AgeBars, { ...look, ages: AGES });
    expect((await asTable())[2]).toEqual(['1–30 days late', '2', '9,410.50']);
  });
});
