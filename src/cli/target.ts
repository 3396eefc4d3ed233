/** How many turns it takes for a resonance, as the page says it, in figures. */
import { readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { FieldSolver } from '../physics/field.ts';
import { FieldError } from '../physics/fieldFaults.ts';
import { turnsFor } from '../physics/target.ts';
import { Complaint } from './options.ts';
import { readSheet } from './read.ts';

/** Significant digits of a frequency. */
const DIGITS = 6;
/** Hz, between which a resonance may be asked for. */
const LOWEST = 500;
const HIGHEST = 20e3;

interface Asked {
  readonly sheet: string;
  readonly pickup: number;
  /** Hz. */
  readonly resonance: number;
}

const wrong = (file: string, message: string): never => {
  throw new Complaint(`${file}: ${message}`, 1);
};

function read(file: string): Asked {
  let data: unknown;
  try {
    data = JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return wrong(file, 'Target must be a file of JSON that is there; got none.');
  }
  const { sheet, pickup = 1, resonance } = (data ?? {}) as Record<string, unknown>;
  if (typeof sheet !== 'string') return wrong(file, 'Its «sheet» must name a file; got none.');
  if (typeof pickup !== 'number' || ![1, 2, 3].includes(pickup))
    return wrong(file, `Its «pickup» must be 1, 2 or 3; got ${JSON.stringify(pickup)}.`);
  // A bare number might be Hz or kHz.
  const [, number, kilo] =
    (typeof resonance === 'string' && /^\s*(\d+(?:\.\d+)?)\s*(k?)Hz\s*$/i.exec(resonance)) || [];
  const hertz = Number(number) * (kilo ? 1000 : 1);
  if (!(hertz >= LOWEST && hertz <= HIGHEST))
    return wrong(
      file,
      `Its «resonance» must be a frequency from 500 Hz to 20 kHz with its unit, such as "4.2 kHz"; got ${resonance === undefined ? 'none' : JSON.stringify(resonance)}.`,
    );
  return { sheet, pickup, resonance: hertz };
}

/** JSON: turns of every row, the resonance with them (Hz), whether that is what was asked for, and what stands in the way. */
export function target(file: string): string {
  const asked = read(file);
  const sheet = readSheet(resolve(dirname(file), asked.sheet));
  if (!sheet.pickups[asked.pickup - 1])
    return wrong(
      file,
      `Its «pickup» must be one of the sheet’s ${sheet.pickups.length}; got ${asked.pickup}.`,
    );
  try {
    const found = turnsFor(
      sheet,
      { pickup: asked.pickup - 1, resonance: asked.resonance },
      new FieldSolver(),
    );
    const resonance = found.resonance === null ? null : Number(found.resonance.toPrecision(DIGITS));
    return JSON.stringify({ ...found, resonance });
  } catch (error) {
    if (error instanceof FieldError || error instanceof RangeError) return wrong(file, error.message);
    throw error;
  }
}
