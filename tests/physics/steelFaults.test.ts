/** What can't be built of bars and steel is named at its field, and what lies against each other passes. */
import { describe, expect, it } from 'vitest';
import { FieldError } from '../../src/physics/fieldFaults.ts';
import { predict } from '../../src/physics/predict.ts';
import { warningsFor } from '../../src/physics/warnings.ts';
import type { BarMagnet, Block, PickupBuild, Sheet, SteelBox } from '../../src/sheet/sheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { fieldsOf } from '../fixtures/solved.ts';

const RODS = builtSheet('six rods');
const SLUGS = builtSheet('steel poles over a ceramic bar');

const withBuild = (sheet: Sheet, change: (build: PickupBuild) => Partial<PickupBuild>): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((p, i) =>
    i === 0 && p.build ? { ...p, build: { ...p.build, ...change(p.build) } } : p,
  ),
});

/** Under six rods, touching their feet, 20 by 62 by 1 mm. */
const KEEPER: SteelBox = {
  steel: 'low-carbon, annealed',
  width: 0.02,
  length: 0.062,
  thickness: 0.001,
  offset: 0,
  across: 0,
  top: -0.017,
};
const SIDE: BarMagnet = {
  magnet: { grade: 'ceramic 8', charge: 1 },
  width: 0.004,
  length: 0.06,
  thickness: 0.006,
  direction: 'across the width',
  turned: false,
  offset: 0.0105,
  across: 0,
  top: -0.002,
};

const withSteel = (sheet: Sheet, ...steel: readonly Partial<SteelBox>[]): Sheet =>
  withBuild(sheet, () => ({ steel: steel.map((piece) => ({ ...KEEPER, ...piece })) }));
const withBars = (sheet: Sheet, ...bars: readonly Partial<BarMagnet>[]): Sheet =>
  withBuild(sheet, (build) => ({ bars: [...build.bars, ...bars.map((bar) => ({ ...SIDE, ...bar }))] }));
/** A blade in place of the poles, standing on nothing. */
const BLADE: SteelBox = { ...KEEPER, width: 0.0032, length: 0.0536, thickness: 0.016, top: 0 };
const withBlade = (change: Partial<Block> = {}, sheet = RODS): Sheet =>
  withBuild(sheet, ({ rows }) => ({
    rows: rows.map((row) => ({ ...row, pole: { ...row.pole, kind: 'none' } })),
    steel: [{ ...BLADE, ...change }],
  }));

const BUILD = ['pickups', 0, 'build'];

function faultsOf(sheet: Sheet): FieldError['sheetFaults'] {
  try {
    fieldsOf(sheet);
  } catch (error) {
    if (error instanceof FieldError) return error.sheetFaults;
    throw error;
  }
  return [];
}

describe('what can’t be built', () => {
  it.each<readonly [string, Sheet, readonly (string | number)[], string]>([
    [
      'a plate among the rods',
      withSteel(RODS, { top: -0.016 }),
      ['steel', 0, 'top'],
      'runs through a pole of row 1',
    ],
    [
      'a plate a hundredth of a millimetre below them',
      withSteel(RODS, { top: -0.01701 }),
      ['steel', 0, 'top'],
      'must touch steel or stay 0.02 mm from it; one of row 1 is 0.01 mm from this plate',
    ],
    [
      'a plate that ends under the outer rods',
      withSteel(RODS, { length: 0.054 }),
      ['steel', 0, 'length'],
      'stands over the edge of this plate',
    ],
    [
      'a plate narrower than the rods',
      withSteel(RODS, { width: 0.004 }),
      ['steel', 0, 'width'],
      'stands over the edge of this plate',
    ],
    [
      'two plates in one another',
      withSteel(RODS, {}, { top: -0.0175 }),
      ['steel', 1, 'top'],
      'this plate runs into the plate',
    ],
    [
      'a plate in a bar',
      withSteel(SLUGS, { top: -0.019 }),
      ['steel', 0, 'top'],
      'this plate runs into the bar 1',
    ],
    [
      'a bar in another',
      withBars(SLUGS, { width: 0.006, offset: 0.008, top: -0.016 }),
      ['bars', 1, 'width'],
      'Two bars must not overlap; this one runs into the bar 1',
    ],
    [
      'a side magnet in the coil',
      withBars(RODS, { offset: 0.009 }),
      ['bars', 0, 'offset'],
      'lies in its winding',
    ],
    [
      'a plate that reaches into the coil from below',
      withSteel(withBlade(), { top: -0.0125 }),
      ['steel', 0, 'top'],
      'this plate lies in its winding, 3.2 mm to',
    ],
    [
      'a blade wider than the coil’s hole',
      withBlade({ width: 0.0066 }),
      ['steel', 0, 'width'],
      'lies in its winding',
    ],
    ['a blade longer than it', withBlade({ length: 0.059 }), ['steel', 0, 'length'], 'lies in its winding'],
    [
      'a blade in the strings',
      withBlade({ top: 0.002 }),
      ['steel', 0, 'top'],
      'must stay 0.2 mm below string 1; got 0 mm',
    ],
    [
      'a blade through a cover',
      withBuild(withBlade(), () => ({
        cover: { metal: 'nickel silver', thickness: 0.0003, clearance: -0.001, holes: 'none' },
      })),
      ['steel', 0, 'top'],
      'must stay below the cover, whose underside is at −1 mm; this reaches 0 mm',
    ],
  ])('%s', (_, sheet, path, words) => {
    const faults = faultsOf(sheet);
    expect(faults[0]?.path).toEqual([...BUILD, ...path]);
    expect(faults[0]!.message).toContain(words);
    for (const { message } of faults) expect(message).toMatch(/^[A-Z].+ must .+\.$/);
  });
});

