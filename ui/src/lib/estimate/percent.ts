/** Shares cross as fractions ("0.15") and are read and typed as percent ("15"): the point moves, nothing is rounded. */

import { putTogether, takeApart } from '../kit/decimal';

export function toPercent(share: string): string {
  const { negative, whole, fraction } = takeApart(share);
  const padded = fraction.padEnd(2, '0');
  return putTogether(negative, whole + padded.slice(0, 2), padded.slice(2).replace(/0+$/, ''));
}

export function fromPercent(percent: string): string {
  const { negative, whole, fraction } = takeApart(percent === '' ? '0' : percent);
  const padded = whole.padStart(3, '0');
  const after = (padded.slice(-2) + fraction).replace(/0+$/, '');
  return putTogether(negative, padded.slice(0, -2), after);
}
