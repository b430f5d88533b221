/** The states a person sees, each with its word, color and a mark of its own shape. */

export type Mark = 'ring' | 'quarter' | 'disc' | 'cross' | 'turned' | 'square' | 'triangle' | 'block';

export type Tone = 'ink' | 'pencil' | 'copper' | 'patina' | 'ochre' | 'oxblood' | 'slate';

export interface Look {
  mark: Mark;
  tone: Tone;
}

const LOOKS = {
  // A change order's decision.
  drafted: { mark: 'ring', tone: 'pencil' },
  waiting: { mark: 'quarter', tone: 'ochre' },
  approved: { mark: 'disc', tone: 'patina' },
  declined: { mark: 'cross', tone: 'oxblood' },
  withdrawn: { mark: 'turned', tone: 'pencil' },
  // The work on it.
  'not begun': { mark: 'square', tone: 'pencil' },
  'at risk': { mark: 'triangle', tone: 'ochre' },
  done: { mark: 'block', tone: 'patina' },
  // Money in.
  open: { mark: 'ring', tone: 'slate' },
  overdue: { mark: 'triangle', tone: 'oxblood' },
  paid: { mark: 'disc', tone: 'patina' },
  // A month, a job.
  closed: { mark: 'block', tone: 'slate' },
  loss: { mark: 'cross', tone: 'oxblood' },
} as const satisfies Record<string, Look>;

export type StatusWord = keyof typeof LOOKS;

export function lookOf(word: StatusWord): Look {
  return LOOKS[word];
}

export const STATUS_WORDS = Object.keys(LOOKS) as StatusWord[];
