/** Every form for facts. */

export { COLOR } from './color';
export { INVOICE, PAYMENT, RELEASE } from './billed';
export { NEW_JOB, CONTRACT } from './new-job';
export { FORECAST, JOB_STATUS, STORED, UNITS } from './progress';
export { DIRECT_COST, HOURS, ORDER, BILL } from './costs';
export { DECISION, DECLINED, CHANGE, CHANGE_COST, CONDITION, REPAIR } from './changes';
export { INSULATION, LEAD_PAMPHLET, SCHEDULE } from './before-work';
