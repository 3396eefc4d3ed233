import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { solderDoor } from '../../src/jobs/solderDoor.ts';
import { FieldSolver } from '../../src/physics/field.ts';
import { heardBetween } from '../../src/physics/heardBetween.ts';
import { phraseLevel } from '../../src/physics/soundingLive.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { DEFAULT_SPREAD } from '../../src/sheet/spread.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { heardWord } from '../../src/state/difference.ts';
import { gathered, spreadWords } from '../../src/state/spreadFigures.ts';
import { thresholdRows } from '../../src/state/thresholdWords.ts';
import { fieldsOf, predict } from '../fixtures/solved.ts';

/** Without a build, so that no field has to be solved. */
const BY_HAND = fileURLToPath(new URL('../fixtures/old-links/one-coil-pickups.json', import.meta.url));

let folder = '';
beforeAll(() => void (folder = mkdtempSync(join(tmpdir(), 'compare-'))));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function call(...args: string[]): { readonly status: number; readonly out: string; readonly err: string } {
  const said = { out: '', err: '' };
  const status = main(['compare', ...args], {
    out: (line) => void (said.out += `${line}\n`),
    err: (line) => void (said.err += `${line}\n`),
  });
  return { status, ...said };
}

function save(name: string, data: unknown): string {
  const file = join(folder, name);
  writeFileSync(file, JSON.stringify(data));
  return file;
}

/** One note of it. */
function byHand(): Sheet {
  const checked = checkSheet(JSON.parse(readFileSync(BY_HAND, 'utf8')));
  if (!checked.ok) throw new Error(checked.message);
  const { sheet } = checked;
  return { ...sheet, listen: { ...sheet.listen, play: 'string', string: 3, fret: 2 } };
}

const THAN = byHand();
/** A cable three times as long, which takes the treble away. */
const LONGER: Sheet = {
  ...THAN,
  harness: { ...THAN.harness, cable: { ...THAN.harness.cable, length: 9 } },
};

interface Range {
  readonly low: number;
  readonly middle: number;
  readonly high: number;
}
interface Compared {
  readonly louder: number;
  readonly heard: { most: number; at: number; word: string; pattern: [number, number][] };
  readonly thresholds: { source: string; what: string; by: number; just: number; within: boolean }[];
  readonly spread: {
    readonly seed: number;
    readonly makes: number;
    readonly own: Range;
    readonly between: Range;
    readonly nominal: number;
    readonly lessThanOwn: boolean;
    readonly bands: number[][][];
  };
}

const compared = (...args: string[]): Compared => {
  const said = call(...args);
  expect(said).toMatchObject({ status: 0, err: '' });
  return JSON.parse(said.out) as Compared;
};
/** To the six digits that it prints. */
const short = (value: number): number => Number(value.toPrecision(6));
const louder = phraseLevel(LONGER, fieldsOf(LONGER)).loudness! - phraseLevel(THAN, fieldsOf(THAN)).loudness!;

