/** What all other bodies do to each one. */
import { ringSelfBlocks } from './assemble.ts';
import { boxSelfBlock } from './boxBlocks.ts';
import type { Coupling } from './assemble.ts';
import { times } from './chargeSolver.ts';

/**
 * Mean normal field on every unknown of the charges on all bodies but its own, A/m; `density` in A/m too.
 * Source: as the matrix itself, see assemble; where bodies touch, as the solver has it (contacts).
 */
export function fieldOfOthers(coupling: Coupling, density: Float64Array): Float64Array {
  const field = times(coupling, density);
  coupling.bodies.forEach((body, b) => {
    const at = coupling.offsets[b]!;
    if (body.kind === 'box') {
      subtract(boxSelfBlock(body), density, field, at);
      return;
    }
    const [uniform, cosine] = ringSelfBlocks(body.mesh);
    subtract(uniform, density, field, at);
    subtract(cosine, density, field, at + body.mesh.n);
    subtract(cosine, density, field, at + 2 * body.mesh.n);
  });
  return field;
}

/** Takes off what a square block makes of the densities from `at` on. */
function subtract(block: Float64Array, density: Float64Array, field: Float64Array, at: number): void {
  const n = Math.round(Math.sqrt(block.length));
  let any = false;
  for (let j = 0; j < n && !any; j++) any = density[at + j] !== 0;
  if (!any) return;
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += block[i * n + j]! * density[at + j]!;
    field[at + i] = field[at + i]! - sum;
  }
}
