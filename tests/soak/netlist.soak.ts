/** Every preset's circuit, computed cores and covers included, run by ngspice: each coil's level against our own circuit. */
import { expect, it } from 'vitest';
import { fieldsOf } from '../../src/physics/field.ts';
import { harnessNetwork } from '../../src/physics/circuit/harness.ts';
import { NetworkSolver } from '../../src/physics/circuit/network.ts';
import { resolve } from '../../src/physics/heard/resolve.ts';
import { decibels } from '../../src/physics/numerics/complex.ts';
import { netlists } from '../../src/physics/outputs.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { ngspice, spiceRows } from '../fixtures/ngspice.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { soakPlan } from './tools/plan.ts';

const { count } = soakPlan('netlist', 1, PRESETS.length, 0);
const there =
  ngspice('* is it there\nV1 a 0 AC 1\nR1 a 0 1\n.ac dec 1 20 200\n.print ac vdb(a) vp(a)\n.end\n') !== null;
if (!there) console.log('netlist: there is no ngspice on this machine, so nothing is run here.');

it.skipIf(!there).each(PRESETS.slice(0, count))(
  '[tool] $name: every coil within 0.05 dB, 20 Hz to 20 kHz',
  ({ data }) => {
    const checked = checkSheet(data);
    if (!checked.ok) throw new Error(checked.message);
    const { sheet } = checked;
    const fields = fieldsOf(sheet);
    const network = harnessNetwork(
      resolve(sheet, fields).pickups,
      sheet.harness,
      sheet.pickups.map(({ sounds }) => sounds),
    );
    const solver = new NetworkSolver(network);
    netlists(sheet, fields).forEach(({ suffix, text }, coil) => {
      const rows = spiceRows(ngspice(text)!);
      expect(rows).toHaveLength(301);
      const worst = rows.reduce((most, { frequency, level }) => {
        solver.solve(0, 2 * Math.PI * frequency);
        const ours = decibels(solver.transfer.re[coil]!, solver.transfer.im[coil]!);
        return Math.max(most, Math.abs(ours - level));
      }, 0);
      console.log(`netlist: ${sheet.title}, ${suffix}: ${worst.toFixed(4)} dB`);
      expect(worst).toBeLessThan(0.05);
    });
  },
);
