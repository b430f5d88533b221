/** How many of what, as people write it: "1 part", "2 parts", "1,200 rows". */

import { systemLocale } from './locale';

const figures = new Intl.NumberFormat(systemLocale());

export function many(count: number, one: string, others = `${one}s`): string {
  return `${figures.format(count)} ${count === 1 ? one : others}`;
}
