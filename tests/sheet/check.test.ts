import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkSheet } from '../../src/sheet/check.ts';
import { MOST_BLOCKS } from '../../src/sheet/checkBuild.ts';
import { leftOut, plainText } from '../../src/sheet/plainText.ts';
import { arbitrarySheet } from '../fixtures/arbitrarySheet.ts';
import { fullestUnlike as fullestSheet } from '../fixtures/fullestSheet.ts';
import { PRESETS } from '../fixtures/presets.ts';

/* eslint-disable @typescript-eslint/no-explicit-any -- data from outside has no type */
type Data = any;

/** A list of blocks, each of them, and its place across: all may be left out. */
const blocksAt = (at: string): string[] =>
  [at, ...Array.from({ length: MOST_BLOCKS }, (_, i) => [`${at}.${i}`, `${at}.${i}.across`])].flat();

/** The fullest sheet with one thing wrong. */
function spoilt(spoil: (data: Data) => void): unknown {
  const data: Data = structuredClone(fullestSheet);
  spoil(data);
  return data;
}

describe('what passes', () => {
  it.each(PRESETS)('[exact] $name', ({ data }) => {
    expect(checkSheet(data)).toStrictEqual({ ok: true, sheet: data });
  });

  it('[exact] every generated sheet, unchanged and fresh', () => {
    fc.assert(
      fc.property(arbitrarySheet, (sheet) => {
        const checked = checkSheet(sheet);
        expect(checked).toStrictEqual({ ok: true, sheet });
        if (checked.ok) expect(checked.sheet.pickups).not.toBe(sheet.pickups);
      }),
      { seed: 24, numRuns: 300 },
    );
  });

  it('[exact] a build without a word on the reach computes it', () => {
    const data = spoilt((s) => delete s.pickups[0].reachBy) as Data;
    expect(checkSheet(data)).toStrictEqual({ ok: true, sheet: fullestSheet });
  });

  it('[exact] coil figures may be left to a build', () => {
    const data = spoilt((s) => {
      s.pickups[0].rows[0].coil = { resistance: null, inductance: null, capacitance: null, coreLoss: null };
      s.pickups[0].reachBy = 'hand';
    });
    expect(checkSheet(data)).toStrictEqual({ ok: true, sheet: data });
  });

  it('drops fields it does not know, at any depth, and turns −0 into 0', () => {
    const data = spoilt((s) => {
      s.colour = 'red';
      s.pickups[0].rows[0].coil.turns = 8000;
      s.listen.pluck.angle = -0;
    });
    const checked = checkSheet(data);
    if (!checked.ok) throw new Error(checked.message);
    expect(checked.sheet).not.toHaveProperty('colour');
    expect(checked.sheet.pickups[0]!.rows[0]!.coil).not.toHaveProperty('turns');
    expect(Object.is(checked.sheet.listen.pluck.angle, 0)).toBe(true);
  });
});

