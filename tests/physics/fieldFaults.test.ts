import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FieldSolver } from '../../src/physics/field.ts';
import { FieldError, sheetPath } from '../../src/physics/fieldFaults.ts';
import { fieldQuestion } from '../../src/physics/fieldQuestion.ts';
import { checkBuild } from '../../src/physics/magnetics/build/checkBuild.ts';
import { predict } from '../../src/physics/predict.ts';
import type { BarMagnet, Cover, PickupBuild, Pole, RowBuild, Sheet, Window } from '../../src/sheet/sheet.ts';
import { arbitrarySheet } from '../fixtures/arbitrarySheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const RODS = builtSheet('six rods');
const TWO = builtSheet('slugs and screws beside an alnico bar');
const UNDER = builtSheet('steel poles over a ceramic bar');

const COVER: Cover = { metal: 'brass', thickness: 0.0004, clearance: 0.0003, holes: 'none' };

function withBuild(sheet: Sheet, change: (build: PickupBuild) => Partial<PickupBuild>): Sheet {
  const pickups = sheet.pickups.map((p) =>
    p.build ? { ...p, build: { ...p.build, ...change(p.build) } } : p,
  );
  return { ...sheet, pickups };
}

const withRows = (sheet: Sheet, change: Partial<RowBuild>): Sheet =>
  withBuild(sheet, ({ rows }) => ({ rows: rows.map((row) => ({ ...row, ...change })) }));

const withPole = (sheet: Sheet, change: Partial<Pole>): Sheet =>
  withBuild(sheet, ({ rows }) => ({
    rows: rows.map((row) => ({ ...row, pole: { ...row.pole, ...change } })),
  }));

const withWindow = (sheet: Sheet, change: Partial<Window>): Sheet =>
  withBuild(sheet, ({ rows }) => ({
    rows: rows.map((row) => ({ ...row, window: { ...row.window, ...change } })),
  }));

const withBar = (sheet: Sheet, change: Partial<BarMagnet>): Sheet =>
  withBuild(sheet, ({ bars }) => ({ bars: bars.map((bar) => ({ ...bar, ...change })) }));

const withOffsets = (sheet: Sheet, by: number): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((p, i) =>
    i === 0 ? { ...p, rows: p.rows.map((row, r) => ({ ...row, offset: r === 0 ? by : -by })) } : p,
  ),
});

function faultsOf(sheet: Sheet): FieldError['sheetFaults'] {
  try {
    new FieldSolver().fields(sheet);
  } catch (error) {
    if (error instanceof FieldError) return error.sheetFaults;
    throw error;
  }
  return [];
}

/** What stands at a path of plain data; undefined where there is nothing. */
function at(sheet: Sheet, path: readonly (string | number)[]): unknown {
  return path.reduce<unknown>(
    (value, key) => (value as Readonly<Record<string | number, unknown>> | undefined)?.[key],
    sheet,
  );
}

const BUILD = ['pickups', 0, 'build'];

