/**
 * Facts as the page sends them. What can be recorded, and what its fields are called, comes from the program; what was
 * typed is text, and the program reads it. So a misspelt kind or field fails when the page is built, and a wrong word
 * or amount is refused in words.
 */

import type { Facts } from './bindings/Facts';

export type Kind = keyof Facts;

/** A value in hand: text as it was typed, and nothing where nothing was. */
type InHand<T> = T extends readonly (infer Line)[]
  ? readonly FieldsInHand<Line>[]
  : T extends boolean
    ? boolean | null | undefined
    : T extends number
      ? number | string | null | undefined
      : string | null | undefined;

type FieldsInHand<T> = { [Name in keyof T]?: InHand<NonNullable<T[Name]>> };

/** The fields of a kind of fact, as far as they are in hand. */
export type FieldsOf<K extends Kind> = FieldsInHand<Facts[K]>;

/** A fact as it is recorded: its `kind`, its fields, and names where it points at other facts. */
export type FactForm<K extends Kind = Kind> = {
  [Each in K]: { kind: Each; id?: string } & FieldsOf<Each>;
}[K];

/** The fields that are filled in. Empty ones are left out: the ledger knows its own defaults. */
export function filled<T extends object>(fields: T): T {
  return Object.fromEntries(
    Object.entries(fields).filter(([, value]) => value !== '' && value !== undefined && value !== null),
  ) as T;
}

/** A fact of a kind, of the fields that are filled in. */
export function fact<K extends Kind>(kind: K, id: string, fields: FieldsOf<K>) {
  return { ...filled(fields), kind, id } as unknown as FactForm<K> & { id: string };
}
