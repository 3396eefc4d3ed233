/** Steel's figures in the document: chosen, typed, read, and said. */
import { describe, expect, it } from 'vitest';
import { partsRows } from '../../src/benchSheet/parts.ts';
import { STARTING_STEEL } from '../../src/shape/ownSteel.ts';
import { causesBetween } from '../../src/sheet/causes.ts';
import { changesOf, changeWords } from '../../src/sheet/changes.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { decodeLink, encodeLink } from '../../src/sheet/link.ts';
import { ownSteelWith } from '../../src/sheet/magnets.ts';
import { readFigure } from '../../src/sheet/reading.ts';
import type { PickupBuild, Sheet } from '../../src/sheet/sheet.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const sheet = builtSheet('steel poles over a ceramic bar');

function withBuild(change: (build: PickupBuild) => PickupBuild): Sheet {
  return {
    ...sheet,
    pickups: sheet.pickups.map((pickup, p) =>
      p === 0 && pickup.build ? { ...pickup, build: change(pickup.build) } : pickup,
    ),
  };
}

const poles = (steel: 'own steel' | 'low-carbon, annealed'): Sheet =>
  withBuild((build) => ({
    ...build,
    rows: build.rows.map((row) => ({ ...row, pole: { ...row.pole, steel } })),
  }));
const own: Sheet = { ...poles('own steel'), magnets: ownSteelWith(sheet, 'permeability', 450) };
const coil = withBuild((build) => ({ ...build, coilSteel: { mu: 280, relaxation: 5000 } }));

describe('reading [exact]', () => {
  it('a sheet that says nothing of steel stays so, and what it says stays', () => {
    expect(checkSheet(sheet)).toStrictEqual({ ok: true, sheet });
    for (const said of [poles('low-carbon, annealed'), own, coil])
      expect(checkSheet(said)).toStrictEqual({ ok: true, sheet: said });
    const nothing = withBuild((build) => ({ ...build, coilSteel: { mu: null, relaxation: null } }));
    expect(checkSheet(nothing)).toStrictEqual({ ok: true, sheet });
  });

  it('a link carries it', async () => {
    for (const said of [own, coil])
      expect(await decodeLink(await encodeLink(wrap(said)))).toStrictEqual({ ok: true, trials: wrap(said) });
  });

  it.each([
    [{ permeability: 6000 }, 'Own steel: permeability of the steel must be between 20 and 5000; got 6000.'],
    [
      { conductivity: 1e5 },
      'Own steel: conductivity of the steel must be between 0.5 MS/m and 12.0 MS/m; got 0.1 MS/m.',
    ],
    [{ saturation: 3 }, 'Own steel: saturation of the steel must be between 0.30 T and 2.40 T; got 3.00 T.'],
  ])('says what a figure must be: %j', (change, message) => {
    const read = checkSheet({
      ...sheet,
      magnets: { temperature: 20, own: null, ownSteel: { ...STARTING_STEEL, ...change } },
    });
    expect(read.ok ? '' : read.message).toBe(message);
  });

  it.each(['cover', 'basePlate'] as const)('a %s that a magnet holds is refused with the reason', (plate) => {
    const part = { metal: 'nickel', thickness: 0.0005, clearance: 0.001, holes: 'none' };
    const read = checkSheet(withBuild((build) => ({ ...build, [plate]: part })));
    expect(read.ok ? '' : read.message).toMatch(
      /^Pickup 1, (cover|base plate): metal must be one that no magnet holds; got nickel\. It would lead .* together\./,
    );
  });

  it('figures are typed as data sheets give them', async () => {
    expect(await readFigure('5.8', 'steelConductivity')).toEqual({ ok: true, value: 5.8e6 });
    expect(await readFigure('4 MS/m', 'steelConductivity')).toEqual({ ok: true, value: 4e6 });
    expect(await readFigure('16 kG', 'steelSaturation')).toEqual({ ok: true, value: 1.6 });
  });
});

describe('words', () => {
  it('the parts list says which steel, and its figures where they are the maker’s own', () => {
    const words = (of: Sheet): string =>
      partsRows(of, of.pickups[0]!)
        .map((row) => row.join(': '))
        .join('; ');
    expect(words(poles('low-carbon, annealed'))).toContain('steel slugs of low-carbon, annealed');
    expect(words(own)).toContain('own steel: µ 450, 5.8 MS/m, saturation 2.10 T');
    expect(words(coil)).toContain('steel, for the coils: µ 280, relaxing at 5 kHz');
    expect(words(sheet)).not.toContain('own steel');
  });

  it('a change is said, and counts as one of the steel', () => {
    for (const [after, said] of [
      [poles('low-carbon, annealed'), 'steel of the poles'],
      [coil, 'steel’s µ for the coil'],
    ] as const) {
      const changes = changesOf(sheet, after);
      expect(changeWords('build', changes)).toContain(said);
      expect(causesBetween(sheet, after).map(({ name }) => name)).toEqual(['steel']);
    }
    expect(
      changeWords('magnets', changesOf(own, { ...own, magnets: ownSteelWith(own, 'permeability', 600) })),
    ).toBe('own steel’s µ 450 → 600');
  });
});
