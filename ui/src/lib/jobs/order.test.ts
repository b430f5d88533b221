import { describe, expect, it } from 'vitest';

import type { JobBar } from '../bindings/JobBar';
import year from '../../../tests/fixtures/year.json';
import { found, inOrder, overUnder } from './order';

const jobs = year.jobs as JobBar[];
const numbers = (list: readonly JobBar[]) => list.map((job) => job.number);

describe('the order of the jobs', () => {
  it('puts the worst margin first', () => {
    expect(numbers(inOrder(jobs, 'margin')).slice(0, 3)).toEqual(['26-020', '26-003', '26-016']);
  });

  it('puts what has no crew-day yet last', () => {
    const ordered = inOrder(jobs, 'per-crew-day');
    expect(ordered[0]?.margin_per_crew_day?.startsWith('-')).toBe(true);
    expect(ordered.at(-1)?.margin_per_crew_day).toBeNull();
  });

  it('puts the largest unrecovered cost first, and equals by number', () => {
    expect(numbers(inOrder(jobs, 'unrecovered')).slice(0, 3)).toEqual(['26-008', '26-001', '26-002']);
  });

  it('puts over- and under-billing together by size, and never nets them', () => {
    const ordered = inOrder(jobs, 'over-under');
    expect(numbers(ordered).slice(0, 3)).toEqual(['26-023', '26-022', '26-024']);
    expect(overUnder(ordered[0] as JobBar)).toBe(767422n);
    expect(overUnder(ordered[1] as JobBar)).toBe(-511344n);
  });

  it('compares whole cents beyond what a number can hold', () => {
    const [first, second] = jobs as [JobBar, JobBar];
    const far = { ...first, margin: '90071992547409.93' };
    const near = { ...second, margin: '90071992547409.92' };
    expect(numbers(inOrder([far, near], 'margin'))).toEqual([near.number, far.number]);
  });

  it('leaves the list that it was given alone', () => {
    inOrder(jobs, 'margin');
    expect(jobs[0]?.number).toBe('26-001');
  });
});

describe('a search', () => {
  it('takes every word, wherever it stands', () => {
    expect(numbers(found(jobs, 'orchard corrigan'))).toEqual(['26-021']);
    expect(numbers(found(jobs, 'begun 26-02')).length).toBe(4);
    expect(found(jobs, '  ')).toBe(jobs);
  });
});
