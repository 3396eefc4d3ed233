import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chordName } from '../../src/shape/chords.ts';
import { FEWEST_STRINGS, MOST_STRINGS } from '../../src/shape/strings.ts';
import { STARTING_BUILDS, startingBuilds, withBuild } from '../../src/sheet/builds.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { spacingAt } from '../../src/sheet/fitBuild.ts';
import { decodeLink, encodeLink } from '../../src/sheet/link.ts';
import { withStringBeside } from '../../src/sheet/ownString.ts';
import { onInstrument, shiftOf } from '../../src/sheet/otherInstrument.ts';
import { restrungWords, retuned, withStrings } from '../../src/sheet/restring.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { STRING_SETS } from '../../src/sheet/strings.ts';
import { tuningsFor } from '../../src/sheet/tunings.ts';
import { addTrial, editAll, editOpen, placeSheet, wrap } from '../../src/sheet/trials.ts';
import { arbitrarySheet } from '../fixtures/arbitrarySheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const stringsOf = (name: string) => STRING_SETS.find((set) => set.name === name)!.strings;
const BASS = stringsOf('bass, four strings, 0.045 to 0.105');
const SEVEN = stringsOf('seven strings, 0.010 to 0.059');
const guitar = builtSheet('six staggered rods');
const poles = (sheet: Sheet) => sheet.pickups[0]!.build!.rows[0]!.pole.heights;
const passes = (sheet: Sheet) => checkSheet(sheet);

it('[exact] any sheet takes any set, passes the check, and its link is read back', async () => {
  const cases = fc.sample(fc.tuple(arbitrarySheet, fc.constantFrom(...STRING_SETS)), {
    seed: 40,
    numRuns: 60,
  });
  for (const [sheet, { strings }] of cases) {
    const next = withStrings(sheet, strings);
    const checked = passes(next);
    // A bass's frame may take a row of a pickup that stood at the very end off the string: refused in words.
    if (!checked.ok) {
      expect(checked.message).toMatch(/between saddle and nut|nearer than the nut/);
      continue;
    }
    expect(checked.sheet).toStrictEqual(next);
    const read = await decodeLink(await encodeLink(wrap(next)));
    expect(read).toStrictEqual({ ok: true, trials: wrap(next) });
  }
});

describe('another number of strings', () => {
  it('[exact] a seventh below six: what goes by string stays where it was, and the low side grows', () => {
    const next = withStrings(guitar, SEVEN);
    expect(poles(next).slice(0, 6)).toStrictEqual(poles(guitar));
    expect(next.listen.string).toBe(guitar.listen.string);
    expect(next.listen.line).toBe(guitar.listen.line);
    expect(next.instrument.scaleLength).toBe(guitar.instrument.scaleLength);
    // As far apart as before, to the step of the figure.
    expect(spacingAt(next.instrument, 0)).toBeCloseTo(spacingAt(guitar.instrument, 0), 4);
    const [was, is] = [guitar, next].map((sheet) => sheet.pickups[0]!.build!);
    expect(is!.pitch).toBe(was!.pitch);
    expect(is!.rows[0]!.window.straight - was!.rows[0]!.window.straight).toBeCloseTo(is!.pitch, 3);
  });

  it('[exact] a bass’s four are the guitar’s lowest four, on a neck of 864 mm', () => {
    const playing = { ...guitar, listen: { ...guitar.listen, string: 6 } };
    const next = withStrings(playing, BASS);
    expect(poles(next)).toStrictEqual(poles(guitar).slice(2));
    expect(next.listen.string).toBe(4);
    expect(next.instrument.scaleLength).toBe(0.864);
    expect(spacingAt(next.instrument, 0)).toBeCloseTo(0.019, 4);
    const share = (sheet: Sheet) => sheet.pickups[0]!.place / sheet.instrument.scaleLength;
    expect(share(next)).toBeCloseTo(share(guitar), 2);
    // The poles stand under their strings as nearly as they did.
    const off = (sheet: Sheet) =>
      sheet.pickups[0]!.build!.pitch / spacingAt(sheet.instrument, sheet.pickups[0]!.place);
    expect(off(next)).toBeCloseTo(off(guitar), 1);
    expect(restrungWords(playing, next)).toMatch(/864 mm.*Four strings now: every row has four poles/);
  });

  it('what is left of a line goes on; what lay on strings that are gone is told of', () => {
    const line = [1, 2, 3, 6].map((string, i) => ({ beat: i, string, fret: i }));
    const playing = { ...guitar, listen: { ...guitar.listen, line } };
    const next = withStrings(playing, BASS);
    expect(next.listen.line).toStrictEqual([
      { beat: 2, string: 1, fret: 2 },
      { beat: 3, string: 4, fret: 3 },
    ]);
    expect(restrungWords(playing, next)).toContain('2 notes of the line lay on strings that are gone.');
  });

  it('a chord keeps its name, and one without a name its frets', () => {
    const named = { ...guitar, listen: { ...guitar.listen, chord: [3, 0, 0, 0, 2, 3] } };
    for (const { strings } of STRING_SETS) {
      const next = withStrings(named, strings);
      const open = next.instrument.strings.map(({ midi }) => midi);
      expect(chordName(open, next.listen.chord)).toBe('G');
    }
    const own = { ...guitar, listen: { ...guitar.listen, chord: [5, 5, null, 7, 7, 5] } };
    expect(withStrings(own, SEVEN).listen.chord).toStrictEqual([5, 5, null, 7, 7, 5, null]);
    expect(withStrings(own, BASS).listen.chord).toStrictEqual([null, 7, 7, 5]);
  });

  it('[exact] a string more on either side and taken off again is what it was', () => {
    for (const side of ['lower', 'higher'] as const) {
      const more = withStrings(guitar, withStringBeside(guitar.instrument.strings, side));
      expect(more.instrument.strings).toHaveLength(7);
      expect(poles(more)).toHaveLength(7);
      expect(passes(more)).toStrictEqual({ ok: true, sheet: more });
      const { strings } = more.instrument;
      const back = withStrings(more, side === 'lower' ? strings.slice(0, -1) : strings.slice(1));
      expect(back.pickups[0]!.build).toStrictEqual(guitar.pickups[0]!.build);
      expect(back.listen).toStrictEqual(guitar.listen);
    }
  });

  it('goes no farther than eight', () => {
    let { strings } = guitar.instrument;
    for (let i = 0; i < 5; i++) strings = withStringBeside(strings, 'lower');
    expect(strings).toHaveLength(MOST_STRINGS);
    expect(passes(withStrings(guitar, strings)).ok).toBe(true);
    const few = withStrings(guitar, strings.slice(0, FEWEST_STRINGS - 1));
    expect(passes(few)).toMatchObject({ ok: false, message: 'Strings must be 4 to 8 in number; got 3.' });
  });
});

