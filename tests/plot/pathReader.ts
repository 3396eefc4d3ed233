/** Reads the part of SVG path text that the drawing writes (M, L, C, Z, absolute) back into runs of points. */
export interface Run {
  /** Flat x, y of every vertex; controls of cubics are left out. */
  readonly points: [number, number][];
  readonly closed: boolean;
}

export function readPath(text: string): Run[] {
  const runs: { points: [number, number][]; closed: boolean }[] = [];
  for (const [, letter, figures] of text.matchAll(/([MLCZ])([^MLCZ]*)/g)) {
    const numbers = (figures ?? '').trim().split(/\s+/).filter(Boolean).map(Number);
    if (numbers.some((n) => !Number.isFinite(n))) throw new Error(`Not a figure in «${figures}».`);
    const run = runs.at(-1);
    if (letter === 'M') runs.push({ points: [[numbers[0]!, numbers[1]!]], closed: false });
    else if (!run) throw new Error('A path must begin with M.');
    else if (letter === 'Z') run.closed = true;
    else {
      const each = letter === 'C' ? 6 : 2;
      if (numbers.length % each !== 0 || numbers.length === 0)
        throw new Error(`Wrong count after ${letter}.`);
      for (let i = each - 2; i < numbers.length; i += each) run.points.push([numbers[i]!, numbers[i + 1]!]);
    }
  }
  return runs;
}
