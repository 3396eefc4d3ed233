/** What the command line reads, and computes of it first. */
import { readFileSync, statSync } from 'node:fs';
import { fieldsOf, type Fields } from '../physics/field.ts';
import { FieldError } from '../physics/fieldFaults.ts';
import { LARGEST_DESIGN, readDesign } from '../sheet/designFile.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { currentSheet, type Trials } from '../sheet/trials.ts';
import { Complaint } from './options.ts';

/** A sheet, or of several trials the open one. */
export const readSheet = (file: string): Sheet => currentSheet(readTrials(file));

/** A document: a sheet, or several trials with what their maker says of them. */
export function readTrials(file: string): Trials {
  const stats = statSync(file, { throwIfNoEntry: false });
  if (!stats?.isFile()) throw new Complaint(`Sheet must be a file that is there; got ${file}.`, 1);
  if (stats.size > LARGEST_DESIGN)
    throw new Complaint(`Sheet must be at most ${LARGEST_DESIGN} bytes; got ${stats.size} in ${file}.`, 1);
  const checked = readDesign(readFileSync(file));
  if (!checked.ok) throw new Complaint(`${file}: ${checked.message}`, 1);
  return checked.trials;
}

/** The fields of the sheet's builds; one that can't be computed is the sheet's own fault. */
export function computed(sheet: Sheet): Fields {
  try {
    return fieldsOf(sheet);
  } catch (error) {
    if (error instanceof FieldError) throw new Complaint(error.message, 1);
    throw error;
  }
}
