import { readFileSync } from 'node:fs';
import { crc32, deflateRawSync, inflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkSheet } from '../../src/sheet/check.ts';
import { checkTrials } from '../../src/sheet/checkTrials.ts';
import { crc32 as ownCrc32 } from '../../src/sheet/crc32.ts';
import { fromBase64url, toBase64url } from '../../src/sheet/base64url.ts';
import { decodeLink, encodeLink } from '../../src/sheet/link.ts';
import { encodeShortLink } from '../../src/sheet/shortLink.ts';
import { DEFAULT_LINE } from '../../src/sheet/defaults.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { fullestSheet, fullestTrials, fullestUnlike } from '../fixtures/fullestSheet.ts';
import { pack } from '../fixtures/mutatedLink.ts';

const SEED = 20;

/** Far above what one link takes, far below what a person would call hanging; ms. */
const LONGEST_DECODING = 5000;

const presets = PRESETS.map(({ name, data }) => {
  const checked = checkSheet(data);
  if (!checked.ok) throw new Error(`${name}: ${checked.message}`);
  return { name, sheet: checked.sheet };
});

describe('link: there and back', () => {
  it.each(presets)('[exact] $name', async ({ sheet }) => {
    const trials = wrap(sheet);
    expect(await decodeLink(await encodeLink(trials))).toStrictEqual({ ok: true, trials });
  });

  it('[practice] the fullest sheet takes at most 4 kB, six that differ in all at most 16 kB', async () => {
    expect(checkSheet(fullestSheet)).toStrictEqual({ ok: true, sheet: fullestSheet });
    expect((await encodeLink(wrap(fullestSheet))).length).toBeLessThanOrEqual(4096);
    expect(checkTrials(fullestTrials)).toStrictEqual({ ok: true, trials: fullestTrials });
    const link = await encodeLink(fullestTrials);
    expect(link.length).toBeLessThanOrEqual(16 * 1024);
    expect(await decodeLink(link)).toStrictEqual({ ok: true, trials: fullestTrials });
  });

  it('[practice] a sheet of three pickups none of whose poles are alike takes at most 5 kB', async () => {
    const link = await encodeLink(wrap(fullestUnlike));
    expect(link.length).toBeLessThanOrEqual(5 * 1024);
    expect(await decodeLink(link)).toStrictEqual({ ok: true, trials: wrap(fullestUnlike) });
  });

  it('letters of three bytes each that no compressor makes shorter add at most 2.5 kB', async () => {
    const letters = (length: number): string =>
      String.fromCharCode(...Array.from({ length }, (_, i) => 0x4e00 + ((i * 7919) % 20_000)));
    const foreign = { ...fullestSheet, title: letters(80), notes: letters(600) };
    const without = { ...fullestSheet, title: '', notes: '' };
    const [more, less] = await Promise.all([foreign, without].map((s) => encodeLink(wrap(s))));
    // 680 letters of 20 000 hold 680 · log2(20 000) bits; in UTF-8 and base64url that is 2.4 kB at the very least.
    expect(more!.length - less!.length).toBeLessThanOrEqual(2560);
  });

  it('accepts the fragment with its #', async () => {
    const trials = wrap(presets[0]!.sheet);
    expect(await decodeLink(`#${await encodeLink(trials)}`)).toStrictEqual({ ok: true, trials });
  });
});

describe('link for a code on paper', () => {
  it.each(presets)('[exact] $name opens from one that is half as long', async ({ sheet }) => {
    const trials = wrap(sheet);
    const [short, long] = [await encodeShortLink(trials), await encodeLink(trials)];
    expect(await decodeLink(short)).toStrictEqual({ ok: true, trials });
    expect(short.length).toBeLessThan(0.56 * long.length);
  });

  it('[exact] whatever is written in it, and six trials', async () => {
    const odd = { ...fullestSheet, title: '\u{1F3B8} "},\\"coil":{" \u00FF', notes: '\u00A0 ",\u0101"' };
    for (const data of [wrap(odd), fullestTrials]) {
      const checked = checkTrials(JSON.parse(JSON.stringify(data)));
      if (!checked.ok) throw new Error(checked.message);
      expect(await decodeLink(await encodeShortLink(checked.trials))).toStrictEqual(checked);
    }
  });

  it('any single letter changed', async () => {
    const link = await encodeShortLink(wrap(presets[0]!.sheet));
    for (let at = 0; at < link.length; at++) {
      const other = link[at] === 'x' ? 'y' : 'x';
      const decoded = await decodeLink(link.slice(0, at) + other + link.slice(at + 1));
      expect(decoded.ok ? '' : decoded.message).toMatch(/^Link must be whole/);
    }
  });
});

