/** The parts that every page is made of. */

export { default as Button } from './Button.svelte';
export { default as Choice } from './Choice.svelte';
export { default as DateField } from './DateField.svelte';
export { default as Dialog } from './Dialog.svelte';
export { default as Field } from './Field.svelte';
export { default as Figure } from './Figure.svelte';
export { default as KeyHelp } from './KeyHelp.svelte';
export { default as MoneyField } from './MoneyField.svelte';
export { default as OneOf } from './OneOf.svelte';
export { default as FileFindings } from './FileFindings.svelte';
export { default as Progress } from './Progress.svelte';
export { default as QtyField } from './QtyField.svelte';
export { default as Status } from './Status.svelte';
export { default as Stepper } from './Stepper.svelte';
export { default as Table } from './Table.svelte';
export { default as TextField } from './TextField.svelte';
export { default as Toasts } from './Toasts.svelte';
export { default as VirtualList } from './VirtualList.svelte';
export { col } from './columns';
export { keyboard } from './keys.svelte';
export { toasts } from './toasts.svelte';
