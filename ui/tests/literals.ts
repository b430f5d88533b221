/** Words that a component shows by itself: text and labels that stand in its source and not in the catalog. */

import { parse } from 'svelte/compiler';
import ts from 'typescript';

/** Attributes and properties that are read or heard. */
const SHOWN = new Set(['label', 'aria-label', 'alt', 'title', 'hint', 'back', 'of', 'name', 'placeholder']);
/** What looks words up in the catalog. */
const LOOKS_UP = new Set(['say', 'told', 'both', 'forBoth']);

const isWords = (text: string) => /\p{L}{2}/u.test(text);
/** A literal that people would read: a sentence, or a word with a capital. */
const isRead = (text: string) => isWords(text) && (/\S \S/.test(text) || /^\p{Lu}/u.test(text.trim()));

interface Node {
  type: string;
  start: number;
  end: number;
  [key: string]: unknown;
}

/** The literals of a script, but for imports, types and what stands in a call that looks words up. */
function inScript(code: string, found: string[]): void {
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isTypeNode(node)) return;
    if (ts.isCallExpression(node) && LOOKS_UP.has(node.expression.getText())) {
      node.arguments.slice(1).forEach(visit);
      return;
    }
    if (ts.isStringLiteralLike(node) && isRead(node.text)) found.push(node.text);
    if (ts.isTemplateExpression(node)) {
      const words = [node.head, ...node.templateSpans.map((span) => span.literal)];
      if (words.some((part) => isWords(part.text) && /[\s.]/.test(part.text))) found.push(node.getText());
    }
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile('page.ts', code, ts.ScriptTarget.Latest, true));
}

function inMarkup(source: string, fragment: Node, found: string[]): void {
  const script = (node: Node) => inScript(`(${source.slice(node.start, node.end)})`, found);
  const visit = (node: unknown): void => {
    if (Array.isArray(node)) node.forEach(visit);
    if (typeof node !== 'object' || node === null || Array.isArray(node)) return;
    const here = node as Node;
    if (here.type === 'Text') {
      const words = String(here.data).trim();
      if (isWords(words)) found.push(words);
      return;
    }
    if (here.type === 'ExpressionTag') return script(here.expression as Node);
    if (here.type === 'Attribute') {
      const parts = (Array.isArray(here.value) ? here.value : [here.value]) as Node[];
      for (const part of parts) {
        if (part.type === 'ExpressionTag') script(part.expression as Node);
        else if (part.type === 'Text' && SHOWN.has(String(here.name)) && isRead(`${String(part.data)} x`)) {
          const words = String(part.data).trim();
          if (here.name !== 'name' || words.includes(' ')) found.push(words);
        }
      }
      return;
    }
    for (const key of ['fragment', 'nodes', 'attributes', 'consequent', 'alternate', 'body', 'fallback'])
      visit(here[key]);
  };
  visit(fragment);
}

/** Every literal in a source that people would read and the catalog does not hold. */
export function literalsIn(file: string, source: string): string[] {
  const found: string[] = [];
  if (!file.endsWith('.svelte')) {
    inScript(source, found);
    return found;
  }
  const ast = parse(source, { modern: true });
  const script = ast.instance?.content as unknown as Node | undefined;
  if (script) inScript(source.slice(script.start, script.end), found);
  inMarkup(source, ast.fragment as unknown as Node, found);
  return found;
}

/** The words that a source looks up by writing them out. */
export function saidIn(file: string, source: string): string[] {
  const said: string[] = [];
  const calls = /\b(?:say|both|told|forBoth)\(\s*(?:'((?:[^'\\]|\\.)*)'|"((?:[^"\\]|\\.)*)")/gu;
  for (const [, single, double] of source.matchAll(calls))
    said.push((single ?? double ?? '').replaceAll("\\'", "'"));
  return file === '' ? [] : said;
}
