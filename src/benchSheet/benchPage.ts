/** The page that one takes to the workbench: one pickup in full, the coils of all, and the guitar's wiring. Pure. */
import { hasCoil } from '../shape/hasCoil.ts';
import type { BenchFigures } from '../physics/benchFigures.ts';
import { crc32 } from '../sheet/crc32.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { CAUTIONS } from './cautions.ts';
import { codeBlock } from './code.ts';
import { ROOM, type BenchPage, type Block, type Paper } from './page.ts';
import { partsRows } from './parts.ts';
import { bandsHeight, columnHeight, columnWidth, pageHeight } from './room.ts';
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
const FEW_NOTES = 90;
/** Letters of a coil's row that have room beside one another. */
const WIDEST_ROW = 104;
const HEEDED = `${AT_THE_BENCH.map(({ what }) => what.toLowerCase())
  .join(', ')
  .replace(', always', '')}: heed what the screen says of them.`;

/** Eight hexadecimal digits that tell one state of a sheet from another: two papers that bear the same are of the same sheet. */
export function stateOf(sheet: Sheet): string {
  const digits = crc32(utf8(JSON.stringify(sheet)))
    .toString(16)
    .toUpperCase();
  const all = digits.padStart(8, '0');
  return `${all.slice(0, 4)} ${all.slice(4)}`;
}

/**
 * What a page that is too full goes without, one after the other, until the rest has room; each more than those before it. First
 * it is only set closer.
 */
const WITHOUT = [
  '',
  '',
  'the bobbin from above',
  'the coils of other pickups',
  'most of the notes',
  'the rest of them, the code, and the cautions in full',
  'bars and steel but the first of each',
  'these as well',
];
/** From this many on it is said in short: the words themselves have no room. */
const FULLEST = WITHOUT.length - 1;
const IN_SHORT = ['bobbin', 'other coils', 'notes', 'code', 'cautions in full', 'bars and steel'];
/** mm that a page may come out higher than is reckoned. */
const SPARE = 5;

/** One page whatever stands on it: what a fuller one goes without is said on it. */
export function benchPage(asked: BenchAsked): BenchPage {
  for (let level = 0; level + 1 < WITHOUT.length; level++) {
    const page = pageAt(asked, level);
    if (pageHeight(page) <= ROOM.height - SPARE) return page;
  }
  return pageAt(asked, WITHOUT.length - 1);
}

function pageAt({ sheet, figures, poles, trial, date, link, paper }: BenchAsked, level: number): BenchPage {
  const pickup = sheet.pickups[figures.wish.pickup]!;
  const { build } = pickup;
  const [close, noPlan, ownCoils, fewNotes, bare, fewBlocks, noBlocks] = [1, 2, 3, 4, 5, 6, 7].map(
    (at) => level >= at,
  );
  const section = build ? [block('Section', sectionDrawing(sheet, pickup, build, sheet.listen.string))] : [];
  const plan = build && hasCoil(build) && !noPlan ? [block('Bobbin', planDrawing(build))] : [];
  const parts: Block = {
    kind: 'table',
    title: 'Parts',
    head: [],
    rows: partsRows(sheet, pickup, close, noBlocks ? 0 : fewBlocks ? 1 : Infinity),
    note: 'Dimensions in mm.',
  };
  const wiring = sheet.pickups.some((one) => hasCoil(one.build))
    ? [block('Wiring', wiringDrawing(sheet))]
    : [];
  const cautions: Block = { kind: 'list', title: 'Cautions', items: AT_THE_BENCH };
  const code = bare ? [] : [codeBlock(link)];
  const two = pickup.rows.length > 1;
  const follows = [...coilWords(pickup, figures), ...poleWords(sheet, pickup, figures, poles)];
  const field = fieldTable(sheet, pickup, figures, poles);
  const meters = readingTable(pickup, figures, poles);
  const most = bare ? 0 : fewNotes ? FEW_NOTES : NOTES;
  // A parts list of two rows is longer than one of a single row by what the code is higher than the cautions.
  const columns = close
    ? [balanced([...section, ...plan, field], [...wiring, meters], [parts, ...code])]
    : [
        [
          [...section, ...plan, field, ...(two ? code : [cautions])],
          [...wiring, parts, meters, ...(two ? [cautions] : code)],
        ],
      ];
  // A long list of parts is shorter across the page.
  const across = [balanced([...section, ...plan, field], [...wiring, meters], code), [[parts]]];
  const bands = ownCoils && bandsHeight(across) < bandsHeight(columns) ? across : columns;
  const coils = coilTable(sheet, figures, ownCoils);
  const without = (level < FULLEST ? WITHOUT.slice(1, level + 1) : IN_SHORT).filter((what) => what !== '');
  return {
    paper,
    title: sheet.title,
    of: [`${pickup.name} pickup`, ...(trial === '' ? [] : [trial])].join(' · '),
    notes: most === 0 ? '' : sheet.notes.length > most ? `${sheet.notes.slice(0, most - 1)}…` : sheet.notes,
    facts: [
      { what: 'date', says: date },
      { what: 'state', says: stateOf(sheet) },
    ],
    bands: [
      ...bands,
      [
        [
          coils.rows.length === 0
            ? words('Coils', `None.${without.length === 0 ? '' : ` ${leftOut(without)}`}`)
            : without.length === 0
              ? coils
              : { ...coils, tight: isWide(coils.rows), note: `${coils.note} ${leftOut(without)}` },
        ],
      ],
      ...(follows.length > 0 ? [[[words('What follows', follows.join(' '))]]] : []),
      ...(close
        ? [
            [
              [
                words(
                  'Cautions',
                  bare ? HEEDED : AT_THE_BENCH.map(({ what, says }) => `${what}: ${says}`).join(' '),
                ),
              ],
            ],
          ]
        : []),
    ],
  };
}

/** Each of the last where there is less so far. */
function balanced(left: readonly Block[], right: readonly Block[], last: readonly Block[]): Block[][] {
  const columns = [[...left], [...right]];
  for (const block of last) {
    const [a, b] = columns.map((blocks) => columnHeight(blocks, columnWidth(2)));
    columns[a! < b! ? 0 : 1]!.push(block);
  }
  return columns;
}

/** Whether a row as wide as the page has to be broken. */
const isWide = (rows: readonly (readonly string[])[]): boolean =>
  rows.some((row) => row.join('').length > WIDEST_ROW);

const leftOut = (without: readonly string[]): string =>
  `Left out for want of room: ${without.join(', ')}; the screen has them.`;

const words = (title: string, says: string): Block => ({ kind: 'text', title, says });

const block = (title: string, drawing: ReturnType<typeof planDrawing>): Block => ({
  kind: 'drawing',
  title,
  drawing,
  note: drawing.says,
});
