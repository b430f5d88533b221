import { readFileSync } from 'node:fs';

import { describe, expect, it } from 'vitest';

import { chosenTheme, setTheme } from './kit/theme';

const css = readFileSync('src/lib/theme.css', 'utf8');

/** The two colors of a token, light then dark. */
function token(name: string): [string, string] {
  const match = new RegExp(`--${name}: light-dark\\((#[0-9a-f]{6}), (#[0-9a-f]{6})\\)`).exec(css);
  if (!match) throw new Error(`The theme has no token --${name}`);
  return [match[1] ?? '', match[2] ?? ''];
}

/** Contrast after WCAG 2.2: relative luminances, and .05 for the light that falls on the screen. */
function contrast(one: string, other: string): number {
  const luminance = (color: string) => {
    const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
      const part = Number.parseInt(color.slice(at, at + 2), 16) / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const [high = 0, low = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (high + 0.05) / (low + 0.05);
}

describe.each([
  ['light', 0],
  ['dark', 1],
] as const)('%s', (_, side) => {
  it.each(['paper', 'leaf'])('can be read on %s', (ground) => {
    const on = (name: string) => contrast(token(name)[side], token(ground)[side]);
    expect(on('ink')).toBeGreaterThanOrEqual(7);
    for (const name of ['pencil', 'copper', 'patina', 'ochre', 'oxblood', 'slate']) {
      expect(on(name), name).toBeGreaterThanOrEqual(4.5);
    }
  });
});

it('measures contrast as the standard does', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
  expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
});

it('keeps the theme that a person chose, and goes back to the system’s', () => {
  setTheme('dark');
  expect(document.documentElement.dataset.theme).toBe('dark');
  expect(chosenTheme()).toBe('dark');
  setTheme('system');
  expect(document.documentElement.dataset.theme).toBeUndefined();
  expect(chosenTheme()).toBe('system');
});
