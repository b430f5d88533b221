/** Pictures on their way to the program: as base64 text, which it decodes, turns upright and cleans of place data. */

import type { Attached } from '../bindings/Attached';
import { call } from '../ipc';

/** Puts a file beside the ledger and answers with its hash. A photo is kept as it came, too, where `original` says. */
export async function attach(file: Blob, name: string, original = false): Promise<Attached> {
  const media_type = file.type || 'application/octet-stream';
  return call('attach', { paper: { bytes_base64: await base64Of(file), media_type, name, original } });
}

/** A file as base64, turned into it by the browser off the page's own thread: a large photo holds nothing up. */
export function base64Of(blob: Blob): Promise<string> {
  return new Promise((done, failed) => {
    const reader = new FileReader();
    reader.onload = () => done((reader.result as string).replace(/^[^,]*,/, ''));
    reader.onerror = () => failed(reader.error ?? new Error('The file could not be read.'));
    reader.readAsDataURL(blob);
  });
}
