/** Hears when a part of the page comes near to being seen: for what is worth fetching only then. */

import type { Attachment } from 'svelte/attachments';

/** So far beyond the edge counts as near, so that it is there when it is scrolled to. */
const NEAR = '50%';

/** Calls once, when the element is near. Where the page can't tell, that is at once. */
export function seen(call: () => void): Attachment {
  return (element) => {
    if (typeof IntersectionObserver === 'undefined') {
      call();
      return;
    }
    const watching = new IntersectionObserver(
      (changes) => {
        if (!changes.some((change) => change.isIntersecting)) return;
        watching.disconnect();
        call();
      },
      // What scrolls is the page's frame, within the window: the margin counts at its edge.
      { root: element.closest('#app > :is(.frame, main)'), rootMargin: NEAR },
    );
    watching.observe(element);
    return () => watching.disconnect();
  };
}
