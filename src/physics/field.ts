/** From what the field engine is asked to what it answers. */
import type { Sheet } from '../sheet/sheet.ts';
import type {
  FieldAnswer,
  FieldCoil,
  FieldLoops,
  FieldRow,
  Fields,
  FieldString,
} from './heard/fieldAnswer.ts';
import { fieldError, FieldError } from './fieldFaults.ts';
import { fieldQuestion, type FieldQuestion } from './fieldQuestion.ts';
import { isWound, type BuiltPickup, type WoundRow } from './magnetics/build/build.ts';
import { BuildError } from './magnetics/build/checkBuild.ts';
import {
  checkPickup,
  fieldOnStrings,
  widthOnString,
  type PickupField,
  type StringResult,
} from './magnetics/overPickup/pickupField.ts';
import { solvePickup, type SolvedPickup } from './magnetics/pickup/solvePickup.ts';
import { STRING_STEP, type StringAbove } from './magnetics/overPickup/stringLine.ts';
import { overallDiameter, turnsThatFit } from './magnetics/coil/wire.ts';
import { Kept } from './numerics/kept.ts';

export type { FieldAnswer, FieldCoil, FieldRow, Fields, FieldString } from './heard/fieldAnswer.ts';

/** Pickups solved and answers given that are kept: those of a sheet, and of the one it is compared with. */
const KEPT_PICKUPS = 4;
const KEPT_ANSWERS = 12;

/** Answers questions, and keeps the last solutions: when only gaps, strings or slant change, the strings' part is enough. */
export class FieldSolver {
  private readonly pickups = new Kept<SolvedPickup>(KEPT_PICKUPS);
  private readonly answers = new Kept<FieldAnswer>(KEPT_ANSWERS);

  /** @throws BuildError, or RangeError when a magnet has no working point */
  answer(question: FieldQuestion): FieldAnswer {
    return this.answers.of(JSON.stringify(question), () => {
      // Every refusal that the figures alone tell comes before anything is solved.
      const faults = checkPickup(question.build, strungOf(question));
      if (faults.length > 0) throw new BuildError(faults);
      return answerOf(this.solved(question.build), question);
    });
  }

  /**
   * Width of one row's reach on one string, both from 0, m: what `answer` says of it, in a tenth of the time where the
   * pickup's charges are known.
   *
   * @throws as answer does
   */
  width(question: FieldQuestion, at: { readonly string: number; readonly row: number }): number {
    const { build, slant } = question;
    const strings = strungOf(question);
    const faults = checkPickup(build, strings);
    if (faults.length > 0) throw new BuildError(faults);
    return widthOnString(this.solved(build), strings, at, slant, build);
  }

  /** Why a question will be refused, in sentences; empty when it won't. Nothing is solved for it. */
  refusal(question: FieldQuestion): string {
    return checkPickup(question.build, strungOf(question))
      .map(({ message }) => message)
      .join(' ');
  }

  /**
   * The fields of a checked sheet's pickups.
   * @param wanted which pickups to answer for; the others get null
   * @throws FieldError, whose `sheetFaults` say where the sheet's builds can't be computed
   */
  fields(sheet: Sheet, wanted?: readonly boolean[]): Fields {
    const questions = sheet.pickups.map((_, i) => (wanted?.[i] === false ? null : fieldQuestion(sheet, i)));
    // What the figures alone tell of any pickup is told before one of them is solved.
    forEach(sheet, questions, (question) => {
      const faults = checkPickup(question.build, strungOf(question));
      if (faults.length > 0) throw new BuildError(faults);
    });
    return forEach(sheet, questions, (question) => this.answer(question));
  }

  private solved(build: BuiltPickup): SolvedPickup {
    // Gaps and radius only place the strings.
    const key = JSON.stringify({ ...build, gapBass: 0, gapTreble: 0, fretboardRadius: 0 });
    return this.pickups.of(key, () => solvePickup(build));
  }
}

/**
 * Does something for every pickup that is asked about.
 * @throws FieldError with the faults of all of them
 */
function forEach<T>(
  sheet: Sheet,
  questions: readonly (FieldQuestion | null)[],
  each: (question: FieldQuestion) => T,
): (T | null)[] {
  const errors: FieldError[] = [];
  const all = sheet.pickups.map(({ name, build }, i) => {
    const question = questions[i];
    if (!build || !question) return null;
    try {
      return each(question);
    } catch (error) {
      if (error instanceof BuildError) errors.push(fieldError(error.faults, i, name, build));
      else if (error instanceof RangeError)
        errors.push(fieldError([{ path: '', message: error.message }], i, name, build));
      else throw error;
      return null;
    }
  });
  if (errors.length > 0) {
    throw new FieldError(
      errors.flatMap(({ sheetFaults }) => sheetFaults),
      errors.map(({ message }) => message).join(' '),
    );
  }
  return all;
}

