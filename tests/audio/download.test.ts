import { describe, expect, it } from 'vitest';
import { fileName } from '../../src/audio/download.ts';

describe('file names', () => {
  it.each([
    ['Skerry neck, bevelled', 'Skerry neck, bevelled.wav'],
    // Characters that Windows forbids in names (Microsoft, "Naming Files, Paths, and Namespaces", from memory).
    ['a/b\\c:d*e?f"g<h>i|j', 'a b c d e f g h i j.wav'],
    ['../../etc', 'etc.wav'],
    ['line\nbreak\u202egnp', 'line break gnp.wav'],
    ['...', 'sheet.wav'],
    ['', 'sheet.wav'],
    ['3 m Kabel, grün', '3 m Kabel, grün.wav'],
  ])('%j becomes %j', (title, name) => {
    expect(fileName(title, 'wav')).toBe(name);
  });

  it('stay within the 255 bytes that file systems allow, without cutting a letter in two', () => {
    const name = fileName('🎸'.repeat(300), 'wav');
    expect(new TextEncoder().encode(name).length).toBeLessThanOrEqual(255);
    expect(name).toBe(`${'🎸'.repeat(50)}.wav`);
  });
});
