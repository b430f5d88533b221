/** The firm's settings as a form holds them: text, in the words and shares that a person types. */

import type { Firm } from '../bindings/Firm';
import type { FirmForm } from '../bindings/FirmForm';
import { times } from '../entry/calculate';

export interface FirmDraft {
  date: string;
  name: string;
  town: string;
  state: string;
  currency: string;
  week_begins: string;
  overtime_over_week: string;
  overtime_over_day: string | null;
  premium_to: string;
  sales_tax: string;
  sales_tax_rounding: string;
  material_tax_is_cost: boolean;
  overhead_by: string;
  overhead_rate: string;
}

/** A new firm as most are: books in dollars, a week from Monday, overtime over 40 hours. */
export function emptyFirm(date = `${new Date().getFullYear()}-01-01`): FirmDraft {
  return {
    date,
    name: '',
    town: '',
    state: '',
    currency: 'USD',
    week_begins: 'monday',
    overtime_over_week: '40',
    overtime_over_day: null,
    premium_to: 'hours',
    sales_tax: '0',
    sales_tax_rounding: 'invoice',
    material_tax_is_cost: true,
    overhead_by: 'labor-hours',
    overhead_rate: '0',
  };
}

/** What is missing, by field. What is wrong beyond that, the program says. */
export function problemsOf(firm: FirmDraft): Record<string, string> {
  const problems: Record<string, string> = {};
  if (firm.name.trim() === '') problems.name = 'Type the firm’s name, as it stands on its paper.';
  if (firm.town.trim() === '') problems.town = 'Type the town.';
  if (!/^[A-Z]{2}$/.test(firm.state)) problems.state = 'Type the two capital letters, as in WI.';
  if (firm.date === '') problems.date = 'Type the day from which this counts.';
  if (firm.overtime_over_week === '') problems.overtime_over_week = 'Type the hours; 40 by federal law.';
  if (firm.sales_tax === '') problems.sales_tax = 'Type the percentage, or 0.';
  if (firm.overhead_rate === '') problems.overhead_rate = 'Type the rate, or 0.';
  return problems;
}

/** 0.0825 as a person says it: "8.25". */
export function percentOf(fraction: string): string {
  return fraction === '' ? '' : times(fraction, '100');
}

/** "8.25" as the fraction 0.0825. */
export function shareOf(percent: string): string {
  return percent === '' ? '' : times(percent, '0.01');
}

/** The settings as they stand, to be changed from a day on. */
export function draftOf(firm: Firm, from: string): FirmDraft {
  return { ...firm, date: from };
}

/** The fact: what is left open is left out. */
export function factOf(firm: Partial<FirmDraft>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(firm).filter(([, value]) => value !== null && value !== ''));
}

/** What a new firm is made of. */
export function formOf(firm: FirmDraft, owner: string): FirmForm {
  const { name, town, state, ...settings } = firm;
  return { name: name.trim(), town: town.trim(), state, owner: owner.trim(), settings: factOf(settings) };
}
