/** Whether every source that code and tests name has its entry in REFERENCES.md, and every entry is named. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const read = (path: string): string => readFileSync(path, 'utf8');

/** Texts of all files in which people write, by path from the repository's root. */
const texts = new Map(
  ['src', 'tests'].flatMap((room) =>
    readdirSync(room, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && /\.(ts|svelte|css)$/.test(entry.name))
      .map((entry) => `${entry.parentPath}/${entry.name}`)
      .filter((path) => !path.endsWith('tooling/references.test.ts'))
      .map((path) => [path, read(path)] as const),
  ),
);

const references = read('src/physics/REFERENCES.md');
const keys = Array.from(references.matchAll(/^- \[(\w+)\]/gm), ([, key]) => key!);

/** What stands in square brackets as only a key does, letters and then a year; and what tests give as a printed source. */
function* cited(): Generator<readonly [path: string, key: string]> {
  for (const [path, text] of texts) {
    for (const [, key] of text.matchAll(/\[([A-Z][A-Za-z]+(?:1[89]|20)\d\d)\]/g)) yield [path, key!];
    for (const [, sources] of text.matchAll(/\[paper: ([^\]]+)\]/g)) {
      for (const source of sources!.split(';')) yield [path, source.trim().split(',')[0]!];
    }
  }
}

describe('sources', () => {
  it('stand in the order of their keys, each once', () => {
    const inOrder = [...new Set(keys)].sort((a, b) => (a.toLowerCase() < b.toLowerCase() ? -1 : 1));
    expect(keys).toEqual(inOrder);
  });

  it('that are cited have an entry', () => {
    const missing = [...cited()].filter(([, key]) => !keys.includes(key));
    expect(missing).toEqual([]);
  });

  it('that have an entry are cited', () => {
    const all = [...texts.values()].join('\n');
    const named = new Set(Array.from(cited(), ([, key]) => key));
    expect(keys.filter((key) => !named.has(key) && !all.includes(`[${key}]`))).toEqual([]);
  });

  it('that are standards are listed by their number', () => {
    const missing = [...texts].flatMap(([path, text]) =>
      Array.from(text.matchAll(/\b(ISO|IEC|RFC|WCAG|ASTM) (\d+(?:\.\d)?)/g), ([standard]) => standard)
        .filter((standard) => !new RegExp(`\\b${standard.replace('.', '\\.')}\\b`).test(references))
        .map((standard) => [path, standard]),
    );
    expect(missing).toEqual([]);
  });
});