describe('a build that can’t be computed is named at the field of the sheet that causes it', () => {
  it.each<readonly [string, Sheet, readonly (string | number)[], string]>([
    ['poles that overlap', withBuild(RODS, () => ({ pitch: 0.004 })), [...BUILD, 'pitch'], 'they overlap'],
    ['rows that overlap', withOffsets(TWO, 0.002), ['pickups', 0, 'rows', 1, 'offset'], 'they overlap'],
    [
      'a bar as wide as the rows are apart',
      withBar(TWO, { width: 0.02 }),
      [...BUILD, 'bars', 0, 'width'],
      'runs through',
    ],
    ['a bar among the poles', withBar(UNDER, { top: -0.01 }), [...BUILD, 'bars', 0, 'top'], 'runs through'],
    [
      'a coil inside the steel',
      withWindow(RODS, { inner: 0.002 }),
      [...BUILD, 'rows', 0, 'window', 'inner'],
      'clear its poles',
    ],
    ['no turns', withRows(RODS, { turns: 0 }), [...BUILD, 'rows', 0, 'turns'], 'hears nothing'],
    [
      'too many turns',
      withRows(RODS, { turns: 20000 }),
      [...BUILD, 'rows', 0, 'turns'],
      'must fit the bobbin, which takes',
    ],
    ['a negative gap', withBuild(RODS, () => ({ gapTreble: -0.001 })), [...BUILD, 'gapTreble'], 'got −1 mm'],
    ['a string in a pole', withBuild(RODS, () => ({ gapBass: 0.0001 })), [...BUILD, 'gapBass'], 'must clear'],
    [
      'a head taller than its screw',
      withPole(TWO, { length: 0.0055, head: { diameter: 0.0048, height: 0.006 } }),
      [...BUILD, 'rows', 0, 'pole', 'head', 'height'],
      'longer than its head is high, 6 mm; got 5.5 mm. Use a lower head',
    ],
    [
      'a screw trimmed into its head',
      withPole(TWO, { length: 0.0031, head: { diameter: 0.0048, height: 0.0031 } }),
      [...BUILD, 'rows', 0, 'pole', 'length'],
      'longer than its head is high, 3.1 mm; got 3.1 mm. Use a lower head, or trim less off the screw.',
    ],
    [
      'a dome deeper than its radius',
      withPole(RODS, { tip: { shape: 'domed', size: 0.003 } }),
      [...BUILD, 'rows', 0, 'pole', 'tip', 'size'],
      'A dome’s depth must be above 0 mm and at most 2.425 mm; got 3 mm. A dome is half a ball at most.',
    ],
    [
      'heads that overlap across two rows',
      withOffsets(withPole(TWO, { head: { diameter: 0.009, height: 0.0016 } }), 0.003),
      ['pickups', 0, 'rows', 1, 'offset'],
      // Half of the head and of the slug, 9 mm and 4.75 mm wide, and a hundredth between them.
      'The rows must be at least 6.885 mm apart for their poles; got 6 mm: they overlap.',
    ],
    [
      'coils that lie in each other',
      withOffsets(TWO, 0.005),
      ['pickups', 0, 'rows', 1, 'offset'],
      'from their middles; got 10 mm: they overlap.',
    ],
    [
      'a fretboard rounder than the strings are spread',
      { ...RODS, instrument: { ...RODS.instrument, radius: 0.03 } },
      ['instrument', 'radius'],
      'must be above 100 mm; got 30 mm',
    ],
    [
      'an outer pole that passes its string',
      withPole(RODS, { heights: [0.0025, 0, 0, 0, 0, 0] }),
      [...BUILD, 'rows', 0, 'pole', 'heights', 0],
      'The treble string must clear its pole, pole 1, by 0.2 mm; got −0.5 mm. Lower the pole or the pickup.',
    ],
    [
      'an outer pole of the second row that touches its string',
      withBuild(TWO, ({ rows }) => ({
        rows: rows.map((row, r) =>
          r === 0 ? row : { ...row, pole: { ...row.pole, heights: [0, 0, 0, 0, 0, 0.0025] } },
        ),
      })),
      [...BUILD, 'rows', 1, 'pole', 'heights', 5],
      'pole 6 of row 2, by 0.2 mm; got 0.1 mm',
    ],
    [
      'a pole that reaches its string',
      withPole(RODS, { heights: [0, 0, 0.0045, 0, 0, 0] }),
      [...BUILD, 'rows', 0, 'pole', 'heights', 2],
      'below string 3',
    ],
    [
      'a head thinner than its screw',
      withPole(TWO, { head: { diameter: 0.003, height: 0.001 } }),
      [...BUILD, 'rows', 0, 'pole', 'head', 'diameter'],
      'A head is wider than its screw.',
    ],
    [
      'a bevel wider than the pole',
      withPole(RODS, { tip: { shape: 'chamfered', size: 0.003 } }),
      [...BUILD, 'rows', 0, 'pole', 'tip', 'size'],
      'The bevel',
    ],
    [
      'no charge',
      withPole(RODS, { magnet: { grade: 'alnico 5', charge: 0 } }),
      [...BUILD, 'rows', 0, 'pole', 'magnet', 'charge'],
      'above 0',
    ],
    [
      'a string on the cover',
      withBuild(RODS, () => ({ cover: { ...COVER, clearance: 0.0016 } })),
      [...BUILD, 'cover', 'clearance'],
      'below string 1',
    ],
    [
      'a cover in the coil',
      withBuild(RODS, () => ({ cover: { ...COVER, clearance: -0.0025, holes: 'every row' } })),
      [...BUILD, 'cover', 'clearance'],
      'above the coil',
    ],
    [
      'a pole through a closed cover',
      withPole(
        withBuild(RODS, () => ({ cover: COVER })),
        { heights: [0, 0, 0, 0.0006, 0, 0] },
      ),
      [...BUILD, 'rows', 0, 'pole', 'heights', 3],
      'open holes',
    ],
    [
      'holes that leave no metal',
      withBuild(RODS, () => ({ pitch: 0.005, cover: { ...COVER, holes: 'every row' } })),
      [...BUILD, 'pitch'],
      'leave metal',
    ],
    [
      'a length that is no number',
      withPole(RODS, { length: NaN }),
      [...BUILD, 'rows', 0, 'pole', 'length'],
      'NaN',
    ],
  ])('%s', (_, sheet, path, words) => {
    const fault = faultsOf(sheet).find((one) => JSON.stringify(one.path) === JSON.stringify(path));
    expect(fault?.message).toContain(words);
    expect(at(sheet, path)).toBeDefined();
    expect(() => predict(sheet)).toThrow(words);
  });

  it('[exact] every path that the engine can give exists on the sheet', () => {
    const rows = ['offset', 'pitch', 'heights', 'heights[3]'];
    const poles = [
      'diameter',
      'length',
      'strength',
      'head.diameter',
      'head.height',
      'tip.depth',
      'tip.width',
      'tip.flat',
    ];
    const windings = ['straight', 'inner', 'edge', 'top', 'bottom', 'wire', 'turns', 'packing'];
    const bars = ['size.x', 'size.y', 'size.z', 'centre.x', 'centre.y', 'centre.z', 'centre', 'strength'];
    const paths = [
      ...rows.map((end) => `rows[0].${end}`),
      ...poles.map((end) => `rows[0].pole.${end}`),
      ...windings.map((end) => `rows[0].winding.${end}`),
      ...bars.map((end) => `bars[0].${end}`),
      'rows',
      'gapBass',
      'gapTreble',
      'fretboardRadius',
      'strings[5]',
    ];
    for (const path of paths) {
      const there = sheetPath(path, 0, TWO.pickups[0]!.build!);
      expect(at(TWO, there), path).toBeDefined();
      // Only what concerns the whole build stands at the build.
      if (path !== 'rows') expect(there, path).not.toHaveLength(3);
    }
  });

  it('an outer pole in its string is named at its height and at the gap, in one sentence; a gap alone at the gap', () => {
    const paths = (sheet: Sheet): unknown[] => faultsOf(sheet).map(({ path }) => path.slice(3));
    const high = withPole(RODS, { heights: [0.0025, 0, 0, 0, 0, 0] });
    expect(paths(high)).toEqual([['rows', 0, 'pole', 'heights', 0], ['gapTreble']]);
    expect(() => new FieldSolver().fields(high)).toThrow(
      /^neck: The treble string [^.]*0\.2 mm;[^.]*0\.5 mm\. Lower the pole or the pickup\.$/,
    );
    const low = withBuild(RODS, () => ({ gapTreble: 0.0001 }));
    expect(paths(low)).toEqual([['gapTreble']]);
    // The gap is too small whatever the pole does, and a pole below the plane is no cause.
    expect(paths(withPole(low, { heights: [0.0001, 0, 0, 0, 0, 0] }))).toEqual([['gapTreble']]);
    const both = withPole(RODS, { heights: [0.0025, 0, 0, 0, 0, 0.003] });
    expect(paths(both)).toEqual([
      ['rows', 0, 'pole', 'heights', 0],
      ['gapTreble'],
      ['rows', 0, 'pole', 'heights', 5],
      ['gapBass'],
    ]);
  });

  it('says which pickup it is, and all faults of all pickups at once', () => {
    const both = { ...RODS, pickups: [RODS.pickups[0]!, { ...RODS.pickups[0]!, name: 'bridge' }] };
    const bad = withRows(both, { turns: 0 });
    expect(() => new FieldSolver().fields(bad)).toThrow(/^neck: The turns .* bridge: The turns /);
    expect(faultsOf(bad).map(({ path }) => path[1])).toEqual([0, 1]);
  });

  it('[seeded] faults of any sheet at all lie on fields that are there', () => {
    const property = fc.property(arbitrarySheet, (sheet) => {
      sheet.pickups.forEach((pickup, i) => {
        const question = fieldQuestion(sheet, i);
        if (!question || !pickup.build) return;
        for (const { path, message } of checkBuild(question.build)) {
          const there = sheetPath(path, i, pickup.build);
          expect(at(sheet, there), `${path}: ${message}`).toBeDefined();
          expect(there, path).not.toHaveLength(3);
        }
      });
    });
    fc.assert(property, { seed: 20, numRuns: 300 });
  });
});
