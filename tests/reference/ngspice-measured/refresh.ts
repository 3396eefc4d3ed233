/**
 * Writes the decks of tests/fixtures/measuredDecks.ts, runs ngspice on each and stores the table that it printed, as it came.
 * Run from the repository's root: npx tsx tests/reference/ngspice-measured/refresh.ts
 */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { DECKS, deckOf } from '../../fixtures/measuredDecks.ts';

const folder = import.meta.dirname;
for (const deck of DECKS) {
  writeFileSync(`${folder}/${deck.name}.cir`, deckOf(deck));
  const printed = execFileSync('ngspice', ['-b', `${deck.name}.cir`], { cwd: folder, encoding: 'utf8' });
  const lines = printed.split('\n');
  const first = lines.findIndex((line) => /^Index\s/.test(line));
  const last = lines.findLastIndex((line) => /^\d+\s/.test(line));
  if (first < 0) throw new Error(`ngspice printed no table for ${deck.name}:\n${printed}`);
  writeFileSync(`${folder}/${deck.name}.txt`, `${lines.slice(first, last + 1).join('\n')}\n`);
}
