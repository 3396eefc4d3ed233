/** Tables that analysers, bridges and spreadsheets write, read as curves; and whatever else may lie in a file. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  curveOf,
  guessChoice,
  missingOf,
  ownCurve,
  type CurveChoice,
} from '../../src/sheet/measuredCurve.ts';
import { LARGEST_CURVE, looksLikeTable, readTable, type CurveTable } from '../../src/sheet/measuredTable.ts';

const HZ = [20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000];
const DB = [-1, -1.5, -1, -0.5, 0, 1, 3, 8.25, -4, -16];

function table(text: string): CurveTable {
  const read = readTable(text);
  if (!read.ok) throw new Error(read.message);
  return read.table;
}

const lines = (row: (f: number, db: number, i: number) => string, end = '\n'): string =>
  HZ.map((f, i) => row(f, DB[i]!, i)).join(end) + end;

/** «ok», or what is said. */
function said(text: string, change: Partial<CurveChoice> = {}): string {
  const read = readTable(text);
  if (!read.ok) return read.message;
  const curve = curveOf(read.table, { ...guessChoice(read.table), ...change });
  return curve.ok ? 'ok' : curve.message;
}

describe('[practice] columns and units are known by header or figures', () => {
  const comma = (v: number): string => String(v).replace('.', ',');
  it.each([
    ['commas, header', `frequency (Hz),level (dB)\n${lines((f, d) => `${f},${d}`)}`],
    ['tabs, no header', lines((f, d) => `${f}\t${d}`)],
    [
      'semicolons, decimal comma',
      `Frequenz [Hz];Pegel [dB]\r\n${lines((f, d) => `${f};${comma(d)}`, '\r\n')}`,
    ],
    ['spaces, decimal comma', lines((f, d) => `  ${comma(f)}   ${comma(d)}`)],
    [
      'comments and phase',
      `* made by a meter\n* Freq(Hz) SPL(dB) Phase(degrees)\n${lines((f, d, i) => `${f} ${d} ${i * 9}`)}`,
    ],
    ['units in a line of their own', `f,gain,phase\nHz,dB,deg\n${lines((f, d) => `${f},${d},0`)}`],
    ['kilohertz', `Frequency (kHz);dB\n${lines((f, d) => `${f / 1000};${d}`)}`],
    [
      'quoted, exponents, a true minus',
      `"f, Hz","level, dB"\n${lines((f, d) => `"${f.toExponential()}",${String(d).replace('-', '−')}`)}`,
    ],
    ['mark at the end of each line', `f/Hz;dB;\n${lines((f, d) => `${f};${d};`)}`],
    ['a line at 0 Hz first', `f/Hz,dB\n0,-90\n${lines((f, d) => `${f},${d}`)}`],
  ])('%s', (_, text) => {
    const read = table(text);
    expect(looksLikeTable(text)).toBe(true);
    const choice = guessChoice(read);
    expect(missingOf(choice)).toBe('');
    const curve = curveOf(read, choice);
    expect(curve).toMatchObject({ ok: true, curve: { kind: 'level' } });
    if (!curve.ok) return;
    expect(Array.from(curve.curve.frequencies, (f) => Number(f.toPrecision(12)))).toStrictEqual(HZ);
    expect([...curve.curve.decibels]).toStrictEqual(DB);
  });

  it.each([
    ['|Z| / Ω', 7000, 'ohm'],
    ['Z (kohm)', 7, 'kohm'],
    ['impedance, dB', 20 * Math.log10(7000), 'dBohm'],
    ['Impedance [kΩ]', 7, 'kohm'],
  ])('[exact] %s is an impedance', (name, value, unit) => {
    const read = table(`f / Hz\t${name}\n${lines((f) => `${f}\t${value}`)}`);
    const choice = guessChoice(read);
    expect(choice.unit).toBe(unit);
    const curve = curveOf(read, choice);
    expect(curve.ok && curve.curve.kind).toBe('impedance');
    if (curve.ok) expect(curve.curve.decibels[3]).toBeCloseTo(20 * Math.log10(7000), 9);
  });
});

