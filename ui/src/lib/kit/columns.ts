/** The heads of a table's columns, and what may stand in its cells. */

import type { ComponentProps } from 'svelte';

import type Figure from './Figure.svelte';

export interface Column {
  label: string;
  /** Set in figures, at the right. */
  figure?: boolean;
  /** Of sentences: it stays so wide that they can be read, and the table moves sideways where there is no room. */
  wide?: boolean;
  /** Left out where there is little room. */
  spare?: boolean;
  /** Heard, and not drawn: what stands below says it by itself. */
  unseen?: boolean;
}

/** A column of words is its head alone. */
export type Columns = readonly (string | Column)[];

/** Words, or a figure as the kit shows it, which may open. */
export type TableCell = string | ComponentProps<typeof Figure>;

export interface TableRow {
  /** The first one names the row. */
  cells: readonly TableCell[];
  strong?: boolean;
}

export const col = {
  figure: (label: string): Column => ({ label, figure: true }),
  spare: (label: string): Column => ({ label, spare: true }),
  spareFigure: (label: string): Column => ({ label, figure: true, spare: true }),
  unseen: (label: string): Column => ({ label, unseen: true }),
  wide: (label: string): Column => ({ label, wide: true }),
};

export const columnOf = (column: string | Column): Column =>
  typeof column === 'string' ? { label: column } : column;
