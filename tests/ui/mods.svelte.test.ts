/** The gestures of the mods: what they do, and how long a refusal is said. */
import { describe, expect, it } from 'vitest';
import type { Sheet } from '../../src/sheet/sheet.ts';
import type { Mod } from '../../src/state/workbench.svelte.ts';
import { Gestures } from '../../src/ui/mods/gestures.svelte.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { raise } from '../fixtures/mods.ts';

/** Does what a mod says to what lies on it, and keeps what was done. */
class Bench {
  sheet: Sheet = $state.raw() as Sheet;
  chosen = $state(0);
  done = '';

  constructor(sheet: Sheet) {
    this.sheet = sheet;
  }

  mod = (what: string, change: Mod): string => {
    const made = change(this.sheet, this.chosen);
    if (!made.ok) return made.message;
    this.sheet = made.sheet;
    this.done = what;
    return '';
  };
}

const rods = builtSheet('six rods');
const screws = builtSheet('slugs and screws beside an alnico bar');
const both: Sheet = { ...rods, pickups: [rods.pickups[0]!, screws.pickups[0]!] };

describe('[exact] the gestures of the mods', () => {
  it('do what they say to the chosen pickup', () => {
    const bench = new Bench(both);
    const gestures = new Gestures(bench);
    bench.chosen = 1;
    gestures.setAmount('trim', 0.003);
    for (const [gesture, done] of [
      [gestures.trim, 'screws trimmed by 3.0 mm'],
      [gestures.raise, 'raised by 0.5 mm'],
      [gestures.lower, 'lowered by 0.5 mm'],
      [gestures.unwind, '5 % of the turns removed'],
      [gestures.turnOver, 'magnet turned over'],
      [() => gestures.swap('ceramic 8'), 'ceramic 8 magnets'],
      [() => gestures.cover('brass'), 'brass cover'],
      [() => gestures.cover(null), 'cover taken off'],
      [gestures.putKeeper, 'keeper put under it'],
      [gestures.takeKeeper, 'keeper taken off'],
      [() => gestures.bevel(0.0005), 'poles bevelled by 0.50 mm'],
      [() => gestures.bevel(0), 'flat pole tops'],
      [() => gestures.charge(0.8), 'magnets at 80 %'],
    ] as const) {
      gesture();
      expect(bench.done).toBe(done);
      expect(gestures.refusal).toBe(null);
    }
    expect(bench.sheet.pickups[0]).toBe(both.pickups[0]);
    const { rows, bars } = bench.sheet.pickups[1]!.build!;
    expect([rows[0]!.pole.length, rows[0]!.turns, bars[0]!.magnet]).toEqual([
      0.018,
      4750,
      { grade: 'ceramic 8', charge: 0.8 },
    ]);
  });

  it('a refusal stands at its row until its figure, the pickup or the choice of one changes', () => {
    const bench = new Bench(both);
    const gestures = new Gestures(bench);
    const refuse = (): void => {
      gestures.setAmount('lift', 0.002);
      gestures.raise();
      expect(gestures.refusal).toMatchObject({
        row: 'height',
        says: expect.stringMatching(/^Pickup 1.* at most 1.5 mm.$/) as string,
      });
      expect(bench.sheet).toBe(both);
    };
    refuse();
    gestures.setAmount('lift', 0.001);
    expect(gestures.refusal).toBe(null);
    refuse();
    bench.chosen = 1;
    expect(gestures.refusal).toBe(null);
    bench.chosen = 0;
    refuse();
    bench.sheet = raise(both, 0, 0.0001);
    expect(gestures.refusal).toBe(null);
    bench.sheet = both;
    refuse();
    gestures.unwind();
    expect(gestures.refusal).toBe(null);
  });

  it('what is typed is answered to the field it was typed in', () => {
    const gestures = new Gestures(new Bench(rods));
    expect(gestures.bevel(0.003)).toMatch(/^Bevel must be at most 2.37 mm/);
    expect(gestures.charge(1)).toBe('The magnets are at 100 % already.');
    expect(gestures.refusal).toBe(null);
  });
});
