import { svelte } from '@sveltejs/vite-plugin-svelte';
import { svelteTesting } from '@testing-library/svelte/vite';
import { defineConfig } from 'vitest/config';

// `--mode specimen` builds the sheet that shows every part of the kit side by side, for the eye and for the checks of
// contrast and names. It is kept out of the program itself.
export default defineConfig(({ mode }) => ({
  plugins: [svelte(), svelteTesting()],
  base: './',
  build: {
    // The web views of current systems; newer syntax is kept as it is written.
    target: ['safari17.5', 'chrome125'],
    // The content policy allows fonts and pictures from the program only, so nothing may become a data: address.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    ...(mode === 'specimen'
      ? { outDir: 'node_modules/.specimen', emptyOutDir: true, rolldownOptions: { input: 'specimen.html' } }
      : {}),
  },
  test: {
    environment: 'jsdom',
    setupFiles: ['./src/test-setup.ts'],
    include: ['{src,tests}/**/*.test.ts'],
    restoreMocks: true,
    // Against hanging alone: whole pages are drawn without a browser, and the machine may be busy.
    testTimeout: 900_000,
    // One worker less than there are cores would be a single one on the smallest machine.
    maxWorkers: '100%',
  },
}));
