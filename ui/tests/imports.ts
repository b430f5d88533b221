/** What the files of the page import, read by the compilers that build it, and the circles among them. */

import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';

import { parse } from 'svelte/compiler';
import ts from 'typescript';

/** Each file by its path below the folder read, with the files that it imports there. */
export type Imports = ReadonlyMap<string, readonly string[]>;

/** The syntax by which a file names another: static, dynamic and as a type alike. */
const NAMING = new Set([
  'ImportDeclaration',
  'ExportNamedDeclaration',
  'ExportAllDeclaration',
  'ImportExpression',
  'TSImportType',
]);

/** Every path that a component names, in its scripts and in its markup. */
function namedInComponent(text: string): string[] {
  const found: string[] = [];
  const look = (node: unknown): void => {
    if (Array.isArray(node)) return node.forEach(look);
    if (typeof node !== 'object' || node === null) return;
    const { type, source, argument } = node as Record<string, unknown>;
    if (typeof type === 'string' && NAMING.has(type)) {
      const named = (source ?? argument) as { value?: unknown; literal?: { value?: unknown } } | undefined;
      const value = named?.value ?? named?.literal?.value;
      if (typeof value === 'string') found.push(value);
    }
    Object.values(node).forEach(look);
  };
  look(parse(text, { modern: true }));
  return found;
}

/** Every path that a file names. */
export function namedIn(path: string, text: string): string[] {
  if (path.endsWith('.svelte')) return namedInComponent(text);
  return ts.preProcessFile(text, true, true).importedFiles.map(({ fileName }) => fileName);
}

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((each) => {
    const path = join(folder, each.name);
    return each.isDirectory() ? filesUnder(path) : [path];
  });
}

/** The file that a relative path means, as the bundler finds it. */
function meant(path: string): string {
  const found = [path, `${path}.ts`, join(path, 'index.ts')].find(
    (each) => existsSync(each) && statSync(each).isFile(),
  );
  if (!found) throw new Error(`Nothing lies at ${path}.`);
  return found;
}

/** What the files below a folder import of each other. */
export function importsUnder(folder: string): Imports {
  const sources = filesUnder(folder).filter((path) => /\.(ts|svelte)$/.test(path));
  return new Map(
    sources.map((path) => {
      const named = namedIn(path, readFileSync(path, 'utf8')).filter((each) => each.startsWith('.'));
      const files = named.map((each) => relative(folder, meant(resolve(dirname(path), each))));
      const own = relative(folder, path);
      // A component that draws a tree draws itself below itself: that is no second file.
      const itself = own.endsWith('.svelte') ? own : undefined;
      return [own, [...new Set(files)].filter((each) => !each.startsWith('..') && each !== itself)];
    }),
  );
}

/**
 * The circles among files, at least one for each group of files that reach each other: the way round, its first file
 * named again at its end. A file that imports itself is a circle of one.
 */
export function circles(imports: Imports): string[][] {
  const done = new Set<string>();
  const found: string[][] = [];
  const walk = (file: string, way: string[]): void => {
    const at = way.indexOf(file);
    if (at >= 0) {
      found.push([...way.slice(at), file]);
      return;
    }
    if (done.has(file)) return;
    for (const next of imports.get(file) ?? []) walk(next, [...way, file]);
    done.add(file);
  };
  for (const file of [...imports.keys()].sort()) walk(file, []);
  return found;
}
