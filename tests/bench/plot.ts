/** Time to draw curves, bells and waves as path text; prints figures. Run: npm run bench -- plot */
import { bell } from '../../src/plot/bell.ts';
import { curvePath } from '../../src/plot/path.ts';
import { linearScale, logScale } from '../../src/plot/scale.ts';
import { standingWave } from '../../src/plot/standingWave.ts';
import { wavePath } from '../../src/plot/wave.ts';

function measure(what: string, draw: () => { length: number }, runs = 300): void {
  for (let i = 0; i < runs; i++) draw();
  const start = performance.now();
  let letters = 0;
  for (let i = 0; i < runs; i++) letters = draw().length;
  const each = (performance.now() - start) / runs;
  console.log(`${what}: ${each.toFixed(3)} ms, ${letters} letters`);
}

const frequencies = Float64Array.from({ length: 512 }, (_, i) => 20 * 1000 ** (i / 511));
const comb = frequencies.map((f) => 20 * Math.log10(Math.abs(Math.sin(f / 300))));
const dense = Float64Array.from({ length: 8192 }, (_, i) => 20 * 1000 ** (i / 8191));
const denseComb = dense.map((f) => 20 * Math.log10(Math.abs(Math.sin(f / 300))));
const fx = logScale([20, 20000], [0, 676]);
const fy = linearScale([-42, 18], [256, 0]);
measure('curve of 512 points', () => curvePath(frequencies, comb, fx, fy));
measure('curve of 8192 points', () => curvePath(dense, denseComb, fx, fy));

const x = Float64Array.from({ length: 512 }, (_, i) => (i * 0.06) / 511);
const value = x.map((at) => Math.exp(-0.5 * ((at - 0.03) / 0.005) ** 2));
const along = linearScale([0, 0.06], [0, 580]);
measure('bell of 512 samples', () => bell({ x, value, scale: along, baseline: 320, height: 80 }).area);

const string = linearScale([0, 0.648], [1300, 0]);
measure(
  'standing wave of partial 20',
  () => standingWave({ n: 20, length: 0.648, x: string, centre: 0, amplitude: 18 }).upper,
);

const samples = Float64Array.from({ length: 192000 }, (_, i) => Math.sin(i / 20) * Math.exp(-i / 6e4));
measure(
  'waveform, 4 s at 48 kHz over 340 px',
  () => wavePath({ samples, width: 340, centre: 45, halfHeight: 45 }),
  100,
);
