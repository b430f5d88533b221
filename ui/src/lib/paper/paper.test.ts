import { render, screen, waitFor } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { describe, expect, it } from 'vitest';

import { program } from '../../../tests/program';
import { toasts } from '../kit';
import CompletionButton from './CompletionButton.svelte';
import PaperButton from './PaperButton.svelte';

describe('a paper', () => {
  it('is asked of the program and says where it was saved', async () => {
    const door = program({ print_paper: () => ({ path: '/papers/26-013 site sheet.pdf' }) });
    render(PaperButton, { words: 'Site sheet', wanted: () => ({ paper: 'site-sheet', job: '26-013' }) });
    await userEvent.click(screen.getByRole('button', { name: 'Site sheet (PDF)' }));
    await waitFor(() => expect(toasts.shown.at(-1)?.text).toBe('Saved as /papers/26-013 site sheet.pdf'));
    expect(door.taken('print_paper')).toEqual([{ wanted: { paper: 'site-sheet', job: '26-013' } }]);
  });

  it('says why it could not be printed, and keeps quiet where nobody chose a place', async () => {
    let code = 'not-found';
    program({
      print_paper: () => {
        throw { code, message: 'This job has no contract yet.', remedy: 'Accept a choice first.' };
      },
    });
    render(PaperButton, { words: 'Site sheet', wanted: () => ({ paper: 'site-sheet', job: '26-013' }) });
    const button = screen.getByRole('button', { name: 'Site sheet (PDF)' });
    await userEvent.click(button);
    expect((await screen.findByRole('alert')).textContent).toBe(
      'This job has no contract yet. Accept a choice first.',
    );
    code = 'nothing-chosen';
    await userEvent.click(button);
    await waitFor(() => expect(screen.queryByRole('alert')).toBeNull());
  });

  it('waits for open points, and lists them when a person says so', async () => {
    const door = program({
      print_paper: (takes) => {
        if ((takes.wanted as { listing_open: boolean }).listing_open) return { path: '/papers/packet.pdf' };
        throw {
          code: 'refused',
          field: 'checklist',
          message: 'checklist: the packet waits for a point of the checklist: Magnet.',
          remedy: 'Look at it.',
        };
      },
    });
    render(CompletionButton, { job: '26-013' });
    await userEvent.click(screen.getByRole('button', { name: 'Completion packet (PDF)' }));
    expect((await screen.findByRole('alert')).textContent).toContain('Magnet');
    await userEvent.click(screen.getByRole('button', { name: 'Packet that lists them (PDF)' }));
    await waitFor(() => expect(toasts.shown.at(-1)?.text).toBe('Saved as /papers/packet.pdf'));
    expect(door.taken('print_paper').at(-1)).toEqual({
      wanted: { paper: 'completion', job: '26-013', listing_open: true },
    });
  });
});
