/**
 * Where things stand on the plan of a pickup, px: nut on the left, treble side on top, as in the placement. The pickup
 * has a frame of its own, turned by the slant about its centre; `local` is px in it, before it is turned.
 */
import { hasCoil } from '../../shape/hasCoil.ts';
import { PX_PER_METRE } from '../../plot/naturalSize.ts';
import type { PickupBuild } from '../../sheet/build.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { polesStanding, standingPoles } from '../../shape/poleRow.ts';
import { poleAt, upAt } from '../../shape/singlePole.ts';
import { stringAcross } from '../../shape/stringCourse.ts';
import { planBlocks, type Place, type PlanBlock, type Rect } from './planBlocks.ts';

export type { Place, Rect };

export interface PlanView {
  readonly width: number;
  readonly height: number;
  /** px per metre, both ways. */
  readonly scale: number;
  /** «2 : 1». */
  readonly ratio: string;
  /** The pickup's centre, px. */
  readonly cx: number;
  readonly cy: number;
  /** Degrees, clockwise as seen. */
  readonly turn: number;
  readonly strings: readonly {
    readonly string: number;
    readonly nut: number;
    readonly saddle: number;
    readonly thick: number;
    readonly chosen: boolean;
  }[];
  readonly poles: readonly Pole[];
  /** Of each coil's edge, local px. */
  readonly coils: readonly Rect[];
  /** Bars, then steel. */
  readonly blocks: readonly PlanBlock[];
  /** Where the dimension line of the pitch runs, local px; how many gaps it spans, and half of that. */
  readonly column: number;
  readonly gaps: number;
  readonly halfSpan: number;
  /** Where the handle of the slant and the figure of the pitch stand, px. */
  readonly slantAt: Place;
  readonly pitchAt: Place;
}

export interface Pole extends Place {
  readonly key: string;
  readonly r: number;
  /** What the top shows: a rod's pole, a screw's slot, or nothing. */
  readonly mark: 'N' | 'S' | 'slot' | '';
  /** Under the chosen string. */
  readonly heard: boolean;
}

/** Half of what is drawn across the strings at least, and beyond the outermost part, m. */
const HALF_ACROSS = 0.0365;
const ASIDE = 0.006;
/** Half of what is drawn along them for a pickup that stands square, m. */
const HALF_ALONG = 0.021;
/** From the outermost part to the dimension's column, and from there to the edge, px. */
const COLUMN = 22;
const BESIDE = 78;
/** Of the slant's handle from the upper edge while the pickup stands square, px. */
const SLANT_TOP = 22;
const SCALES: readonly (readonly [least: number, by: number, name: string])[] = [
  [330, 1.5, '3 : 2'],
  [0, 1.2, '6 : 5'],
];

/** Half of what is drawn across the strings, and what is drawn towards the nut from the pickup's centre, m. */
export interface Halves {
  readonly across: number;
  readonly along: number;
}

/** The most that is drawn towards the nut, m. */
const MOST_ALONG = 0.029;

/** What a pickup needs, or more if it was given more. */
export function halves(sheet: Sheet, chosen: number, given: Halves | null): Halves {
  const { build } = sheet.pickups[chosen]!;
  const blocks = [...(build?.bars ?? []), ...(build?.steel ?? [])];
  const reach = Math.max(HALF_ALONG, ...blocks.map(({ offset, width }) => offset + width / 2 + 0.001));
  return {
    across: Math.max(halfAcross(sheet, chosen), given?.across ?? 0),
    along: Math.max(Math.min(reach, MOST_ALONG), given?.along ?? 0),
  };
}

