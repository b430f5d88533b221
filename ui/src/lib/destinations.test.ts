import { expect, it } from 'vitest';

import { DESTINATIONS, placeOf } from './destinations';

it('has five places with a key each', () => {
  expect(DESTINATIONS.map((place) => place.word)).toEqual(['Jobs', 'Month end', 'Hand-off', 'Rates', 'Firm']);
  expect(new Set(DESTINATIONS.map((place) => place.key)).size).toBe(5);
});

it('finds the place in an address, whatever follows it', () => {
  expect(placeOf('#/month-end').id).toBe('month-end');
  expect(placeOf('#/jobs/0198/spend').id).toBe('jobs');
  expect(placeOf('').id).toBe('jobs');
  expect(placeOf('#/nowhere').id).toBe('jobs');
});
