import { render, screen, waitFor } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { afterEach, expect, it, vi } from 'vitest';

import { fact } from '../facts';
import { program, refuse } from '../../../tests/program';
import { toasts } from '../kit';
import { Draft, isDrafted, REST_MS } from './draft';
import { field, needed } from './fields';
import { Form, type Options } from './form.svelte';
import FormBox from './FormBox.svelte';
import type { Around, FormSpec } from './spec';

const SPEC: FormSpec = {
  kind: 'vendor',
  title: 'Vendor',
  record: ({ fields }) => `Keep ${fields.name || 'it'}`,
  fields: [
    needed(field.text('name', 'Name'), 'Say who it is.'),
    field.check('subcontractor', 'A subcontractor'),
    field.date('since', 'Since', { usual: ({ today }) => today }),
  ],
  lists: [
    {
      name: 'codes',
      line: 'Code',
      fields: [needed(field.text('code', 'Word'))],
      blank: () => ({ kind: 'usual' }),
    },
  ],
  problems: ({ fields }): Record<string, string> =>
    fields.name === 'Nobody' ? { '': 'Nobody is no vendor.' } : {},
  facts: ({ fields }, _around, id) =>
    fields.name === 'Same'
      ? []
      : [fact('vendor', id(0), { name: fields.name, subcontractor: fields.subcontractor === 'yes' })],
  says: ({ fields }) => `${fields.name} is kept.`,
  undo: 'Not meant',
};

let end = () => {};

afterEach(() => end());

function at(answers: Parameters<typeof program>[0] = {}, options: Partial<Options<Around>> = {}) {
  const stands = program(answers);
  const form = new Form(SPEC, {
    context: () => ({ today: '2026-11-02' }),
    keeps: { on: '26-001' },
    ...options,
  });
  const close = form.open();
  end = close;
  render(FormBox, { form, back: 'Not yet' });
  return { ...stands, form };
}

const press = (name: string) => userEvent.click(screen.getByRole('button', { name }));

it('says at the field what is missing, and goes there', async () => {
  const { count } = at();
  await press('Keep it');
  expect(screen.getByText('Say who it is.')).toBeTruthy();
  await waitFor(() => expect(document.activeElement).toBe(screen.getByLabelText('Name')));
  expect(count('record')).toBe(0);
});

it('takes a problem away once its field is put right, and goes to the first that stays', async () => {
  program({});
  const spec: FormSpec = {
    ...SPEC,
    fields: [needed(field.text('name', 'Name')), needed(field.text('town', 'Town'))],
    lists: [],
    record: 'Keep',
  };
  const form = new Form(spec, { context: () => ({ today: '2026-11-02' }) });
  end = form.open();
  render(FormBox, { form });
  await press('Keep');
  await waitFor(() => expect(document.activeElement).toBe(screen.getByLabelText('Name')));
  await userEvent.type(screen.getByLabelText('Name'), 'Yard');
  expect(screen.queryByText('Name is missing.')).toBeNull();
  expect(screen.getByText('Town is missing.')).toBeTruthy();
  await press('Keep');
  await waitFor(() => expect(document.activeElement).toBe(screen.getByLabelText('Town')));
});

it('says at the foot what no field is at fault for, and nothing of it once something is typed', async () => {
  at();
  await userEvent.type(screen.getByLabelText('Name'), 'Nobody');
  await press('Keep Nobody');
  const said = screen.getByText('Nobody is no vendor.');
  await waitFor(() => expect(document.activeElement).toBe(said.closest('p')));
  await userEvent.type(screen.getByLabelText('Name'), ' else');
  expect(screen.queryByText('Nobody is no vendor.')).toBeNull();
});

it('is recorded by Ctrl+Enter, begins anew, and is taken back with its reason', async () => {
  const onchanged = vi.fn();
  const { last, count, form } = at({}, { onchanged });
  await userEvent.type(screen.getByLabelText('Name'), 'Yard{Control>}{Enter}{/Control}');
  await waitFor(() => expect(count('record')).toBe(1));
  await waitFor(() => expect(form.values.fields).toEqual({}));
  await toasts.undo();
  expect(last('reverse')).toEqual({ id: last('record').facts[0].id, reason: 'Not meant' });
  expect(onchanged.mock.calls).toEqual([[[last('record').facts[0].id]], [[]]]);
});

