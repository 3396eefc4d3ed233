/** What a maker should know about a sheet, in words. */
import { hasCoil } from '../shape/hasCoil.ts';
import { gapsAround } from '../shape/held.ts';
import { pickupParts, type PickupParts } from '../shape/parts.ts';
import { PLATE_WORDS, PLATES } from '../shape/plates.ts';
import { steelWord } from '../shape/steel.ts';
import { rowCrossing } from '../shape/stringCourse.ts';
import { roundSection } from '../shape/wrap.ts';
import type { Pickup, Sheet } from '../sheet/sheet.ts';
import { HIGHEST } from './listening.ts';
import { PLATE_RESISTIVITY } from './magnetics/materials/materials.ts';
import { thinAt, thinUpTo } from './magnetics/plates/thinPlate.ts';
import { stopString, type SoundingString } from './string/note.ts';
import { playedStrings } from './string/played.ts';

/**
 * Pa; a string whose core is under more stress than this is likely to break. Drawn music wire breaks at 2.2–2.9 GPa,
 * the thinner the higher (from memory).
 */
const BREAKING_STRESS = 2.7e9;

/** Sentences about what is odd in the sheet; empty when all is well. */
export function warningsFor(sheet: Sheet): string[] {
  const { instrument, pickups, listen } = sheet;
  const warnings: string[] = [];
  const played = playedStrings(sheet);
  if (played.length === 0) warnings.push('The chord plays no string: give at least one string a fret.');

  const chosen = stopString(instrument, listen.string, listen.fret);
  const short = [...played, chosen].filter(({ length }) => listen.pluck.place >= length);
  if (short.length > 0) {
    const least = Math.min(...short.map(({ length }) => length));
    warnings.push(
      `The pluck at ${mm(listen.pluck.place)} from the saddle lies beyond the stopped string, ${mm(least)} long; it is played at the end of the string.`,
    );
  }

  for (const pickup of pickups) {
    // On the bench parts are held by hand, and nothing is heard of them.
    if (!hasCoil(pickup.build)) continue;
    const beyond = unique(
      [...(listen.play === 'string' ? [] : played), chosen].filter((note) =>
        pickup.rows.some((row) => rowCrossing(instrument, pickup, row.offset, note.string) >= note.length),
      ),
    );
    if (beyond.length > 0) {
      warnings.push(
        `The ${pickup.name} pickup lies beyond the fret at which string ${beyond.join(', ')} is stopped; there the string does not move, and only the edge of the reach is heard.`,
      );
    }
    const past = unique(
      [...played, chosen].filter((note) =>
        pickup.rows.some((row) => rowCrossing(instrument, pickup, row.offset, note.string) <= 0),
      ),
    );
    if (past.length > 0) {
      warnings.push(`The ${pickup.name} pickup lies behind the saddle on string ${past.join(', ')}.`);
    }
    warnings.push(...thickPlates(pickup), ...looseParts(pickup), ...steelInField(pickup));
  }

  instrument.strings.forEach((spec, index) => {
    const { tension } = stopString(instrument, index + 1, 0);
    const stress = tension / roundSection(spec.core);
    if (stress > BREAKING_STRESS) {
      warnings.push(
        `String ${index + 1} would need ${tension.toFixed(0)} N, ${(stress / 1e9).toFixed(1)} GPa in its core, and would probably break: tune it lower or choose a thinner string.`,
      );
    }
  });
  return warnings;
}

/** Farther from everything else than this a part is held by nothing, m. */
const LOOSE = 2e-3;

const partsOf = ({ rows, build }: Pickup): PickupParts =>
  pickupParts(
    build!,
    rows.map(({ offset }) => offset),
  );

const steelWords = ({ steel = [], rows }: PickupParts): readonly string[] =>
  steel.map((piece) => steelWord(piece, rows));

function looseParts(pickup: Pickup): string[] {
  const { name, build } = pickup;
  if (!build || build.cover || build.basePlate) return [];
  const parts = partsOf(pickup);
  const names = [...build.bars.map(() => 'bar magnet'), ...steelWords(parts).map((word) => `steel ${word}`)];
  return gapsAround(parts, build.pitch).flatMap((gap, i) =>
    gap > LOOSE
      ? [`The ${name} pickup’s ${names[i]} is held by nothing: what is nearest to it is ${mm(gap)} away.`]
      : [],
  );
}

/** Of what a plate or a wall of steel does to a coil at higher frequencies. */
function steelInField(pickup: Pickup): string[] {
  const { name, build, rows } = pickup;
  if (!build || rows.every(({ coil }) => coil.coreLoss !== null)) return [];
  const words = [...new Set(steelWords(partsOf(pickup)).filter((word) => word !== 'blade'))];
  return words.length === 0
    ? []
    : [
        `Eddy currents in the ${name} pickup’s steel ${words.join(' and ')} are left out: its coils lose somewhat more at their peak than is shown.`,
      ];
}

/** Of a cover and a base plate that are too thick to be computed as thin plates over the whole band. */
function thickPlates({ name, build, rows }: Pickup): string[] {
  // Typed losses take the place of both.
  if (!build || rows.every(({ coil }) => coil.coreLoss !== null)) return [];
  return PLATES.flatMap((plate) => {
    const part = build[plate];
    if (!part) return [];
    const resistivity = PLATE_RESISTIVITY[part.metal];
    const upTo = thinUpTo(resistivity, part.thickness);
    if (upTo >= HIGHEST) return [];
    const thin = Math.floor(1e5 * thinAt(resistivity, HIGHEST)) / 1e5;
    return [
      `The ${name} pickup’s ${PLATE_WORDS[plate]}, ${(1000 * part.thickness).toFixed(2)} mm of ${part.metal}, is computed as a thin plate, which holds up to ${(upTo / 1000).toPrecision(2)} kHz; above that, what it takes is only a rough guess. Up to ${(1000 * thin).toFixed(2)} mm it would hold to ${HIGHEST / 1000} kHz.`,
    ];
  });
}

function mm(metres: number): string {
  return `${(metres * 1000).toFixed(1)} mm`;
}

/** String numbers, each once, in order. */
function unique(notes: readonly SoundingString[]): number[] {
  return [...new Set(notes.map(({ string }) => string))].sort((a, b) => a - b);
}
