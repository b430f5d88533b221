/** Pictures, for where people would rather look. Each can be had as a table with the same figures. */

export { default as AgeBars, type Age } from './AgeBars.svelte';
export { default as CashWeeks, type CashWeek } from './CashWeeks.svelte';
export { default as Picture } from './Picture.svelte';
export { default as PairBars, type Pair } from './PairBars.svelte';
export { default as Staircase } from './Staircase.svelte';
export { default as TwoLines, type DayPoint } from './TwoLines.svelte';
export { default as YearBars, type YearJob } from './YearBars.svelte';
export type { Step } from './walk';
