/** Hours of work by the measure that roofers count in: what is laid by the square foot is worked by the square. */

import { percentOf, shareOf } from '../kit/decimal';

/** A square is 100 sq ft. The program keeps the hours of one. */
export function bySquare(measure: string | null | undefined): boolean {
  return measure === 'sq ft';
}

/** What hours are said for: a square, or the measure itself. */
export function workedBy(measure: string | null | undefined): string {
  return bySquare(measure) ? 'square' : (measure ?? '');
}

/** Hours as they are shown and typed. */
export function shownHours(hours: string, measure: string | null | undefined): string {
  return bySquare(measure) ? percentOf(hours) : hours;
}

/** Typed hours as the program keeps them. */
export function keptHours(typed: string, measure: string | null | undefined): string {
  return bySquare(measure) ? shareOf(typed) : typed;
}
