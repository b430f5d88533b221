import { describe, expect, it } from 'vitest';

import { scaleOver, sizeOf } from './scale';
import { stairs } from './walk';

describe('a scale', () => {
  it('runs from zero to a round figure beyond the greatest', () => {
    const x = scaleOver(['18240.00', '9410.50'], 0, 400);
    expect(x.ticks).toEqual([
      { value: '0', at: 0 },
      { value: '5000', at: 100 },
      { value: '10000', at: 200 },
      { value: '15000', at: 300 },
      { value: '20000', at: 400 },
    ]);
    expect(x('10000.00')).toBe(200);
  });

  it('takes in figures below zero', () => {
    const x = scaleOver(['900.00', '-500.00'], 0, 300, 3);
    expect(x.ticks.map((tick) => tick.value)).toEqual(['-500', '0', '500', '1000']);
    expect(x('0')).toBe(100);
  });

  it('can run upwards, and marks parts of one', () => {
    const y = scaleOver(['0.35'], 100, 0);
    expect(y.ticks.map((tick) => tick.value)).toEqual(['0.0', '0.1', '0.2', '0.3', '0.4']);
    expect(y('0')).toBe(100);
    expect(y('0.4')).toBeCloseTo(0, 9);
  });

  it('stands when there is nothing to draw', () => {
    const x = scaleOver(['0.00', '0.00'], 10, 110);
    expect(x('0.00')).toBe(10);
    expect(x.ticks.at(-1)?.at).toBe(110);
    expect(scaleOver([], 0, 100)('0')).toBe(0);
  });

  it('takes some hundred thousand figures', () => {
    const many = Array.from({ length: 200_000 }, (_, index) => `${index}.00`);
    expect(scaleOver(many, 0, 1000)('200000')).toBe(1000);
  });
});

it('makes a size of a figure, and of nothing else', () => {
  expect(sizeOf('-12.50')).toBe(-12.5);
  expect(sizeOf('999999999999999.99')).toBe(999999999999999);
  expect(() => sizeOf('12,50')).toThrow(RangeError);
});

it('walks from the margin sold to the margin made on whole cents', () => {
  const steps = [
    { id: 'a', label: 'Price', amount: '0.10' },
    { id: 'b', label: 'Hours', amount: '-0.30' },
  ];
  expect(stairs('0.20', steps).map(({ from, to }) => [from, to])).toEqual([
    ['0.20', '0.30'],
    ['0.30', '0.00'],
  ]);
});
