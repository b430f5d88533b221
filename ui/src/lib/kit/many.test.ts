import { expect, it } from 'vitest';

import { many } from './many';

it('says one of a thing in its single and every other count in its plural', () => {
  expect(many(1, 'part')).toBe('1 part');
  expect(many(0, 'part')).toBe('0 parts');
  expect(many(1200, 'entry', 'entries')).toBe('1,200 entries');
});
