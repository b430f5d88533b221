/** Typing facts where they belong. */

export { default as EntryForm } from './EntryForm.svelte';
export * from './forms';
export type { Context, FormSpec } from './form';
export { takeBack } from './take-back';
