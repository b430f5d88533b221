/** What a customer has to their credit, in words. */

import type { OnAccount } from '../bindings/OnAccount';
import { showDate } from '../kit/dates';
import { showMoney } from '../kit/money';

/** “4,984.00 of credit memo 1010, November 3, 2026, for Octavia Penhallow.” */
export function creditWords({ left, from, name, date, customer }: OnAccount, locale: string): string {
  const what = from === 'credit-memo' ? `credit memo ${name}` : `the payment ${name}`;
  return `${showMoney(left, { locale })} of ${what}, ${showDate(date, locale)}, for ${customer}.`;
}
