import { describe, expect, it } from 'vitest';

import {
  fromMinor,
  minorDigits,
  moneyExample,
  negate,
  readMoney,
  sayMoney,
  showMoney,
  sumMoney,
  toMinor,
} from './money';

describe('minor units', () => {
  it('go to bigint and back without loss', () => {
    for (const amount of ['0.00', '0.01', '-0.01', '12.30', '-1234567.89', '92233720368547758.07']) {
      expect(fromMinor(toMinor(amount))).toBe(amount);
    }
  });

  it('take up short and long fractions', () => {
    expect(toMinor('12')).toBe(1200n);
    expect(toMinor('12.3')).toBe(1230n);
    expect(toMinor('12.3000')).toBe(1230n);
    expect(toMinor('12', 0)).toBe(12n);
    expect(fromMinor(12n, 0)).toBe('12');
    expect(fromMinor(5n, 3)).toBe('0.005');
  });

  it('refuse to lose a digit', () => {
    expect(() => toMinor('0.005')).toThrow(RangeError);
    expect(() => toMinor('1.5', 0)).toThrow(RangeError);
  });

  it('follow the currency', () => {
    expect([minorDigits('USD'), minorDigits('JPY'), minorDigits('KWD')]).toEqual([2, 0, 3]);
  });
});

describe('sums', () => {
  it('are exact where binary fractions are not', () => {
    expect(sumMoney(['0.10', '0.20'])).toBe('0.30');
    expect(sumMoney(Array.from({ length: 1000 }, () => '0.01'))).toBe('10.00');
    expect(sumMoney(['90071992547409.93', '0.01'])).toBe('90071992547409.94');
    expect(sumMoney([])).toBe('0.00');
  });

  it('come to nothing with the negative', () => {
    expect(negate('0.00')).toBe('0.00');
    expect(sumMoney(['655.20', negate('655.20')])).toBe('0.00');
  });
});

describe('reading', () => {
  const read = (typed: string, look: Parameters<typeof readMoney>[1] = { locale: 'en-US' }) => {
    const reading = readMoney(typed, look);
    return reading.ok ? reading.value : `refused: ${reading.problem}`;
  };

  it.each([
    ['$1,234.5', '1234.50'],
    ['1234', '1234.00'],
    ['-$5', '-5.00'],
    ['($5.00)', '-5.00'],
    ['$ 7', '7.00'],
    ['.07', '0.07'],
  ])('takes %j as %s', (typed, expected) => expect(read(typed)).toBe(expected));

  it('takes the currency’s own sign and digits', () => {
    expect(read('1.234,50 €', { locale: 'de-DE', currency: 'EUR' })).toBe('1234.50');
    expect(read('USD 12', { locale: 'en-US', currency: 'USD' })).toBe('12.00');
    expect(read('1234', { locale: 'ja-JP', currency: 'JPY', digits: 0 })).toBe('1234');
  });

  it('refuses part of a cent', () => expect(read('1.005')).toMatch(/^refused: At most 2 digits/));
});

describe('showing', () => {
  it('has all the cents, grouping and a true minus', () => {
    expect(showMoney('1234567.5', { locale: 'en-US' })).toBe('1,234,567.50');
    expect(showMoney('-0.5', { locale: 'en-US' })).toBe('\u22120.50');
    expect(showMoney('655.2', { locale: 'en-US', plus: true })).toBe('+655.20');
    expect(showMoney('0', { locale: 'en-US', plus: true })).toBe('0.00');
  });

  it('puts the sign of the currency where the locale does', () => {
    expect(showMoney('-1234.5', { locale: 'en-US', currency: 'USD' })).toBe('\u2212$1,234.50');
    expect(showMoney('1234.5', { locale: 'de-DE', currency: 'EUR' })).toBe('1.234,50\u00a0€');
    expect(showMoney('1234', { locale: 'en-US', currency: 'JPY', digits: 0 })).toBe('¥1,234');
  });

  it('never rounds a cent away', () =>
    expect(() => showMoney('1.005', { locale: 'en-US' })).toThrow(RangeError));

  it('says a negative with a word', () => {
    expect(sayMoney('-5', { locale: 'en-US' })).toBe('minus 5.00');
    expect(sayMoney('5', { locale: 'en-US' })).toBe('5.00');
  });

  it('gives an example in the locale’s own writing', () => {
    expect(moneyExample('de-DE')).toBe('0,00');
    expect(moneyExample('en-US', 0)).toBe('0');
  });
});