/** The fields of a checked sheet, computed anew. @throws FieldError as FieldSolver.fields does */
export const fieldsOf = (sheet: Sheet): Fields =>
  sheet.pickups.some(({ build }) => build) ? new FieldSolver().fields(sheet) : sheet.pickups.map(() => null);

/** What tuning and place add to a string is left to who asks; these only have to be in range. */
const UNTUNED = { length: 1, tension: 1, frequency: 1, place: 0.5 };

const strungOf = ({ strings }: FieldQuestion): readonly StringAbove[] =>
  strings.map((string) => ({ ...string, ...UNTUNED }));

function answerOf(solved: SolvedPickup, question: FieldQuestion): FieldAnswer {
  const { magnets } = solved;
  const { build, slant } = question;
  const field = fieldOnStrings(solved, strungOf(question), slant, build);
  const answer: FieldAnswer = {
    start: field.x[0]!,
    step: STRING_STEP,
    strings: field.strings.map(fieldString),
    coils: build.rows.filter(isWound).map((row, r) => fieldCoil(field, row, r)),
    mutual: field.mutual,
    warnings: field.warnings,
    charges: { density: magnets.density, second: magnets.second, laws: magnets.laws },
  };
  checkFinite(answer);
  return answer;
}

function fieldString({ rows, saturation, pull }: StringResult): FieldString {
  return {
    rows: rows.map((row): FieldRow => ({
      // Towards the pickup z falls, and the hot end is the winding's start, not its end: two signs.
      towards: odd(row.reachZ, 1),
      across: odd(row.reachY, -1),
      area: row.sensitivity,
      coreShare: row.coreShare,
      width: row.width,
      middle: row.middle,
      fluxDensity: row.fluxDensity,
      fieldWidth: row.fieldWidth,
      tipWidth: row.tipWidth,
      curve: row.curve,
    })),
    saturation,
    forceZ: pull.forceZ,
    stiffnessZ: pull.stiffnessZ,
    stiffnessY: pull.stiffnessY,
  };
}

/** With one sample more, of the nothing that lies beyond: the string's transform wants an even number of steps. */
function odd(samples: Float64Array, sign: 1 | -1): Float64Array {
  const out = new Float64Array(samples.length + (samples.length % 2 === 0 ? 1 : 0));
  for (let i = 0; i < samples.length; i++) out[i] = sign * samples[i]!;
  return out;
}

function fieldCoil(field: PickupField, { winding }: WoundRow, r: number): FieldCoil {
  const { inner, edge, top, bottom, straight, wire, enamel, packing } = winding;
  const window = { x: 0, y: 0, straight, inner, outer: edge, bottom, top };
  const shares = field.strings.map(({ rows }) => rows[r]!.coreShare);
  return {
    ...field.coils[r]!,
    turnsThatFit: turnsThatFit(window, overallDiameter(wire, enamel), packing),
    coreShare: shares.reduce((sum, share) => sum + share, 0) / shares.length,
    loops: fieldLoops(field, r),
  };
}

function fieldLoops({ loops, strings, coils }: PickupField, r: number): FieldLoops | null {
  if (!loops) return null;
  const { air, core } = loops.coils[r]!;
  const moved = new Float64Array(loops.tau.length);
  let own = 0;
  for (const string of strings) {
    own += string.rows[r]!.sensitivity / coils[r]!.turns;
    string.loops!.forEach((flux, k) => (moved[k] = moved[k]! + flux));
  }
  // Of a coil that hears nothing nothing can be taken.
  return { tau: loops.tau, air, core, moved: moved.map((flux) => (own === 0 ? 0 : flux / own)) };
}

/** The door through which no NaN leaves. */
function checkFinite(value: unknown): void {
  if (typeof value === 'number' || value instanceof Float64Array) {
    const finite = typeof value === 'number' ? Number.isFinite(value) : value.every(Number.isFinite);
    if (!finite) {
      throw new RangeError(
        'The field must be finite everywhere; it is not. Change the dimension that was changed last.',
      );
    }
  } else if (typeof value === 'object' && value !== null) {
    for (const part of Object.values(value)) checkFinite(part);
  }
}