describe('what is unclear is asked for', () => {
  it.each([
    ['figures above 0 without a name', lines((f) => `${f},7`), /what the curve is/],
    ['a frequency that ends below 1 kHz', lines((f, d) => `${f / 1000},${d}`), /in Hz or kHz/],
    ['two curves', `f/Hz,a/dB,b/dB\n${lines((f, d) => `${f},${d},${d}`)}`, /which column is the curve/],
    [
      'two rising columns',
      lines((f, _, i) => `${i},${f}`),
      /which column is the frequency and which column is the curve/,
    ],
    ['an impedance without a unit', `f/Hz,Z\n${lines((f) => `${f},7`)}`, /what the curve is/],
  ])('%s', (_, text, words) => {
    expect(said(text)).toMatch(words);
    expect(said(text)).toMatch(/choose above/);
    expect(said(text, { frequency: 0, hertz: 1, value: 1, unit: 'ohm' })).not.toMatch(/choose above/);
  });

  it('[exact] our own curve is known by its header', () => {
    const text = `frequency / Hz,"circuit / dB, 1 neck","with reach / dB, 1 neck","with reach and place / dB, 1 neck"\r\n${lines((f, d) => `${f},${d},${d - 1},${d - 2}`, '\r\n')}`;
    const read = table(text);
    expect(read.names.slice(1).map(ownCurve)).toStrictEqual(['circuit', 'reach', 'placed']);
    expect(guessChoice(read)).toStrictEqual({ frequency: 0, hertz: 1, value: 1, unit: 'dB' });
  });
});

describe('what is no curve is refused in a sentence', () => {
  const head = 'f/Hz,dB\n';
  it.each([
    ['', /got an empty file/],
    ['a,b\nc,d\n', /no lines with two figures/],
    [`${head}100,1\n200,2\n`, /8 lines or more; got 2/],
    [
      `${head}${lines((f, d) => `${f},${d}`)}15000,3\n`,
      /must rise.*which column|must rise from line to line|which column is the frequency/,
    ],
    [
      `${head}${lines((f, d, i) => `${i === 4 ? -f : f},${d}`)}`,
      /which column is the frequency|between 0\.1 Hz/,
    ],
    [
      `${head}${lines((f, d, i) => `${f},${i === 4 ? 'NaN' : d}`)}`,
      /figure in every line; got none in line 6/,
    ],
    [`${head}${lines((f, d, i) => `${f},${i === 4 ? 4e4 : d}`)}`, /within ± 400 dB; got 40000 dB in line 6/],
    [
      `f/Hz,ohm\n${lines((f, _, i) => `${f},${i === 2 ? 0 : 7}`)}`,
      /impedance must be above 0; got 0 in line 4/,
    ],
    [`f/kHz,dB\n${lines((f, d) => `${f * 1e4},${d}`)}`, /100 MHz/],
    ['x'.repeat(LARGEST_CURVE + 1), /4 MB at most; got 4\.0 MB/],
    ['1,2\n'.repeat(200_001), /200000 lines at most/],
  ])('%#', (text, words) => {
    expect(said(text)).toMatch(words);
  });

  it('chosen by hand, a frequency that falls, repeats or lies below 0 names its line', () => {
    const given = (at: number): string =>
      said(`a,b\n${lines((f, d, i) => `${i === 4 ? at : f},${d}`)}`, {
        frequency: 0,
        hertz: 1,
        value: 1,
        unit: 'dB',
      });
    expect(given(200)).toMatch(/must rise from line to line; got 200 Hz after 200 Hz in line 6/);
    expect(given(150)).toMatch(/got 150 Hz after 200 Hz in line 6/);
    expect(given(-500)).toMatch(/between 0\.1 Hz and 100 MHz; got -500 Hz in line 6/);
  });

  it.each([
    '{"a": [1, 2]}',
    '[1,2\n3,4]',
    '<svg>1,2</svg>',
    '* deck\nR1 1 0 7\nC1 1 0 2\n.end\n',
    'words, words\nand words',
  ])('no table: %s', (text) => {
    expect(looksLikeTable(text)).toBe(false);
  });
});

