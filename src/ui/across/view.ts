/** Where things stand in the view across the strings, px: bass on the left, strings above the poles, levels on top. */
import { hasCoil } from '../../shape/hasCoil.ts';
import { PX_PER_METRE } from '../../plot/naturalSize.ts';
import { linearScale, type Scale } from '../../plot/scale.ts';
import { polePlace, standingPoles, topsOf } from '../../shape/poleRow.ts';
import type { PickupBuild, Sheet } from '../../sheet/sheet.ts';
import { FLANGE_RIM } from '../../shape/bobbin.ts';
import { coverOutside } from '../../shape/cover.ts';
import { pickupParts } from '../../shape/parts.ts';
import { acrossPickup, stringUnderside } from '../../shape/stringCourse.ts';

export interface StringDot {
  /** 1 is the highest. */
  readonly string: number;
  readonly x: number;
  readonly y: number;
  readonly r: number;
  /** Its underside. */
  readonly under: number;
}

export interface AcrossView {
  readonly height: number;
  /** px per m, both ways. */
  readonly scale: number;
  /** «2 : 1». */
  readonly ratio: string;
  /** From a place across, and from a height above the poles' plane, m. */
  readonly x: (across: number) => number;
  readonly z: (height: number) => number;
  /** String 1 first. */
  readonly strings: readonly StringDot[];
  /** Through the strings' undersides. */
  readonly arc: { readonly x: readonly number[]; readonly y: readonly number[] };
  /** The lowest height that is drawn, m. */
  readonly cut: number;
  /** Half of what is drawn of the pickup, of the bobbin's flatwork in it, and where the gaps are dimensioned, m. */
  readonly half: number;
  readonly flatwork: number;
  readonly gapAt: number;
  /** Level axis, dB to px, and half its range, dB. */
  readonly level: Scale;
  readonly span: number;
  /** Where the name and the figures of pole k (string k + 1) stand: below it, or spread where the poles are closer. */
  readonly column: (k: number) => number;
  /** Lower edge of what is drawn. */
  readonly foot: number;
  /** Middle of the line of string names, and of the lines of pole heights. */
  readonly names: number;
  readonly heights: readonly number[];
}

/** Scales of ISO 5455 with the steps between that screens need. */
const SCALES: readonly (readonly [by: number, name: string])[] = [
  [5, '5 : 1'],
  [4, '4 : 1'],
  [3, '3 : 1'],
  [2.5, '5 : 2'],
  [2, '2 : 1'],
  [1.5, '3 : 2'],
  [1.25, '5 : 4'],
  [1, '1 : 1'],
  [0.75, '3 : 4'],
  [0.5, '1 : 2'],
];
/** Left free at either side of the bobbin, px. */
const MARGIN = 19;
/** What is shown below the poles' plane, m; longer parts are broken off. */
const DEPTH = 0.0068;
/** Gaps for strings over a pickup that nobody has built, m: common practice. */
const USUAL = { gapBass: 0.0026, gapTreble: 0.002 };
const BAR = 40;
/** Room that a pole's height needs beside the next one, and the least that will do, px. */
const FIGURE = 62;
const LEAST_FIGURE = 54;
const SPANS = [1.5, 3, 6, 12, 24, 48];

/** Place of pole k (string k + 1), m from the centre line. */
export const poleAt = ({ rows, pitch }: PickupBuild, k: number): number =>
  polePlace({ pitch, heights: rows[0]?.pole.heights ?? [] }, k);

/** From its flatwork to the inside of a cover, m: drawn only. */
const IN_COVER = 0.2e-3;

/** Half the length of what carries the poles, m. */
function halfLength(build: PickupBuild, row: number): number {
  const of = build.rows[row];
  if (!of) return 0;
  const { window, pole } = of;
  const widest = pole.kind === 'screw' ? Math.max(pole.diameter, pole.head.diameter) : pole.diameter;
  const coil = hasCoil(build) ? 0.5 * window.straight + window.outer + FLANGE_RIM : 0;
  return Math.max(coil, poleAt(build, 0) + 0.5 * widest + 0.001);
}

/** What the drawing has room for, up to the strings and down to its lower edge, m from the poles' plane. */
export interface AcrossRoom {
  readonly top: number;
  readonly cut: number;
}

/** m that the strings may rise into the room below the levels. */
const ROOM_ABOVE = 0.003;

/**
 * What a drawing has room for that keeps its height: what it was made for while the sheet finds place in that, and what
 * the sheet needs where it doesn't; the scale is then a smaller one.
 */
export const keptAcross = (made: AcrossRoom, needed: AcrossRoom): AcrossRoom => ({
  top: needed.top <= made.top + ROOM_ABOVE ? made.top : needed.top,
  cut: Math.min(made.cut, needed.cut),
});

