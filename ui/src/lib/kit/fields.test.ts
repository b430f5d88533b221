import { render, screen } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { describe, expect, it, vi } from 'vitest';

import Choice from './Choice.svelte';
import DateField from './DateField.svelte';
import MoneyField from './MoneyField.svelte';
import QtyField from './QtyField.svelte';
import TextField from './TextField.svelte';

const field = (name: RegExp | string) => screen.getByRole<HTMLInputElement>('textbox', { name });

describe('every field', () => {
  it('has its label, its hint and its problem for those who hear it', () => {
    render(TextField, {
      label: 'Vendor',
      hint: 'As on the bill.',
      problem: 'The vendor is missing. Write one.',
      required: true,
    });
    const input = field('Vendor');
    expect(input.getAttribute('aria-invalid')).toBe('true');
    expect(input.getAttribute('aria-required')).toBe('true');
    const described = (input.getAttribute('aria-describedby') ?? '')
      .split(' ')
      .map((id) => document.getElementById(id)?.textContent);
    expect(described).toEqual(['✕ The vendor is missing. Write one.', 'As on the bill.']);
  });

  it('says in its label when it may be left out', () => {
    render(TextField, { label: 'Note' });
    expect(field('Note optional').getAttribute('aria-invalid')).toBeNull();
  });
});

describe('the date field', () => {
  const look = { label: 'Day', today: '2026-05-09', locale: 'en-US' };

  it('takes what is typed when it is left, and reads it back with its weekday', async () => {
    const onchange = vi.fn();
    render(DateField, { ...look, onchange });
    await userEvent.type(field('Day'), '-1');
    expect(screen.getByText('Friday, May 8, 2026')).toBeTruthy();
    expect(onchange).not.toHaveBeenCalled();
    await userEvent.tab();
    expect(onchange.mock.calls).toEqual([['2026-05-08']]);
    expect(field('Day').value).toBe('05/08/2026');
  });

  it('keeps what it can’t read, says why, and holds no date meanwhile', async () => {
    const onchange = vi.fn();
    render(DateField, { ...look, value: '2026-05-08', onchange });
    await userEvent.clear(field('Day'));
    await userEvent.type(field('Day'), '2/30{Enter}');
    expect(onchange.mock.calls).toEqual([['']]);
    expect(field('Day').value).toBe('2/30');
    expect(screen.getByText(/February 2026 has no day 30\./)).toBeTruthy();
    await userEvent.clear(field('Day'));
    await userEvent.type(field('Day'), 't{Enter}');
    expect(onchange.mock.lastCall).toEqual(['2026-05-09']);
    expect(screen.queryByText(/has no day/)).toBeNull();
  });

  it('goes a day up and down with the arrows, from today if it is empty', async () => {
    const onchange = vi.fn();
    render(DateField, { ...look, onchange });
    await userEvent.type(field('Day'), '{ArrowUp}{ArrowUp}{ArrowDown}{ArrowDown}');
    expect(onchange.mock.calls.flat()).toEqual(['2026-05-09', '2026-05-10', '2026-05-09', '2026-05-08']);
  });

  it('can be emptied', async () => {
    const onchange = vi.fn();
    render(DateField, { ...look, value: '2026-05-08', onchange });
    await userEvent.clear(field('Day'));
    await userEvent.tab();
    expect(onchange.mock.calls).toEqual([['']]);
    expect(field('Day').getAttribute('aria-invalid')).toBeNull();
  });
});

describe('the money field', () => {
  const look = { label: 'Amount', locale: 'en-US' };

  it('takes text and hands on a canonical string', async () => {
    const onchange = vi.fn();
    render(MoneyField, { ...look, onchange });
    await userEvent.type(field('Amount'), '$9,007,199,254,740.93');
    await userEvent.tab();
    expect(onchange.mock.calls).toEqual([['9007199254740.93']]);
    expect(field('Amount').value).toBe('9,007,199,254,740.93');
  });

  it('refuses part of a cent, and less than nothing unless that makes sense', async () => {
    const onchange = vi.fn();
    const { rerender } = render(MoneyField, { ...look, onchange });
    await userEvent.type(field('Amount'), '1.005{Enter}');
    expect(screen.getByText(/At most 2 digits/)).toBeTruthy();
    await userEvent.clear(field('Amount'));
    await userEvent.type(field('Amount'), '-5{Enter}');
    expect(screen.getByText(/less than nothing/)).toBeTruthy();
    expect(onchange).not.toHaveBeenCalled();
    await rerender({ negative: true });
    await userEvent.type(field('Amount'), '{Enter}');
    expect(onchange.mock.calls).toEqual([['-5.00']]);
    expect(field('Amount').value).toBe('\u22125.00');
  });

  it('shows a value given from outside, in the locale’s writing', () => {
    render(MoneyField, { label: 'Amount', locale: 'de-DE', currency: 'EUR', value: '1234.5' });
    expect(field('Amount').value).toBe('1.234,50');
    expect(screen.getByText('€')).toBeTruthy();
  });
});

describe('the quantity field', () => {
  const look = { label: 'Deck sheets', unit: 'sheets', places: 0, locale: 'en-US' };

  it('steps by one with the arrows and the buttons, and not below nothing', async () => {
    const onchange = vi.fn();
    render(QtyField, { ...look, steppers: true, value: '1', onchange });
    await userEvent.click(screen.getByRole('button', { name: 'One more: Deck sheets' }));
    await userEvent.type(field('Deck sheets'), '{ArrowUp}');
    const less = screen.getByRole('button', { name: 'One less: Deck sheets' });
    for (let press = 0; press < 5; press += 1) await userEvent.click(less);
    expect(onchange.mock.calls.flat()).toEqual(['2', '3', '2', '1', '0']);
  });

  it('keeps the part after the mark when it steps', async () => {
    const onchange = vi.fn();
    render(QtyField, { label: 'Hours', unit: 'h', value: '7.25', locale: 'en-US', onchange });
    await userEvent.type(field('Hours'), '{ArrowUp}');
    expect(onchange.mock.calls).toEqual([['8.25']]);
  });

  it('counts whole things only, and takes the unit if it is typed', async () => {
    const onchange = vi.fn();
    render(QtyField, { ...look, onchange });
    await userEvent.type(field('Deck sheets'), '1.5{Enter}');
    expect(screen.getByText(/Write a whole number here/)).toBeTruthy();
    await userEvent.clear(field('Deck sheets'));
    await userEvent.type(field('Deck sheets'), '12 sheets{Enter}');
    expect(onchange.mock.calls).toEqual([['12']]);
  });
});

it('a choice hands on what is chosen', async () => {
  const onchange = vi.fn();
  const choices = [
    { value: 'material', label: 'Material' },
    { value: 'labor', label: 'Labor' },
  ];
  render(Choice, { label: 'Kind', choices, none: 'Choose', onchange });
  await userEvent.selectOptions(screen.getByRole('combobox', { name: 'Kind' }), 'Labor');
  expect(onchange.mock.calls).toEqual([['labor']]);
});
