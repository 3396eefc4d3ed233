/** Bodies and materials of a build. */
import { offsetsOf } from '../bodies/body.ts';
import type { Body } from '../bodies/body.ts';
import { isUpright } from '../bodies/boxZones.ts';
import { findMirror, noMirror } from '../bodies/mirror.ts';
import { mirrorsMaterials } from './mirrored.ts';
import type { PlacedBox } from '../bodies/facings.ts';
import { poleProfile } from '../../../shape/pole.ts';
import { polesStanding } from '../../../shape/poleRow.ts';
import { poleUnder } from '../../../shape/singlePole.ts';
import { isThreaded } from '../../../shape/steel.ts';
import type { BuiltPickup, BuiltPole, BuiltRow, WoundRow } from '../build/build.ts';
import type { LinearLaw } from '../materials/demagnetisation.ts';
import { poleParts } from '../build/checkPlaces.ts';
import { boxBodies } from './boxBodies.ts';
import { alternatingMu, magnetOf, steelOf, type SteelMaterial } from '../materials/materials.ts';
import type { BodyMaterial } from '../materials/bodyMaterial.ts';
import { ringMesh } from '../bodies/ringMesh.ts';
import type { RingMesh } from '../bodies/ringMesh.ts';
import type { PoleMetal } from '../coil/eddy.ts';
import { overallDiameter, woundRadius } from '../coil/wire.ts';
import type { WindingWindow } from '../coil/winding.ts';
import { Kept } from '../../numerics/kept.ts';

/** A build as bodies: poles row by row, each from the treble end, then the bars, then the steel. All lists are in this order. */
export interface BuiltBodies {
  readonly bodies: readonly Body[];
  readonly materials: readonly BodyMaterial[];
  /** What every body is to the coil's alternating field. */
  readonly alternating: readonly LinearLaw[];
  /** Row and pole (or null for a bar or steel) of every body. */
  readonly places: readonly ({ readonly row: number; readonly pole: number } | null)[];
  /** Whether a coil is wound round it: poles, and blades in their place. */
  readonly cores: readonly boolean[];
}

/** Meshes of the last builds: only what changed is meshed, and coupled with itself, again. */
const KEEP = 32;
const meshes = new Kept<RingMesh>(KEEP);

/** Straight pieces of a dome: their sagitta is 2 % of its rise at most. */
const DOME_PIECES = 4;

function poleMesh(pole: BuiltPole, fineness: number, below: number): RingMesh {
  const profile = poleProfile(pole, DOME_PIECES);
  const key = `${fineness} ${below} ${profile.map((p) => `${p.r},${p.z}`).join(' ')}`;
  return meshes.of(key, () => ringMesh(profile, fineness, below));
}

/** A bar of less recoil permeability need not be cut for its poles: a ferrite's charge hardly answers to them. */
const PERMEABLE = 1.3;

/** Bars, then steel. */
const boxesOf = ({ bars, steel = [] }: BuiltPickup, zoned: readonly number[]): readonly PlacedBox[] => [
  ...bars.map(({ size, centre, grade }) => ({ size, centre, stiff: magnetOf(grade).recoil < PERMEABLE })),
  ...steel.map(({ size, centre }, k) => ({ size, centre, joins: true, zoned: zoned.includes(k) })),
];

/** Unknowns at fineness 1 from which on poles are cut more coarsely, and the share of the fineness that they always keep. */
const MOST_UNKNOWNS = 900;
const LEAST_FINENESS = 0.6;
/**
 * And those from which on poles are cut more coarsely still, in steps of this share: below their tops down to LEAST_BELOW, then
 * everything, down to a share that no build within the limits needs.
 */
const LIMIT = 1100;
const COARSER = 0.92;
const LEAST_BELOW = 0.5;
const COARSEST = 0.3;

/**
 * @param fineness of the meshes; 1 meets the accuracy that the tests state. Two rows of unlike heights have no mirror
 *   symmetry, and twice the unknowns of those that have: their poles are cut more coarsely below the tops. What still has
 *   too many, eight strings over domed screws beside a thin bar, is cut more coarsely throughout
 * @param zoned which of the build's pieces of steel have zones, since they saturate; they leave the cuts of all as fine as they are
 */
export function buildBodies(build: BuiltPickup, fineness = 1, zoned: readonly number[] = []): BuiltBodies {
  const { fine, built } = within(build, fineness);
  return zoned.length === 0 ? built : bodiesOf(build, fine, zoned);
}

/** The bodies without zones, and how finely all is cut so that they are not too many. */
function within(
  build: BuiltPickup,
  fineness: number,
): { readonly fine: Fineness; readonly built: BuiltBodies } {
  const whole: Fineness = { top: fineness, below: fineness, bar: fineness };
  const built = bodiesOf(build, whole);
  const room = (MOST_UNKNOWNS * fineness ** 2) / unknownsOf(built);
  if (room >= 1) return { fine: whole, built };
  let below = Math.max(LEAST_FINENESS, room);
  let share = 1;
  for (;;) {
    const [top, bar] = [fineness * share, fineness * share];
    const fine: Fineness = { top, below: top * below, bar };
    const built = bodiesOf(build, fine);
    if (unknownsOf(built) <= LIMIT * fineness ** 2 || share < COARSEST) return { fine, built };
    if (below > LEAST_BELOW) below *= COARSER;
    else share *= COARSER;
  }
}

/** How many unknowns (a number of charges) its solution is about: those that a mirror leaves where the magnets let it. */
export function unknownsOf({ bodies, materials }: Pick<BuiltBodies, 'bodies' | 'materials'>): number {
  const offsets = offsetsOf(bodies);
  const mirrored = findMirror(bodies, offsets);
  return (mirrorsMaterials(mirrored, materials) ? mirrored : noMirror(bodies, offsets)).count;
}

