/** What a hand drags over the page. */
import type { Dropped } from '../../state/designFiles.svelte.ts';

const EDITED = 'input, textarea, [contenteditable]';

/** Whether the page takes it: files anywhere, and text where it could not be written. */
export const isForPage = ({ dataTransfer, target, defaultPrevented }: DragEvent): boolean => {
  if (!dataTransfer || defaultPrevented) return false;
  if (dataTransfer.types.includes('Files')) return true;
  const written = target instanceof Element && target.closest(EDITED) !== null;
  return !written && dataTransfer.types.some((type) => type === 'text/uri-list' || type === 'text/plain');
};

/** To be read while the event lasts: the browser's own record is empty a moment later. */
export function droppedOf(transfer: DataTransfer): Dropped {
  const folder = Array.from(transfer.items).some((item) => item.webkitGetAsEntry()?.isDirectory ?? false);
  const files = Array.from(transfer.files);
  const text = files.length > 0 ? '' : transfer.getData('text/uri-list') || transfer.getData('text/plain');
  return { files, folder, text };
}
