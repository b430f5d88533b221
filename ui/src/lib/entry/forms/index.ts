/** Every form for facts. */

export { INVOICE, PAYMENT, RELEASE } from './billed';
export { NEW_JOB, PROMISE } from './new-job';
export { FORECAST, STEP, STORED, UNITS } from './progress';
export { CHARGE, HOURS, ORDER, RECEIPT } from './spend';
export { ANSWER, CHANGE, FIND } from './surprises';