describe('what does not, and what is said', () => {
  it.each<[name: string, spoil: (s: Data) => void, message: string | RegExp]>([
    [
      'a far pickup',
      (s) => (s.pickups[1].place = 0.9),
      'Pickup 2: pickup place must be between 10.0 mm and 640.0 mm; got 900.0 mm.',
    ],
    [
      'a pickup beyond a short string',
      (s) => {
        s.instrument.scaleLength = 0.5;
        s.pickups[0].place = 0.5;
      },
      'Pickup 1: every row must be between saddle and nut; got one 509.3 mm from the saddle.',
    ],
    [
      'a row behind the saddle',
      (s) => {
        s.pickups[2].place = 0.012;
        s.pickups[2].rows[1].offset = -0.02;
      },
      'Pickup 3: every row must be between saddle and nut; got one −8.0 mm from the saddle.',
    ],
    [
      'a limit passed by a hair',
      (s) => (s.pickups[0].rows[0].reach.width = 0.06000001),
      /^Pickup 1, row 1: focus must be between 2\.0 mm and 60\.0 mm; got 60\.0000\d+ mm\.$/,
    ],
    [
      'a word for a number',
      (s) => (s.pickups[0].rows[1].coil.resistance = '7.2k'),
      'Pickup 1, row 2: coil resistance must be a number; got "7.2k".',
    ],
    ['a missing figure', (s) => delete s.harness.cable.length, 'Cable length must be a number; got nothing.'],
    [
      'null where there must be a figure',
      (s) => (s.listen.strum = null),
      'Strum time must be a number; got none.',
    ],
    ['NaN', (s) => (s.listen.strum = NaN), 'Strum time must be a finite figure; got NaN.'],
    ['half a fret', (s) => (s.listen.fret = 2.5), 'Fret must be a whole number; got 2.5.'],
    [
      'a fret beyond the neck',
      (s) => (s.listen.fret = 25),
      'Fret must be at most 24, the last on this neck; got 25.',
    ],
    [
      'a chord beyond the neck',
      (s) => (s.listen.chord[5] = 30),
      'Chord, string 6: fret must be at most 24, the last on this neck; got 30.',
    ],
    [
      'a silent chord',
      (s) => s.listen.chord.fill(null),
      'Chord must have at least one string that is played; got none.',
    ],
    ['a short chord', (s) => s.listen.chord.pop(), 'Strings of the chord must be 8 in number; got 7.'],
    [
      'a string that is not there',
      (s) => (s.listen.string = 9),
      'Chosen string must be one of 1, 2, 3, 4, 5, 6, 7, 8; got 9.',
    ],
    ['three strings', (s) => s.instrument.strings.splice(3), 'Strings must be 4 to 8 in number; got 3.'],
    [
      'nine strings',
      (s) => s.instrument.strings.push(s.instrument.strings[0]),
      'Strings must be 4 to 8 in number; got 9.',
    ],
    [
      'a string fewer than poles',
      (s) => s.instrument.strings.pop(),
      'Pickup 1, build of row 1: pole heights (one a string) must be 7 in number; got 8.',
    ],
    [
      'a core thicker than its string',
      (s) => Object.assign(s.instrument.strings[3], { diameter: 8e-4, core: 9e-4 }),
      'String 4: string core must be no thicker than the string; got more.',
    ],
    [
      'a plain string with a thin core',
      (s) => Object.assign(s.instrument.strings[0], { construction: 'plain', diameter: 3e-4, core: 2e-4 }),
      'String 1: string core must be as thick as a plain string; got less. A thinner core makes it wound.',
    ],
    [
      'a coil figure left to a build that is not there',
      (s) => {
        Object.assign(s.pickups[0], { build: null, reachBy: 'hand' });
        s.pickups[0].rows[1].coil.inductance = null;
      },
      'Pickup 1, row 2: coil inductance must be a number; got none.',
    ],
    [
      'a reach by a build that is not there',
      (s) => (s.pickups[1].build = null),
      'Pickup 2: reach must be set by hand where there is no build to compute it from; got none.',
    ],
    [
      'a build of one row for two',
      (s) => s.pickups[1].build.rows.pop(),
      'Pickup 2: build must have as many rows as the pickup, 2; got 1.',
    ],
    [
      'a bar above the strings',
      (s) => (s.pickups[0].build.bars[0].top = 0.006),
      'Pickup 1, bar magnet 1: top of the magnet must be between −40.0 mm and 5.0 mm; got 6.0 mm.',
    ],
    [
      'a pole less than strings',
      (s) => s.pickups[0].build.rows[1].pole.heights.pop(),
      'Pickup 1, build of row 2: pole heights (one a string) must be 8 in number; got 7.',
    ],
    [
      'a pole in the strings',
      (s) => (s.pickups[0].build.rows[1].pole.heights[5] = 0.01),
      'Pickup 1, build of row 2, pole 6: pole height must be between −4.00 mm and 5.00 mm; got 10.00 mm.',
    ],
    [
      'no room for the wire',
      (s) => (s.pickups[0].build.rows[0].window.outer = 0.00235),
      'Pickup 1, build of row 1: outer radius of the coil must be more than the inner, 2.35 mm; got 2.35 mm.',
    ],
    [
      'a coil upside down',
      (s) => Object.assign(s.pickups[2].build.rows[0].window, { top: -0.01, bottom: -0.002 }),
      'Pickup 3, build of row 1: bottom of the coil must be below its top, −10.0 mm; got −2.0 mm.',
    ],
    [
      'no turns',
      (s) => (s.pickups[2].build.rows[0].turns = 0),
      'Pickup 3, build of row 1: turns must be between 10 and 30000; got 0.',
    ],
    [
      'a negative gap',
      (s) => (s.pickups[2].build.gapBass = -0.001),
      'Pickup 3, bass side: gap to the string must be between 0.5 mm and 15.0 mm; got −1.0 mm.',
    ],
    [
      'an eighth of a beat',
      (s) => (s.listen.line[2].beat = 1.125),
      'Line, note 3: beat must be a multiple of a quarter; got 1.125.',
    ],
    [
      'a line beyond the neck',
      (s) => (s.listen.line[0].fret = 25),
      'Line, note 1: fret must be at most 24, the last on this neck; got 25.',
    ],
    [
      'a long line',
      (s) => s.listen.line.push(s.listen.line[0]),
      'Notes of the line must be 0 to 64 in number; got 65.',
    ],
    ['no pickup', (s) => (s.pickups = []), 'Pickups must be 1 to 3 in number; got 0.'],
    ['four pickups', (s) => s.pickups.push(s.pickups[0]), 'Pickups must be 1 to 3 in number; got 4.'],
    [
      'pickups that are no list',
      (s) => (s.pickups = { 0: s.pickups[0], length: 1 }),
      'Pickups must be 1 to 3 in number; got a group of fields.',
    ],
    [
      'three rows',
      (s) => s.pickups[0].rows.push(s.pickups[0].rows[0]),
      'Pickup 1: rows of poles must be 1 to 2 in number; got 3.',
    ],
    [
      'none that sounds',
      (s) => s.pickups.forEach((p: Data) => (p.sounds = false)),
      'Selector must let at least one pickup through; got none.',
    ],
    [
      'a number for a flag',
      (s) => (s.pickups[0].sounds = 1),
      'Pickup 1: whether it sounds must be yes or no; got 1.',
    ],
    [
      'an unknown join',
      (s) => (s.pickups[0].join = 'crossed'),
      'Pickup 1: join of the coils must be one of series, parallel; got "crossed".',
    ],
    [
      'controls that are too many',
      (s) => (s.harness.wiring = 'shared'),
      'Control sets (one when shared, else one a pickup) must be 1 in number; got 3.',
    ],
    [
      'no volume',
      (s) => delete s.harness.controls[1].volume,
      'Controls of pickup 2: volume must be a group of fields; got nothing.',
    ],
    [
      'a pot past its end',
      (s) => (s.harness.controls[1].tone.position = 1.1),
      'Controls of pickup 2, tone: pot position must be between 0.0 and 10.0; got 11.0.',
    ],
    [
      'another sample rate',
      (s) => (s.listen.sampleRate = 22050),
      'Sample rate must be one of 44100, 48000, 96000; got 22050.',
    ],
    [
      'a pluck beyond the nut',
      (s) =>
        Object.assign(s, {
          instrument: { ...s.instrument, scaleLength: 0.45 },
          listen: { ...s.listen, pluck: { ...s.listen.pluck, place: 0.46 } },
        }),
      'Pluck place must be on the string, nearer than the nut; got beyond it.',
    ],
    ['a long title', (s) => (s.title = 'x'.repeat(81)), 'Title must be at most 80 characters long; got 81.'],
    ['long notes', (s) => (s.notes = 'x'.repeat(601)), 'Notes must be at most 600 characters long; got 601.'],
    [
      'a title of two lines',
      (s) => (s.title = 'a\nb'),
      'Title must be plain text; got control characters in it.',
    ],
    [
      'a newer format',
      (s) => (s.format = 3),
      'Sheet must be of format 1 or 2; got 3. A newer Lodetone made it: reload the page, or update.',
    ],
    ['no format', (s) => delete s.format, 'Sheet must say its format, a number; got none.'],
  ])('%s', (_, spoil, message) => {
    const checked = checkSheet(spoilt(spoil));
    expect(checked.ok).toBe(false);
    if (!checked.ok)
      expect(checked.message).toMatch(
        typeof message === 'string' ? new RegExp(`^${message.replace(/[.()]/g, '\\$&')}$`) : message,
      );
  });

  it.each<[string, unknown]>([
    ['nothing', undefined],
    ['null', null],
    ['a number', 7],
    ['text', 'sheet'],
    ['a list', [fullestSheet]],
    ['a function', () => fullestSheet],
    ['an empty object', {}],
    ['fields that are only inherited', Object.create(fullestSheet)],
    [
      'a getter that throws',
      {
        get format(): number {
          throw new Error('no');
        },
      },
    ],
    [
      'a proxy that throws',
      new Proxy(
        {},
        {
          getOwnPropertyDescriptor: () => {
            throw new Error('no');
          },
        },
      ),
    ],
  ])('%s is no sheet', (_, data) => {
    expect(checkSheet(data)).toStrictEqual({ ok: false, message: expect.stringMatching(/^Sheet must /) });
  });

  it('a field taken away, anywhere, is noticed and named', () => {
    const gone: string[] = [];
    const visit = (node: Data, path: (string | number)[]): void => {
      for (const key of Object.keys(node)) {
        const data = spoilt((s) => {
          const parent = path.reduce((at: Data, step) => at[step], s);
          if (Array.isArray(parent)) parent.splice(Number(key), 1);
          else delete parent[key];
        });
        const checked = checkSheet(data);
        const where = [...path, key].join('.');
        // Pickups and rows may be fewer, but then controls or the count above say so, or it is a smaller sheet.
        if (checked.ok) gone.push(where);
        else expect(checked.message, where).toMatch(/^[A-Z].* must .+; got .+\.$/);
        if (typeof node[key] === 'object' && node[key] !== null) visit(node[key], [...path, key]);
      }
    };
    visit(fullestSheet, []);
    // Notes of the line, bars and steel, and the fields that came later and have a default; nothing else.
    const later = [0, 1, 2].flatMap((p) => [
      ...[0, 1].map((r) => `pickups.${p}.rows.${r}.reach.fade`),
      `pickups.${p}.reachBy`,
      ...['bars', 'steel'].flatMap((name) => blocksAt(`pickups.${p}.build.${name}`)),
      ...[0, 1].flatMap((r) => ['own', 'steel'].map((name) => `pickups.${p}.build.rows.${r}.pole.${name}`)),
      ...['coilSteel', 'cover', 'basePlate'].map((name) => `pickups.${p}.build.${name}`),
    ]);
    const notes = fullestSheet.listen.line.map((_, i) => `listen.line.${i}`);
    expect(gone.sort()).toStrictEqual(
      [
        'instrument.radius',
        'magnets',
        ...fullestSheet.instrument.strings.map((_, i) => `instrument.strings.${i}.wrap`),
        ...later,
        'listen.tempo',
        'listen.line',
        ...notes,
        'listen.through',
      ].sort(),
    );
  });
});

describe('what nobody sees in a title [practice: Unicode Standard annex 9, from memory]', () => {
  const HIDDEN = [
    '\u202E',
    '\u2066',
    '\u2069',
    '\u202A',
    '\u200B',
    '\uFEFF',
    '\u2028',
    '\u{E0041}',
    '\uD800',
  ];

  it.each(HIDDEN)('is left out of a document from elsewhere, which opens: %j', (hidden) => {
    const checked = checkSheet({
      ...(PRESETS[0]!.data as object),
      title: `neck${hidden}dettod`,
      notes: `a${hidden}b`,
    });
    expect(checked.ok && [checked.sheet.title, checked.sheet.notes]).toEqual(['neckdettod', 'ab']);
    expect(leftOut(`a${hidden}b`)).toMatch(/invisible control characters; U\+[0-9A-F]{4,} was left out/);
  });

  it('but what scripts and signs need stays', () => {
    for (const text of ['Ψάρι', 'מוזיקה\u200F', 'می\u200Cخواهم', '👩\u200D🔧 7,000 ✓', 'e\u0301']) {
      expect(plainText(text)).toBe(text);
      expect(leftOut(text)).toBe('');
    }
  });
});
