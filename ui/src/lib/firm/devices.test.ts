import { render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { afterEach, expect, it } from 'vitest';

import { AT_DESK } from '../../../tests/desk';
import { program, refuse } from '../../../tests/program';
import type { Devices } from '../bindings/Devices';
import type { Exchanged } from '../bindings/Exchanged';
import InTouchLine from '../start/InTouchLine.svelte';
import { inTouch } from '../start/in-touch.svelte';
import { toasts } from '../kit';
import FirmPage from './FirmPage.svelte';

const EXCHANGED: Exchanged = {
  at: '2026-11-02T14:42:00Z',
  time: '9:42',
  is_reached: true,
  why: null,
  sent: null,
  came: ['3 hidden conditions from North crew’s tablet'],
  waiting: 0,
  troubles: [],
  is_all_known: true,
  parted: null,
  photos: '2 photos or papers came',
};

const TWO: Devices = {
  here: 'A',
  is_site_copy: false,
  devices: [
    {
      letter: 'A',
      name: 'The office',
      role: 'owner',
      person: 'Ruth Quill',
      is_here: true,
      has_left: false,
      entries: 40,
    },
    {
      letter: 'B',
      name: 'North crew’s tablet',
      role: 'crew',
      person: 'Petra Lundgate',
      is_here: false,
      has_left: false,
      entries: 1,
    },
  ],
  store: '/srv/parcels',
  waiting: 2,
  last: EXCHANGED,
};

afterEach(() => inTouch.forget());

async function at(answers: Parameters<typeof program>[0] = {}, state = AT_DESK) {
  const stands = program(answers, state);
  render(FirmPage, { locale: 'en-US' });
  const heading = await screen.findByRole('heading', { name: 'Devices' });
  return { ...stands, section: within(heading.closest('section') as HTMLElement) };
}

it('lists who has which device, what waits and what came', async () => {
  const { section } = await at({ devices: TWO });
  await section.findByText(/B: North crew’s tablet, for Petra Lundgate/);
  expect(section.getByText(/holds what a crew sees; 1 entry of it is here/)).toBeTruthy();
  expect(section.getByText('2 entries wait to be sent.')).toBeTruthy();
  expect(section.getByText('3 hidden conditions from North crew’s tablet')).toBeTruthy();
  expect(section.getByText('/srv/parcels')).toBeTruthy();
});

it('adds a device and tells its passphrase once', async () => {
  const added = {
    letter: 'B',
    name: 'A tablet',
    role: 'crew' as const,
    person: 'Petra Lundgate',
    file: 'a stick/A tablet.joining',
    passphrase: 'abcd-efgh-jkmn-pqrs',
    has_store: false,
  };
  const { section, last } = await at({ add_device: added });
  await userEvent.click(section.getByRole('button', { name: 'Add a device' }));
  await userEvent.type(screen.getByLabelText('What people call it'), 'A tablet');
  const whose = screen.getByLabelText('Whose it is');
  const petra = within(whose).getByRole<HTMLOptionElement>('option', { name: /Petra Lundgate/ });
  await userEvent.selectOptions(whose, petra);
  await userEvent.click(screen.getByRole('button', { name: 'Choose where its joining file goes' }));
  await screen.findByText('abcd-efgh-jkmn-pqrs');
  expect(last('add_device')).toEqual({ name: 'A tablet', person: petra.value, role: null });
  expect(screen.getByText(/No store is chosen yet/)).toBeTruthy();
});

it('drops a device with a reason, and says what the program refuses', async () => {
  const { section, last } = await at({ devices: TWO, drop_device: () => refuse('It was dropped already.') });
  await userEvent.click(await section.findByRole('button', { name: 'Drop North crew’s tablet' }));
  await userEvent.type(screen.getByLabelText(/^Why/), 'left on a roof');
  await userEvent.click(screen.getByRole('button', { name: 'Drop it' }));
  await waitFor(() => expect(last('drop_device')).toEqual({ letter: 'B', reason: 'left on a roof' }));
  await screen.findByText(/It was dropped already/);
});

it('exchanges at once, and says so when nothing is new', async () => {
  const quiet = { ...EXCHANGED, came: [] };
  const { section, count } = await at({
    devices: TWO,
    exchange_now: { came: 0, last: quiet, refused: null, unsound: null },
  });
  await userEvent.click(await section.findByRole('button', { name: 'Exchange now' }));
  await waitFor(() => expect(toasts.shown.at(-1)?.text).toBe('Nothing new.'));
  expect(count('exchange_now')).toBe(1);
});

it('tells the crew in one line what came, what waits, and that it is off line', async () => {
  program({ exchange_now: { came: 1, last: { ...EXCHANGED, waiting: 1 }, refused: null, unsound: null } });
  render(InTouchLine);
  await inTouch.exchange();
  await screen.findByText(
    /3 hidden conditions from North crew’s tablet; 2 photos or papers came; 1 entry waits to be sent, 9:42/,
  );
  expect(inTouch.came).toBe(1);
  program({
    exchange_now: {
      came: 1,
      last: { ...EXCHANGED, is_reached: false, waiting: 2 },
      refused: null,
      unsound: null,
    },
  });
  await inTouch.exchange();
  await screen.findByText(/Off line; 2 entries wait to be sent/);
});

const PARTED =
  'Another file was written as device A too, and that one keeps the letter. Nothing is lost: it all stays here.';

it('says that another file was written under this letter, and gives this one new letters', async () => {
  const last = { ...EXCHANGED, troubles: [PARTED], parted: PARTED };
  const relettered = {
    was: 'A',
    letter: 'D',
    name: 'The spare laptop',
    file: 'firm.tearoff',
    aside: 'firm, as A.tearoff',
    entries: 3,
    first: EXCHANGED,
  };
  const { section, last: asked } = await at({
    devices: { ...TWO, last },
    exchange_now: { came: 0, last, refused: null, unsound: null },
    reletter: relettered,
  });
  expect(section.queryByRole('alert')).toBeNull();
  await userEvent.click(await section.findByRole('button', { name: 'Exchange now' }));
  const alert = await section.findByRole('alert');
  expect(alert.textContent).toContain('that one keeps the letter. Nothing is lost');
  // Said once, not again among what the exchange brought.
  expect(section.getAllByText(PARTED)).toHaveLength(1);
  await userEvent.click(within(alert).getByRole('button', { name: 'Give this file new letters' }));
  await screen.findByText(/the owner adds a device for whoever sits here/);
  await userEvent.click(screen.getByRole('button', { name: 'Choose the joining file' }));
  await screen.findByText('Type the passphrase that you were told.');
  await userEvent.type(screen.getByLabelText('The passphrase'), 'abcd-efgh-jkmn-pqrs');
  await userEvent.click(screen.getByRole('button', { name: 'Choose the joining file' }));
  await waitFor(() => expect(asked('reletter')).toEqual({ passphrase: 'abcd-efgh-jkmn-pqrs' }));
  await waitFor(() =>
    expect(toasts.shown.at(-1)?.text).toMatch(/This is device D now\. 3 entries that only it held/),
  );
  expect(section.queryByRole('alert')).toBeNull();
});

it('says the same to a crew, where its letter was given to two devices, in place of the line', async () => {
  const refused = {
    code: 'refused' as const,
    field: 'device',
    message: 'The firm knows device B by another key. Nothing was sent.',
    remedy: 'Let the owner add a device on another one.',
  };
  program({ exchange_now: { came: 0, last: EXCHANGED, refused, unsound: null } });
  render(InTouchLine);
  await inTouch.exchange();
  const alert = await screen.findByRole('alert');
  expect(alert.textContent).toContain(
    'The firm knows device B by another key. Nothing was sent. Let the owner add',
  );
  expect(screen.queryByText(/3 hidden conditions from North crew/)).toBeNull();
  expect(screen.getByRole('button', { name: 'Give this file new letters' })).toBeTruthy();
});
