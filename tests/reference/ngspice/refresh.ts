/**
 * Writes the netlist of every circuit of tests/physics/circuit/circuits.ts and coil, runs ngspice on it and stores what
 * it printed. Run from the repository's root: npx tsx tests/reference/ngspice/refresh.ts
 */
import { execFileSync } from 'node:child_process';
import { readdirSync, rmSync, writeFileSync } from 'node:fs';
import { decks } from '../../physics/circuit/decks.ts';

const folder = import.meta.dirname;
for (const file of readdirSync(folder)) if (/\.(cir|csv)$/.test(file)) rmSync(`${folder}/${file}`);
for (const [name, text] of decks()) {
  writeFileSync(`${folder}/${name}.cir`, text);
  const printed = execFileSync('ngspice', ['-b', `${name}.cir`], { cwd: folder, encoding: 'utf8' });
  const rows = [...printed.matchAll(/^\d+\s+(\S+)\s+(\S+)\s+(\S+)\s*$/gm)];
  if (rows.length === 0) throw new Error(`ngspice printed no table for ${name}:\n${printed}`);
  const lines = rows.map(([, f, level, phase]) => `${f},${level},${phase}`);
  writeFileSync(`${folder}/${name}.csv`, `frequency_Hz,level_dB,phase_rad\n${lines.join('\n')}\n`);
}