/** What the sheet as it is needs. */
export function acrossRoom({ instrument, pickups }: Sheet, chosen: number, row: number): AcrossRoom {
  const build = pickups[chosen]?.build ?? null;
  const over = pickups[chosen] ?? { place: 0, slant: 0 };
  const heights = instrument.strings.map((_, i) => stringUnderside(instrument, over, build ?? USUAL, i + 1));
  const of = build?.rows[row];
  const longest = of ? Math.max(of.pole.length, ...(of.pole.own ?? []).map((own) => own?.length ?? 0)) : 0;
  const deepest = of ? Math.max(-longest, ...topsOf(standingPoles(of.pole))) - longest : 0;
  return {
    top: Math.max(0, ...heights) + 0.0012,
    cut: build ? Math.max(-DEPTH, Math.min(deepest, hasCoil(build) ? (of?.window.bottom ?? 0) : 0)) : -0.001,
  };
}

/**
 * @param levels dB against the reference; NaN where there is none
 * @param room what is needed, unless it was given more
 * @param kept where the lower edge of what is drawn stays if that can be, px
 */
export function acrossView(
  sheet: Sheet,
  chosen: number,
  row: number,
  width: number,
  levels: readonly number[],
  room = acrossRoom(sheet, chosen, row),
  kept = Infinity,
): AcrossView {
  const pickup = sheet.pickups[chosen];
  const build = pickup?.build ?? null;
  const { instrument } = sheet;
  const over = pickup ?? { place: 0, slant: 0 };
  const gaps = build ?? USUAL;
  const across = (string: number): number => acrossPickup(instrument, over, string);
  const under = (string: number): number => stringUnderside(instrument, over, gaps, string);
  const numbers = instrument.strings.map((_, i) => i + 1);
  const count = numbers.length;
  const outer = across(1);
  const open = Math.max(build ? halfLength(build, row) : 0, outer + 0.005);
  const cover = build?.cover;
  const covered = build && cover ? coverOutside(pickupParts(build, [])).y : 0;
  // What is drawn only must not go through the wall of a cover.
  const flatwork = cover ? Math.min(open, covered - cover.thickness - IN_COVER) : open;
  const blocks = build ? [...build.bars, ...build.steel].filter(({ top }) => top > room.cut) : [];
  const ends = blocks.map(({ across: at, length }) => Math.abs(at) + length / 2);
  const half = Math.max(flatwork, covered, outer + 0.005, ...ends);

  const most = Math.max(1, width - 2 * MARGIN) / (2 * half * PX_PER_METRE);
  const upTo = (times: number): number => 2 * BAR + 52 + (room.top - room.cut) * times * PX_PER_METRE;
  // The smaller ones are for what has risen in a room that stays.
  const wide = SCALES.filter(([times]) => times <= Math.max(1, most));
  // Less a hair of rounding.
  const [by, ratio] = wide.find(([times]) => upTo(times) <= kept + 0.01) ?? wide.at(-1) ?? [0.5, '1 : 2'];
  const scale = by * PX_PER_METRE;
  const x = (across: number): number => width / 2 + across * scale;

  const plane = 2 * BAR + 52 + room.top * scale;
  const z = (height: number): number => plane - height * scale;
  const { cut } = room;

  const loudest = Math.max(0, ...levels.filter(Number.isFinite).map(Math.abs));
  const span = SPANS.find((s) => loudest <= s) ?? 96;
  const edge = Number.isFinite(kept) ? Math.max(kept, z(cut)) : z(cut);
  const foot = edge + 12;
  const pitch = (build?.pitch ?? 0) * scale;
  // Where the poles are closer than their figures need, these are spread; on the smallest screens they stand on two lines.
  const spread = Math.min(FIGURE, (width - FIGURE) / (count - 1));
  const lines = Math.max(pitch, spread) < LEAST_FIGURE ? 2 : 1;
  const step = lines === 2 ? pitch : Math.max(pitch, spread);
  const names = foot + 20;
  // A little beyond the outer strings, in tenths of the way between two.
  const samples = Array.from({ length: 10 * count - 3 }, (_, i) => count + 0.3 - i / 10);
  return {
    height: build ? names + 14 + 26 * lines : names + 14,
    scale,
    ratio,
    x,
    z,
    strings: numbers.map((string) => {
      const thick = instrument.strings[string - 1]?.diameter ?? 0;
      return {
        string,
        x: x(across(string)),
        y: z(under(string) + thick / 2),
        r: Math.max(1, (thick * scale) / 2),
        under: z(under(string)),
      };
    }),
    arc: { x: samples.map((s) => x(across(s))), y: samples.map((s) => z(under(s))) },
    column: (k) => width / 2 + ((count - 1) / 2 - k) * step,
    foot: z(cut),
    cut,
    half,
    flatwork,
    gapAt: half + 0.0005,
    level: linearScale([-span, span], [20 + 2 * BAR, 20]),
    span,
    names,
    heights: Array.from({ length: lines }, (_, i) => names + 26 * (i + 1)),
  };
}
