/** Files that are dropped on a part of the page, which shows that they may be while they hang over it. */

import type { Attachment } from 'svelte/attachments';

/** Hands over what was dropped; the element has the class `awaits-files` until then. */
export function dropped(take: (files: FileList) => void): Attachment<HTMLElement> {
  return (element) => {
    const shows = (over: boolean) => element.classList.toggle('awaits-files', over);
    const over = (event: DragEvent) => {
      event.preventDefault();
      shows(true);
    };
    const leave = () => shows(false);
    const drop = (event: DragEvent) => {
      event.preventDefault();
      shows(false);
      if (event.dataTransfer) take(event.dataTransfer.files);
    };
    element.addEventListener('dragover', over);
    element.addEventListener('dragleave', leave);
    element.addEventListener('drop', drop);
    return () => {
      element.removeEventListener('dragover', over);
      element.removeEventListener('dragleave', leave);
      element.removeEventListener('drop', drop);
    };
  };
}
