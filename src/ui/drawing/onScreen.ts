/** Tells whether an element is on the screen or nearly so. */
import type { Attachment } from 'svelte/attachments';

/** px beyond the window's edges that count as well, so that what is scrolled to is there already. */
const BEYOND = 300;

export function onScreen(tell: (seen: boolean) => void): Attachment {
  return (node) => {
    const watch = new IntersectionObserver((entries) => tell(entries.at(-1)?.isIntersecting ?? true), {
      rootMargin: `${BEYOND}px`,
    });
    watch.observe(node);
    return () => watch.disconnect();
  };
}
