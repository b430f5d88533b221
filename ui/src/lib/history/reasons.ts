/** Why a cost was not recovered, as people say it. */

import type { UnrecoveredReason } from '../bindings/UnrecoveredReason';

export const REASONS: Readonly<Record<UnrecoveredReason, string>> = {
  'never-asked': 'The homeowner was never asked',
  declined: 'Declined, and done all the same',
  'billed-too-little': 'Less was billed than it cost',
};
