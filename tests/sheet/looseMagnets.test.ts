/** Magnets and steel without a coil, in the document: taken off and put on, checked, sent, in words, and as a cause. */
import { describe, expect, it } from 'vitest';
import { buildWords } from '../../src/sheet/buildWords.ts';
import { causesBetween } from '../../src/sheet/causes.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { inOneLine } from '../../src/sheet/inOneLine.ts';
import { decodeLink, encodeLink } from '../../src/sheet/link.ts';
import { withCoil, withoutCoil } from '../../src/sheet/looseMagnets.ts';
import { putKeeperUnder, removeTurns, withCover } from '../../src/sheet/mods.ts';
import type { Pickup, Sheet } from '../../src/sheet/sheet.ts';
import { withStartingBar, withStartingSteel } from '../../src/sheet/startingBlocks.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const first = (sheet: Sheet, pickup: Pickup): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((one, i) => (i === 0 ? pickup : one)),
});

const wound = builtSheet('slugs and screws beside an alnico bar');
const [pickup] = wound.pickups;
const loose = first(wound, withoutCoil(pickup!));
const refusal = (sheet: unknown): string => {
  const checked = checkSheet(sheet);
  return checked.ok ? '' : checked.message;
};

describe('a pickup whose coil is off', () => {
  it('is checked, sent and opened as it is, and nothing else says so where coils are on [exact]', async () => {
    expect(refusal(loose)).toBe('');
    const read = await decodeLink(await encodeLink(wrap(loose)));
    expect(read.ok && read.trials.trials[0]).toEqual(loose);
    expect(JSON.stringify(wound)).not.toContain('"coils"');
    // Said in so many words it is the same.
    const said = { ...pickup!, build: { ...pickup!.build!, coils: 'on' as const } };
    const checked = checkSheet(first(wound, said));
    expect(checked.ok && checked.sheet).toEqual(wound);
  });

  it('has neither cover nor base plate, and its reach is the build’s', () => {
    const [off] = loose.pickups;
    const cover = { metal: 'brass', thickness: 0.0004, clearance: 0.001, holes: 'none' } as const;
    const covered = { ...off!, build: { ...off!.build!, cover } };
    expect(refusal(first(loose, covered))).toMatch(/^Pickup 1: cover must have a coil to go over/);
    const plate = { ...off!, build: { ...off!.build!, basePlate: { metal: 'brass', thickness: 0.001 } } };
    expect(refusal(first(loose, plate as Pickup))).toMatch(/^Pickup 1: base plate must have a coil/);
    expect(refusal(first(loose, { ...off!, reachBy: 'hand' }))).toMatch(/^Pickup 1: reach must be left/);
    const both = { ...pickup!, reachBy: 'hand' as const, build: { ...pickup!.build!, cover } };
    expect(refusal(first(wound, withoutCoil(both)))).toBe('');
  });

  it('says so in the parts list, in one line, and as the cause of what follows', () => {
    const words = buildWords(loose.pickups[0]!.build!, [0.0095, -0.0095]);
    expect(words).toMatch(/^no coil; steel screws/);
    expect(words).not.toContain('turns');
    expect(inOneLine({ ...loose, pickups: loose.pickups.slice(0, 1) })).toMatch(
      /^One magnet set without a coil, alnico 5 bar under steel screws and steel slugs, into/,
    );
    const [cause, ...more] = causesBetween(wound, loose);
    expect(more).toEqual([]);
    expect(cause).toMatchObject({ name: 'coil', words: 'coil taken off' });
    expect(cause!.undone).toEqual(wound);
    expect(causesBetween(loose, first(loose, withCoil(loose.pickups[0]!)))[0]!.words).toBe('coil put on');
  });

  it('takes bars and steel, a keeper, but neither cover nor fewer turns', () => {
    const rods = first(wound, withoutCoil(builtSheet('six rods').pickups[0]!));
    const [off] = rods.pickups;
    for (const build of [
      withStartingBar(off!),
      withStartingSteel(off!, 'keeper plate'),
      withStartingSteel(off!, 'wall'),
    ])
      expect(refusal(first(rods, { ...off!, build }))).toBe('');
    expect(putKeeperUnder(rods, 0).ok).toBe(true);
    for (const modded of [withCover(rods, 0, 'brass'), removeTurns(rods, 0, 0.1)])
      expect(modded.ok ? '' : modded.message).toContain('The coil is off');
    // A bar alone, where poles stood.
    const row = off!.build!.rows[0]!;
    const bare = {
      ...off!,
      build: { ...off!.build!, rows: [{ ...row, pole: { ...row.pole, kind: 'none' as const } }] },
    };
    expect(withStartingBar(bare)!.bars[0]!.top).toBeGreaterThan(-0.001);
  });
});
