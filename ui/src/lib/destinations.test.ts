import { expect, it } from 'vitest';

import { DESTINATIONS, partsOf, placeOf, placesFor } from './destinations';

it('has six places with a key each', () => {
  const words = DESTINATIONS.map((place) => place.word);
  expect(words).toEqual(['Jobs', 'Books', 'Month end', 'Hand-off', 'Rates', 'Firm']);
  expect(new Set(DESTINATIONS.map((place) => place.key)).size).toBe(6);
});

it('finds the place in an address, whatever follows it', () => {
  expect(placeOf('#/month-end').id).toBe('month-end');
  expect(placeOf('#/jobs/0198/costs').id).toBe('jobs');
  expect(placeOf('').id).toBe('jobs');
  expect(placeOf('#/nowhere').id).toBe('jobs');
});

it('takes an address apart, and leaves a stray sign as it is', () => {
  expect(partsOf('#/job/26-013%2FB/billing')).toEqual(['job', '26-013/B', 'billing']);
  expect(partsOf('#/jobs/100%')).toEqual(['jobs', '100%']);
  expect(partsOf('')).toEqual(['']);
});

it('leads the books past the jobs, and falls back on their first place', () => {
  const places = placesFor('books');
  expect(places.map((place) => place.id)).toEqual(['books', 'month-end', 'hand-off', 'rates', 'firm']);
  expect(placeOf('#/jobs', places).id).toBe('books');
  expect(placesFor('owner')).toHaveLength(6);
});
