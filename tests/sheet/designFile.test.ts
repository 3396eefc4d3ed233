/** Designs as files, and whatever else may lie under their name. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkTrials } from '../../src/sheet/checkTrials.ts';
import { isWav, LARGEST_DESIGN, readDesign, writeDesign } from '../../src/sheet/designFile.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { encodeWav } from '../../src/physics/sound/wav.ts';
import { arbitraryTrials } from '../fixtures/arbitrarySheet.ts';
import { fullestSheet, fullestTrials } from '../fixtures/fullestSheet.ts';
import { PRESETS } from '../fixtures/presets.ts';

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
const utf16 = (text: string, big: boolean): Uint8Array => {
  const bytes = Buffer.from(`\uFEFF${text}`, 'utf16le');
  return new Uint8Array(big ? bytes.swap16() : bytes);
};
const latin1 = (text: string): Uint8Array => new Uint8Array(Buffer.from(text, 'latin1'));
const said = (bytes: Uint8Array): string => {
  const read = readDesign(bytes);
  return read.ok ? 'opened' : read.message;
};

describe('a design', () => {
  it.each(PRESETS)('[exact] $name is one, and is written as it stands', ({ data }) => {
    const read = readDesign(utf8(JSON.stringify(data)));
    expect(read).toStrictEqual(checkTrials(data));
    if (read.ok) expect(JSON.parse(writeDesign(read.trials))).toStrictEqual(data);
  });

  it('[exact] what is written is read again, whatever it is', () => {
    fc.assert(
      fc.property(arbitraryTrials, (trials) => {
        expect(readDesign(utf8(writeDesign(trials)))).toStrictEqual({ ok: true, trials });
      }),
      { seed: 31, numRuns: 100 },
    );
  });

  it('[exact] the largest one fits ten times over', () => {
    expect(utf8(writeDesign(fullestTrials)).length).toBeLessThan(LARGEST_DESIGN / 3);
    expect(utf8(JSON.stringify(fullestTrials)).length).toBeLessThan(LARGEST_DESIGN / 8);
  });

  it('[exact] in UTF-16, and with a byte-order mark, it is the same', () => {
    const text = writeDesign(wrap({ ...fullestSheet, title: 'Ünïcode 弦' }));
    const plain = readDesign(utf8(text));
    expect(plain.ok).toBe(true);
    for (const bytes of [utf8(`\uFEFF${text}`), utf16(text, false), utf16(text, true)])
      expect(readDesign(bytes)).toStrictEqual(plain);
  });

  it('[exact] half a surrogate pair is left out of a title, and a field named __proto__ is nobody’s', () => {
    const text = writeDesign(wrap(fullestSheet))
      .replace(/"title": "[^"]*"/, '"title": "half \\ud83d a pair"')
      .replace('{', '{"__proto__": {"polluted": 1}, "constructor": {"prototype": {"polluted": 1}},');
    const read = readDesign(utf8(text));
    expect(read.ok && read.trials.trials[0]!.title).toBe('half  a pair');
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  });
});

describe('what is none is refused in words, with what to do', () => {
  const design = writeDesign(wrap(fullestSheet));
  const deep = '['.repeat(200_000) + ']'.repeat(200_000);
  it.each<[name: string, bytes: Uint8Array, sentence: RegExp]>([
    ['nothing', utf8(''), /^File must be a design, which is JSON; got an empty file\. «save the design»/],
    ['spaces', utf8(' \n'), /got an empty file/],
    ['a picture', latin1('\x89PNG\r\n\x1a\n\0\0\0\rIHDR'), /got a picture/],
    ['a photograph', latin1('\xff\xd8\xff\xe0\0\x10JFIF'), /got a picture/],
    ['a sound', encodeWav(new Float64Array(8), 48000, '24'), /got a sound/],
    ['an archive', latin1('PK\x03\x04\x14'), /got an archive/],
    ['a drawing', utf8('<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg"/>'), /got a drawing/],
    ['a web page', utf8('<!doctype html><title>x</title>'), /got a web page/],
    ['a curve', utf8('frequency / Hz,"circuit / dB, 1 neck"\r\n20,0.1\r\n'), /got a table/],
    ['a table that begins with figures', utf8('20,0.1\r\n30,0.2\r\n'), /got a table/],
    ['a circuit', utf8('* neck\nR1 a b 5\n.ac dec 100 20 20000\n.end\n'), /got a circuit/],
    ['a letter', utf8('Dear maker, thank you'), /got a text of another kind/],
    ['figures', utf8('{"title":"x","note":1,"voices":[]}'), /got the figures of one/],
    ['Latin-1', latin1('{"title": "Gr\xfc\xdfe"}'), /got bytes that are no text in UTF-8 or UTF-16/],
    ['half a letter of UTF-16', utf16(design, false).subarray(0, 1001), /got bytes that are no text/],
    ['zeros', new Uint8Array(1000), /got bytes that are no text/],
    ['a number', utf8('12'), /^Sheet must be a group of fields; got 12\./],
    ['a list', utf8('[]'), /^Sheet must be a group of fields; got a list of 0\./],
    ['a cut design', utf8(design.slice(0, -20)), /^Design must be whole JSON; got a text that breaks off/],
    ['NaN', utf8(design.replace(/"strum": [\d.]+/, '"strum": NaN')), /^Design must be whole JSON/],
    [
      'a figure past all figures',
      utf8(design.replace(/"strum": [\d.]+/, '"strum": 1e999')),
      /^Strum time must be a finite figure; got Infinity\.$/,
    ],
    ['depths', utf8(deep), /^(Sheet must be a group of fields; got a list of 1\.|Design must be whole JSON)/],
    [
      'depths in a design',
      utf8(design.replace('"notes": "', `"depth": ${deep}, "notes": "`)),
      /^opened$|^Design must be whole JSON/,
    ],
    ['too much', new Uint8Array(LARGEST_DESIGN + 1), /got 1\.0 MB, and no design is larger than 1 MB/],
    [
      'another format',
      utf8(design.replace('"format": 2', '"format": 3')),
      /^Sheet must be of format 1 or 2; got 3\. A newer Lodetone/,
    ],
  ])('%s', (_, bytes, sentence) => {
    expect(said(bytes)).toMatch(sentence);
  });

  it('whatever is cut out of one, or spoilt, is a design or a sentence, at once', () => {
    const whole = utf8(design);
    fc.assert(
      fc.property(fc.nat(whole.length), fc.nat(40), fc.uint8Array({ maxLength: 6 }), (at, cut, put) => {
        const bytes = new Uint8Array([...whole.subarray(0, at), ...put, ...whole.subarray(at + cut)]);
        const read = readDesign(bytes);
        if (read.ok) expect(checkTrials(read.trials)).toStrictEqual(read);
        else expect(read.message).toMatch(/ must .*; got .*\./);
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it('[exact] a WAV is known by how it begins', () => {
    expect(isWav(encodeWav(new Float64Array(8), 48000, 'float'))).toBe(true);
    expect([utf8('RIFF'), latin1('RIFF\0\0\0\0WEBP'), utf8(design)].map(isWav)).toStrictEqual([
      false,
      false,
      false,
    ]);
  });
});
