import { expect, it } from 'vitest';

import { readQuantity } from './quantity';

const read = (typed: string, unit: string | undefined, places = 4, locale = 'en-US') => {
  const reading = readQuantity(typed, { unit, locale, places });
  return reading.ok ? reading.value : reading.problem;
};

it('takes a quantity with its unit as people write it', () => {
  expect(read('24 sq', 'square')).toBe('24');
  expect(read('24 squares', 'square')).toBe('24');
  expect(read('40 feet', 'ft')).toBe('40');
  expect(read('8 rolls', 'roll')).toBe('8');
  expect(read('3 boxes', 'box')).toBe('3');
  expect(read('1,200 sf', 'sq ft')).toBe('1200');
  expect(read('7.5 hrs', 'h')).toBe('7.5');
});

it('turns squares into square feet where those are asked for, and back', () => {
  expect(read('24 sq', 'sq ft')).toBe('2400');
  expect(read('2400 sq ft', 'square')).toBe('24');
  expect(read('3 ft', 'in')).toBe('36');
});

it('takes fractions', () => {
  expect(read('33 1/3', 'sq ft')).toBe('33.3333');
  expect(read('33 1/3 sq ft', 'sq ft')).toBe('33.3333');
  expect(read('2/3', undefined)).toBe('0.6667');
  expect(read('5 1/2', 'in', 2)).toBe('5.5');
  expect(read('33 1/3', undefined, 0)).toMatch(/is not a number/);
  expect(read('1/0', undefined)).toMatch(/is not a number/);
});

it('takes no unit for another that it is not', () => {
  expect(read('24 sq', 'h')).toMatch(/is not a number/);
  expect(read('3 dozen', 'piece')).toMatch(/is not a number/);
});

it('reads what has no unit as before', () => {
  expect(read('1,234.5', 'ft')).toBe('1234.5');
  expect(read('-3', 'h')).toBe('-3');
  expect(read('1.234,5', 'ft', 4, 'de-DE')).toBe('1234.5');
});
