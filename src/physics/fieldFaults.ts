/** Faults that the field engine finds, at the places of the sheet where they can be mended. */
import { PLATES } from '../shape/plates.ts';
import type { PickupBuild } from '../sheet/sheet.ts';
import type { BuildFault } from './magnetics/build/faults.ts';
import type { SheetFault } from './prediction.ts';

/** A build that can't be computed; `sheetFaults` names its fields from the sheet's root. */
export class FieldError extends RangeError {
  constructor(
    readonly sheetFaults: readonly SheetFault[],
    message: string,
  ) {
    super(message);
    this.name = 'FieldError';
  }
}

type Path = SheetFault['path'];

/** Below ['pickups', i, 'build']; what an engine's path ends in → where the sheet has it. */
const ROW: Readonly<Record<string, Path>> = {
  'pole.diameter': ['pole', 'diameter'],
  'pole.length': ['pole', 'length'],
  'pole.strength': ['pole', 'magnet', 'charge'],
  'pole.head.diameter': ['pole', 'head', 'diameter'],
  'pole.head.height': ['pole', 'head', 'height'],
  'pole.tip.depth': ['pole', 'tip', 'size'],
  'pole.tip.width': ['pole', 'tip', 'size'],
  'pole.tip.flat': ['pole', 'tip', 'size'],
  'winding.straight': ['window', 'straight'],
  'winding.inner': ['window', 'inner'],
  'winding.edge': ['window', 'outer'],
  'winding.top': ['window', 'top'],
  'winding.bottom': ['window', 'bottom'],
  'winding.turns': ['turns'],
  'winding.packing': ['turns'],
  'winding.wire': ['wire', 'conductor'],
  heights: ['pole', 'heights'],
};

const BLOCK: Readonly<Record<string, string>> = {
  'size.x': 'width',
  'size.y': 'length',
  'size.z': 'thickness',
  'centre.x': 'offset',
  'centre.y': 'across',
  'centre.z': 'top',
};

/** A single pole's fault stands at a figure that it has of its own, or else at the row's. */
function singlePath([, r, k, at = '']: readonly string[], build: PickupBuild): Path {
  const pole = build.rows[Number(r)]?.pole;
  const own = pole?.own?.[Number(k)];
  const has = (field: 'charge' | 'diameter' | 'length'): boolean => (own?.[field] ?? null) !== null;
  const on = (field: 'charge' | 'diameter' | 'length'): Path => ['own', Number(k), field];
  if (at === 'strength') return has('charge') ? on('charge') : ['magnet', 'charge'];
  // A tip or head that a single pole has no room for is the row's: the pole is too thin or too short for it.
  const first = at === 'length' || at === 'tip.depth' || at === 'head.height' ? 'length' : 'diameter';
  const other = first === 'length' ? 'diameter' : 'length';
  return has(first) ? on(first) : has(other) ? on(other) : [first];
}

/**
 * The engine's path, such as `rows[0].winding.turns`, on the sheet. Every figure that the engine can complain of has a
 * field there; what it says of the build as a whole stands at the build.
 *
 * @param pickup its index
 */
export function sheetPath(path: string, pickup: number, build: PickupBuild): Path {
  const root = ['pickups', pickup] as const;
  const single = /^rows\[(\d)\]\.own\[(\d+)\]\.(.*)$/.exec(path);
  if (single) return [...root, 'build', 'rows', Number(single[1]), 'pole', ...singlePath(single, build)];
  const row = /^rows\[(\d)\]\.(.*?)(?:\[(\d+)\])?$/.exec(path);
  if (row) {
    const [, number, rest = '', last] = row;
    const r = Number(number);
    if (rest === 'offset') return [...root, 'rows', r, 'offset'];
    if (rest === 'pitch') return [...root, 'build', 'pitch'];
    const at = ROW[rest];
    if (at) return [...root, 'build', 'rows', r, ...at, ...(last === undefined ? [] : [Number(last)])];
  }
  const [, name, index, at = ''] = /^(bars|steel)\[(\d+)\]\.(.*)$/.exec(path) ?? [];
  if (name === 'bars') {
    const bar = [...root, 'build', 'bars', Number(index)] as const;
    if (at === 'strength') return [...bar, 'magnet', 'charge'];
    // A bar that runs through a pole: between two rows it is too wide, under one it lies too high.
    const place = build.bars[Number(index)]?.direction === 'across the width' ? 'width' : 'top';
    return [...bar, BLOCK[at] ?? place];
  }
  if (name === 'steel') return [...root, 'build', 'steel', Number(index), BLOCK[at] ?? 'top'];
  const plate = PLATES.find((name) => path.startsWith(`${name}.`));
  if (plate) return [...root, 'build', plate, path.slice(plate.length + 1)];
  const string = /^strings\[(\d)\]$/.exec(path)?.[1];
  if (string !== undefined) return ['instrument', 'strings', Number(string), 'core'];
  if (path === 'fretboardRadius') return ['instrument', 'radius'];
  if (path === 'gapBass' || path === 'gapTreble') return [...root, 'build', path];
  return [...root, 'build'];
}

/** @param pickup its index; @param name what the maker calls it */
export function fieldError(
  faults: readonly BuildFault[],
  pickup: number,
  name: string,
  build: PickupBuild,
): FieldError {
  const seen = new Set<string>();
  const sheetFaults = faults.flatMap(({ path, message }): SheetFault[] => {
    const fault = { path: sheetPath(path, pickup, build), message };
    const key = JSON.stringify(fault);
    if (seen.has(key)) return [];
    seen.add(key);
    return [fault];
  });
  const words = [...new Set(sheetFaults.map(({ message }) => message))].join(' ');
  return new FieldError(sheetFaults, `${name}: ${words}`);
}
