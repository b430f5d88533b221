/** Hours of work by the measure that roofers count in: what is laid by the square foot is worked by the square. */

import { timesOne } from '../kit/quantity';

/** Whether it is worked by the square. The program keeps the hours of a square foot. */
export function bySquare(measure: string | null | undefined): boolean {
  return measure === 'sq ft';
}

/** What hours are said for: a square, or the measure itself. */
export function workedBy(measure: string | null | undefined): string {
  return bySquare(measure) ? 'square' : (measure ?? '');
}

/** Hours as they are shown and typed. */
export function shownHours(hours: string, measure: string | null | undefined): string {
  return bySquare(measure) ? timesOne(hours, 'square', 'sq ft') : hours;
}

/** Typed hours as the program keeps them. */
export function keptHours(typed: string, measure: string | null | undefined): string {
  return bySquare(measure) ? timesOne(typed, 'sq ft', 'square') : typed;
}
