/** Where a file of the page writes labels of a closed list anew, instead of those that the program wrote. */

import { parse } from 'svelte/compiler';

/** A closed list by its name: its words. */
export type ClosedLists = ReadonlyMap<string, ReadonlySet<string>>;

interface Node {
  type: string;
  [key: string]: unknown;
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';
}

/** The text of a literal, without the types around it. */
function textOf(node: unknown): string | undefined {
  if (!isNode(node)) return undefined;
  if (node.type === 'TSAsExpression' || node.type === 'TSSatisfiesExpression') return textOf(node.expression);
  return node.type === 'Literal' && typeof node.value === 'string' ? node.value : undefined;
}

function propertiesOf(node: unknown): [string, unknown][] {
  if (!isNode(node) || node.type !== 'ObjectExpression') return [];
  return (node.properties as Node[]).flatMap((each): [string, unknown][] => {
    if (each.type !== 'Property') return [];
    const key = each.key as Node;
    const name = key.type === 'Identifier' ? String(key.name) : textOf(key);
    return name === undefined ? [] : [[name, each.value]];
  });
}

/** What a property of an entry is called where it is read. */
const SAYS = new Set(['label', 'title', 'says', 'name', 'one', 'many', 'single', 'several']);
/** What a property of an entry is called where it is its word. */
const IS_WORD = new Set(['value', 'kind', 'word']);

/** What is read of an entry: itself, or its label. */
function saysOf(entry: unknown): string | undefined {
  return textOf(entry) ?? textOf(propertiesOf(entry).find(([name]) => SAYS.has(name))?.[1]);
}

/** The words of an object or an array of choices, each with what is read for it. */
function entriesOf(node: Node): [string, string | undefined][] {
  if (node.type === 'ObjectExpression') {
    return propertiesOf(node).map(([word, entry]) => [word, saysOf(entry)]);
  }
  if (node.type !== 'ArrayExpression') return [];
  return (node.elements as unknown[]).flatMap((each): [string, string | undefined][] => {
    if (isNode(each) && each.type === 'ArrayExpression') {
      const [word, says] = (each.elements as unknown[]).map(textOf);
      return word === undefined ? [] : [[word, says]];
    }
    const properties = propertiesOf(each);
    const word = textOf(properties.find(([name]) => IS_WORD.has(name))?.[1]);
    return word === undefined ? [] : [[word, saysOf(each)]];
  });
}

/**
 * The closed lists whose labels a file writes: two words of one list with what is read for them, where most of what
 * stands there is of that list. What `passes` is no label: a word of the program, a mark, a figure.
 */
export function labelsIn(
  path: string,
  text: string,
  lists: ClosedLists,
  passes: (says: string) => boolean,
): string[] {
  // A file of TypeScript is a component with nothing but a script.
  const source = path.endsWith('.svelte') ? text : `<script lang="ts">${text}</script>`;
  const found = new Set<string>();
  const look = (node: unknown): void => {
    if (Array.isArray(node)) return node.forEach(look);
    if (typeof node !== 'object' || node === null) return;
    if (isNode(node)) {
      const entries = entriesOf(node);
      for (const [list, words] of lists) {
        const own = entries.filter(([word]) => words.has(word));
        const said = own.filter(([, says]) => says !== undefined && !passes(says));
        if (said.length >= 2 && own.length * 2 >= entries.length) found.add(list);
      }
    }
    Object.values(node).forEach(look);
  };
  look(parse(source, { modern: true }));
  return [...found].sort();
}
