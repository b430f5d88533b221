/** What the forms of the bookkeeper's desk may look at. */

import type { BillDesk } from '../bindings/BillDesk';
import type { Lists } from '../bindings/Lists';
import type * as forms from '../forms/spec';

export interface BooksContext extends forms.Around {
  lists: Lists;
  /** What a pile of bills is typed with; absent where no bill is typed. */
  pile?: BillDesk;
}

export type FormSpec = forms.FormSpec<BooksContext>;
export type FieldSpec = forms.FieldSpec<BooksContext>;
