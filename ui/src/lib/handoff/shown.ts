/** How a cell of a file is shown: figures as the locale writes them, everything else as it stands in the file. */

import { showDecimal } from '../kit/decimal';

const FIGURE = /^-?\d+(\.\d+)?$/;

/** A figure in the locale's way with the digits that it came with; other text as it is. */
export function shownCell(text: string, locale: string, unit?: string): string {
  if (!FIGURE.test(text)) return text;
  return showDecimal(text, {
    locale,
    least: Math.max(unit === 'money' ? 2 : 0, text.split('.')[1]?.length ?? 0),
  });
}

/** A column of figures: with a decimal point in every cell that is filled. Numbers of jobs and entries are words. */
export function isFigureColumn(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell !== '');
  return (
    filled.length > 0 &&
    filled.every((cell) => FIGURE.test(cell)) &&
    filled.some((cell) => cell.includes('.'))
  );
}
