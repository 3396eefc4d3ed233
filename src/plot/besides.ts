/** Two plane fields on the same lattice beside one another: their difference, and what is read along a level line. Lengths in m, fields in T. */
import type { ScalarGrid } from './contour.ts';
import { FieldSampler, type PlaneField, type Vector2 } from './planeField.ts';
import { niceStep } from './scale.ts';

/** By how much the second is stronger than the first; NaN where either has no value. null when their lattices differ. */
export function strengthDifference(first: PlaneField, second: PlaneField): ScalarGrid | null {
  const { u0, v0, step, nu, nv } = first;
  if (second.u0 !== u0 || second.v0 !== v0 || second.step !== step || second.nu !== nu || second.nv !== nv)
    return null;
  const strength = ({ bu, bv }: PlaneField, k: number): number => Math.hypot(bu[k]!, bv[k]!);
  const values = Float32Array.from(first.bu, (_, k) => strength(second, k) - strength(first, k));
  return { x0: u0, y0: v0, dx: step, dy: step, nx: nu, ny: nv, values };
}

/** Most levels of one sign. */
const LEVELS = 4;
/** Of all values that there are, those beyond which nothing is looked at for the levels: beside edges they grow without end. */
const SHARE = 0.97;
/** What is less than this is no difference: pictures of the same field differ by it. */
const NONE = 1e-5;

/** Levels of both signs at a whole step, the strongest first below zero: as many as tell where it differs; none where nothing does. */
export function signedLevels({ values }: Pick<ScalarGrid, 'values'>): readonly number[] {
  const sizes = Float64Array.from(
    Array.from(values).filter((value) => !Number.isNaN(value)),
    Math.abs,
  ).sort();
  const most = sizes[Math.floor(SHARE * (sizes.length - 1))] ?? 0;
  if (!(most > NONE)) return [];
  const step = niceStep(most, LEVELS);
  const all = Array.from({ length: LEVELS }, (_, k) => (k + 1) * step);
  return [...all.toReversed().map((level) => -level), ...all];
}

/** The values of both on the nodes that they have in common, and the second less the first; null when their nodes are not the same anywhere. */
export function onCommonNodes(
  first: ScalarGrid,
  second: ScalarGrid,
): { readonly first: ScalarGrid; readonly second: ScalarGrid; readonly difference: ScalarGrid } | null {
  const { dx, dy } = first;
  if (second.dx !== dx || second.dy !== dy) return null;
  const across = shared([first.x0, first.nx], [second.x0, second.nx], dx);
  const up = shared([first.y0, first.ny], [second.y0, second.ny], dy);
  if (!across || !up) return null;
  const cut = ({ x0, y0, nx, values }: ScalarGrid, i0: number, j0: number): ScalarGrid => ({
    ...{ x0: x0 + i0 * dx, y0: y0 + j0 * dy, dx, dy, nx: across.count, ny: up.count },
    values: Float32Array.from(
      { length: across.count * up.count },
      (_, k) => values[(j0 + Math.floor(k / across.count)) * nx + i0 + (k % across.count)]!,
    ),
  });
  const [a, b] = [cut(first, across.first, up.first), cut(second, across.second, up.second)];
  const difference = Float32Array.from(
    { length: across.count * up.count },
    (_, k) => b.values[k]! - a.values[k]!,
  );
  return { first: a, second: b, difference: { ...a, values: difference } };
}

type Nodes = readonly [start: number, count: number];

/** From which node on each, and how many they have in common. */
function shared([a0, an]: Nodes, [b0, bn]: Nodes, step: number) {
  const shift = Math.round((b0 - a0) / step);
  if (Math.abs(a0 + shift * step - b0) > 1e-6 * step) return null;
  const [first, second] = [Math.max(0, shift), Math.max(0, -shift)];
  const count = Math.min(an - first, bn - second);
  return count > 1 ? { first, second, count } : null;
}

/** Levels at a whole step below the strongest of both, the same for both: lines as dense stand for fields as steep. */
export function commonLevels(grids: readonly ScalarGrid[], count: number): readonly number[] {
  const most = grids.reduce(
    (top, { values }) => Array.from(values).reduce((m, v) => (v > m ? v : m), top),
    0,
  );
  if (!(most > NONE)) return [];
  const step = niceStep(most, count);
  return Array.from({ length: Math.ceil(most / step) - 1 }, (_, k) => (k + 1) * step);
}

/** |B upright| at height v on every column of the lattice, NaN where there is no field. */
export function uprightAlong(field: PlaneField, v: number): readonly number[] {
  const sampler = new FieldSampler(field);
  const b: Vector2 = { u: 0, v: 0 };
  return Array.from({ length: field.nu }, (_, i) =>
    sampler.at(field.u0 + i * field.step, v, b) ? Math.abs(b.v) : NaN,
  );
}

/** What a field is along a level line, where it is strongest upright. */
export interface AlongLine {
  /** Strength there. */
  readonly peak: number;
  readonly at: number;
  /** Full width at half maximum of the upright part about it. */
  readonly width: number;
  /** By how much it falls upwards there, T/m: above 0. */
  readonly fall: number;
}

/** Half of the way over which the gradient is taken. */
const BESIDE = 5e-4;

/** At height v; null where there is no field on it. */
export function alongLine(field: PlaneField, v: number): AlongLine | null {
  const sampler = new FieldSampler(field);
  const b: Vector2 = { u: 0, v: 0 };
  const upright = uprightAlong(field, v);
  let top = -1;
  upright.forEach((value, i) => {
    if (value > (upright[top] ?? 0)) top = i;
  });
  if (top < 0) return null;
  const at = field.u0 + top * field.step;
  const strength = (height: number): number => (sampler.at(at, height, b) ? Math.hypot(b.u, b.v) : NaN);
  /** Where it has come down to half on one side, counted in steps from the top. */
  const half = (way: 1 | -1): number => {
    const level = 0.5 * upright[top]!;
    for (let k = 1; top + way * k >= 0 && top + way * k < upright.length; k++) {
      const here = upright[top + way * k]!;
      const before = upright[top + way * (k - 1)]!;
      if (here <= level) return k - 1 + (before - level) / (before - here);
    }
    return NaN;
  };
  return {
    peak: strength(v),
    at,
    width: field.step * (half(1) + half(-1)),
    fall: (strength(v - BESIDE) - strength(v + BESIDE)) / (2 * BESIDE),
  };
}
