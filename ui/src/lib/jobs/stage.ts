/** Which mark a job's stage is shown by. */

import type { Stage } from '../bindings/Stage';
import type { StatusWord } from '../kit/status';

export const STAGE_MARKS: Readonly<Record<Stage, StatusWord>> = {
  uncontracted: 'drafted',
  contracted: 'approved',
  begun: 'open',
  finished: 'done',
  canceled: 'withdrawn',
};
