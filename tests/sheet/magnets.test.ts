/** Temperature and own grade in the document: read, typed, and said. */
import { describe, expect, it } from 'vitest';
import { partsRows } from '../../src/benchSheet/parts.ts';
import { MAGNETS } from '../../src/physics/magnetics/materials/materials.ts';
import { OWN_GRADE } from '../../src/shape/materials.ts';
import { STARTING_GRADE, type OwnGrade } from '../../src/shape/ownGrade.ts';
import { causesBetween } from '../../src/sheet/causes.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { setAt } from '../../src/sheet/edit.ts';
import { decodeLink, encodeLink } from '../../src/sheet/link.ts';
import { toldMagnets } from '../../src/sheet/checkMagnets.ts';
import { magnetsWords, ownWith } from '../../src/sheet/magnets.ts';
import { swapGrade } from '../../src/sheet/mods.ts';
import { readFigure } from '../../src/sheet/reading.ts';
import type { Magnets, Sheet } from '../../src/sheet/sheet.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const sheet = builtSheet('six rods');
const withMagnets = (magnets: Magnets): Sheet => ({ ...sheet, magnets });
const withOwn = (own: Partial<OwnGrade>): Sheet =>
  withMagnets({ temperature: 20, own: { ...STARTING_GRADE, recoil: null, ...own } });

describe('reading [exact]', () => {
  it('a sheet of 20 °C and no own grade says nothing of it', () => {
    expect(checkSheet(withMagnets({ temperature: 20, own: null }))).toStrictEqual({ ok: true, sheet });
    expect(toldMagnets({ temperature: 20, own: null })).toBeUndefined();
    const warm = withMagnets({ temperature: 60, own: null });
    expect(checkSheet(warm)).toStrictEqual({ ok: true, sheet: warm });
  });

  it.each([
    [
      { energyProduct: 80e3 },
      'Own grade: energy product (BH)max must be within what Br and Hc allow, 15.474 kJ/m³ to 61.896 kJ/m³; got 80.0 kJ/m³.',
    ],
    [
      { energyProduct: 12e3 },
      'Own grade: energy product (BH)max must be within what Br and Hc allow, 15.474 kJ/m³ to 61.896 kJ/m³; got 12.0 kJ/m³.',
    ],
    [
      { remanence: 0.4, coercivity: 400e3 },
      'Own grade: coercivity Hc must be at most Br/µ0, 318.31 kA/m; got 400.0 kA/m. Data sheets give a larger one for the magnetisation; that of B is meant.',
    ],
    [
      { coercivity: 60e3, recoil: 19 },
      'Own grade: recoil permeability must be at most Br/µ0 Hc, 16.98; got 19.',
    ],
    [{ remanence: 3 }, 'Own grade: remanence Br must be between 0.05 T and 1.60 T; got 3.00 T.'],
  ])('says what a bad combination must be: %j', (own, message) => {
    const read = checkSheet(withOwn(own));
    expect(read.ok ? '' : read.message).toBe(message);
  });

  it('a link carries it, and the words that shorten it', async () => {
    const of = withMagnets({ temperature: -5, own: { ...STARTING_GRADE, recoil: null } });
    expect(await decodeLink(await encodeLink(wrap(of)))).toStrictEqual({ ok: true, trials: wrap(of) });
  });
});

describe('typing', () => {
  it.each([
    ['remanence', '12.8 kG', 1.28],
    ['remanence', '1280 mT', 1.28],
    ['coercivity', '640 Oe', 50.9295817894e3],
    ['coercivity', '50.9', 50.9e3],
    ['energyProduct', '5.5 MGOe', 43.7676093503e3],
    ['energyProduct', '43.8 kJ/m³', 43.8e3],
    ['magnetTemperature', '35 °C', 35],
    ['magnetTemperature', '-5', -5],
    ['recoil', '1.05', 1.05],
  ] as const)('[exact] %s %s', async (key, text, value) => {
    expect(await readFigure(text, key)).toEqual({ ok: true, value });
  });

  it('Br and Hc bring (BH)max along, so that every grade can be typed from every other', () => {
    const figures = ['remanence', 'coercivity', 'energyProduct'] as const;
    for (const order of [figures, [figures[1], figures[0], figures[2]] as const])
      for (const from of Object.values(MAGNETS))
        for (const to of Object.values(MAGNETS)) {
          const { remanence, coercivity, energyProduct } = from;
          let now = withOwn({ remanence, coercivity, energyProduct });
          for (const field of [...order, ...order]) {
            // What is refused in words leaves the sheet as it is.
            const next = withMagnets(ownWith(now, field, to[field]));
            if (checkSheet(next).ok) now = next;
            else expect(field).not.toBe('remanence');
          }
          expect(now.magnets!.own).toMatchObject(Object.fromEntries(figures.map((key) => [key, to[key]])));
        }
  });
});

describe('in words', () => {
  const chosen = swapGrade(sheet, 0, OWN_GRADE);
  if (!chosen.ok) throw new Error(chosen.message);

  it('temperature and an own grade that is used are on the bench sheet', () => {
    expect(magnetsWords(sheet)).toBe('');
    const of = { ...chosen.sheet, magnets: { temperature: 60, own: null } };
    expect(magnetsWords(of)).toBe(
      'at 60 °C; own grade: Br 1.28 T, Hc 50.9 kA/m, (BH)max 43.8 kJ/m³, recoil 4.3',
    );
    expect(partsRows(of, of.pickups[0]!).find(([name]) => name === 'magnets')?.[1]).toBe(magnetsWords(of));
    expect(partsRows(of, of.pickups[0]!).find(([name]) => name === 'poles')?.[1]).toContain(
      'rods of own grade',
    );
  });

  it('a temperature is a cause, and can be put back', () => {
    const warm = withMagnets({ temperature: 60, own: null });
    expect(causesBetween(warm, withMagnets({ temperature: 80, own: null }))).toMatchObject([
      { name: 'magnets', words: 'temperature 60 → 80 °C' },
    ]);
    const [cause] = causesBetween(sheet, warm);
    expect(cause).toMatchObject({ name: 'magnets', words: 'temperature or own grade', undone: sheet });
    expect(setAt(warm, ['magnets'], undefined)).toStrictEqual(sheet);
  });
});
