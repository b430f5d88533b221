/** How many of what, as people write it: "1 part", "2 parts", "1,200 rows". */

import { systemLocale } from './locale';
import { numbers } from './writers';

export function many(count: number, one: string, others = `${one}s`): string {
  return `${numbers(systemLocale(), {}).format(count)} ${count === 1 ? one : others}`;
}
