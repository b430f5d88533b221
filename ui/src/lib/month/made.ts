/** What the firm made, line by line, as it stands beside the year: the figure each opens to. */

import type { Figure } from '../bindings/Figure';
import { FIGURES } from '../bindings/Figures';
import type { Made } from '../bindings/Made';

export interface MadeLine {
  label: string;
  of: (made: Made) => string;
  /** The figure of the month, and of the year so far. */
  month?: Figure;
  year?: Figure;
  strong?: boolean;
  /** What an amount of it is, where its sign says so; it is shown without the sign, and neither is an alarm. */
  sign?: readonly [above: string, below: string];
}

export const LINES: readonly MadeLine[] = [
  { label: FIGURES.earned.label, of: (made) => made.earned, month: 'month-earned' },
  { label: 'Cost of jobs', of: (made) => made.cost, month: 'month-cost' },
  { label: 'More losses foreseen', of: (made) => made.losses, month: 'month-loss-provision' },
  {
    label: FIGURES['month-profit'].label,
    of: (made) => made.gross_profit,
    month: 'month-profit',
    year: 'year-profit',
  },
  {
    label: 'Overhead',
    of: (made) => made.overhead_cost,
    month: 'month-overhead-cost',
    year: 'year-overhead-cost',
  },
  {
    label: FIGURES['month-net-profit'].label,
    of: (made) => made.net_profit,
    month: 'month-net-profit',
    year: 'year-net-profit',
    strong: true,
  },
  { label: FIGURES.billed.label, of: (made) => made.billed, month: 'month-billed' },
  {
    label: 'Overhead that jobs bore',
    of: (made) => made.absorbed,
    month: 'month-overhead',
    year: 'year-overhead',
  },
  {
    label: 'Overhead under- or over-absorbed',
    sign: ['under', 'over'],
    of: (made) => made.under_absorbed,
    month: 'month-under-absorbed',
    year: 'year-under-absorbed',
  },
];
