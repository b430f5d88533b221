import { expect, it } from 'vitest';

import { days, numbers } from './writers';

it('makes a writer once for each locale and look', () => {
  const look = { style: 'currency', currency: 'EUR' } as const;
  expect(numbers('pt-PT', { ...look })).toBe(numbers('pt-PT', { ...look }));
  expect(days('pt-PT', { month: 'long' })).toBe(days('pt-PT', { month: 'long' }));
  expect(days(undefined, {})).toBe(days(undefined, {}));
});

it('keeps apart what is written otherwise', () => {
  expect(numbers('en-US', { maximumFractionDigits: 0 }).format(1234.5)).toBe('1,235');
  expect(numbers('en-US', { minimumFractionDigits: 2 }).format(1234.5)).toBe('1,234.50');
  expect(numbers('de-DE', { minimumFractionDigits: 2 }).format(1234.5)).toBe('1.234,50');
});
