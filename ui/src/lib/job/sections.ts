/** The five parts of a job's page, in the order in which money moves, and what can be entered in each. */

import {
  DECISION,
  CHANGE,
  COLOR,
  DIRECT_COST,
  CONDITION,
  FORECAST,
  HOURS,
  INSULATION,
  INVOICE,
  LEAD_PAMPHLET,
  ORDER,
  PAYMENT,
  CONTRACT,
  BILL,
  RELEASE,
  JOB_STATUS,
  SCHEDULE,
  STORED,
  UNITS,
} from '../entry/forms';
import type { FormSpec } from '../entry/context';

export type SectionId = 'contract' | 'changes' | 'costs' | 'billing' | 'result';

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
    id: 'contract',
    key: '1',
    word: 'Contract',
    entries: [
      { key: 'n', word: 'Contract', spec: CONTRACT },
      { key: 'w', word: 'Plan the work', spec: SCHEDULE },
      { key: 'b', word: 'Job status', spec: JOB_STATUS },
      { key: 'l', word: 'Pamphlet on lead', spec: LEAD_PAMPHLET },
      { key: 'k', word: 'Insulation', spec: INSULATION },
      { key: 'v', word: 'Color', spec: COLOR },
    ],
  },
  {
    id: 'changes',
    key: '2',
    word: 'Changes',
    entries: [
      { key: 'd', word: 'Condition', spec: CONDITION },
      { key: 'g', word: 'Change order', spec: CHANGE },
      { key: 'a', word: 'Decision', spec: DECISION },
    ],
  },
  {
    id: 'costs',
    key: '3',
    word: 'Costs',
    entries: [
      { key: 'r', word: 'Bill', spec: BILL },
      { key: 'h', word: 'Hours', spec: HOURS },
      { key: 'o', word: 'Order', spec: ORDER },
      { key: 'u', word: 'Work done', spec: UNITS },
      { key: 'f', word: 'Forecast', spec: FORECAST },
      { key: 'm', word: 'Material on site', spec: STORED },
      { key: 'c', word: 'Direct cost', spec: DIRECT_COST },
    ],
  },
  {
    id: 'billing',
    key: '4',
    word: 'Billing',
    entries: [
      { key: 'i', word: 'Invoice', spec: INVOICE },
      { key: 'p', word: 'Payment', spec: PAYMENT },
      { key: 't', word: 'Retainage', spec: RELEASE },
    ],
  },
  { id: 'result', key: '5', word: 'Result', entries: [] },
];
