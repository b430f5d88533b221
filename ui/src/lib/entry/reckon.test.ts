import { describe, expect, it } from 'vitest';

import { below, cents, fractionOf, salesTax, spread, times, total } from './reckon';
import { newId } from './ids';

describe('exact sums in a form', () => {
  it('multiplies without a JavaScript number', () => {
    expect(times('81', '34.50')).toBe('2794.5');
    expect(times('0.1', '0.2')).toBe('0.02');
    expect(times('-3', '0.005')).toBe('-0.015');
    expect(times('999999999999.99', '100')).toBe('99999999999999');
    expect(times('0', '5.25')).toBe('0');
  });

  it('rounds once, half away from zero', () => {
    expect(cents('0.005')).toBe('0.01');
    expect(cents('-0.005')).toBe('-0.01');
    expect(cents('2794.5')).toBe('2794.50');
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

// SSUTA §324, as enacted in N.D.C.C. 57-39.4-25.
describe('sales tax that is offered', () => {
  it('reads the third decimal by cutting the rest off', () => {
    expect(salesTax(['10.00'], '0.0825', 'invoice')).toBe('0.83');
    expect(salesTax(['1.03'], '0.0725', 'invoice')).toBe('0.07');
  });

  it('rounds by item or by invoice, as the firm chose', () => {
    const items = ['3.33', '3.33', '3.33'];
    expect(salesTax(items, '0.065', 'item')).toBe('0.66');
    expect(salesTax(items, '0.065', 'invoice')).toBe('0.65');
  });

  it('is nothing where nothing is taxed', () => {
    expect(salesTax([], '0.0825', 'invoice')).toBe('0.00');
  });
});

describe('a payment put to invoices', () => {
  it('fills the oldest first and never more than is open', () => {
    expect(spread('150.00', ['100.00', '80.00', '20.00'])).toEqual(['100.00', '50.00', '0.00']);
    expect(spread('500.00', ['100.00'])).toEqual(['100.00']);
  });
});

describe('an id made in the page', () => {
  it('is a version 7 UUID that begins with its time', () => {
    const id = newId(0x0123_4567_89ab);
    expect(id).toMatch(/^01234567-89ab-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    expect(newId()).not.toBe(newId());
  });
});
