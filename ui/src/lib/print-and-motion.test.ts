/** What the styles do where the system asks for no motion or for its own colors, and on paper. */

import { readdirSync, readFileSync } from 'node:fs';

import { describe, expect, it } from 'vitest';

interface Style {
  file: string;
  css: string;
}

function stylesIn(folder: string): Style[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((item): Style[] => {
    const path = `${folder}/${item.name}`;
    if (item.isDirectory()) return stylesIn(path);
    const text = /\.(svelte|css)$/.test(item.name) ? readFileSync(path, 'utf8') : '';
    if (item.name.endsWith('.css')) return [{ file: path, css: text }];
    const css = /<style>([\s\S]*)<\/style>/.exec(text)?.[1];
    return css === undefined ? [] : [{ file: path, css }];
  });
}

const styles = stylesIn('src');
const theme = readFileSync('src/lib/theme.css', 'utf8');

/** The insides of every block that begins so, braces counted. */
function blocks(css: string, head: string): string[] {
  const found: string[] = [];
  for (let at = css.indexOf(head); at >= 0; at = css.indexOf(head, at + 1)) {
    const open = css.indexOf('{', at);
    let end = open + 1;
    for (let depth = 1; depth > 0 && end < css.length; end += 1) {
      if (css[end] === '{') depth += 1;
      if (css[end] === '}') depth -= 1;
    }
    found.push(css.slice(open + 1, end - 1));
  }
  return found;
}

function everywhere(head: string): string {
  return styles.flatMap(({ css }) => blocks(css, head)).join('\n');
}

describe('where the system asks for no motion', () => {
  const still = blocks(theme, '@media (prefers-reduced-motion: reduce)').join('\n');

  it('every movement of every part lasts no time', () => {
    const every = blocks(still, '*::after').join('\n');
    expect(every).toMatch(/animation-duration: 0m?s !important/);
    expect(every).toMatch(/transition-duration: 0m?s !important/);
    expect(every).toMatch(/animation-iteration-count: 1 !important/);
  });

  it('no part insists on moving all the same', () => {
    for (const { file, css } of styles) {
      if (file.endsWith('theme.css')) continue;
      expect(css, file).not.toMatch(/(transition|animation)[a-z-]*:[^;]*!important/);
    }
  });
});

it('nothing moves longer than 150 ms but what tells that work goes on', () => {
  expect(theme).toMatch(/--swift: 1[0-5]0ms/);
  for (const { file, css } of styles) {
    for (const [, , lasts] of css.matchAll(/(transition|animation): ([^;]*);/g)) {
      const own = /\d(ms|s)\b/.test(lasts ?? '');
      expect(!own || file.endsWith('/Progress.svelte'), `${file}: ${lasts}`).toBe(true);
    }
  }
});

describe('where the system has colors of its own', () => {
  const forced = everywhere('@media (forced-colors: active)');

  it('every token is one of them', () => {
    const tokens = [...theme.matchAll(/--(\w+): light-dark\(/g)].map((match) => match[1] ?? '');
    expect(tokens.length).toBeGreaterThan(8);
    for (const name of tokens)
      expect(forced, name).toMatch(new RegExp(`--${name}: (Canvas|CanvasText|Highlight|\\w+)`));
  });

  it('what is told by a background is told by a border or a color of the system, too', () => {
    for (const name of [
      'kit/Progress',
      'kit/VirtualList',
      'pictures/Ribbon',
      'pictures/Bars',
      'pictures/PairBars',
      'pictures/YearBars',
      'roof/RoofPicture',
      'roof/DrawingBoard',
      'roof/EdgeLine',
      'roof/FeatureMark',
      'roof/SlopeArrow',
    ]) {
      const css = styles.find(({ file }) => file === `src/lib/${name}.svelte`)?.css ?? '';
      const own = blocks(css, '@media (forced-colors: active)').join('\n');
      expect(own, name).toMatch(
        /Highlight|CanvasText|ButtonText|GrayText|forced-color-adjust|border|outline/,
      );
    }
  });

  it('words on a picture of a roof keep a ground of their own to be read on', () => {
    const text = blocks(forced, ':where(.lettered) text {').join('\n');
    expect(text).toMatch(/fill: CanvasText/);
    expect(text).toMatch(/stroke: Canvas;/);
    for (const name of ['roof/RoofPicture', 'roof/DrawingBoard']) {
      expect(readFileSync(`src/lib/${name}.svelte`, 'utf8'), name).toMatch(/<svg\s[^>]*class="lettered"/);
    }
  });
});

describe('on paper', () => {
  const printed = everywhere('@media print');

  it('the spine, the buttons and the messages are left out', () => {
    expect(blocks(printed, '.not-printed').join('\n')).toMatch(/display: none/);
    for (const name of ['Destinations', 'kit/Toasts', 'forms/FormSheet']) {
      expect(readFileSync(`src/lib/${name}.svelte`, 'utf8'), name).toMatch(/not-printed/);
    }
    expect(blocks(printed, '.button').join('\n')).toMatch(/display: none/);
  });

  it('the job line stands where it is and is not pinned', () => {
    const css = styles.find(({ file }) => file.endsWith('job/PinnedHead.svelte'))?.css ?? '';
    expect(css).toMatch(/position: sticky/);
    expect(blocks(css, '@media print').join('\n')).toMatch(/position: static/);
  });
});
