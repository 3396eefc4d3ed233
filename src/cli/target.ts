/** What it takes to reach what a file wants, in the figures of the page: turns for a resonance, balance of the strings, a search. */
import { readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { balance } from '../physics/balance.ts';
import { FieldSolver } from '../physics/field.ts';
import { FieldError } from '../physics/fieldFaults.ts';
import { turnsFor } from '../physics/target.ts';
import { BALANCE_BY, BALANCE_OF } from '../sheet/balance.ts';
import { balanceWish } from '../sheet/balanceWish.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { Complaint } from './options.ts';
import { quantity } from '../sheet/quantity.ts';
import { readSheet } from './read.ts';
import { wanted } from './wanted.ts';

/** Significant digits. */
const DIGITS = 6;
const short = (value: number): number => Number(value.toPrecision(DIGITS));

type Fields = Readonly<Record<string, unknown>>;
type Refuse = (message: string) => never;

/** What every target has. */
interface Asked {
  readonly sheet: Sheet;
  /** From 0. */
  readonly pickup: number;
  readonly fields: Fields;
  readonly refuse: Refuse;
}

function read(file: string): Asked {
  const refuse: Refuse = (message) => {
    throw new Complaint(`${file}: ${message}`, 1);
  };
  let data: unknown;
  try {
    data = JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return refuse('Target must be a file of JSON that is there; got none.');
  }
  const fields = (data ?? {}) as Fields;
  const { sheet: from, pickup = 1 } = fields;
  if (typeof from !== 'string') return refuse('Its «sheet» must name a file; got none.');
  if (typeof pickup !== 'number' || ![1, 2, 3].includes(pickup))
    return refuse(`Its «pickup» must be 1, 2 or 3; got ${JSON.stringify(pickup)}.`);
  const sheet = readSheet(resolve(dirname(file), from));
  if (!sheet.pickups[pickup - 1])
    return refuse(`Its «pickup» must be one of the sheet’s ${sheet.pickups.length}; got ${pickup}.`);
  return { sheet, pickup: pickup - 1, fields, refuse };
}

const told = (value: unknown): string => (value === undefined ? 'none' : JSON.stringify(value));

const isGroup = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** JSON: what is to be built, what it comes to, whether that is what was asked for, and what stands in the way. */
export function target(file: string): string {
  const asked = read(file);
  try {
    return JSON.stringify(answer(asked, file));
  } catch (error) {
    if (error instanceof FieldError || error instanceof RangeError) return asked.refuse(error.message);
    throw error;
  }
}

function answer(asked: Asked, file: string): unknown {
  const { sheet, pickup, fields, refuse } = asked;
  const { balance: balancing, want, stock, than, load } = fields;
  if (isGroup(balancing)) return balanced(asked, balancing);
  if (want === undefined) return wound(asked);
  if (!isGroup(want)) return refuse(`Its «want» must be a group of fields; got ${told(want)}.`);
  if (stock !== undefined && !isGroup(stock))
    return refuse(`Its «stock» must be a group of fields; got ${told(stock)}.`);
  if (than !== undefined && typeof than !== 'string')
    return refuse(`Its «than» must name a file; got ${told(than)}.`);
  const other = than === undefined ? null : readSheet(resolve(dirname(file), than));
  return wanted(sheet, pickup, { want, stock: stock ?? null, load }, other, refuse);
}

/** Turns of every row, and the resonance with them (Hz). */
function wound({ sheet, pickup, fields, refuse }: Asked): unknown {
  const wanted = quantity(fields['resonance'], 'targetPeak', 'Its «resonance»', refuse);
  const found = turnsFor(sheet, { pickup, resonance: wanted }, new FieldSolver());
  return { ...found, resonance: found.resonance === null ? null : short(found.resonance) };
}

/** Heights of the poles of every row, gaps (m) and turns; how far off the strings are (dB), the pull (cents). */
function balanced({ sheet, pickup, refuse }: Asked, fields: Fields): unknown {
  const choice = <T extends string>(name: string, among: readonly T[], otherwise?: T): T => {
    const value = fields[name] ?? otherwise;
    return (
      among.find((one) => one === value) ??
      refuse(`Its balance’s «${name}» must be one of ${among.join(', ')}; got ${told(value)}.`)
    );
  };
  const by = choice('by', BALANCE_BY);
  const figure = (name: string, key: 'slope' | 'detuning', otherwise: string): number =>
    quantity(fields[name] ?? otherwise, key, `Its balance’s «${name}»`, refuse);
  const { than } = fields;
  if (by === 'turns' && (typeof than !== 'number' || !sheet.pickups[than - 1]))
    refuse(`Its balance’s «than» must be the pickup that this one is to be as loud as; got ${told(than)}.`);
  const { build, before, after, louder, pulls, reached, limits } = balance(
    sheet,
    balanceWish({
      ...{ pickup, by, of: choice('of', BALANCE_OF, 'strum'), slope: figure('slope', 'slope', '0 dB') },
      ...{ cents: figure('pull', 'detuning', '4 cents'), than: Number(than) - 1 },
    }),
    new FieldSolver(),
  );
  return {
    heights: build.rows.map(({ pole }) => pole.heights),
    ...{ gapBass: build.gapBass, gapTreble: build.gapTreble, turns: build.rows.map(({ turns }) => turns) },
    ...{ before: before.map(short), after: after.map(short), louder: short(louder) },
    ...{ pulls: pulls.map(short), reached, limits },
  };
}
