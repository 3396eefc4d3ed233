/**
 * Share of real time that the live engine takes, over the first second of a six-string strum when everything rings and
 * over four seconds; how it grows with strings, coils and sample rate, and while a control is dragged all the time.
 * Run with `npm run bench -- live`. Asserts nothing.
 */
import { LiveEngine } from '../../src/physics/sound/live/engine.ts';
import { liveSetup } from '../../src/physics/sound/live/setup.ts';
import type { LiveSetup } from '../../src/physics/sound/live/types.ts';
import type { ResolvedSheet as Sheet } from '../../src/sheet/sheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { median } from './tools/median.ts';

const BLOCK = 128;

function withFade(sheet: Sheet, fade: number | null): Sheet {
  const pickups = sheet.pickups.map((pickup) => ({
    ...pickup,
    rows: pickup.rows.map((row) => ({ ...row, reach: { ...row.reach, fade } })),
  }));
  return { ...sheet, pickups };
}

/** The first so many strings, open. */
function strings(sheet: Sheet, count: number): Sheet {
  const chord = Array.from({ length: 6 }, (_, i) => (i >= 6 - count ? 0 : null));
  return { ...sheet, listen: { ...sheet.listen, chord } };
}

/** Pickups that all sound, with coils too unlike to be filtered as one. */
function unlike(sheet: Sheet, pickups: number, rows: number): Sheet {
  return {
    ...sheet,
    pickups: sheet.pickups.map((pickup, i) => ({
      ...pickup,
      sounds: i < pickups,
      rows: Array.from({ length: rows }, (_, r) => {
        const row = pickup.rows[0]!;
        return { ...row, offset: 0.018 * r, coil: { ...row.coil, inductance: 2 + i + 0.3 * r } };
      }),
    })),
  };
}

interface Cost {
  readonly first: number;
  readonly all: number;
  readonly worstBlock: number;
}

/** Shares of real time. @param drag setups that take turns every 16 ms */
function cost(setup: LiveSetup, seconds: number, drag: readonly LiveSetup[] = []): Cost {
  const { sampleRate } = setup;
  const out = new Float32Array(BLOCK);
  const engine = new LiveEngine(sampleRate);
  engine.play(setup);
  const blocks = Math.round((seconds * sampleRate) / BLOCK);
  const every = Math.round((0.016 * sampleRate) / BLOCK);
  const times = Array.from({ length: blocks }, (_, i) => {
    const start = performance.now();
    if (drag.length > 0 && i % every === 0) engine.update(drag[(i / every) % drag.length]!);
    engine.process(out);
    return performance.now() - start;
  });
  const length = (1000 * BLOCK) / sampleRate;
  const share = (part: readonly number[]) => part.reduce((sum, t) => sum + t, 0) / (part.length * length);
  return {
    first: share(times.slice(0, Math.round(sampleRate / BLOCK))),
    all: share(times),
    worstBlock: Math.max(...times) / length,
  };
}

const percent = (share: number) => `${(100 * share).toFixed(1)} %`;

function report(name: string, setup: LiveSetup, drag: readonly LiveSetup[] = []): void {
  cost(setup, 1, drag);
  const { first, all, worstBlock } = cost(setup, 4, drag);
  const notes = setup.notes.reduce((sum, note) => sum + note.angular.length, 0);
  console.log(
    `${name}: first second ${percent(first)}, four seconds ${percent(all)}, longest block ${percent(worstBlock)} (${notes} modes, ${setup.ears.length} ears, ${setup.filters.length} filters)`,
  );
}

const sheet = exampleSheet();
const bent = withFade(sheet, 0.005);
for (const rate of [44100, 48000, 96000]) {
  report(`six strings, one coil, straight, ${rate} Hz`, liveSetup(withFade(sheet, null), rate));
  report(`six strings, one coil, bent, ${rate} Hz`, liveSetup(bent, rate));
}
for (const count of [1, 2, 4])
  report(`${count} open strings, one coil`, liveSetup(strings(bent, count), 48000));
report('six strings, two coils', liveSetup(unlike(bent, 1, 2), 48000));
report('six strings, three coils', liveSetup(unlike(bent, 3, 1), 48000));
report('six strings, six coils', liveSetup(unlike(bent, 3, 2), 48000));
const drag = [0.1, 0.11, 0.12, 0.13].map((place) => {
  const pickups = bent.pickups.map((pickup) => ({ ...pickup, place }));
  return liveSetup({ ...bent, pickups }, 48000);
});
report('six strings, one coil, dragged', liveSetup(bent, 48000), drag);

for (const rate of [48000, 96000]) {
  console.log(`setup, six strings, ${rate} Hz: ${median(20, () => liveSetup(bent, rate)).toFixed(1)} ms`);
}
const matched = { ...bent, listen: { ...bent.listen, level: 'matched' as const } };
console.log(`setup, level matched: ${median(20, () => liveSetup(matched, 48000)).toFixed(1)} ms`);
