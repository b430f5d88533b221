/** Every form for facts. */

export { INVOICE, PAYMENT, RELEASE } from './billed';
export { NEW_JOB, CONTRACT } from './new-job';
export { FORECAST, STEP, STORED, UNITS } from './progress';
export { CHARGE, HOURS, ORDER, BILL } from './costs';
export { DECISION, CHANGE, CONDITION } from './changes';
