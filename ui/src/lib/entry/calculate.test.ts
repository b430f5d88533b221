import { describe, expect, it } from 'vitest';

import { below, fractionOf, times, total } from './calculate';
import { newId } from '../forms/ids';

describe('exact sums in a form', () => {
  it('multiplies without a JavaScript number', () => {
    expect(times('81', '34.50')).toBe('2794.5');
    expect(times('0.1', '0.2')).toBe('0.02');
    expect(times('-3', '0.005')).toBe('-0.015');
    expect(times('999999999999.99', '100')).toBe('99999999999999');
    expect(times('0', '5.25')).toBe('0');
  });

  it('turns a percentage into the fraction that a fact holds', () => {
    expect(fractionOf('8.25')).toBe('0.0825');
    expect(fractionOf('15')).toBe('0.15');
  });

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
