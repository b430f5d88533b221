// What a careful reader would say of the page's code, said by a machine. Looks are prettier's, types svelte-check's.

import js from '@eslint/js';
import { defineConfig } from 'eslint/config';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';

import svelteConfig from './svelte.config.js';

export default defineConfig(
  { ignores: ['dist', 'node_modules', '.svelte-check', 'src/lib/bindings'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  js.configs.recommended,
  ts.configs.recommendedTypeChecked,
  svelte.configs.recommended,
  {
    languageOptions: {
      globals: globals.browser,
      parserOptions: {
        projectService: true,
        extraFileExtensions: ['.svelte'],
        tsconfigRootDir: import.meta.dirname,
      },
    },
    rules: {
      'array-callback-return': 'error',
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'no-alert': 'error',
      'no-console': 'error',
      'no-else-return': 'error',
      'no-implicit-coercion': 'error',
      'no-param-reassign': 'error',
      'no-self-compare': 'error',
      'no-useless-rename': 'error',
      'object-shorthand': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-unused-vars': [
        'error',
        { argsIgnorePattern: '^_', varsIgnorePattern: '^_', ignoreRestSiblings: true },
      ],
      '@typescript-eslint/prefer-includes': 'error',
      '@typescript-eslint/return-await': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true },
      ],
      'svelte/no-target-blank': 'error',
      // `{' '}` keeps a space that the formatter would move.
      'svelte/no-useless-mustaches': 'off',
      'svelte/prefer-const': 'error',
      'svelte/prefer-style-directive': 'error',
      'svelte/require-event-prefix': 'error',
      'svelte/shorthand-attribute': 'error',
      'svelte/shorthand-directive': 'error',
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, svelteConfig } },
  },
  {
    // What markup means, and what a component exports, is known to svelte-check alone; to these rules it is all `any`.
    files: ['**/*.svelte', '**/*.test.ts', 'tests/**'],
    rules: {
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-call': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-return': 'off',
      '@typescript-eslint/no-unsafe-unary-minus': 'off',
    },
  },
  {
    // What a component is generic over is taken for its bound, and its bound for the default that it may leave out.
    files: ['src/lib/forms/*.svelte'],
    rules: { '@typescript-eslint/no-unnecessary-type-arguments': 'off' },
  },
  {
    // What stands in for the program refuses as it does: with a plain object, which the page makes an error of.
    files: ['**/*.test.ts', 'tests/**'],
    rules: { '@typescript-eslint/only-throw-error': 'off' },
  },
  { files: ['*.js', 'vite.config.ts', 'tests/**'], languageOptions: { globals: globals.node } },
  { files: ['*.js'], extends: [ts.configs.disableTypeChecked] },
);
