/** Pictures on their way to the program: as base64 text, which it decodes, turns upright and cleans of place data. */

import type { Attached } from '../bindings/Attached';
import { call } from '../ipc';

/** Puts a file beside the ledger and answers with its hash. A photo is kept as it came, too, where `original` says. */
export async function attach(file: Blob, name: string, original = false): Promise<Attached> {
  const media_type = file.type || 'application/octet-stream';
  return call('attach', { paper: { bytes_base64: await base64Of(file), media_type, name, original } });
}

export async function base64Of(blob: Blob): Promise<string> {
  const bytes = new Uint8Array(await blob.arrayBuffer());
  let text = '';
  // In pieces: a whole photo is more arguments than a call takes.
  for (let at = 0; at < bytes.length; at += 0x8000) {
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  }
  return btoa(text);
}
