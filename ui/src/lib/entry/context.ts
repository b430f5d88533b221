/** What the forms for facts may look at, and what each of them says and records. */

import type { JobPage } from '../bindings/JobPage';
import type { Lists } from '../bindings/Lists';
import type { OpenInvoice } from '../bindings/OpenInvoice';
import type { ToBill } from '../bindings/ToBill';
import type * as forms from '../forms/spec';

export interface Context extends forms.Around {
  /** The job that the form stands on; absent while a new one is made. */
  job?: JobPage;
  lists: Lists;
  /** Numbers of jobs seen so far, to be suggested. */
  jobs: readonly string[];
  /** What this customer has not paid yet, oldest first. */
  open: readonly OpenInvoice[];
  /** What of the job is to be billed next, and the numbers that come next. */
  next?: ToBill;
}

type Spec = forms.FormSpec<Context>;
export type FormSpec = Spec & Required<Pick<Spec, 'start' | 'facts' | 'says' | 'lists'>>;
export type FieldSpec = forms.FieldSpec<Context>;
export type ListSpec = forms.ListSpec<Context>;

/** A job's own number; a form that needs one is only opened on a job. */
export function jobNumber(context: Context): string {
  return context.job?.figures.number ?? '';
}
