/** What the forms for facts may look at, and what each of them says and records. */

import type { JobBilling } from '../bindings/JobBilling';
import type { JobPage } from '../bindings/JobPage';
import type { Lists } from '../bindings/Lists';
import type { ToBill } from '../bindings/ToBill';
import type * as forms from '../forms/spec';

export interface Context extends BillingContext {
  /** The job that the form stands on; absent while a new one is made. */
  job?: JobPage;
}

/** What the forms of money in look at: of a job no more than whoever keeps the books may see. */
export interface BillingContext extends forms.Around {
  job?: JobBilling;
  lists: Lists;
  /** Numbers of jobs seen so far, to be suggested. */
  jobs: readonly string[];
  /** What of the job is to be billed next, what its customer has not paid yet, and the numbers that come next. */
  next?: ToBill;
}

type Spec<C extends forms.Around> = forms.FormSpec<C> &
  Required<Pick<forms.FormSpec<C>, 'start' | 'facts' | 'says' | 'lists'>>;
export type FormSpec = Spec<Context>;
export type BillingSpec = Spec<BillingContext>;
export type FieldSpec = forms.FieldSpec<Context>;
/** A field of any of these forms. */
export type AnyField = forms.FieldSpec<BillingContext>;
export type ListSpec = forms.ListSpec<Context>;

/** A job's own number; a form that needs one is only opened on a job. */
export function jobNumber(context: BillingContext): string {
  return context.job?.figures.number ?? '';
}
