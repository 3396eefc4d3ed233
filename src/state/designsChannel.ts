/** Tells all windows, this one too, that the designs have changed. */

/** A way to hear it of the others; the browser's own, where there is one. */
export const designsChannel = (): BroadcastChannel | null =>
  typeof window === 'undefined' || typeof BroadcastChannel === 'undefined'
    ? null
    : new BroadcastChannel('lodetone.designs');

/** Once. */
export function tellDesigns(): void {
  const channel = designsChannel();
  channel?.postMessage('changed');
  channel?.close();
}
