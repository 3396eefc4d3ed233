/** The page that one takes to the workbench: one pickup in full, the coils of all, and the guitar's wiring. Pure. */
import type { BenchFigures } from '../physics/benchFigures.ts';
import { crc32 } from '../sheet/crc32.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { CAUTIONS } from './cautions.ts';
import { codeBlock } from './code.ts';
import type { BenchPage, Block, Paper } from './page.ts';
import { partsRows } from './parts.ts';
import { coilWords, poleWords, type PoleReadings } from './sayFollows.ts';
import { planDrawing, sectionDrawing } from './section.ts';
import { coilTable, fieldTable, readingTable } from './tables.ts';
import { utf8 } from './utf8.ts';
import { wiringDrawing } from './wiring.ts';

export interface BenchAsked {
  readonly sheet: Sheet;
  readonly figures: BenchFigures;
  /** What was read on the poles. */
  readonly poles: PoleReadings;
  /** Which of several trials it is: «trial B of 3»; empty for one that is alone. */
  readonly trial: string;
  /** The day, in words. */
  readonly date: string;
  /** The whole address that opens this sheet; empty where it is not known. */
  readonly link: string;
  readonly paper: Paper;
}

/** Of all cautions those that concern who winds, solders and pots. */
const AT_THE_BENCH = CAUTIONS.filter(({ atBench }) => atBench);

/** Letters of the notes that have room. */
const NOTES = 240;

/** Eight hexadecimal digits that tell one state of a sheet from another: two papers that bear the same are of the same sheet. */
export function stateOf(sheet: Sheet): string {
  const digits = crc32(utf8(JSON.stringify(sheet)))
    .toString(16)
    .toUpperCase();
  const all = digits.padStart(8, '0');
  return `${all.slice(0, 4)} ${all.slice(4)}`;
}

export function benchPage({ sheet, figures, poles, trial, date, link, paper }: BenchAsked): BenchPage {
  const pickup = sheet.pickups[figures.wish.pickup]!;
  const { build } = pickup;
  const drawn: Block[] = build
    ? [
        block('Section', sectionDrawing(sheet, pickup, build, sheet.listen.string)),
        block('Bobbin', planDrawing(build)),
      ]
    : [];
  const parts: Block = {
    kind: 'table',
    title: 'Parts',
    head: [],
    rows: partsRows(sheet, pickup),
    note: 'Dimensions in mm.',
  };
  const wiring = block('Wiring', wiringDrawing(sheet));
  const cautions: Block = { kind: 'list', title: 'Cautions', items: AT_THE_BENCH };
  const code = codeBlock(link);
  const two = pickup.rows.length > 1;
  const follows = [...coilWords(pickup, figures), ...poleWords(sheet, pickup, figures, poles)];
  return {
    paper,
    title: sheet.title,
    of: [`${pickup.name} pickup`, ...(trial === '' ? [] : [trial])].join(' · '),
    notes: sheet.notes.length > NOTES ? `${sheet.notes.slice(0, NOTES - 1)}…` : sheet.notes,
    facts: [
      { what: 'date', says: date },
      { what: 'state', says: stateOf(sheet) },
    ],
    bands: [
      [
        // A parts list of two rows is longer than one of a single row by what the code is higher than the cautions.
        [...drawn, fieldTable(sheet, pickup, figures, poles), two ? code : cautions],
        [wiring, parts, readingTable(pickup, figures, poles), two ? cautions : code],
      ],
      [[coilTable(sheet, figures)]],
      ...(follows.length > 0
        ? [[[{ kind: 'text' as const, title: 'What follows', says: follows.join(' ') }]]]
        : []),
    ],
  };
}

const block = (title: string, drawing: ReturnType<typeof planDrawing>): Block => ({
  kind: 'drawing',
  title,
  drawing,
  note: drawing.says,
});
