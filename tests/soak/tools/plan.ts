/** How much random work is done, and from which seed: little and always the same in npm test, much and anew in npm run soak. */
export interface SoakPlan {
  readonly count: number;
  readonly seed: number;
}

/**
 * Prints what it chose, and how to have the same again.
 * @param name a word of the file's path
 * @param short how many in npm test, where all soaks together may take a minute
 * @param long how many in npm run soak
 * @param usual seed in npm test
 */
export function soakPlan(name: string, short: number, long: number, usual = 1): SoakPlan {
  const env = process.env;
  const count = Number(env['LODETONE_SOAK_COUNT'] ?? (env['LODETONE_SOAK'] === 'long' ? long : short));
  const seed = Number(env['LODETONE_SOAK_SEED'] ?? usual);
  console.log(`${name}: ${count}; again by: npm run soak -- ${name} --seed ${seed} --count ${count}`);
  return { count, seed };
}

/** Least, median, 90th, 99th percentile and most of some figures, as a line. */
export function spread(figures: readonly number[], unit: string): string {
  const sorted = [...figures].sort((a, b) => a - b);
  const at = (share: number): string => {
    const figure = sorted[Math.round(share * (sorted.length - 1))];
    return figure === undefined ? 'none' : `${Number(figure.toPrecision(3))} ${unit}`;
  };
  return `least ${at(0)}, median ${at(0.5)}, 90 % ${at(0.9)}, 99 % ${at(0.99)}, most ${at(1)}`;
}
