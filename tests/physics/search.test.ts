import { describe, expect, it } from 'vitest';
import { USUAL_WISH } from '../../src/benchSheet/usual.ts';
import { benchFigures } from '../../src/physics/benchFigures.ts';
import { FieldSolver } from '../../src/physics/field.ts';
import { fieldQuestion } from '../../src/physics/fieldQuestion.ts';
import { predict } from '../../src/physics/predict.ts';
import { rewound } from '../../src/physics/rewound.ts';
import { Searches, type SearchPart, type SearchWish } from '../../src/physics/search.ts';
import { missingOf } from '../../src/physics/searchFigures.ts';
import { withBuild } from '../../src/physics/woundBuild.ts';
import { gaugeDiameter } from '../../src/shape/gauges.ts';
import { NO_LOAD } from '../../src/sheet/search.ts';
import { setAt } from '../../src/sheet/edit.ts';
import type { PickupBuild, SearchLoad, Sheet, Stock, Wants } from '../../src/sheet/sheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const solver = new FieldSolver();

/** A pickup alone, as that of a bench, of which one note is played. */
function rods(): Sheet {
  const sheet = builtSheet('six rods');
  const listen = { ...sheet.listen, play: 'string', string: 3, fret: 2 } as const;
  return { ...sheet, listen, pickups: [{ ...sheet.pickups[0]!, sounds: true }] };
}
const RODS = rods();
const OWN = RODS.pickups[0]!.build!;

function search(wants: Wants, stock: Stock, than: Sheet | null = null, load?: SearchLoad): SearchPart {
  const searches = new Searches(solver);
  const wish: SearchWish = { pickup: 0, than, wants, stock, ...(load && { load }) };
  let part = searches.part(RODS, wish, 0);
  for (let step = 1; part.done < part.of; step++) part = searches.part(RODS, wish, step);
  return part;
}

/** Other parts, turns and gaps in the same bobbin. */
function built(gauge: number, grade: 'alnico 2' | 'alnico 5', turns: number, lower = 0): PickupBuild {
  const row = OWN.rows[0]!;
  const wire = { conductor: gaugeDiameter(gauge), enamel: 'single' } as const;
  const pole = { ...row.pole, magnet: { ...row.pole.magnet, grade } };
  return {
    ...OWN,
    gapBass: OWN.gapBass + lower,
    gapTreble: OWN.gapTreble + lower,
    rows: [{ ...row, wire, pole, turns }],
  };
}
const sheetOf = (build: PickupBuild): Sheet => withBuild(RODS, 0, build);

const STOCK: Stock = {
  ...{ wires: [42, 43].map(gaugeDiameter), enamels: ['single'], grades: ['alnico 2', 'alnico 5'] },
  ...{ turns: [5000, 9000], gap: [0.002, 0.004] },
};

