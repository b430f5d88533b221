/** What code or company ask, as it is read. */

import { TOPICS } from '../bindings/Labels';
import type { Topic } from '../bindings/Topic';

/** A topic's figure: "24 in", "300 to 1", "asked", "not asked". */
export function topicFigure(topic: Topic, value: string, show: (value: string) => string): string {
  const none = !/[1-9]/.test(value);
  const { unit } = TOPICS[topic];
  if (none) return 'not asked';
  return unit === '' ? 'asked' : `${show(value)} ${unit}`;
}
