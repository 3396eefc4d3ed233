/**
 * Solves every wound string of the sets, and some beyond them, by finite elements, and stores what FreeFem++ printed.
 * Run from the repository's root: npx tsx tests/reference/wound-strings/refresh.ts (half an hour)
 */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { STRING_SETS } from '../../../src/sheet/strings.ts';

const folder = import.meta.dirname;

/** One line of JSON for each that the program prints. */
function solve(file: string, figures: Readonly<Record<string, number>>): string[] {
  const options = Object.entries(figures).flatMap(([name, value]) => [`-${name}`, String(value)]);
  const printed = execFileSync('FreeFem++', ['-nw', '-v', '0', file, ...options], {
    cwd: folder,
    encoding: 'utf8',
  });
  const lines = printed.split('\n').filter((line) => line.startsWith('{'));
  if (lines.length === 0) throw new Error(`${file} printed nothing for ${options.join(' ')}:\n${printed}`);
  return lines;
}

const store = (name: string, lines: readonly string[]): void =>
  writeFileSync(`${folder}/${name}.json`, `[\n${lines.map((line) => `  ${line}`).join(',\n')}\n]\n`);

const wound = STRING_SETS.flatMap(({ strings }) => strings.filter((s) => s.construction === 'wound'));
const ratios = [...new Set(wound.map((s) => Number((s.diameter / s.core).toFixed(4))))].sort((a, b) => a - b);
/** Permeability and Ms (A/m) of the wraps that are magnetic: steel, ferritic stainless steel, nickel. */
const metals = [
  [100, 1.67e6],
  [60, 1.2e6],
  [20, 4.85e5],
] as const;

store('one-pitch', [
  ...ratios.flatMap((ratio) => metals.flatMap(([muw]) => solve('one-pitch.edp', { ratio, muw }))),
  // Beyond the sets: thin and thick wraps, and metals easier and harder to magnetise.
  ...[1.4, 2.5, 5].flatMap((ratio) => [2, 5, 200].flatMap((muw) => solve('one-pitch.edp', { ratio, muw }))),
]);
// What a looser and a tighter winding, a deeper seat and another core come to: how far the figures can be trusted.
store('one-pitch-spread', [
  ...[0.003, 0.03].flatMap((gap) => solve('one-pitch.edp', { gap })),
  ...[0.0002, 0.004, 0.015].flatMap((dent) => solve('one-pitch.edp', { dent })),
  ...solve('one-pitch.edp', { muc: 70 }),
  ...solve('one-pitch.edp', { err: 0.001 }),
]);
store(
  'wave',
  [
    [4, 100],
    [8, 100],
    [16, 100],
    [8, 20],
  ].flatMap(([turns, muw]) => solve('wave.edp', { turns: turns!, muw: muw! })),
);
store(
  'saturated',
  [1.85, 2.3, 2.875].flatMap((ratio) =>
    metals.flatMap(([muw, Msw]) => solve('saturated.edp', { ratio, muw, Msw })),
  ),
);
