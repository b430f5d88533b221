/** What a table of facts is made of. */

import type { Source } from '../bindings/Source';
import type { StatusWord } from '../kit/status';

export type Tone = 'plain' | 'cost' | 'gain' | 'contracted' | 'waiting';

export type Cell =
  | string
  | { money: string; name: string; tone?: Tone; calm?: boolean; onopen?: () => void }
  | { qty: string; unit: string; name: string }
  | { status: StatusWord; says?: string }
  | { photos: readonly string[] };

export interface Row {
  key: string;
  cells: readonly Cell[];
  /** Where it comes from: opened and reversed from here. */
  fact?: Source | { id: string; kind: string; entry?: string };
  /** Facts that rest on it, each opened and reversed with it: decisions, steps of the work. */
  also?: readonly { fact: Source; says: string }[];
  /** What can be done with it: a word each. */
  actions?: readonly { word: string; run: () => void }[];
}
