/** New letters for a file under whose letters another one was written. */

import type { Relettered } from '../bindings/Relettered';
import { field, needed } from '../forms/fields';
import type { FormSpec } from '../forms/spec';
import { call } from '../ipc';
import { desk } from './desk.svelte';
import { inTouch } from './in-touch.svelte';

export function reletterForm(): FormSpec {
  let done: Relettered | undefined;
  return {
    kind: 'joining',
    title: 'Give this file new letters',
    record: 'Choose the joining file',
    fields: [
      needed(
        field.text('passphrase', 'The passphrase', { wide: true }),
        'Type the passphrase that you were told.',
      ),
    ],
    send: async ({ fields: { passphrase = '' } }) => {
      done = await call('reletter', { passphrase });
      inTouch.forget();
      await desk.refresh();
    },
    says: () => (done ? told(done) : ''),
  };
}

function told({ letter, was, entries, aside }: Relettered): string {
  const went = entries === 1 ? '1 entry' : `${entries} entries`;
  return `This is device ${letter} now. ${went} that only it held as ${was} went along. The file as it was: ${aside}.`;
}