describe('compare', () => {
  const files = () => [save('one.json', THAN), save('other.json', LONGER)] as const;

  it('[exact] says what is heard of one sheet beside another, as the page does of two trials', () => {
    const [one, other] = files();
    const { heard, louder: by, thresholds } = compared(one, other, '--makes', '2');
    expect(by).toBe(short(louder));
    const found = heardBetween(LONGER, { than: THAN, thanFields: null, louder });
    expect([heard.most, heard.at]).toEqual([found.most, found.at].map(short));
    expect(heard.word).toBe(heardWord(Math.abs(found.most)));
    expect(heard.pattern).toEqual([...found.curve].map((db, i) => [found.frequencies[i]!, db].map(short)));
    expect(heard.most).toBeLessThan(-1);
    expect(heard.at).toBeGreaterThan(1000);
    // The thresholds are the page's rows, one each.
    const version = (sheet: Sheet) => {
      const prediction = predict(sheet);
      return { sheet, prediction, pickup: 0, voice: prediction.voices[prediction.sounding]! };
    };
    const rows = thresholdRows(version(THAN), version(LONGER), { louder, heard: found });
    const size = (what: string, value: number): string =>
      what === 'level' ? `${value.toFixed(1)} dB` : `${(100 * value).toFixed(1)} %`;
    const papers = ['GagneZurek1988', 'KewleyPortWatson1994', 'Woodhouse2012', 'Woodhouse2012'];
    expect(thresholds.map(({ source }) => source)).toEqual([...papers, 'JesteadtWierGreen1977']);
    expect(thresholds.map(({ what, by: of, just }) => [size(what, Math.abs(of)), size(what, just)])).toEqual(
      rows.map((row) => [row.by.replace(/^[+−]/, ''), row.just]),
    );
    expect(thresholds[0]!.by).toBeLessThan(-0.1);
  });

  it('[exact] makes two hundred of both by the page’s seed and table, as the page does ten at a time', () => {
    const [one, other] = files();
    const { spread } = compared(one, other);
    const { spread: pairs } = solderDoor(new FieldSolver());
    const wish = { other: THAN, otherFields: null, louder, spread: DEFAULT_SPREAD, seed: 1, count: 200 };
    const parts = Array.from({ length: 20 }, (_, i) =>
      pairs(LONGER, { ...wish, from: 10 * i, to: 10 * i + 10 }, null),
    );
    const figures = gathered(parts);
    const db = (value: number): string => value.toFixed(1);
    const { own, between, nominal } = spread;
    // Word for word what the page says of trials B and A.
    expect(spreadWords(figures, 'B', 'A')).toBe(
      `Two of your own differ by ${db(own.middle)} dB, half of them by more (nine pairs in ten by ${db(own.low)} to ${db(own.high)} dB): ${heardWord(own.middle)}. B beside A, as they are drawn, differs by ${db(nominal)} dB, and as you would make them by ${db(between.low)} to ${db(between.high)} dB in nine pairs of ten: ${spread.lessThanOwn ? 'less' : 'more'} than two of your own would differ.`,
    );
    expect(spread).toMatchObject({ seed: 1, makes: 200, nominal: short(figures.nominal!) });
    const bands = [figures.other!, figures.sheet].map(({ band }) =>
      [...figures.frequencies].map((f, i) => [f, band.low[i]!, band.high[i]!, band.nominal[i]!].map(short)),
    );
    expect(spread.bands).toEqual(bands);
  });

  it('[exact] another seed draws others, the same draws the same; the table is that of the second file', () => {
    const [one, other] = files();
    const few = ['--makes', '4'] as const;
    const [a, b, again] = [['--seed', '2'], ['--seed=3'], ['--seed=2']].map(
      (seed) => compared(one, other, ...few, ...seed).spread,
    );
    expect(a).toEqual(again);
    expect(a!.own.middle).not.toBe(b!.own.middle);
    expect(a!.nominal).toBe(b!.nominal);
    const none = { turns: 0, wire: 0, magnet: 0, gap: 0, pot: 0, capacitor: 0, cable: 0, pluck: 0 };
    const held = compared(one, save('held.json', { ...wrap(LONGER), spread: none }), ...few).spread;
    expect([held.own.high, held.between.low]).toEqual([0, held.nominal]);
  });

  it('[exact] of one and itself: nothing, hardly audible, less than two of one’s own', () => {
    const [one] = files();
    const same = compared(one, one, '--makes', '4');
    expect(same).toMatchObject({ louder: 0, heard: { most: 0, word: 'hardly audible' } });
    expect(same.thresholds.map(({ by }) => by)).toEqual([0, 0, 0, 0, 0]);
    expect(same.spread).toMatchObject({ nominal: 0, lessThanOwn: true });
  });

  it('asks for two files that can be read, and whole numbers', () => {
    const [one, other] = files();
    expect(call(one)).toMatchObject({ status: 2 });
    expect(call(one).err).toMatch(/compare compares must be two files; got .*Call it as/);
    expect(call(one, join(folder, 'none.json'))).toMatchObject({ status: 1 });
    for (const [args, message] of [
      [['--seed', '-1'], /--seed must be a whole number from 0 to 999999999; got "-1"\./],
      [['--makes', '3'], /--makes must be an even number from 2 to 20000; got "3"\./],
      [['--makes'], /--makes must be an even number from 2 to 20000; got ""\./],
      [['--seed=1', '--seed=2'], /--seed must be given once; got it twice\./],
      [['--loud'], /Option of compare must be --seed or --makes; got --loud\./],
    ] as const) {
      const { status, err } = call(one, other, ...args);
      expect([status, err]).toEqual([2, expect.stringMatching(message)]);
    }
  });
});
