/** The room that a drawing has on the sheet: told when it is there, when it changes, and when the sheet is laid out anew. */
import { flushSync, untrack } from 'svelte';
import type { Attachment } from 'svelte/attachments';

const looks = new Set<() => void>();

/** Has it called whenever the sheet is laid out anew; returns what ends that. */
export function onLayout(look: () => void): () => void {
  looks.add(look);
  return () => looks.delete(look);
}

/**
 * The width is the sheet's to give: what is drawn for it must not hold it open when the window grows narrower.
 * @param tell px inside the element's borders; stores them, and reads nothing that changes
 */
export function room(tell: (width: number, height: number) => void): Attachment<HTMLElement> {
  return (node) => {
    node.style.setProperty('contain', 'inline-size');
    const look = (): void => untrack(() => tell(node.clientWidth, node.clientHeight));
    const watch = new ResizeObserver(look);
    watch.observe(node);
    const end = onLayout(look);
    look();
    return () => {
      watch.disconnect();
      end();
    };
  };
}

/**
 * Has every drawing measure its room and draw itself before this returns: a browser that is about to print waits for
 * no observer. Twice, because drawings push each other about, and the frame stands around them all.
 */
export function layOut(): void {
  for (let pass = 0; pass < 2; pass++) {
    for (const look of looks) look();
    flushSync();
  }
}
