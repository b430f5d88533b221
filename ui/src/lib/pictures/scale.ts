/**
 * From figures to places on the screen. This is the only part of the page where money becomes a JavaScript number, and
 * what comes out is a number of pixels, never an amount.
 */

import { takeApart } from '../kit/decimal';

/** Far more digits than a screen has pixels. */
const DIGITS_KEPT = 15;

/** A figure as a size to draw. Never to be shown or summed. */
export function sizeOf(value: string): number {
  const { negative, whole, fraction } = takeApart(value);
  const rest = Math.max(0, DIGITS_KEPT - whole.length);
  const size = Number(`${whole}.${fraction.slice(0, rest) || '0'}`);
  return negative ? -size : size;
}

export interface Scale {
  /** Where a figure lies, in px. */
  (value: string): number;
  /** The round figures to mark on the axis, and where each lies. */
  ticks: readonly { value: string; at: number }[];
}

/**
 * A straight scale over all the figures and zero, widened to round ones.
 * @param from where the least lies, in px
 * @param to where the greatest lies, in px
 * @param about how many marks the axis should have
 */
export function scaleOver(values: readonly string[], from: number, to: number, about = 4): Scale {
  const sizes = [0, ...values.map(sizeOf)];
  // A loop, since spreading some thousands of figures into Math.max can be more arguments than the engine takes.
  const least = sizes.reduce((a, b) => Math.min(a, b));
  const most = sizes.reduce((a, b) => Math.max(a, b));
  const step = roundStep((most - least || 1) / Math.max(1, about));
  const low = Math.floor(least / step.size) * step.size;
  const high = Math.max(Math.ceil(most / step.size) * step.size, low + step.size);
  const place = (size: number) => from + ((size - low) / (high - low)) * (to - from);
  const count = Math.round((high - low) / step.size);
  const ticks = Array.from({ length: count + 1 }, (_, index) => {
    const size = low + index * step.size;
    return { value: (size === 0 ? 0 : size).toFixed(step.places), at: place(size) };
  });
  return Object.assign((value: string) => place(sizeOf(value)), { ticks });
}

/** The least of 1, 2, 5 times a power of ten that is not less, and the decimal places it needs. */
function roundStep(rough: number): { size: number; places: number } {
  const power = Math.floor(Math.log10(rough));
  const unit = 10 ** power;
  const factor = [1, 2, 5].find((candidate) => candidate * unit >= rough * 0.999);
  if (factor === undefined) return { size: 10 * unit, places: Math.max(0, -power - 1) };
  return { size: factor * unit, places: Math.max(0, -power) };
}
