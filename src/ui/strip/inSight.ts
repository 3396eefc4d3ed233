/** Tells whether parts of the page are in sight, each by half at least, and again whenever that changes; what is not drawn at all is not looked for. */

/** Of its area, that has to be on the screen. */
const SHARE = 0.5;

/** @returns what ends it */
export function inSight(parts: readonly Element[], tell: (all: boolean) => void): () => void {
  const seen = new Map<Element, boolean>();
  const watch = new IntersectionObserver(
    (entries) => {
      for (const { target, intersectionRatio, boundingClientRect } of entries)
        seen.set(target, intersectionRatio >= SHARE || boundingClientRect.width === 0);
      tell(parts.every((part) => seen.get(part) ?? true));
    },
    // A hair less: a ratio just short of the half is not told of again.
    { threshold: SHARE },
  );
  for (const part of parts) watch.observe(part);
  return () => watch.disconnect();
}
