import { describe, expect, it } from 'vitest';

import { below, total } from './calculate';
import { newId } from '../forms/ids';

describe('exact sums in a form', () => {
  it('takes a credit below zero once', () => {
    expect(below('12.50')).toBe('-12.50');
    expect(below('-12.50')).toBe('-12.50');
  });

  it('leaves empty fields out of a sum', () => {
    expect(total(['1.10', '', undefined, '2.20'])).toBe('3.30');
  });
});

describe('an id made in the page', () => {
  it('is a version 7 UUID that begins with its time', () => {
    const id = newId(0x0123_4567_89ab);
    expect(id).toMatch(/^01234567-89ab-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    expect(newId()).not.toBe(newId());
  });
});
