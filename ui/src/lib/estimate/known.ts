/** The firm's parts that may be chosen for an item. */

import type { Estimate } from '../bindings/Estimate';
import type { Item } from '../bindings/Item';
import type { Calculated } from '../bindings/Calculated';

export interface KnownPart {
  name: string;
  title: string;
  item: Item;
  /** The colors it comes in. */
  colors: readonly string[];
}

/** What the choices name already, with the titles that the calculation gives them. */
export function namedParts(estimate: Estimate, calculated: Calculated | undefined): KnownPart[] {
  const found = new Map<string, KnownPart>();
  for (const choice of estimate.choices) {
    for (const { item, part } of choice.parts)
      found.set(`${item} ${part}`, { name: part, title: part, item, colors: [] });
  }
  for (const line of (calculated?.choices ?? []).flatMap((choice) => choice.parts)) {
    if (line.part !== null && line.title) {
      const { item, part: name, title, colors } = line;
      found.set(`${item} ${name}`, { name, title, item, colors });
    }
  }
  return [...found.values()];
}

/** The firm's list with whatever the choices name beside it, each once. */
export function offeredParts(firms: readonly KnownPart[], named: readonly KnownPart[]): KnownPart[] {
  const others = named.filter(
    (part) => !firms.some((known) => known.item === part.item && known.name === part.name),
  );
  return [...firms, ...others];
}
