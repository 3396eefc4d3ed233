/** Median time of `runs` calls after a few to warm up, ms. */
export function median(runs: number, call: () => unknown): number {
  for (let i = 0; i < Math.min(runs, 10); i++) call();
  const times = Array.from({ length: runs }, () => {
    const start = performance.now();
    call();
    return performance.now() - start;
  });
  return times.sort((a, b) => a - b)[runs >> 1]!;
}