describe('search', () => {
  it('[exact] finds a planted design again: resonance within 1 %, level within 0.5 dB, and its parts', () => {
    const planted = built(43, 'alnico 2', 7321, 0.7e-3);
    const said = predict(sheetOf(planted), solver.fields(sheetOf(planted)));
    const { resonance } = said.voices[0]!.features;
    // The same sheet heard against the planted one: as loud, and as nothing else.
    const wants = {
      ...{ resonance: resonance!.frequency, resistance: said.pickups[0]!.coils[0]!.resistance },
      level: 0,
    };
    const { best, limits, done, of } = search(wants, { ...STOCK, grades: ['alnico 2'] }, sheetOf(planted));
    expect([limits, done]).toEqual([[], of]);
    const { build, reached } = best[0]!;
    expect(reached).toBe(true);
    expect(build.rows[0]!.wire).toEqual(planted.rows[0]!.wire);
    expect(Math.abs(build.rows[0]!.turns / 7321 - 1)).toBeLessThan(0.01);
    // By the door that everybody uses.
    const found = predict(sheetOf(build), solver.fields(sheetOf(build)));
    const peak = found.voices[0]!.features.resonance!.frequency;
    expect(Math.abs(peak / resonance!.frequency - 1)).toBeLessThan(0.01);
    expect(Math.abs(best[0]!.missing.find(({ want }) => want === 'level')!.got!)).toBeLessThan(0.5);
    expect(best[0]!.missing[0]).toMatchObject({ want: 'resonance', got: peak });
  });

  it('[exact] an exhaustive sweep of a small space has no better', () => {
    const wants = { resonance: 5600, resistance: 6000, pull: 6 };
    const { wires, enamels, grades } = STOCK;
    const turns = [6000, 7000] as const;
    const { best, limits } = search(wants, { wires: wires!, enamels: enamels!, grades: grades!, turns });
    const all = [42, 43].flatMap((gauge) =>
      (['alnico 2', 'alnico 5'] as const).flatMap((grade) =>
        [6000, 6250, 6500, 6750, 7000].map((n) => {
          const build = built(gauge, grade, n);
          const sheet = sheetOf(build);
          const missing = missingOf(sheet, solver.fields(sheet), 0, { wants }, null);
          return { build, cost: missing.reduce((sum, { off }) => sum + off * off, 0) };
        }),
      ),
    );
    const least = all.reduce((a, b) => (b.cost < a.cost ? b : a));
    expect(best[0]!.cost).toBeLessThanOrEqual(least.cost);
    expect(best[0]!.build.rows[0]!.wire).toEqual(least.build.rows[0]!.wire);
    expect(best[0]!.build.rows[0]!.pole.magnet).toEqual(least.build.rows[0]!.pole.magnet);
    // Unreachable together: it is said to be so.
    expect(best[0]!.reached).toBe(false);
    expect(limits).not.toEqual([]);
  });

  it('[exact] into a load of its own, nothing or a probe, the resonance is that of the bench sheet', () => {
    const planted = sheetOf(built(42, 'alnico 5', 6400));
    const probe = { resistance: 1e6, capacitance: 120e-12 };
    const read = (sheet: Sheet) =>
      benchFigures(sheet, solver.fields(sheet), { ...USUAL_WISH, pickup: 0, probe });
    const { unloaded, probed, inGuitar } = read(planted);
    for (const [load, peak] of [
      [NO_LOAD, unloaded!],
      [probe, probed!],
      [undefined, inGuitar!],
    ] as const) {
      const wants = { resonance: peak.frequency, q: peak.q };
      const { best } = search(wants, { turns: [5000, 7500] }, null, load);
      expect(best[0]!.reached).toBe(true);
      expect(Math.abs(best[0]!.build.rows[0]!.turns / 6400 - 1)).toBeLessThan(0.01);
      const now = read(sheetOf(best[0]!.build));
      const found = load === NO_LOAD ? now.unloaded : load ? now.probed : now.inGuitar;
      expect(best[0]!.missing.map(({ got }) => got)).toEqual([found!.frequency, found!.q]);
    }
    // Each is another resonance altogether.
    expect(unloaded!.frequency / probed!.frequency).toBeGreaterThan(1.2);
    expect(probed!.frequency / inGuitar!.frequency).toBeGreaterThan(1.2);
  });

  it('[exact] names the limit in the way: the bobbin, the turns, the gap', () => {
    const turns = [5000, 30000] as const;
    const full = search({ resonance: 1500 }, { turns, wires: [gaugeDiameter(42)] });
    expect(full.best[0]!.reached).toBe(false);
    const [wound] = full.best[0]!.build.rows;
    expect(full.limits).toEqual([
      `The bobbin takes ${wound!.turns} turns of this wire, AWG 42, and more would be needed.`,
    ]);
    expect(search({ resonance: 15e3 }, { turns }).limits).toEqual(['Fewer turns than 5000 are not allowed.']);
    expect(search({ pull: 0.1 }, { gap: [0.002, 0.004] }).limits).toEqual([
      'The gap is as large as is allowed, 4.00 mm (bass) and 3.40 mm (treble).',
    ]);
  });

  it('[exact] slugs have their diameters, and screws beside them none: no limit is named that the list does not have', () => {
    const sheet = builtSheet('slugs and screws beside an alnico bar');
    const searches = new Searches(solver);
    const diameters = [0.0045, 0.00475];
    const wish: SearchWish = { pickup: 0, than: null, wants: { resistance: 60e3 }, stock: { diameters } };
    let part = searches.part(sheet, wish, 0);
    for (let step = 1; part.done < part.of; step++) part = searches.part(sheet, wish, step);
    const of = (build: PickupBuild, kind: string) =>
      build.rows.find(({ pole }) => pole.kind === kind)!.pole.diameter;
    const [first] = part.best;
    expect(diameters).toContain(of(first!.build, 'slug'));
    expect(of(first!.build, 'screw')).toBe(of(sheet.pickups[0]!.build!, 'screw'));
    // What stands in the way of the resistance is neither.
    expect(part.limits).toEqual([expect.stringMatching(/^What is wanted does not go together/)]);
  });

  it('[exact] with other wire and turns, a glance is near what is solved', () => {
    const known = solver.answer(fieldQuestion(RODS, 0)!);
    for (const build of [built(42, 'alnico 5', 6400), built(44, 'alnico 5', 9600)]) {
      const question = fieldQuestion(sheetOf(build), 0)!;
      const [glance, solved] = [rewound(known, question.build), solver.answer(question)];
      const [a, b] = [glance.coils[0]!, solved.coils[0]!];
      expect(a.resistance).toBeCloseTo(b.resistance, 6);
      expect(a.capacitance / b.capacitance).toBeCloseTo(1, 6);
      expect(Math.abs(a.inductance / b.inductance - 1)).toBeLessThan(0.03);
      glance.strings.forEach(({ rows }, i) => {
        const by = 20 * Math.log10(rows[0]!.area / solved.strings[i]!.rows[0]!.area);
        expect(Math.abs(by)).toBeLessThan(0.3);
      });
    }
  });

  it('what can’t be asked is said in words', () => {
    const ask = (sheet: Sheet, wants: Wants, stock: Stock) => () =>
      new Searches(solver).part(sheet, { pickup: 0, than: null, wants, stock }, 0);
    expect(ask(exampleSheet(), { pull: 1 }, {})).toThrow(/must have a build/);
    expect(ask(RODS, {}, STOCK)).toThrow('Something must be wanted; nothing is.');
    expect(ask(RODS, { pull: 1 }, { wires: [] })).toThrow(/must name something; one is empty/);
    const typed = setAt(RODS, ['pickups', 0, 'rows', 0, 'coil', 'inductance'], 2);
    expect(ask(typed, { pull: 1 }, STOCK)).toThrow(/a figure of it is typed/);
    const slugs = builtSheet('steel poles over a ceramic bar');
    expect(ask(slugs, { pull: 1 }, { lengths: [0.017] })).toThrow(/Lengths are those of rods/);
  });
});
