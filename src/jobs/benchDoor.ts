/** What only the bench sheet, measured curves and recordings ask of physics, in a file of its own: a worker loads it when it is first asked for. */
import { benchFigures } from '../physics/benchFigures.ts';
import { fieldsOf } from '../physics/field.ts';
import { measuredFigures } from '../physics/measured.ts';
import { through as throughSheet } from '../physics/throughSheet.ts';
import type { Door } from './answer.ts';

export const bench: NonNullable<Door['bench']> = (sheet, wish, fields) =>
  benchFigures(sheet, fields ?? fieldsOf(sheet), wish);

export const measured: NonNullable<Door['measured']> = (sheet, wish, fields) =>
  measuredFigures(sheet, fields ?? fieldsOf(sheet), wish);

export const through: NonNullable<Door['through']> = (sheet, playing, fields) =>
  throughSheet(sheet, playing, fields ?? fieldsOf(sheet));
