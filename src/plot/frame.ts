/** The frame of a drawing sheet with its zone marks and centring marks (ISO 5457). */
import type { Line } from './hatch.ts';

export interface FrameInput {
  /** The trimmed sheet, in any unit (px on screen, mm on paper). */
  readonly width: number;
  readonly height: number;
  /** Sheet edge to the frame line on each side. The standard has 20 mm left (for filing) and 10 mm elsewhere. */
  readonly margin: {
    readonly left: number;
    readonly top: number;
    readonly right: number;
    readonly bottom: number;
  };
  /** Frame line to the outer zone line; 5 mm in the standard. */
  readonly band: number;
  /** Length of a zone; 50 mm in the standard. */
  readonly field: number;
  /** How far a centring mark reaches into the drawing space; 5 mm in the standard. */
  readonly reach: number;
}

export interface Zone {
  /** Numerals along the top and bottom, letters along the sides. */
  readonly label: string;
  readonly side: 'top' | 'bottom' | 'left' | 'right';
  /** Middle of the zone's band, for the text. */
  readonly x: number;
  readonly y: number;
}

export interface Frame {
  /** Drawing space: the thick frame line. */
  readonly inner: Rectangle;
  /** Thin line around the zones. */
  readonly outer: Rectangle;
  /** Between neighbouring zones, across the band. */
  readonly divisions: readonly Line[];
  readonly centring: readonly Line[];
  readonly zones: readonly Zone[];
}

export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/**
 * Zones are counted from the sheet's axes of symmetry in whole fields; what is left over goes to the corner zones.
 * Their number is even: 8 by 6 on A3 with fields of 50 mm. Letters run downwards and leave out I and O.
 */
export function frame({ width, height, margin, band, field, reach }: FrameInput): Frame {
  const inner = {
    x: margin.left,
    y: margin.top,
    width: width - margin.left - margin.right,
    height: height - margin.top - margin.bottom,
  };
  if (!(inner.width > 0 && inner.height > 0 && field > 0)) {
    throw new RangeError(`A sheet must be larger than its margins; got ${width} by ${height}.`);
  }
  const outer = {
    x: inner.x - band,
    y: inner.y - band,
    width: inner.width + 2 * band,
    height: inner.height + 2 * band,
  };
  const right = inner.x + inner.width;
  const bottom = inner.y + inner.height;
  const divisions: Line[] = [];
  const zones: Zone[] = [];
  const columns = edges(width, inner.x, right, field);
  const rows = edges(height, inner.y, bottom, field);
  columns.forEach((x, i) => {
    const next = columns[i + 1];
    if (next === undefined) return;
    if (i > 0) {
      divisions.push(
        { x1: x, y1: outer.y, x2: x, y2: inner.y },
        { x1: x, y1: bottom, x2: x, y2: bottom + band },
      );
    }
    const label = String(i + 1);
    zones.push({ label, side: 'top', x: (x + next) / 2, y: inner.y - band / 2 });
    zones.push({ label, side: 'bottom', x: (x + next) / 2, y: bottom + band / 2 });
  });
  rows.forEach((y, i) => {
    const next = rows[i + 1];
    if (next === undefined) return;
    if (i > 0) {
      divisions.push(
        { x1: outer.x, y1: y, x2: inner.x, y2: y },
        { x1: right, y1: y, x2: right + band, y2: y },
      );
    }
    const label = zoneLetter(i);
    zones.push({ label, side: 'left', x: inner.x - band / 2, y: (y + next) / 2 });
    zones.push({ label, side: 'right', x: right + band / 2, y: (y + next) / 2 });
  });
  const centring = [
    { x1: width / 2, y1: outer.y, x2: width / 2, y2: inner.y + reach },
    { x1: width / 2, y1: bottom + band, x2: width / 2, y2: bottom - reach },
    { x1: outer.x, y1: height / 2, x2: inner.x + reach, y2: height / 2 },
    { x1: right + band, y1: height / 2, x2: right - reach, y2: height / 2 },
  ];
  return { inner, outer, divisions, centring, zones };
}

/** Ends of the zones along one side: whole fields from the axis, the outermost reaching to the frame line. */
function edges(size: number, start: number, end: number, field: number): number[] {
  const half = Math.max(1, Math.round(size / (2 * field)));
  const list = [start];
  for (let k = 1 - half; k < half; k++) {
    const at = size / 2 + k * field;
    if (at > start && at < end) list.push(at);
  }
  list.push(end);
  return list;
}

/** A … H, J … N, P … Z, then AA, AB, …: I and O are left out because they read as figures. */
export function zoneLetter(index: number): string {
  const letters = 'ABCDEFGHJKLMNPQRSTUVWXYZ';
  const digit = letters[index % letters.length] as string;
  return index < letters.length ? digit : zoneLetter(Math.floor(index / letters.length) - 1) + digit;
}