describe('link: its layout, read by other means', () => {
  it('[tool] Node’s base64url, zlib and CRC-32 read what we write', async () => {
    for (const { sheet } of presets) {
      const link = await encodeLink(wrap(sheet));
      const bytes = Buffer.from(link, 'base64url');
      expect(bytes.toString('base64url')).toBe(link);
      expect(bytes[0]).toBe(1);
      expect(bytes.readUInt32BE(1)).toBe(crc32(Buffer.concat([bytes.subarray(0, 1), bytes.subarray(5)])));
      expect(JSON.parse(inflateRawSync(bytes.subarray(5)).toString('utf8'))).toStrictEqual(sheet);
    }
  });

  it('[paper] CRC-32 of 123456789 is CBF43926 (check value printed with ISO 3309 / ITU-T V.42, from memory)', () => {
    expect(ownCrc32(new TextEncoder().encode('123456789'))).toBe(0xcbf43926);
  });

  it('[paper] base64 of RFC 4648, section 10, without padding', () => {
    const table = {
      '': '',
      f: 'Zg',
      fo: 'Zm8',
      foo: 'Zm9v',
      foob: 'Zm9vYg',
      fooba: 'Zm9vYmE',
      foobar: 'Zm9vYmFy',
    };
    for (const [plain, coded] of Object.entries(table)) {
      expect(toBase64url(new TextEncoder().encode(plain))).toBe(coded);
      expect(new TextDecoder().decode(fromBase64url(coded)!)).toBe(plain);
    }
  });

  it('[tool] base64url of any bytes as Node writes it', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 100 }), (bytes) => {
        const text = toBase64url(bytes);
        expect(text).toBe(Buffer.from(bytes).toString('base64url'));
        expect([...fromBase64url(text)!]).toStrictEqual([...bytes]);
      }),
      { seed: SEED },
    );
  });

  it('[exact] refuses letters outside the alphabet, a lone letter, and set bits behind the end', () => {
    for (const text of ['Zg==', 'Z', 'Zm9v+', 'Zm 9', 'Zh', 'Zm9', 'ü'])
      expect(fromBase64url(text)).toBeNull();
  });
});

describe('link: what is not one', () => {
  const sentence = /^(Link|Sheet|Pickup|String|Controls|Chord|[A-Z]).+ must .+\.$/;

  async function messageOf(link: string): Promise<string> {
    const started = performance.now();
    const decoded = await decodeLink(link);
    expect(performance.now() - started).toBeLessThan(LONGEST_DECODING);
    return decoded.ok ? '' : decoded.message;
  }

  it.each([
    ['nothing', '', /^Link must carry a sheet; got none/],
    ['only a #', '#', /^Link must carry a sheet; got none/],
    ['another fragment', 'section-2', /^Link must be whole/],
    ['far too long', 'A'.repeat(70_000), /^Link must be at most 65536 characters long; got 70000/],
    ['newer', pack(Buffer.from('{}'), 3), /^Link must be of version 1 or 2; got 3\. A newer Lodetone/],
    ['short, of words that are none', pack(Buffer.from([31, 255]), 2), /^Link must be whole/],
    ['short, cut within a word', pack(Buffer.from([123, 1]), 2), /^Link must be whole/],
    ['short, of many long words', pack(Buffer.alloc(100_000, 128), 2), /^Link must be whole/],
    ['not JSON', pack(Buffer.from('{"format":')), /^Link must be whole/],
    ['not UTF-8', pack(Buffer.from([0x22, 0xff, 0x22])), /^Link must be whole/],
    ['not deflated', pack(Buffer.from('{}'), 1, (bytes) => bytes), /^Link must be whole/],
    ['an empty sheet', pack(Buffer.from('{}')), /^Sheet must say its format/],
    ['a list', pack(Buffer.from('[]')), /^Sheet must be a group of fields/],
    ['a newer sheet', pack(Buffer.from('{"format":3}')), /^Sheet must be of format 1 or 2; got 3/],
    ['a bomb', pack(Buffer.alloc(10_000_000)), /^Link must unpack to at most 256 kB/],
    ['deep nesting', pack(Buffer.from('['.repeat(60_000))), /^Link must be whole/],
    ['deep nesting, closed', pack(Buffer.from('['.repeat(30_000) + ']'.repeat(30_000))), sentence],
  ])('%s', async (_, link, pattern) => {
    expect(await messageOf(link)).toMatch(pattern);
  });

  it('a truncated link, at every length', async () => {
    const link = await encodeLink(wrap(presets[0]!.sheet));
    for (let length = 1; length < link.length; length++)
      expect(await messageOf(link.slice(0, length))).toMatch(/^Link must be whole/);
  });

  it('[exact] any single letter changed', async () => {
    const link = await encodeLink(wrap(presets[0]!.sheet));
    for (let at = 0; at < link.length; at++) {
      const other = link[at] === 'x' ? 'y' : 'x';
      expect(await messageOf(link.slice(0, at) + other + link.slice(at + 1))).toMatch(/^Link must be whole/);
    }
  });
});

