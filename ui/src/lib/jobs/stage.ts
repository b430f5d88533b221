/** A job's stage as a status word. */

import type { StatusWord } from '../kit/status';

export const STAGE_WORDS: Record<string, StatusWord> = {
  uncontracted: 'drafted',
  contracted: 'approved',
  begun: 'open',
  finished: 'done',
  canceled: 'withdrawn',
};

export const STAGE_SAYS: Record<string, string> = {
  uncontracted: 'no contract yet',
  contracted: 'contracted',
  begun: 'at work',
  finished: 'finished',
  canceled: 'canceled',
};
