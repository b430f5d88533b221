/** The five parts of a job's page, in the order in which money moves, and what can be entered in each. */

import {
  ANSWER,
  CHANGE,
  CHARGE,
  FIND,
  FORECAST,
  HOURS,
  INVOICE,
  ORDER,
  PAYMENT,
  PROMISE,
  RECEIPT,
  RELEASE,
  STEP,
  STORED,
  UNITS,
} from '../entry/forms';
import type { FormSpec } from '../entry/form';

export type SectionId = 'promise' | 'surprises' | 'spend' | 'billed' | 'result';

export interface Entry {
  key: string;
  word: string;
  spec: FormSpec;
}

export interface Section {
  id: SectionId;
  key: string;
  word: string;
  entries: readonly Entry[];
}

export const SECTIONS: readonly Section[] = [
  {
    id: 'promise',
    key: '1',
    word: 'Promise',
    entries: [
      { key: 'n', word: 'Promise', spec: PROMISE },
      { key: 'b', word: 'Step of the job', spec: STEP },
    ],
  },
  {
    id: 'surprises',
    key: '2',
    word: 'Surprises',
    entries: [
      { key: 'd', word: 'Find', spec: FIND },
      { key: 'g', word: 'Change order', spec: CHANGE },
      { key: 'a', word: 'Answer', spec: ANSWER },
    ],
  },
  {
    id: 'spend',
    key: '3',
    word: 'Spend',
    entries: [
      { key: 'r', word: 'Receipt', spec: RECEIPT },
      { key: 'h', word: 'Hours', spec: HOURS },
      { key: 'o', word: 'Order', spec: ORDER },
      { key: 'u', word: 'Work done', spec: UNITS },
      { key: 'f', word: 'Forecast', spec: FORECAST },
      { key: 'm', word: 'Material on site', spec: STORED },
      { key: 'c', word: 'Charge', spec: CHARGE },
    ],
  },
  {
    id: 'billed',
    key: '4',
    word: 'Billed',
    entries: [
      { key: 'i', word: 'Invoice', spec: INVOICE },
      { key: 'p', word: 'Payment', spec: PAYMENT },
      { key: 't', word: 'Retainage', spec: RELEASE },
    ],
  },
  { id: 'result', key: '5', word: 'Result', entries: [] },
];

export function sectionOf(word: string | undefined): SectionId | undefined {
  return SECTIONS.find((section) => section.id === word)?.id;
}
