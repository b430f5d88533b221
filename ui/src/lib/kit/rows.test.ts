import { describe, expect, it } from 'vitest';

import { rowAfterKey, rowsInView, topToShow, TypeAhead } from './rows';

describe('rows in view', () => {
  it('are those seen and six more at either edge', () => {
    expect(rowsInView(0, 400, 40, 4000)).toEqual({ first: 0, end: 16 });
    expect(rowsInView(4000, 400, 40, 4000)).toEqual({ first: 94, end: 116 });
    expect(rowsInView(4000 * 40 - 400, 400, 40, 4000)).toEqual({ first: 3984, end: 4000 });
  });

  it('stay inside a list that has grown short', () => {
    expect(rowsInView(9000, 400, 40, 3)).toEqual({ first: 2, end: 3 });
    expect(rowsInView(0, 400, 40, 0)).toEqual({ first: 0, end: 0 });
  });
});

it('scrolls no further than a row needs', () => {
  expect(topToShow(0, 400, 200, 40)).toBe(0);
  expect(topToShow(12, 400, 200, 40)).toBe(400);
  expect(topToShow(15, 400, 200, 40)).toBe(440);
});

it('walks by keys and stops at the ends', () => {
  expect(rowAfterKey('ArrowDown', 3, 10, 5)).toBe(4);
  expect(rowAfterKey('ArrowDown', 9, 10, 5)).toBe(9);
  expect(rowAfterKey('ArrowUp', 0, 10, 5)).toBe(0);
  expect(rowAfterKey('PageDown', 3, 10, 5)).toBe(8);
  expect(rowAfterKey('End', 3, 10, 5)).toBe(9);
  expect(rowAfterKey('Home', 3, 10, 5)).toBe(0);
  expect(rowAfterKey('x', 3, 10, 5)).toBeUndefined();
  expect(rowAfterKey('End', 0, 0, 5)).toBeUndefined();
});

describe('typing ahead', () => {
  const names = ['Alder Lane', 'Ash Road', 'Birch Lane', 'Aspen Way', 'Élan Court'];
  const text = (row: number) => names[row] ?? '';

  it('goes from one row to the next with the same letter', () => {
    const typed = new TypeAhead();
    expect(typed.find('a', 0, 2, names.length, text)).toBe(3);
    expect(typed.find('a', 100, 3, names.length, text)).toBe(0);
  });

  it('takes letters typed soon after one another as one word', () => {
    const typed = new TypeAhead();
    expect(typed.find('A', 0, 2, names.length, text)).toBe(3);
    expect(typed.find('s', 300, 3, names.length, text)).toBe(3);
    expect(typed.find('h', 600, 3, names.length, text)).toBe(1);
    expect(typed.going(1000)).toBe(true);
    expect(typed.going(1400)).toBe(false);
    expect(typed.find('b', 2000, 1, names.length, text)).toBe(2);
  });

  it('finds nothing rather than something else', () => {
    expect(new TypeAhead().find('z', 0, 0, names.length, text)).toBeUndefined();
  });

  it('knows capital letters with accents', () => {
    expect(new TypeAhead().find('é', 0, 0, names.length, text)).toBe(4);
  });
});
