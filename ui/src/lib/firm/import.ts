/** How an import's preview is put into words. */

import type { Choices } from '../bindings/import/Choices';
import type { Preview } from '../bindings/import/Preview';
import type { RowOutcome } from '../bindings/import/RowOutcome';
import type { StatusWord } from '../kit/status';

/** What becomes of a row, as a status with its own mark. */
export function outcomeWord(outcome: RowOutcome): { word: StatusWord; says: string } {
  if (outcome === 'new') return { word: 'done', says: 'new' };
  if (outcome === 'duplicate') return { word: 'drafted', says: 'there already' };
  return { word: 'loss', says: 'not yet' };
}

/** Which column holds which field, as the preview has it. */
export function mappingOf(preview: Preview): Record<string, string> {
  return Object.fromEntries(
    preview.columns.flatMap(({ field, header }) => (header === null ? [] : [[field, header]])),
  );
}

/**
 * How the file was read, as choices: what was remembered or found in the file stays when one more thing is chosen.
 * The mapping is left open while it is asked about, since what a mapping leaves out is not read.
 */
export function choicesOf(preview: Preview): Partial<Choices> {
  const { separator, date_order, number_style, questions } = preview;
  return {
    ...(separator ? { separator } : {}),
    ...(date_order ? { date_order } : {}),
    ...(number_style ? { number_style } : {}),
    ...(questions.some((question) => question.about === 'mapping') ? {} : { mapping: mappingOf(preview) }),
  };
}
