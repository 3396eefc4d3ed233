/** The figures of the table of strings as they are shown. Pure. */
import { threeDigits } from '../../sheet/shown.ts';
import type { PickupOutcome } from '../../state/types.ts';

export interface StringRow {
  /** 1 is the highest. */
  readonly string: number;
  /** In the order of COLUMNS; a dash where a figure needs a build, or a coil. */
  readonly cells: readonly string[];
}

export interface Column {
  readonly name: string;
  readonly unit: string;
  /** What the figure is, for the caption. */
  readonly means: string;
}

/** Soft hyphens let the long words give way on a narrow screen. */
export const COLUMNS: readonly Column[] = [
  { name: 'field', unit: 'mT', means: 'flux density on the string over the row where it is strongest' },
  { name: 'level', unit: 'mV', means: 'open circuit, for 1 mm of movement at the open note' },
  {
    name: 'reach',
    unit: 'mm',
    means:
      'width of the middle of each row’s reach, that hears three quarters of it (by hand: of the bell at half its height); it dips over a lone pole, for a thin string is magnetised mostly along itself, and there the field stands upright',
  },
  { name: 'satu\u00adration', unit: '%', means: 'most of the steel’s magnetisation that is used up' },
  {
    name: 'shift to\u00adwards',
    unit: 'cents',
    means:
      'by how much the magnets’ pull shifts the open note as the string moves towards the pickup and back; below zero it is flat (Rayleigh’s perturbation)',
  },
  { name: 'shift across', unit: 'cents', means: 'the same as it moves sideways over the pickup' },
  { name: 'beat', unit: 'Hz', means: 'between the two shifts: a string moves both ways, and so it warbles' },
  {
    name: 'drawn down',
    unit: 'µm',
    means:
      'how far the magnets’ pull bends the string towards the pickup at rest; from the same force as the shifts',
  },
];

export const DASH = '–';

/** With a minus sign that is one, and no minus before a zero. */
function figure(value: number, digits: number): string {
  if (value === -Infinity) return '−∞';
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

export function stringRows(outcome: PickupOutcome | undefined): readonly StringRow[] {
  return (outcome?.strings ?? []).map(({ level, widths, field }, i) => ({
    string: i + 1,
    cells: [
      field ? threeDigits(field.fluxDensity * 1e3) : DASH,
      // V for 1 m is mV for 1 mm.
      widths.length > 0 ? threeDigits(level) : DASH,
      widths.map((w) => figure(w * 1e3, 1)).join(' · ') || DASH,
      field ? figure(field.saturation * 100, 0) : DASH,
      field ? figure(field.centsTowards, 2) : DASH,
      field ? figure(field.centsAcross, 2) : DASH,
      field ? figure(field.beat, 2) : DASH,
      field ? figure(field.drawnDown * 1e6, 1) : DASH,
    ],
  }));
}
