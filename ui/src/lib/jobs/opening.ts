/**
 * What the list hands on to the page of the job that is opened from it: the job's line, which the list has just read.
 * It stands there at once, and the page reads the rest.
 */
import type { JobBar } from '../bindings/JobBar';

let handed: { bar: JobBar; month: string } | undefined;

/** The list opens a job. */
export function handOn(bar: JobBar, month: string): void {
  handed = { bar, month };
}

/** What was handed on of this job at the end of this month. Once: a page that is come to later reads for itself. */
export function takeOver(number: string, month: string): JobBar | undefined {
  const taken = handed;
  handed = undefined;
  return taken?.bar.number === number && taken.month === month ? taken.bar : undefined;
}
