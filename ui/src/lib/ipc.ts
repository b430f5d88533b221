/**
 * The one door between the page and the program. Every command is named here with what it takes and what it answers;
 * the shapes come from `bindings/`, which the program writes itself. Money and quantities cross as strings.
 */

import { Channel, invoke } from '@tauri-apps/api/core';

import type { About } from './bindings/About';
import type { Refusal } from './bindings/Refusal';

export type { About, Refusal };

type Nothing = Record<string, never>;

/** How far long work has got. `total` is left out while it isn't known. */
export interface Step {
  done: number;
  total?: number;
  /** What is being done now, in words. */
  what: string;
}

/** Every command: what it takes and what it answers. Those that report progress say so with `progress: true`. */
export interface Commands {
  about: { takes: Nothing; answers: About };
  painted: { takes: Nothing; answers: null };
}

type Name = keyof Commands;
type LongName = { [N in Name]: Commands[N] extends { progress: true } ? N : never }[Name];
type Arguments<N extends Name> = Commands[N]['takes'] extends Nothing ? [] : [Commands[N]['takes']];

/** A command's refusal, as an error that can be thrown and shown. */
export class Refused extends Error {
  readonly code: string;
  readonly remedy: string;

  constructor({ code, message, remedy }: Refusal) {
    super(message);
    this.name = 'Refused';
    this.code = code;
    this.remedy = remedy;
  }
}

/** Asks the program. Throws `Refused`, and nothing else. */
export async function call<N extends Name>(name: N, ...args: Arguments<N>): Promise<Commands[N]['answers']> {
  try {
    return await invoke<Commands[N]['answers']>(name, args[0]);
  } catch (error) {
    throw new Refused(refusalOf(error, name));
  }
}

/** Asks for long work; `onStep` hears how far it is. */
export async function callWithProgress<N extends LongName>(
  name: N,
  takes: Commands[N]['takes'],
  onStep: (step: Step) => void,
): Promise<Commands[N]['answers']> {
  const steps = new Channel<Step>(onStep);
  try {
    return await invoke<Commands[N]['answers']>(name, Object.assign({ steps }, takes));
  } catch (error) {
    throw new Refused(refusalOf(error, name));
  }
}

/**
 * Whatever came back, in the one shape. A command that doesn't exist, or isn't allowed, is refused by the shell in a
 * string.
 */
export function refusalOf(error: unknown, name: string): Refusal {
  if (
    typeof error === 'object' &&
    error !== null &&
    'code' in error &&
    'message' in error &&
    'remedy' in error
  ) {
    const { code, message, remedy } = error;
    return { code: String(code), message: String(message), remedy: String(remedy) };
  }
  const said = error instanceof Error ? error.message : String(error);
  return {
    code: 'unreachable',
    message: `The program did not answer “${name}”: ${said}. Nothing was changed.`,
    remedy: 'Close Tearoff and open it again. If it happens again, note these words and report them.',
  };
}
