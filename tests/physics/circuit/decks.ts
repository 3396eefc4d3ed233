/** The netlists that the stored simulator results belong to: one a circuit and coil. */
import { netlist } from '../../../src/physics/circuit/netlist.ts';
import { circuits, coredCircuits } from './circuits.ts';

const sweep = { perDecade: 20, from: 20, to: 20000 };

export function deckName(circuit: string, coil: number): string {
  return `${circuit}.coil${coil + 1}`;
}

export function decks(): Map<string, string> {
  const all = new Map<string, string>();
  for (const [name, network] of Object.entries({ ...circuits, ...coredCircuits })) {
    network.coils.forEach((_, coil) => {
      const title = `${name}, 1 V in coil ${coil + 1}`;
      all.set(deckName(name, coil), netlist(network, { title, coil, sweep }));
    });
  }
  return all;
}
