/** A job's stage as a status word. */

import type { StatusWord } from '../kit/status';

export const STAGE_WORDS: Record<string, StatusWord> = {
  unpromised: 'drafted',
  promised: 'approved',
  begun: 'open',
  finished: 'done',
  cancelled: 'withdrawn',
};

export const STAGE_SAYS: Record<string, string> = {
  unpromised: 'no promise yet',
  promised: 'promised',
  begun: 'at work',
  finished: 'finished',
  cancelled: 'cancelled',
};
