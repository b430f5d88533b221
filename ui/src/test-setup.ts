import { clearMocks } from '@tauri-apps/api/mocks';
import { configure } from '@testing-library/svelte';
import { afterEach, beforeEach } from 'vitest';

import { AT_DESK } from '../tests/desk';
import { toasts } from './lib/kit';
import { desk } from './lib/start/desk.svelte';

// What is waited for comes; how soon is the machine's business.
configure({ asyncUtilTimeout: 60_000 });

// jsdom has no modal dialogs and no layout. These stand in for what every real web view has.
HTMLDialogElement.prototype.showModal = function showModal(this: HTMLDialogElement) {
  this.setAttribute('open', '');
};
HTMLDialogElement.prototype.close = function close(this: HTMLDialogElement) {
  if (!this.hasAttribute('open')) return;
  this.removeAttribute('open');
  this.dispatchEvent(new Event('close'));
};
// jsdom finds the labels of a control by asking each label of the page for its control, one walk through the page each:
// seconds for every field that is looked for on a long page.
const LABELABLE = 'button, input:not([type="hidden"]), meter, output, progress, select, textarea';
for (const kind of [
  HTMLButtonElement,
  HTMLInputElement,
  HTMLOutputElement,
  HTMLSelectElement,
  HTMLTextAreaElement,
]) {
  Object.defineProperty(kind.prototype, 'labels', {
    configurable: true,
    get(this: HTMLElement): Element[] {
      const named = this.id === '' ? [] : document.querySelectorAll(`label[for="${this.id}"]`);
      const around = this.closest('label:not([for])');
      return around?.querySelector(LABELABLE) === this ? [around, ...named] : [...named];
    },
  });
}
globalThis.ResizeObserver ??= class {
  observe() {}
  unobserve() {}
  disconnect() {}
};

// The owner of the made-up firm sits at the desk, nothing is said, and the program that stood in is gone afterwards.
beforeEach(() => {
  location.hash = '';
  desk.set(AT_DESK);
  toasts.clear();
});
afterEach(() => {
  clearMocks();
  localStorage.clear();
});
