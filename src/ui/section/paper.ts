/** Paints a canvas, and paints it again when the paper is turned, printed, or seen at another pixel density. */
import type { Attachment } from 'svelte/attachments';
import { onLayout } from '../drawing/room.ts';

/** @param paint reads the colours from the canvas itself; what it reads of the screen's state repaints as well */
export function onPaper(paint: (canvas: HTMLCanvasElement) => void): Attachment<HTMLCanvasElement> {
  return (canvas) => {
    paint(canvas);
    const again = (): void => paint(canvas);
    const end = onLayout(again);
    const turned = new MutationObserver(again);
    turned.observe(document.documentElement, { attributes: true, attributeFilter: ['data-paper'] });
    const media = ['print', '(forced-colors: active)', `(resolution: ${window.devicePixelRatio}dppx)`].map(
      (query) => matchMedia(query),
    );
    for (const query of media) query.addEventListener('change', again);
    return () => {
      end();
      turned.disconnect();
      for (const query of media) query.removeEventListener('change', again);
    };
  };
}
