/** A pickup built from another start: nothing changes that the start is not about, and what does is said. */
import { describe, expect, it } from 'vitest';
import { FieldSolver } from '../../src/physics/field.ts';
import { fieldQuestion } from '../../src/physics/fieldQuestion.ts';
import { afreshWords } from '../../src/sheet/afreshWords.ts';
import type { PickupBuild, RowBuild } from '../../src/sheet/build.ts';
import { STARTING_BUILDS, withBuild } from '../../src/sheet/builds.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { gaugeDiameter } from '../../src/shape/gauges.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const startOf = (name: string) => STARTING_BUILDS.find((start) => start.name === name)!;
const cover = { metal: 'brass', thickness: 4e-4, clearance: 1.6e-3, holes: 'none' } as const;

/** A maker's own: no figure of it is a start's. */
function own(name: string): Sheet {
  const sheet = withBuild(exampleSheet(), 0, startOf(name));
  const build = sheet.pickups[0]!.build!;
  const row = (of: RowBuild): RowBuild => ({
    ...of,
    up: of.up === 'north' ? 'south' : 'north',
    wound: of.wound === 'clockwise' ? 'anticlockwise' : 'clockwise',
    turns: Math.round(of.turns * 0.81),
    wire: { ...of.wire, enamel: 'single', conductor: gaugeDiameter(43) },
    window: { ...of.window, outer: of.window.outer + 4e-4, bottom: of.window.bottom + 3e-4 },
    pole: { ...of.pole, diameter: of.pole.diameter + 1e-4, magnet: { grade: 'alnico 3', charge: 0.9 } },
  });
  const changed: PickupBuild = {
    ...build,
    gapBass: 0.0037,
    gapTreble: 0.0031,
    pitch: 0.0102,
    cover,
    rows: build.rows.map(row),
  };
  const coil = { resistance: 6300, inductance: 2.2, capacitance: 9e-11, coreLoss: 4e5 };
  const pickups = sheet.pickups.map((p, i) =>
    i === 0 ? { ...p, build: changed, rows: p.rows.map((r) => ({ ...r, coil })) } : p,
  );
  return { ...sheet, pickups };
}

const pairs = STARTING_BUILDS.flatMap((from) =>
  STARTING_BUILDS.filter((to) => to.build.rows.length === from.build.rows.length).map(
    (to) => [from.name, to.name] as const,
  ),
);

describe.each(pairs)('%s built afresh from %s', (from, to) => {
  const before = own(from);
  const after = withBuild(before, 0, startOf(to));
  const [old, made] = [before, after].map((sheet) => sheet.pickups[0]!);

  it('keeps gaps, pitch, cover, polarity and all of the other pickups [exact]', () => {
    const { gapBass, gapTreble, pitch, cover: lid, basePlate } = made!.build!;
    expect({ gapBass, gapTreble, pitch, lid, basePlate }).toEqual({
      ...{ gapBass: 0.0037, gapTreble: 0.0031, pitch: 0.0102, lid: cover, basePlate: null },
    });
    made!.build!.rows.forEach(({ up, wound }, r) =>
      expect([up, wound]).toEqual([old!.build!.rows[r]!.up, old!.build!.rows[r]!.wound]),
    );
    expect({ ...after, pickups: after.pickups.slice(1) }).toEqual({
      ...before,
      pickups: before.pickups.slice(1),
    });
  });

  it('keeps the winding whole, or takes the start’s whole where it has no room [exact]', () => {
    const start = startOf(to);
    made!.build!.rows.forEach(({ turns, wire, window }, r) => {
      const [mine, theirs] = [old!.build!, start.build].map(({ rows }) => rows[r]!);
      const kept = turns === mine!.turns;
      expect({ turns, wire, window }).toEqual(
        kept
          ? { turns: mine!.turns, wire: mine!.wire, window: mine!.window }
          : { turns: theirs!.turns, wire: theirs!.wire, window: theirs!.window },
      );
      const [bar] = start.build.bars;
      const stands = !bar || bar.top < mine!.window.bottom;
      expect(kept).toBe(stands);
      const { coil } = made!.rows[r]!;
      expect([coil.inductance, coil.coreLoss]).toEqual([null, null]);
      expect([coil.resistance, coil.capacitance]).toEqual(kept ? [6300, 9e-11] : [null, null]);
    });
  });

  it('has the start’s poles, and of rods for rods their size and magnet', () => {
    made!.build!.rows.forEach(({ pole }, r) => {
      const theirs = startOf(to).build.rows[r]!.pole;
      const mine = old!.build!.rows[r]!.pole;
      expect([pole.kind, pole.tip, pole.heights]).toEqual([theirs.kind, theirs.tip, theirs.heights]);
      const rods = pole.kind === 'rod' && mine.kind === 'rod';
      expect([pole.diameter, pole.length]).toEqual(
        rods ? [mine.diameter, mine.length] : [theirs.diameter, theirs.length],
      );
      if (pole.kind === 'rod') expect(pole.magnet).toEqual(rods ? mine.magnet : theirs.magnet);
    });
    expect(made!.build!.bars).toEqual(startOf(to).build.bars);
  });

  it('passes the check, and can be built', () => {
    expect(checkSheet(after)).toStrictEqual({ ok: true, sheet: after });
    expect(new FieldSolver().refusal(fieldQuestion(after, 0)!)).toBe('');
  });
});

describe('what is said of it', () => {
  it('lists what differs, and nothing else', () => {
    const before = own('steel poles over a ceramic bar');
    const words = afreshWords(before, withBuild(before, 0, startOf('six rods')), 0, 'six rods');
    expect(words).toBe(
      'Built from «six rods». Differs from before: typed inductance cleared, typed core loss cleared, bar taken off, poles slug → rod, magnet alnico 3 → alnico 5, magnetisation 90 → 100 %, pole length 14.5 → 17.0 mm. All else is as it was.',
    );
  });

  it('says that nothing does where it was built so', () => {
    const sheet = withBuild(exampleSheet(), 0, startOf('six rods'));
    expect(afreshWords(sheet, withBuild(sheet, 0, startOf('six rods')), 0, 'six rods')).toBe(
      'Built from «six rods». It was built so before.',
    );
  });
});
