/** What the forms for devices ask. */

import type { Added } from '../bindings/Added';
import type { DeviceLine } from '../bindings/DeviceLine';
import type { PersonRow } from '../bindings/PersonRow';
import type { Role } from '../bindings/Role';
import { field, needed } from '../forms/fields';
import type { FormSpec } from '../forms/spec';
import { call } from '../ipc';
import { desk } from '../start/desk.svelte';

const HOLDS: Record<Role, string> = {
  owner: 'holds everything',
  books: 'holds everything, and shows what the bookkeeper sees',
  crew: 'holds what a crew sees',
};

export function holds(role: Role): string {
  return HOLDS[role];
}

export function addForm(people: readonly PersonRow[], onadded: (added: Added) => void): FormSpec {
  const here = people.filter((person) => person.left_on === null);
  const whose = here.map(({ id, name, role }) => ({ value: id, label: `${name}, ${role}` }));
  return {
    kind: 'device',
    title: 'Add a device',
    record: 'Choose where its joining file goes',
    fields: [
      needed(field.text('name', 'What people call it', { wide: true, example: 'North crew’s tablet' })),
      needed(field.choice('person', 'Whose it is', whose)),
      field.choice(
        'role',
        'What it may hold',
        [
          { value: 'crew', label: 'What a crew sees' },
          { value: 'books', label: 'Everything, shown as the bookkeeper sees it' },
          { value: 'owner', label: 'Everything' },
        ],
        { none: 'What its person sees' },
      ),
    ],
    send: async ({ fields: { name = '', person = '', role } }) => {
      onadded(await call('add_device', { name, person, role: (role || null) as Role | null }));
    },
  };
}

export function storeForm(store: string | null | undefined): FormSpec {
  return {
    kind: 'store',
    title: 'Where parcels lie',
    record: 'Try it, and keep it',
    fields: [
      needed(field.text('address', 'Folder or address', { wide: true, example: 'https://user@host/folder' })),
      field.secret('secret', 'What opens it', {
        hint: () => 'A password; for sftp the text of the private key',
      }),
    ],
    start: () => ({ fields: { address: store ?? '' }, lists: {} }),
    send: async ({ fields: { address = '', secret } }) => {
      await call('choose_store', { address, secret: secret || null });
    },
    says: ({ fields }) => `Parcels lie in ${fields.address} from now on.`,
  };
}

export function dropForm(device: DeviceLine): FormSpec {
  return {
    kind: 'device-left',
    title: `Drop ${device.name}`,
    record: 'Drop it',
    fields: [field.text('reason', 'Why', { wide: true })],
    send: async ({ fields: { reason } }) => {
      await call('drop_device', { letter: device.letter, reason: reason || null });
      await desk.refresh();
    },
    says: () => `${device.name} is dropped.`,
  };
}
