/** A mark on the drawing as a second way to press a button that stands beside it; the button serves the keyboard. */
import type { Attachment } from 'svelte/attachments';

export function tap(press: () => void): Attachment<SVGElement> {
  return (node) => {
    node.addEventListener('click', press);
    return () => node.removeEventListener('click', press);
  };
}
