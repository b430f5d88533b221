/** Fields by their kind, so that a form reads as what it asks. */

import type { Around, Choice, FieldKind, FieldSpec } from './spec';

type More<C extends Around> = Omit<FieldSpec<C>, 'name' | 'label' | 'kind' | 'required' | 'missing'>;
type Choices<C extends Around> = readonly Choice[] | NonNullable<FieldSpec<C>['choices']>;

function of(kind: FieldKind) {
  return <C extends Around>(name: string, label: FieldSpec<C>['label'], more?: More<C>): FieldSpec<C> => ({
    name,
    label,
    kind,
    ...more,
  });
}

function among(kind: FieldKind) {
  return <C extends Around>(
    name: string,
    label: FieldSpec<C>['label'],
    choices: Choices<C>,
    more?: More<C>,
  ): FieldSpec<C> => ({
    name,
    label,
    kind,
    choices: typeof choices === 'function' ? choices : () => choices,
    ...more,
  });
}

export const field = {
  date: of('date'),
  money: of('money'),
  qty: of('qty'),
  rate: of('rate'),
  percent: of('percent'),
  text: of('text'),
  note: of('note'),
  secret: of('secret'),
  choice: among('choice'),
  buttons: among('buttons'),
  stepper: of('stepper'),
  check: of('check'),
  photos: of('photos'),
  photo: of('photo'),
};

/** A field without which nothing is recorded, and what to say while it is empty. */
export function needed<C extends Around>(
  spec: FieldSpec<C>,
  missing?: FieldSpec<C>['missing'],
): FieldSpec<C> {
  return missing ? { ...spec, required: true, missing } : { ...spec, required: true };
}
