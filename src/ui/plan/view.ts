/**
 * Where things stand on the plan of a pickup, px: nut on the left, treble side on top, as in the placement. The pickup
 * has a frame of its own, turned by the slant about its centre; `local` is px in it, before it is turned.
 */
import { PX_PER_METRE } from '../../plot/naturalSize.ts';
import type { BarMagnet, Block, PickupBuild } from '../../sheet/build.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { polePlace, standingPoles } from '../../shape/poleRow.ts';
import { stringAcross } from '../../shape/stringCourse.ts';

export interface Place {
  readonly x: number;
  readonly y: number;
}

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

export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface PlanBlock extends Rect {
  /** Whether it lies under a coil. */
  readonly hidden: boolean;
  /** Of a bar's poles, local px. */
  readonly letters: readonly (Place & { readonly text: 'N' | 'S' })[];
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

/** @param across half of what is drawn across the strings, m: what is needed, unless it was given more */
export function planView(
  sheet: Sheet,
  chosen: number,
  width: number,
  across = halfAcross(sheet, chosen),
): PlanView {
  const pickup = sheet.pickups[chosen]!;
  const { build, slant, place } = pickup;
  const [, by, ratio] = SCALES.find(([least]) => width >= least) ?? SCALES.at(-1)!;
  const scale = by * PX_PER_METRE;
  const shown = Math.max(1, width);
  const height = 2 * across * scale;
  const lean = Math.abs(Math.sin(slant)) * 0.03;
  // The dimension stands on the right; what is left over is shared.
  const needed = 2 * (HALF_ALONG + lean) * scale + BESIDE;
  const cx = (HALF_ALONG + lean) * scale + Math.max(0, (shown - needed) / 2);
  const half = shown / scale;
  const { listen, instrument } = sheet;
  const coils = (build?.rows ?? []).map(({ window }, r): Rect => {
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
export function halfAcross(sheet: Sheet, chosen: number): number {
  const { build, place } = sheet.pickups[chosen]!;
  const poles = (gapsOf(build) / 2) * (build?.pitch ?? 0);
  return Math.max(HALF_ACROSS, ASIDE + Math.max(poles, stringAcross(sheet.instrument, 1, place)));
}

/** Room for a letter, px. */
const LETTER = 14;

function planBlocks(build: PickupBuild, coils: readonly Rect[], scale: number): readonly PlanBlock[] {
  const rect = ({ width, length, offset, across }: Block): Rect => ({
    x: (-offset - width / 2) * scale,
    y: (-across - length / 2) * scale,
    width: width * scale,
    height: length * scale,
  });
  const under = (block: Block): boolean =>
    coils.some((coil, r) => block.top <= build.rows[r]!.window.top && covers(coil, rect(block)));
  return [
    ...build.bars.map((bar): PlanBlock => ({
      ...rect(bar),
      hidden: under(bar),
      letters: planLetters(bar, rect(bar)),
    })),
    ...build.steel.map((piece): PlanBlock => ({ ...rect(piece), hidden: under(piece), letters: [] })),
  ];
}

const covers = (a: Rect, b: Rect): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

/** On the upper face, at either side or at either end: as it is magnetised. */
function planLetters({ direction, turned }: BarMagnet, { x, y, width, height }: Rect): PlanBlock['letters'] {
  if (Math.min(width, height) < LETTER) return [];
  const [first, second] = turned ? (['S', 'N'] as const) : (['N', 'S'] as const);
  const [cx, cy] = [x + width / 2, y + height / 2];
  // Beyond the outer poles, which stand over its middle.
  const end = y + height - LETTER;
  if (direction === 'through the thickness') return [{ text: first, x: cx, y: end }];
  if (direction === 'along the length')
    return [
      { text: first, x: cx, y: y + LETTER },
      { text: second, x: cx, y: end },
    ];
  return width < 2 * LETTER
    ? []
    : [
        { text: first, x: x + LETTER / 2, y: cy },
        { text: second, x: x + width - LETTER / 2, y: cy },
      ];
}

function builtPoles(sheet: Sheet, chosen: number, build: PickupBuild, scale: number): readonly Pole[] {
  const pickup = sheet.pickups[chosen]!;
  return build.rows.flatMap(({ pole, up }, r) =>
    standingPoles(pole).map((_, k): Pole => {
      const string = k + 1;
      const wide = pole.kind === 'screw' ? pole.head.diameter : pole.diameter;
      return {
        key: `${r} ${string}`,
        x: -(pickup.rows[r]?.offset ?? 0) * scale,
        y: -polePlace({ pitch: build.pitch, heights: pole.heights }, k) * scale,
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
