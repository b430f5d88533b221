/** Many photos, one after another: read and cleaned off the window's thread, so that it stays usable meanwhile. */

import type { Attached } from '../bindings/Attached';
import { Refused } from '../ipc';
import { attach } from './attach';

export interface Progress {
  /** The photo that is being kept, from 1. */
  at: number;
  of: number;
  name: string;
}

export interface Taken {
  kept: Attached[];
  /** One sentence for each file that was not kept. */
  refused: string[];
}

/** The program's own limit; a larger file is not even read here. */
const MOST_BYTES = 40 * 1024 * 1024;
const MIB = 1024 * 1024;

/**
 * Keeps the photos among files in their order. `onone` hears of each as soon as it is kept, so that a draft names it:
 * by then the photo is on the disk. What can't be kept is told with its file's name, and the others go on.
 */
export async function takeAll(
  files: Iterable<File>,
  onone: (kept: Attached) => void,
  onstep: (step: Progress | undefined) => void = () => {},
): Promise<Taken> {
  const all = [...files];
  const taken: Taken = { kept: [], refused: [] };
  for (const [index, file] of all.entries()) {
    onstep({ at: index + 1, of: all.length, name: file.name });
    const problem = unfit(file);
    if (problem) {
      taken.refused.push(problem);
      continue;
    }
    try {
      const kept = await attach(file, file.name, true);
      if (taken.kept.some((other) => other.hash === kept.hash)) continue;
      taken.kept.push(kept);
      onone(kept);
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      taken.refused.push(`${file.name} was not kept. ${error.message} ${error.remedy}`);
    }
  }
  onstep(undefined);
  return taken;
}

function unfit(file: File): string {
  if (file.size === 0) return `${file.name} was not kept: the file is empty. Take the picture again.`;
  if (file.size > MOST_BYTES) {
    const size = Math.ceil(file.size / MIB);
    return `${file.name} was not kept: it has ${size} MiB, and 40 MiB is the most. Take it at a smaller size.`;
  }
  if (!file.type.startsWith('image/')) {
    return `${file.name} was not kept: it is no picture. Take a photo, or choose one.`;
  }
  return '';
}
