/** How well self-capacitance is known is said in several places, and is the same in all of them. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { BARE_SPREAD, LEADS_SPREAD } from '../../src/shape/selfCapacitance.ts';

it('is written in words as a maker reads it', () => {
  expect(BARE_SPREAD).toBe('−30 to +45 %');
  expect(LEADS_SPREAD).toBe('15 to 65 pF');
});

it('is nowhere else in the program, and is what README says', () => {
  const twins = readdirSync('src', { recursive: true, encoding: 'utf8' })
    .filter((file) => /\.(ts|svelte)$/.test(file) && !file.endsWith('selfCapacitance.ts'))
    .filter((file) => /\+ ?45 %|15 (to|–) ?65 pF|65e-12/.test(readFileSync(`src/${file}`, 'utf8')));
  expect(twins).toEqual([]);
  const readme = readFileSync('README.md', 'utf8');
  expect(readme).toContain(BARE_SPREAD);
  expect(readme).toContain(LEADS_SPREAD);
});
