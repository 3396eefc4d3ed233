/** Time to compute a curve of 512 points; prints a figure. Run: npm run bench -- circuit */
import { harnessTransfer } from '../../src/physics/circuit/harness.ts';
import { coilB, coilC, controls, harness, pickup } from '../physics/circuit/circuits.ts';

const set = controls(0.7, 0.3, { bleed: { capacitance: 1e-9, resistance: 150e3, arrangement: 'series' } });
const pickups = ['neck', 'middle', 'bridge'].map((name) => pickup([coilB, coilC], { name }));
const wired = harness([set, set, set], { wiring: 'own' });
const frequencies = Float64Array.from({ length: 512 }, (_, i) => 20 * 1000 ** (i / 511));
const curve = (): unknown => harnessTransfer(pickups, wired, [true, true, true], frequencies);

const runs = 200;
for (let i = 0; i < runs; i++) curve();
const start = performance.now();
for (let i = 0; i < runs; i++) curve();
const each = (performance.now() - start) / runs;
console.log(`circuit, 512 frequencies, three two-coil pickups with own controls: ${each.toFixed(2)} ms`);
