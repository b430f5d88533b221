/** The margin walk as a staircase: where each step begins and ends. Summed on whole cents. */

import { fromMinor, toMinor } from '../kit/money';

/** One step from the margin sold to the margin made. */
export interface Step {
  id: string;
  label: string;
  /** What the step added to the margin, or took from it: a canonical decimal string. */
  amount: string;
}

export interface Stair extends Step {
  from: string;
  to: string;
}

/** The stairs in order, each beginning where the one before ended. */
export function stairs(sold: string, steps: readonly Step[], digits = 2): Stair[] {
  let at = toMinor(sold, digits);
  return steps.map((step) => {
    const from = fromMinor(at, digits);
    at += toMinor(step.amount, digits);
    return { ...step, from, to: fromMinor(at, digits) };
  });
}