// What a link holds must not depend on the compressor; zlib at another level packs other bytes.
it('[tool] a link packed by zlib at its highest level opens to the same sheet', async () => {
  for (const { sheet } of presets) {
    const link = pack(Buffer.from(JSON.stringify(sheet)), 1, (bytes) => deflateRawSync(bytes, { level: 9 }));
    expect(await decodeLink(link)).toStrictEqual({ ok: true, trials: wrap(sheet) });
  }
});

describe('[exact] links and sheets from before there were builds and trials open, today and always', () => {
  const old = (name: string): string =>
    readFileSync(new URL(`../fixtures/old-links/${name}`, import.meta.url), 'utf8').trim();

  it('one from a code on paper, by the words as they were first', async () => {
    const checked = checkSheet(JSON.parse(old('short-three-single-coils.json')));
    if (!checked.ok) throw new Error(checked.message);
    expect(await decodeLink(old('short-three-single-coils.link.txt'))).toStrictEqual({
      ok: true,
      trials: wrap(checked.sheet),
    });
  });

  it.each(['one-bar', 'short-one-bar'])('%s, from when there was one bar magnet at most', async (name) => {
    type Old = { pickups: { build: { bar: object | null } }[] };
    const data = JSON.parse(old('one-bar.json')) as Old;
    const pickups = data.pickups.map(({ build: { bar, ...build }, ...pickup }) => ({
      ...pickup,
      build: { ...build, bars: bar ? [{ ...bar, across: 0 }] : [], steel: [] },
    }));
    const trials = { format: 1, open: 0, trials: [{ ...data, format: 2, pickups }], blind: [] };
    expect(data.pickups.every(({ build }) => build.bar)).toBe(true);
    expect(checkTrials(data)).toStrictEqual({ ok: true, trials });
    expect(await decodeLink(old(`${name}.link.txt`))).toStrictEqual({ ok: true, trials });
  });

  it.each(['one-coil-pickups', 'two-coil-pickups'])('%s', async (name) => {
    const data = JSON.parse(old(`${name}.json`)) as {
      instrument: { strings: object[] };
      pickups: { rows: { reach: object }[] }[];
      listen: object;
    };
    // What they left out, in full: a default that changes would change what somebody sent.
    const sheet = {
      ...data,
      format: 2,
      instrument: {
        ...data.instrument,
        radius: 0.241,
        strings: data.instrument.strings.map((s) => ({ ...s, wrap: 'nickel-plated steel' })),
      },
      pickups: data.pickups.map((p) => ({
        ...p,
        rows: p.rows.map((r) => ({ ...r, reach: { ...r.reach, fade: null } })),
        reachBy: 'hand',
        build: null,
      })),
      listen: { ...data.listen, tempo: 96, line: DEFAULT_LINE, through: 'cable' },
    };
    expect(checkSheet(data)).toStrictEqual({ ok: true, sheet });
    const trials = { format: 1, open: 0, trials: [sheet], blind: [] };
    expect(checkTrials(data)).toStrictEqual({ ok: true, trials });
    expect(await decodeLink(old(`${name}.link.txt`))).toStrictEqual({ ok: true, trials });
  });
});
