import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { close } from '../../src/physics/close.ts';
import { render } from '../../src/physics/rendered.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { schemaText } from '../../src/sheet/schema.ts';
import { fieldsOf, predict } from '../fixtures/solved.ts';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const PRESET = join(ROOT, 'presets/07-skerry-neck-and-bridge.json');
/** Without a build, so that no field has to be solved. */
const BY_HAND = join(ROOT, 'tests/fixtures/old-links/one-coil-pickups.json');

let folder = '';
beforeAll(() => void (folder = mkdtempSync(join(tmpdir(), 'predict-'))));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Outcome {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

/** Much more than the slowest call takes, so that one that hangs fails. */
const PATIENCE = { timeout: 300_000 };

/** A call in this process, from the folder. */
function call(...args: string[]): Outcome {
  const said = { out: '', err: '' };
  const from = process.cwd();
  process.chdir(folder);
  try {
    const status = main(args, {
      out: (line) => void (said.out += `${line}\n`),
      err: (line) => void (said.err += `${line}\n`),
    });
    return { status, ...said };
  } finally {
    process.chdir(from);
  }
}

/** The same as a program. */
function spawned(...args: string[]): Outcome {
  const script = join(ROOT, 'src/cli/predict.ts');
  const run = spawnSync(process.execPath, ['--import', import.meta.resolve('tsx'), script, ...args], {
    cwd: folder,
    encoding: 'utf8',
    ...PATIENCE,
  });
  return { status: run.status, out: run.stdout, err: run.stderr };
}

function save(name: string, content: string): string {
  const file = join(folder, name);
  writeFileSync(file, content);
  return file;
}

/** To the six digits that a file has. */
const written = <T>(figures: T): T =>
  JSON.parse(
    JSON.stringify(figures, (_, figure: unknown) =>
      typeof figure === 'number' ? Number(figure.toPrecision(6)) : figure,
    ),
  ) as T;

const read = (path: string): Record<string, unknown> =>
  JSON.parse(readFileSync(path, 'utf8')) as Record<string, unknown>;
const preset = () => read(PRESET);
const byHand = () => read(BY_HAND);

describe('a good sheet', () => {
  const name = '07-skerry-neck-and-bridge';
  let outcome: Outcome;
  const file = (suffix: string): Buffer => readFileSync(join(folder, 'results', `${name}.${suffix}`));
  const checked = checkSheet(preset());
  if (!checked.ok) throw new Error(checked.message);
  const { sheet } = checked;
  beforeAll(() => void (outcome = spawned(PRESET, '--out', 'results')), PATIENCE.timeout);

  it('writes figures, curves, sound and a deck a sounding coil, and says where', () => {
    expect(outcome.status).toBe(0);
    const files = readdirSync(join(folder, 'results')).sort();
    expect(files).toStrictEqual([
      `${name}.curve.csv`,
      `${name}.figures.json`,
      `${name}.pickup-1-coil-1.cir`,
      `${name}.pickup-1-section.svg`,
      `${name}.pickup-3-coil-1.cir`,
      `${name}.pickup-3-section.svg`,
      `${name}.wav`,
    ]);
    expect(outcome.out.trim().split('\n').sort()).toStrictEqual(files.map((f) => join('results', f)));
  });

  it('[exact] the figures are those of predict', () => {
    const figures = JSON.parse(file('figures.json').toString('utf8')) as {
      title: string;
      voices: { label: string; features: unknown; partials: unknown }[];
      note: unknown;
      pickups: unknown;
      closest: unknown;
      sound: { sampleRate: number; seconds: number };
    };
    const exact = predict(sheet);
    const prediction = written(exact);
    expect(figures.title).toBe(sheet.title);
    expect(figures.note).toStrictEqual(prediction.note);
    expect(figures.pickups).toStrictEqual(prediction.pickups);
    const closest = sheet.pickups.map((_, i) => ({ cents: 2, ...close(sheet, i, 2, fieldsOf(sheet)[i]) }));
    expect(figures.closest).toStrictEqual(written(closest));
    expect(figures.voices.map((voice) => voice.label)).toStrictEqual(prediction.voices.map((v) => v.label));
    figures.voices.forEach((voice, i) => {
      expect(voice.features).toStrictEqual(prediction.voices[i]!.features);
      const { partials } = prediction.voices[i]!;
      // Shares to three decimals, dB to two, T60s to four digits, all else to six.
      const decimals = (of: object, write: (figure: number) => string): object =>
        Object.fromEntries(
          Object.entries(of).map(([name, figure]) => [name, Number(write(figure as number))]),
        );
      const rough = exact.voices[i]!.partials.map(({ responseDb, pluckedDb, t60, shares }) => ({
        ...decimals({ responseDb, pluckedDb }, (dB) => dB.toFixed(2)),
        t60: decimals(t60, (seconds) => seconds.toPrecision(4)),
        shares: decimals(shares, (share) => share.toFixed(3)),
      }));
      expect(voice.partials).toStrictEqual(partials.map((one, k) => ({ ...one, ...rough[k]! })));
    });
    expect(figures.sound.sampleRate).toBe(48000);
  });

  it('the curve file has a line a frequency and three columns a voice, to nine digits', () => {
    const prediction = predict(sheet);
    const lines = file('curve.csv').toString('utf8').trimEnd().split('\r\n');
    expect(lines).toHaveLength(prediction.frequencies.length + 1);
    expect(lines[0]).toContain('frequency / Hz,"circuit / dB, 1 neck"');
    const last = lines.at(-1)!.split(',').map(Number);
    expect(last).toHaveLength(1 + 3 * prediction.voices.length);
    const voice = prediction.voices.at(-1)!;
    const expected = [voice.circuitDb.at(-1)!, voice.reachDb.at(-1)!, voice.placedDb.at(-1)!];
    last.slice(-3).forEach((value, i) => expect(value).toBe(Number(expected[i]!.toPrecision(9))));
  });

  it('[paper] the sound is 24-bit PCM by the RIFF header and holds the rendered samples', () => {
    const wav = file('wav');
    expect(wav.toString('latin1', 0, 4) + wav.toString('latin1', 8, 16)).toBe('RIFFWAVEfmt ');
    expect(wav.readUInt16LE(20)).toBe(1); // PCM, [RIFF1991]
    expect([wav.readUInt16LE(22), wav.readUInt32LE(24), wav.readUInt16LE(34)]).toStrictEqual([1, 48000, 24]);
    const sound = render(sheet, fieldsOf(sheet));
    expect(wav.length).toBe(44 + 3 * sound.samples.length + (sound.samples.length % 2));
    for (let i = 0; i < sound.samples.length; i += 997)
      expect(Math.abs(wav.readIntLE(44 + 3 * i, 3) / 2 ** 23 - sound.samples[i]!)).toBeLessThanOrEqual(
        2 ** -24,
      );
  });

  it('the decks drive one coil each', () => {
    for (const suffix of ['pickup-1-coil-1.cir', 'pickup-3-coil-1.cir']) {
      const deck = file(suffix).toString('utf8');
      expect(deck.match(/AC 1$/gm)).toHaveLength(1);
      expect(deck.match(/AC 0$/gm)).toHaveLength(1);
      expect(deck.trimEnd().endsWith('.end')).toBe(true);
    }
  });
});

it(
  'takes another sample rate, float samples and options joined by =',
  () => {
    expect(call(BY_HAND, '--sample-rate=44100', '--wav', 'float', '--out=float').status).toBe(0);
    const wav = readFileSync(join(folder, 'float', 'one-coil-pickups.wav'));
    expect(wav.readUInt16LE(20)).toBe(3); // IEEE float, in the same registry
    expect([wav.readUInt32LE(24), wav.readUInt16LE(34)]).toStrictEqual([44100, 32]);
  },
  PATIENCE.timeout,
);

it(
  'a build that can’t be computed is said in one line, with the pickup and the figure',
  () => {
    const sheet = preset() as unknown as { pickups: { build: { pitch: number } }[] };
    sheet.pickups[0]!.build.pitch = 0.007;
    (
      sheet.pickups[0]!.build as unknown as { rows: { pole: { diameter: number } }[] }
    ).rows[0]!.pole.diameter = 0.008;
    const { status, err } = call(save('overlap.json', JSON.stringify(sheet)), '--out', 'overlap');
    expect(status).toBe(1);
    expect(err).toMatch(
      /^predict: neck: The pole pitch must be more than the poles are wide, 8 mm; got 7 mm/,
    );
    expect(err.trim().split('\n')).toHaveLength(1);
  },
  PATIENCE.timeout,
);

it(
  '[exact] of several trials it computes the open one',
  () => {
    const trials = [byHand(), { ...byHand(), title: 'the open one' }];
    const file = save('trials.json', JSON.stringify({ format: 1, open: 1, trials, blind: [] }));
    expect(call(file, '--out', 'trials').status).toBe(0);
    const figures = readFileSync(join(folder, 'trials', 'trials.figures.json'), 'utf8');
    expect(JSON.parse(figures)).toMatchObject({ title: 'the open one' });
  },
  PATIENCE.timeout,
);

it(
  'the bench sheet of a pickup, on the paper that is asked for, with the link that was given a beginning; and what each part does',
  () => {
    const args = [
      '--bench',
      'Letter',
      '--pickup',
      '2',
      '--address',
      'https://example.org/lodetone/',
      '--parts',
    ];
    expect(call(PRESET, '--out', 'bench', ...args).status).toBe(0);
    const html = readFileSync(join(folder, 'bench', '07-skerry-neck-and-bridge.bench.html'), 'utf8');
    expect(html).toContain('class="bench-page Letter"');
    const { pickups } = read(join(folder, 'bench', '07-skerry-neck-and-bridge.parts.json'));
    const [neck] = pickups as { field: number[]; flux: { up: number; own: number }; parts: unknown[] }[];
    expect(neck!.parts).toStrictEqual([{ name: 'rods', rows: [{ without: 0, share: null }] }]);
    expect(neck!.field[0]).toBeGreaterThan(0.01);
    expect(neck!.flux.up).toBeLessThan(neck!.flux.own);
    expect(html).toContain('Bench sheet · middle pickup');
    expect(html).toContain('QR code of the link');
    expect(html).not.toMatch(/<script|href=|src=/);
  },
  PATIENCE.timeout,
);

it(
  '[exact] a byte-order mark before the sheet is no fault',
  () => {
    const file = save('marked.json', `\uFEFF${JSON.stringify(byHand())}`);
    expect(call(file, '--out', 'marked').status).toBe(0);
  },
  PATIENCE.timeout,
);

describe('what will not do: one line, and a status other than 0', () => {
  const wrongRate = (): string => {
    const sheet = preset() as { harness: { cable: { length: number } } };
    sheet.harness.cable.length = 900;
    return save('far.json', JSON.stringify(sheet));
  };

  it.each<[string, () => string[], number, RegExp]>([
    ['no arguments', () => [], 2, /^predict: Sheet must be one file; got none\. Call it as: npm run predict/],
    ['no folder', () => [PRESET], 2, /--out must name a folder/],
    ['two sheets', () => [PRESET, PRESET, '--out', 'x'], 2, /Sheet must be one file; got 2/],
    ['an unknown option', () => [PRESET, '--out', 'x', '--loud'], 2, /Option must be .*; got --loud/],
    [
      'a bad rate',
      () => [PRESET, '--out', 'x', '--sample-rate', '8000'],
      2,
      /--sample-rate must be one of .*"8000"/,
    ],
    ['a bad format', () => [PRESET, '--out', 'x', '--wav', '16'], 2, /--wav must be float or 24; got "16"/],
    [
      'a paper that is none',
      () => [PRESET, '--out', 'x', '--bench', 'A5'],
      2,
      /--bench must be A4 or Letter; got "A5"/,
    ],
    [
      'a pickup without a bench sheet',
      () => [PRESET, '--out', 'x', '--pickup', '1'],
      2,
      /must stand beside --bench/,
    ],
    [
      'a pickup that is none',
      () => [BY_HAND, '--out', 'x', '--bench', 'A4', '--pickup', '4'],
      2,
      /--pickup must be 1, 2 or 3/,
    ],
    [
      'an address that is none',
      () => [PRESET, '--out', 'x', '--bench', 'A4', '--address', 'here'],
      2,
      /--address must be the page’s own/,
    ],
    ['an option without value', () => [PRESET, '--out'], 2, /--out must be followed by its value/],
    ['an option twice', () => [PRESET, '--out', 'x', '--out', 'y'], 2, /--out must be given once/],
    [
      'a missing file',
      () => ['nowhere.json', '--out', 'x'],
      1,
      /Sheet must be a file that is there; got nowhere/,
    ],
    ['a folder for a sheet', () => [folder, '--out', 'x'], 1, /Sheet must be a file/],
    [
      'not JSON',
      () => [save('bad.json', '{'), '--out', 'x'],
      1,
      /Design must be whole JSON; got a text that breaks off/,
    ],
    ['a bad figure', () => [wrongRate(), '--out', 'x'], 1, /cable length must be between .* got 900\.0 m/i],
    ['not a sheet', () => [save('list.json', '[]'), '--out', 'x'], 1, /Sheet must be a group of fields/],
    [
      'a folder that is a file',
      () => [PRESET, '--out', save('taken', '')],
      2,
      /--out must be a folder that can be written to; got .*taken \(EEXIST\)/,
    ],
    [
      'a folder in a file',
      () => [PRESET, '--out', join(save('taken', ''), 'in', 'it')],
      2,
      /--out must be a folder that can be written to/,
    ],
    ...(process.platform === 'linux'
      ? [
          [
            'a folder where none can be made',
            (): string[] => [PRESET, '--out', '/proc/nowhere/results'],
            2,
            /--out must be a folder that can be written to; got \/proc\/nowhere\/results \(ENOENT\)/,
          ] as [string, () => string[], number, RegExp],
        ]
      : []),
  ])(
    '%s',
    (_, args, status, message) => {
      const outcome = call(...args());
      expect(outcome.err).toMatch(message);
      expect(outcome.err.trimEnd().split('\n')).toHaveLength(1);
      expect(outcome.out).toBe('');
      expect(outcome.status).toBe(status);
      expect(readdirSync(folder)).not.toContain('x');
    },
    PATIENCE.timeout,
  );

  it('help is no error', () => {
    const outcome = call('--help');
    expect(outcome.status).toBe(0);
    expect(outcome.out).toContain('npm run predict -- SHEET.json --out FOLDER');
  });

  it('[exact] the schema is printed, and is that of the build', () => {
    const outcome = call('--schema');
    expect(outcome.status).toBe(0);
    expect(outcome.out).toBe(schemaText());
  });

  it.each([[[]], [['nowhere.json', '--out', 'x']]])('the program ends as the call did: %j', (args) => {
    const outcome = spawned(...args);
    expect(outcome.err).not.toBe('');
    expect(outcome).toStrictEqual(call(...args));
  });

  it('a title cannot become a line of its own in a deck', () => {
    mkdirSync(join(folder, 'deck'), { recursive: true });
    const file = save('title.json', JSON.stringify({ ...preset(), title: 'a\n.include b' }));
    expect(call(file, '--out', 'deck').err).toMatch(/title must be plain text/i);
  });
});
