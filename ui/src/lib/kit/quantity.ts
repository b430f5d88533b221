/** Quantities as people type them: with the unit behind, and with the fractions of a tape or a package. */

import { readDecimal, times, type Reading } from './decimal';

/** How a unit is written beside its own word. */
const WRITTEN: Readonly<Record<string, readonly string[]>> = {
  square: ['square', 'squares', 'sq', 'sqs'],
  'sq ft': ['sq ft', 'sqft', 'sf', 'square feet', 'square foot', 'ft2', 'ft²'],
  ft: ['ft', 'feet', 'foot', '′', "'"],
  in: ['in', 'inch', 'inches', '″', '"'],
  h: ['h', 'hr', 'hrs', 'hour', 'hours'],
};

/** What one of a unit is in another: a square is a hundred square feet, by what the word means. */
const IN_OTHERS: Readonly<Record<string, string>> = {
  'square in sq ft': '100',
  'sq ft in square': '0.01',
  'ft in in': '12',
};

function unitOf(word: string): string {
  const plain = word.toLowerCase().replace(/\./g, '').replace(/\s+/g, ' ').trim();
  const found = Object.entries(WRITTEN).find(([, ways]) => ways.includes(plain));
  return found ? found[0] : plain;
}

/** A whole number and a fraction, or a fraction alone: “33 1/3”. */
const FRACTION = /^(?:(\d+)[\s-]+)?(\d{1,4})\/([1-9]\d{0,3})$/;

/** What is said for one of a unit, said for one of another: hours of a square foot for a square. */
export function timesOne(figure: string, unit: string, other: string): string {
  return figure === '' ? '' : times(figure, IN_OTHERS[`${unit} in ${other}`] ?? '1');
}

/** The digits of a fraction, rounded half up to so many places. */
function fractionIn(typed: string, places: number): string | undefined {
  const match = FRACTION.exec(typed.trim());
  if (!match || places === 0) return undefined;
  const [whole, over, under] = [BigInt(match[1] ?? '0'), BigInt(match[2] ?? '0'), BigInt(match[3] ?? '1')];
  const scale = 10n ** BigInt(places);
  const scaled = (2n * (whole * under + over) * scale + under) / (2n * under);
  const text = scaled.toString().padStart(places + 1, '0');
  const tail = text.slice(-places).replace(/0+$/, '');
  return tail ? `${text.slice(0, -places)}.${tail}` : text.slice(0, -places);
}

/** Reads what is typed where a quantity of this unit is asked for. */
export function readQuantity(
  typed: string,
  { unit, locale, places }: { unit: string | undefined; locale: string; places: number },
): Reading {
  const read = (text: string): Reading => {
    const fraction = fractionIn(text, places);
    return fraction === undefined ? readDecimal(text, locale, places) : { ok: true, value: fraction };
  };
  if (!unit) return read(typed);
  const parted = /^(.*?[\d)])\s*([^\d\s()][^\d()]*\d?)$/.exec(typed.trim());
  const [, figure = '', word = ''] = parted ?? [];
  if (!parted) return read(typed.replace(unit, ''));
  const [own, theirs] = [unitOf(unit), unitOf(word)];
  if (theirs === own || theirs === `${own}s` || theirs === `${own}es`) return read(figure);
  const one = IN_OTHERS[`${theirs} in ${own}`];
  if (one === undefined) return read(typed.replace(unit, ''));
  const reading = read(figure);
  return reading.ok ? readDecimal(times(reading.value, one), 'en-US', places) : reading;
}
