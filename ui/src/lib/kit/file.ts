/** What the program says of a file that was read, in the shape that every kind of file shares. */

/** Something that keeps it from being taken in. */
export interface Problem {
  lines: readonly number[];
  column: string | null;
  message: string;
  remedy: string;
  near: readonly string[];
}

/** Something that only a person can decide. */
export interface Question {
  message: string;
  lines: readonly number[];
  answers: readonly { word: string; meaning: string }[];
}

/** More lines than these are counted, not listed. */
const LISTED = 8;

/** "Line 3", "Lines 3, 4 and 5", or nothing where the whole file is meant. */
export function onLines(lines: readonly number[]): string {
  if (lines.length === 0) return '';
  if (lines.length === 1) return `Line ${lines[0]}`;
  const listed = lines.slice(0, LISTED);
  const more = lines.length - listed.length;
  if (more > 0) return `Lines ${listed.join(', ')} and ${more} more`;
  return `Lines ${listed.slice(0, -1).join(', ')} and ${listed.at(-1)}`;
}