it('many points are brought down, and a curve that has few features keeps them', () => {
  const n = 40_000;
  const text = Array.from(
    { length: n },
    (_, i) => `${(i + 1) / 2},${(10 * Math.log10(1 + i / 4000)).toFixed(6)}`,
  ).join('\n');
  const read = table(text);
  const curve = curveOf(read, { frequency: 0, hertz: 1, value: 1, unit: 'dB' });
  expect(curve.ok).toBe(true);
  if (!curve.ok) return;
  const { frequencies, decibels, notes } = curve.curve;
  expect(frequencies.length).toBeLessThan(1600);
  expect(notes.join(' ')).toMatch(/40000 points are brought down to \d+/);
  frequencies.forEach((f, i) =>
    expect(Math.abs(decibels[i]! - 10 * Math.log10(1 + (2 * f - 1) / 4000))).toBeLessThan(0.01),
  );
});

describe('whatever lies in a file', () => {
  const cell = fc.oneof(
    fc.double().map(String),
    fc.integer({ min: -5, max: 30_000 }).map(String),
    fc.constantFrom(
      'NaN',
      '',
      'inf',
      '-',
      '1,5',
      '2.5e3',
      '"',
      '1e999',
      '−3',
      'Hz',
      'dB',
      '|Z|',
      '#',
      '\u0000',
      '1e-320',
    ),
    fc.string({ maxLength: 6 }),
  );
  const separator = fc.constantFrom(',', ';', '\t', ' ', ', ');
  const text = fc
    .tuple(separator, fc.array(fc.array(cell, { maxLength: 5 }), { maxLength: 40 }))
    .map(([by, rows]) => rows.map((row) => row.join(by)).join('\n'));

  it('never throws, and what is a curve rises and is finite', () => {
    const choice = fc.record({
      frequency: fc.option(fc.nat({ max: 3 })),
      hertz: fc.option(fc.constantFrom(1 as const, 1000 as const)),
      value: fc.option(fc.nat({ max: 3 })),
      unit: fc.option(fc.constantFrom('dB' as const, 'amplitude' as const, 'ohm' as const, 'kohm' as const)),
    });
    fc.assert(
      fc.property(fc.oneof(text, fc.string({ maxLength: 400, unit: 'binary' })), choice, (given, chosen) => {
        looksLikeTable(given);
        const read = readTable(given);
        if (!read.ok) return read.message.endsWith('.');
        const { columns } = read.table;
        const within = (c: number | null): number | null => (c === null ? null : c % columns.length);
        const curves = [
          guessChoice(read.table),
          { ...chosen, frequency: within(chosen.frequency), value: within(chosen.value) },
        ];
        for (const one of curves) {
          const curve = curveOf(read.table, one);
          if (!curve.ok) expect(curve.message).toMatch(/[.?]$/);
          else {
            const { frequencies, decibels } = curve.curve;
            expect(
              frequencies.every((f, i) => f > 0 && f < Infinity && (i === 0 || f > frequencies[i - 1]!)),
            ).toBe(true);
            expect(decibels.every(Number.isFinite) && frequencies.length >= 8).toBe(true);
          }
        }
        return true;
      }),
      { numRuns: 1500, seed: 12 },
    );
  });

  it('a curve that is written out in any of these forms is read as it was', () => {
    const form = fc.record({
      by: fc.constantFrom(',', ';', '\t', '  '),
      decimal: fc.constantFrom('.', ','),
      head: fc.boolean(),
      digits: fc.integer({ min: 3, max: 9 }),
      values: fc.array(fc.double({ min: -90, max: 60, noNaN: true }), { minLength: 8, maxLength: 60 }),
    });
    fc.assert(
      fc.property(form, ({ by, decimal, head, digits, values }) => {
        const point = by === ',' ? '.' : decimal;
        const write = (v: number): string => v.toFixed(digits).replace('.', point);
        const hz = values.map((_, i) => 25 * 1.12 ** i);
        const rows = values.map((v, i) => `${write(hz[i]!)}${by}${write(v)}`);
        const read = table([...(head ? [`f/Hz${by}dB`] : []), ...rows].join('\n'));
        const curve = curveOf(read, { frequency: 0, hertz: 1, value: 1, unit: 'dB' });
        expect(curve.ok && curve.curve.decibels.length).toBe(values.length);
        if (curve.ok)
          values.forEach((v, i) =>
            expect(Math.abs(curve.curve.decibels[i]! - v)).toBeLessThanOrEqual(0.51 * 10 ** -digits),
          );
      }),
      { numRuns: 300, seed: 12 },
    );
  });
});