/** @param room what is drawn: what is needed, unless it was given more */
export function planView(
  sheet: Sheet,
  chosen: number,
  width: number,
  room = halves(sheet, chosen, null),
): PlanView {
  const pickup = sheet.pickups[chosen]!;
  const { build, slant, place } = pickup;
  const [, by, ratio] = SCALES.find(([least]) => width >= least) ?? SCALES.at(-1)!;
  const scale = by * PX_PER_METRE;
  const shown = Math.max(1, width);
  const height = 2 * room.across * scale;
  const lean = Math.abs(Math.sin(slant)) * 0.03;
  // The dimension stands on the right; what is left over is shared.
  const right = (HALF_ALONG + lean) * scale + BESIDE;
  const left = Math.max((HALF_ALONG + lean) * scale, Math.min((room.along + lean) * scale, shown - right));
  const cx = left + Math.max(0, (shown - left - right) / 2);
  const half = shown / scale;
  const { listen, instrument } = sheet;
  const coils = (build && hasCoil(build) ? build.rows : []).map(({ window }, r): Rect => {
    const outer = window.outer * scale;
    const long = window.straight * scale + 2 * outer;
    return { x: -pickup.rows[r]!.offset * scale - outer, y: -long / 2, width: 2 * outer, height: long };
  });
  const blocks = build ? planBlocks(build, coils, scale) : [];
  const poles = build ? builtPoles(sheet, chosen, build, scale) : schemePoles(sheet, chosen, scale);
  const edge = Math.max(
    ...poles.map((p) => p.x + p.r),
    ...coils.map((c) => c.x + c.width),
    0,
    ...blocks.map((b) => b.x + b.width),
  );
  const turn = (slant * 180) / Math.PI;
  const frame = { cx, cy: height / 2, scale, turn };
  const column = Math.min(edge, HALF_ALONG * scale) + COLUMN;
  return {
    ...frame,
    width: shown,
    height,
    ratio,
    strings: numbersOf(sheet).map((string) => ({
      string,
      nut: height / 2 - stringAcross(instrument, string, place + half) * scale,
      saddle: height / 2 - stringAcross(instrument, string, place - half) * scale,
      thick: Math.max(0.8, (instrument.strings[string - 1]?.diameter ?? 0) * scale),
      chosen: string === listen.string,
    })),
    poles,
    coils,
    blocks,
    column,
    gaps: gapsOf(build),
    halfSpan: (gapsOf(build) / 2) * (build?.pitch ?? 0) * scale,
    slantAt: toScreen(frame, { x: 0, y: (height / 2 - SLANT_TOP) / scale }),
    pitchAt: toScreen(frame, { x: -column / scale, y: 0 }),
  };
}

const numbersOf = (sheet: Sheet): readonly number[] => sheet.instrument.strings.map((_, i) => i + 1);

/** Between the poles of a row. */
const gapsOf = (build: PickupBuild | null): number => (build?.rows[0]?.pole.heights.length ?? 1) - 1;

/** Half of what the poles and the strings over them need, m. */
function halfAcross(sheet: Sheet, chosen: number): number {
  const { build, place } = sheet.pickups[chosen]!;
  const poles = (gapsOf(build) / 2) * (build?.pitch ?? 0);
  return Math.max(HALF_ACROSS, ASIDE + Math.max(poles, stringAcross(sheet.instrument, 1, place)));
}

function builtPoles(sheet: Sheet, chosen: number, build: PickupBuild, scale: number): readonly Pole[] {
  const pickup = sheet.pickups[chosen]!;
  return build.rows.flatMap((row, r) =>
    polesStanding({ pitch: build.pitch, heights: standingPoles(row.pole) }).map(({ k, y }): Pole => {
      const pole = poleAt(row.pole, k);
      const up = upAt(row, k);
      const string = k + 1;
      const wide = pole.kind === 'screw' ? pole.head.diameter : pole.diameter;
      return {
        key: `${r} ${string}`,
        x: -(pickup.rows[r]?.offset ?? 0) * scale,
        y: -y * scale,
        r: (wide / 2) * scale,
        mark: pole.kind === 'screw' ? 'slot' : pole.kind === 'rod' ? (up === 'north' ? 'N' : 'S') : '',
        heard: string === sheet.listen.string,
      };
    }),
  );
}

/** Without a build: a pole under every string, as a scheme. */
function schemePoles(sheet: Sheet, chosen: number, scale: number): readonly Pole[] {
  const { rows, place } = sheet.pickups[chosen]!;
  return rows.flatMap((row, r) =>
    numbersOf(sheet).map((string): Pole => ({
      key: `${r} ${string}`,
      x: -row.offset * scale,
      y: -stringAcross(sheet.instrument, string, place) * scale,
      r: 0.0024 * scale,
      mark: '',
      heard: string === sheet.listen.string,
    })),
  );
}

type Frame = Pick<PlanView, 'cx' | 'cy' | 'scale' | 'turn'>;

/** From the pickup's own frame (m) to the screen (px). */
export function toScreen({ cx, cy, scale, turn }: Frame, { x, y }: Place): Place {
  const s = Math.sin((turn * Math.PI) / 180);
  const c = Math.cos((turn * Math.PI) / 180);
  return { x: cx - (x * c - y * s) * scale, y: cy - (x * s + y * c) * scale };
}

/** And back. */
export function fromScreen({ cx, cy, scale, turn }: Frame, { x, y }: Place): Place {
  const s = Math.sin((turn * Math.PI) / 180);
  const c = Math.cos((turn * Math.PI) / 180);
  const along = (cx - x) / scale;
  const across = (cy - y) / scale;
  return { x: along * c + across * s, y: -along * s + across * c };
}
