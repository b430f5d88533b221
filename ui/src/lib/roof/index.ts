/** The roof in the window: drawn, typed, shown. */

export { default as HouseFields } from './HouseFields.svelte';
export { default as RoofPicture } from './RoofPicture.svelte';
export { default as RoofSheet } from './RoofSheet.svelte';
export { default as TypedMeasures } from './TypedMeasures.svelte';
export { newRoof } from './shape';
export type { House, Measured, Nearest, Pin, Problem, Roof } from './shape';
