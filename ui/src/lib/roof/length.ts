/** Lengths as a roofer writes them, to inches and back. Inches are exact decimals as text, to a ten-thousandth. */

import type { Reading } from '../kit/decimal';
import { MINUS } from '../kit/decimal';

const HOW = 'Write it like 24\'6", 24-6, 24.5 for feet, or 294in.';

const NUMBER = String.raw`(\d+(?:\.\d+)?|\.\d+)`;
/** Inches may end in a fraction: `6 1/2`, or be one: `1/2`. */
const INCHES = String.raw`(?:(\d+)\s*/\s*(\d+)|(\d+)[\s-]+(\d+)\s*/\s*(\d+)|(\d+(?:\.\d+)?|\.\d+))`;
const ONLY_FEET = new RegExp(`^${NUMBER}\\s*(?:'|ft|feet)?$`);
const ONLY_INCHES = new RegExp(`^${INCHES}\\s*(?:"|in|inches)$`);
const BOTH = new RegExp(`^(\\d+)\\s*(?:'|ft|feet|-|\\s)\\s*-?\\s*${INCHES}\\s*(?:"|in|inches)?$`);

/** Ten-thousandths of an inch: the program's own smallest part. Whole numbers below 2^53, so exact. */
const PARTS = 10_000;

/**
 * Reads a length: feet and inches with their marks, `24-6`, bare feet, or inches with their unit. A sign is taken only
 * where a place on the plan is meant, since no length is less than nothing.
 */
export function readLength(typed: string, signed = false): Reading {
  let text = typed
    .trim()
    .toLowerCase()
    .replace(/[’′‘]/g, "'")
    .replace(/[”″“]|''/g, '"')
    .replace(/\s+/g, ' ');
  if (text === '') return { ok: false, problem: `Write a length. ${HOW}` };
  let negative = false;
  if (/^[-\u2212\u2013]/.test(text)) {
    if (!signed) return { ok: false, problem: 'A length can’t be less than nothing.' };
    negative = true;
    text = text.slice(1).trim();
  }
  const inches = inchesOf(text);
  if (inches === undefined) return { ok: false, problem: `“${typed.trim()}” is not a length. ${HOW}` };
  if (inches > 100_000)
    return { ok: false, problem: 'That is over a mile of roof. Is there a digit too many?' };
  return { ok: true, value: decimalOf(negative ? -inches : inches) };
}

function inchesOf(text: string): number | undefined {
  const feet = ONLY_FEET.exec(text);
  if (feet) return Number(feet[1]) * 12;
  const inches = ONLY_INCHES.exec(text);
  if (inches) return inchPart(inches, 1);
  const both = BOTH.exec(text);
  if (!both) return undefined;
  const part = inchPart(both, 2);
  return part === undefined ? undefined : Number(both[1]) * 12 + part;
}

function inchPart(match: RegExpExecArray, first: number): number | undefined {
  const [over, under, whole, above, below, bare] = match.slice(first, first + 6);
  if (bare !== undefined) return Number(bare);
  const [top, bottom] = over === undefined ? [above, below] : [over, under];
  if (Number(bottom) === 0) return undefined;
  return Number(whole ?? 0) + Number(top) / Number(bottom);
}

/** A number of inches as the program takes it: at most four digits after the point. */
export function decimalOf(inches: number): string {
  const parts = Math.round(inches * PARTS);
  const whole = Math.trunc(Math.abs(parts) / PARTS);
  const rest = String(Math.abs(parts) % PARTS)
    .padStart(4, '0')
    .replace(/0+$/, '');
  return (parts < 0 ? '-' : '') + whole + (rest ? `.${rest}` : '');
}

function apart(inches: string | number): { sign: string; feet: number; rest: string } {
  const parts = Math.round(Number(inches) * PARTS);
  const size = Math.abs(parts);
  const feet = Math.floor(size / (12 * PARTS));
  // A hundredth of an inch is finer than any tape.
  const rest = String(Number(((size - feet * 12 * PARTS) / PARTS).toFixed(2)));
  return {
    sign: parts < 0 ? MINUS : '',
    feet: rest === '12' ? feet + 1 : feet,
    rest: rest === '12' ? '0' : rest,
  };
}

/** `24' 6"`, as on a drawing. */
export function showLength(inches: string | number): string {
  const { sign, feet, rest } = apart(inches);
  if (feet === 0 && rest !== '0') return `${sign}${rest}"`;
  return rest === '0' ? `${sign}${feet}'` : `${sign}${feet}' ${rest}"`;
}

/** "24 ft 6 in", for the ear. */
export function sayLength(inches: string | number): string {
  const { sign, feet, rest } = apart(inches);
  const minus = sign ? 'minus ' : '';
  if (feet === 0 && rest !== '0') return `${minus}${rest} in`;
  return rest === '0' ? `${minus}${feet} ft` : `${minus}${feet} ft ${rest} in`;
}