/** How finely poles are cut at their tops and below, and bars. */
interface Fineness {
  readonly top: number;
  readonly below: number;
  readonly bar: number;
}

function bodiesOf(
  build: BuiltPickup,
  { top, below, bar: ofBars }: Fineness,
  zoned: readonly number[] = [],
): BuiltBodies {
  const bodies: Body[] = [];
  const materials: BodyMaterial[] = [];
  const alternating: LinearLaw[] = [];
  const places: ({ row: number; pole: number } | null)[] = [];
  build.rows.forEach((row, r) => {
    polesStanding(row).forEach(({ y, k, top: z }) => {
      const pole = poleUnder(row, k);
      const mesh = poleMesh(pole, top, below);
      const [material, law] = poleMaterial(pole);
      bodies.push({ kind: 'ring', mesh, x: row.offset, y, z });
      materials.push(material);
      alternating.push(law);
      places.push({ row: r, pole: k });
    });
  });
  bodies.push(...boxBodies(boxesOf(build, zoned), poleParts(build), ofBars));
  for (const { grade, strength, axis, sign } of build.bars) {
    const material = magnetOf(grade);
    materials.push({ kind: 'magnet', material, strength, axis, sign });
    alternating.push({ mu: material.recoil, remanence: 0 });
    places.push(null);
  }
  for (const piece of build.steel ?? []) {
    const steel = steelOf(piece.grade);
    materials.push({
      kind: 'linear',
      law: soft(steel.permeability),
      ...(isUpright(piece) && { steel }),
      axis: 'z',
      sign: 1,
    });
    alternating.push(soft(alternatingMu(steel)));
    places.push(null);
  }
  return { bodies, materials, alternating, places, cores: coresOf(build) };
}

/** Which of them have a coil round them: all that a build's windings have to do with its bodies. */
export const coresOf = (build: BuiltPickup): readonly boolean[] => [
  ...build.rows.flatMap((row) => polesStanding(row).map(() => true)),
  ...build.bars.map(() => false),
  ...(build.steel ?? []).map((piece) => build.rows.some((row) => isThreaded(piece, row))),
];

function poleMaterial(pole: BuiltPole): readonly [BodyMaterial, LinearLaw] {
  if (pole.kind === 'rod') {
    const material = magnetOf(pole.grade);
    const sign = pole.facing === 'north' ? 1 : -1;
    return [
      { kind: 'magnet', material, strength: pole.strength, axis: 'z', sign },
      { mu: material.recoil, remanence: 0 },
    ];
  }
  const steel = steelOf(pole.steel);
  return [
    {
      kind: 'linear',
      law: soft(steel.permeability),
      steel,
      axis: 'z',
      sign: 1,
    },
    soft(alternatingMu(steel)),
  ];
}

const soft = (mu: number): LinearLaw => ({ mu, remanence: 0 });

/** What a coil without any core has: nothing that conducts. */
const NO_METAL: PoleMetal = { radius: 1e-3, mu: 1, conductivity: 0 };

/**
 * What the cores of a row's coil are to eddy currents: its poles, of unlike ones their mean, or without any the thickest blade (radius
 * in m); a coil round neither takes part in those of the other row.
 */
export function coreMetal(build: BuiltPickup, r: number): PoleMetal {
  const row = build.rows[r]!;
  if (row.heights.length > 0) return rowMetal(row);
  const blades = (build.steel ?? []).filter((piece) => isThreaded(piece, row));
  const thick = ({ size }: (typeof blades)[number]): number => Math.min(size.x, size.y);
  const blade = blades.toSorted((a, b) => thick(b) - thick(a))[0];
  if (blade) {
    return {
      ...steelMetal(0.5 * thick(blade), steelOf(blade.grade)),
      flat: true,
    };
  }
  const other = build.rows[1 - r];
  return other && other.heights.length > 0 ? rowMetal(other) : NO_METAL;
}

function rowMetal(row: BuiltRow): PoleMetal {
  if (!row.own) return poleMetal(row.pole);
  const all = polesStanding(row).map(({ k }) => poleMetal(poleUnder(row, k)));
  const mean = (of: (metal: PoleMetal) => number): number =>
    all.reduce((sum, metal) => sum + of(metal), 0) / all.length;
  return {
    radius: mean(({ radius }) => radius),
    mu: mean(({ mu }) => mu),
    conductivity: mean(({ conductivity }) => conductivity),
    // Of one steel all of them.
    ...(all[0]!.relaxation !== undefined && { relaxation: all[0]!.relaxation }),
  };
}

function poleMetal(pole: BuiltPole): PoleMetal {
  const radius = 0.5 * pole.diameter;
  if (pole.kind === 'rod') {
    const { recoil, conductivity } = magnetOf(pole.grade);
    return { radius, mu: recoil, conductivity };
  }
  return steelMetal(radius, steelOf(pole.steel));
}

const steelMetal = (radius: number, steel: SteelMaterial): PoleMetal => ({
  radius,
  mu: alternatingMu(steel),
  conductivity: steel.conductivity,
  ...(steel.relaxation !== undefined && { relaxation: steel.relaxation }),
});

/** The window that a row's wire really fills. */
export function woundWindow(row: WoundRow): WindingWindow {
  const { winding } = row;
  const overall = overallDiameter(winding.wire, winding.enamel);
  const height = winding.top - winding.bottom;
  return {
    x: row.offset,
    y: 0,
    straight: winding.straight,
    inner: winding.inner,
    outer: woundRadius(winding.inner, height, winding.turns, overall, winding.packing),
    bottom: winding.bottom,
    top: winding.top,
  };
}