describe('what may touch, and is predicted', () => {
  it.each<readonly [string, Sheet]>([
    ['a keeper under rods', withSteel(RODS, {})],
    ['a keeper a tenth of a millimetre below', withSteel(RODS, { top: -0.0171 })],
    ['a keeper in two layers', withSteel(RODS, {}, { top: -0.018 })],
    [
      'a channel',
      withSteel(
        RODS,
        {},
        ...[1, -1].map((s) => ({ width: 0.001, thickness: 0.014, offset: s * 0.0095, top: -0.003 })),
      ),
    ],
    [
      'walls on a bar’s sides',
      withSteel(
        SLUGS,
        ...[1, -1].map((s) => ({ width: 0.001, thickness: 0.006, offset: s * 0.0065, top: -0.0147 })),
      ),
    ],
    [
      'side magnets, and one across at the end',
      withBars(
        RODS,
        {},
        { offset: -0.0105, turned: true },
        { offset: 0, across: 0.042, length: 0.006, width: 0.02, direction: 'along the length' },
      ),
    ],
    [
      'a blade between bars',
      withBars(
        withBlade(),
        ...[1, -1].map((s) => ({ width: 0.006, offset: s * 0.0046, top: -0.0132, turned: s > 0 })),
      ),
    ],
    [
      'a coil round a bar magnet',
      withBars(
        withBuild(withBlade(), () => ({ steel: [] })),
        {
          width: 0.003,
          length: 0.052,
          thickness: 0.012,
          offset: 0,
          top: 0,
          direction: 'through the thickness',
        },
      ),
    ],
  ])('%s', (_, sheet) => {
    const fields = fieldsOf(sheet);
    const { voices, pickups } = predict(sheet, fields);
    expect(voices[0]!.features.resonance!.frequency).toBeGreaterThan(1000);
    for (const { level, field } of pickups[0]!.strings) {
      expect(level).toBeGreaterThan(0);
      expect(field!.fluxDensity).not.toBe(0);
    }
  });
});

describe('what hears little or nothing is predicted all the same', () => {
  const TWO = builtSheet('slugs and screws beside an alnico bar');
  const none = (build: PickupBuild): PickupBuild['rows'] =>
    build.rows.map((row) => ({ ...row, pole: { ...row.pole, kind: 'none' } }));

  it.each<readonly [string, Sheet]>([
    ['coils without a magnet or a core', withBuild(TWO, (build) => ({ bars: [], rows: none(build) }))],
    [
      'the same under a cover',
      withBuild(TWO, (build) => ({
        bars: [],
        rows: none(build),
        cover: { metal: 'brass', thickness: 0.0004, clearance: 0.0005, holes: 'none' },
      })),
    ],
    [
      'one row of poles, one empty coil',
      withBuild(TWO, (build) => ({ rows: [build.rows[0]!, none(build)[1]!] })),
    ],
    [
      'a few turns beside many',
      withBuild(TWO, ({ rows }) => ({ rows: [rows[0]!, { ...rows[1]!, turns: 50 }] })),
    ],
  ])('%s', (_, sheet) => {
    for (const phase of ['in', 'out'] as const) {
      const one = { ...sheet, pickups: sheet.pickups.map((p) => ({ ...p, phase })) };
      const { voices, pickups } = predict(one, fieldsOf(one));
      for (const { inductance } of pickups[0]!.coils) expect(inductance).toBeGreaterThan(0);
      expect(voices[0]!.circuitDb.every(Number.isFinite)).toBe(true);
    }
  });
});

describe('what is said besides', () => {
  const said = (sheet: Sheet): readonly string[] =>
    warningsFor(sheet).filter((words) => words.includes('neck pickup'));

  it('steel that nothing holds, and no word of what lies against a pole or a bobbin', () => {
    const eddy = /^Eddy currents in the .+ pickup’s steel (plate|wall) are left out/;
    expect(warningsFor(withSteel(RODS, {}))).toEqual([expect.stringMatching(eddy)]);
    const [loose] = warningsFor(withSteel(RODS, { top: -0.021 }));
    expect(loose).toMatch(
      /^The .+ pickup’s steel plate is held by nothing: what is nearest to it is 4\.0 mm away\.$/,
    );
    expect(warningsFor(withBlade())).toEqual([]);
    expect(said(RODS)).toEqual([]);
  });

  it('steel that would carry more than it can', () => {
    const strong = withBuild(
      withSteel(RODS, { thickness: 0.0005, steel: 'stainless, ferritic' }),
      ({ rows }) => ({
        rows: rows.map((row) => ({
          ...row,
          pole: { ...row.pole, magnet: { grade: 'neodymium N52', charge: 1 } },
        })),
      }),
    );
    expect(fieldsOf(strong)[0]!.warnings).toEqual([
      expect.stringMatching(
        /^The steel plate would carry \d\.\d T, and its steel saturates at 1\.5 T, which is not computed/,
      ),
    ]);
    expect(fieldsOf(withSteel(RODS, { thickness: 0.003 }))[0]!.warnings).toEqual([]);
  });
});