it('records nothing where nothing was changed, and says so', async () => {
  const onrecorded = vi.fn();
  const { count } = at({}, { onrecorded });
  await userEvent.type(screen.getByLabelText('Name'), 'Same');
  await press('Keep Same');
  await waitFor(() => expect(onrecorded).toHaveBeenCalledOnce());
  expect(count('record')).toBe(0);
  expect(toasts.shown).toMatchObject([{ tone: 'done', text: 'Nothing is changed: all stands as it was.' }]);
});

it('drops lines that nobody filled in', async () => {
  const { form, count } = at();
  await userEvent.type(screen.getByLabelText('Name'), 'Yard');
  await press('Add another code');
  expect(form.values.lists.codes).toHaveLength(1);
  await press('Keep Yard');
  await waitFor(() => expect(count('record')).toBe(1));
});

it('puts a refusal at the field that it names, in a sentence of its own', async () => {
  at({ record: () => refuse('there is one already.', 'name') });
  await userEvent.type(screen.getByLabelText('Name'), 'Yard');
  await press('Keep Yard');
  await screen.findByText(/^There is one already. Try it another way.$/);
  expect(screen.getByLabelText('Name').getAttribute('aria-invalid')).toBe('true');
});

it('asks about a date that may be a slip, and takes it when it is recorded again as it is', async () => {
  const message = 'November 2, 1926 is more than 5 years from today.';
  const unusual = { code: 'unusual-date' as const, field: 'since', message, remedy: 'Correct it.' };
  let sure: unknown[] = [];
  at({
    record: ({ facts }) => {
      sure = facts.map((each) => (each as { sure_of?: string[] }).sure_of);
      if (sure[0] === undefined) throw unusual;
      return [{ id: 'f', repeated: false }];
    },
  });
  await userEvent.type(screen.getByLabelText('Name'), 'Yard');
  await press('Keep Yard');
  await screen.findByText(/^November 2, 1926 is more than .* or record it again if it is right.$/);
  expect(sure).toEqual([undefined]);
  await press('Keep Yard');
  await waitFor(() => expect(sure).toEqual([['since']]));
});

it('takes up the draft that was left, and keeps none of a form that is as it began', async () => {
  const body = { on: '26-001', values: { fields: { name: 'Yard' }, lists: {} }, ids: ['01a2'] };
  const { count } = at({ drafts: [{ id: 'd', kind: 'vendor', job: '26-001', changed_at: 'x', body }] });
  await screen.findByDisplayValue('Yard');
  await userEvent.clear(screen.getByLabelText('Name'));
  await waitFor(() => expect(count('delete_draft')).toBe(1));
  expect(count('save_draft')).toBe(0);
});

it('keeps a draft under the id that its fact will have', async () => {
  const { last, count } = at();
  await userEvent.type(screen.getByLabelText('Name'), 'Yard');
  await waitFor(() => expect(count('save_draft')).toBeGreaterThan(0), { timeout: 2000 });
  await press('Keep Yard');
  await waitFor(() => expect(count('record')).toBe(1));
  expect(last('save_draft').body.ids).toEqual([last('record').facts[0].id]);
});

it('saves again what could not be saved, but nothing that was thrown away', async () => {
  let full = true;
  const stands = program({ save_draft: () => (full ? refuse('The disk is full.') : 'd') });
  const draft = new Draft<{ words: string }>('k', 'on', ({ words }) => (words ? { words } : undefined));
  draft.later({ words: 'a' }, () => {});
  await expect(draft.now()).rejects.toThrow('The disk is full.');
  full = false;
  await draft.now();
  expect(stands.last('save_draft').body).toEqual({ on: 'on', words: 'a' });
  draft.later({ words: 'b' }, () => {});
  await Promise.all([draft.now(), draft.drop()]);
  const before = stands.count('save_draft');
  await draft.now();
  await new Promise((done) => setTimeout(done, REST_MS + 50));
  expect(stands.count('save_draft')).toBe(before);
  expect(stands.last('delete_draft')).toEqual({ id: 'd' });
  expect(await isDrafted('k', 'on')).toBe(false);
});