it('[exact] as many strings in another tuning leave every build as it was', () => {
  for (const { notes } of tuningsFor(6)) {
    const low = retuned(guitar.instrument.strings, notes);
    expect(low.map(({ midi }) => midi)).toStrictEqual(notes);
    expect(shiftOf(guitar.instrument.strings, low)).toBe(0);
    const next = withStrings(guitar, low);
    expect(next.pickups.every((pickup, i) => pickup === guitar.pickups[i])).toBe(true);
  }
});

describe('trials of one instrument', () => {
  const two = addTrial(wrap(guitar));

  it('[exact] all follow its strings, at once or from the open one', () => {
    const all = editAll(two, (sheet) => withStrings(sheet, SEVEN));
    expect(all.trials.map((sheet) => poles(sheet).length)).toStrictEqual([7, 7]);
    expect(
      editOpen(two, withStrings(guitar, SEVEN)).trials.map((sheet) => poles(sheet).length),
    ).toStrictEqual([7, 7]);
    expect(editAll(two, (sheet) => sheet)).toBe(two);
  });

  it('[exact] a sheet of another number beside them is heard on their strings', () => {
    const bass = withStrings(guitar, BASS);
    const placed = placeSheet(two, bass);
    expect(placed.trials.map((sheet) => poles(sheet).length)).toStrictEqual([6, 6]);
    for (const sheet of placed.trials) expect(passes(sheet)).toStrictEqual({ ok: true, sheet });
    const same = onInstrument(guitar, guitar.instrument, guitar.listen);
    expect(same.pickups).toBe(guitar.pickups);
  });
});

describe.each([4, 5, 6, 7, 8])('starting builds for %i strings', (count) => {
  it('have a pole a string, and a name that says so', () => {
    const starts = startingBuilds(count);
    expect(starts).toHaveLength(STARTING_BUILDS.length);
    for (const { build } of starts)
      for (const { pole } of build.rows) expect(pole.heights).toHaveLength(count);
    expect(starts[0]!.name).toBe(`${['four', 'five', 'six', 'seven', 'eight'][count - 4]} rods`);
  });

  it('[exact] pass the check on every set of so many, the poles under the strings', () => {
    for (const { strings } of STRING_SETS.filter((set) => set.strings.length === count)) {
      const sheet = withStrings(guitar, strings);
      for (const start of startingBuilds(count)) {
        const built = withBuild(sheet, 0, start);
        expect(passes(built)).toStrictEqual({ ok: true, sheet: built });
        const { build, place } = built.pickups[0]!;
        expect(Math.abs(build!.pitch / spacingAt(built.instrument, place) - 1)).toBeLessThan(0.1);
      }
    }
  });
});
