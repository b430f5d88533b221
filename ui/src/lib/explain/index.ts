/** Opening a figure. */

export { default as ExplainPanel } from './ExplainPanel.svelte';
export { default as Fact } from './Fact.svelte';
export { default as FigureList } from './FigureList.svelte';
export { default as Working } from './Working.svelte';
