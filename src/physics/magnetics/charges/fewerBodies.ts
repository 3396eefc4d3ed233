/** Some of the bodies by themselves, from the matrix of all. */
import { offsetsOf } from '../bodies/body.ts';
import { findMirror, noMirror } from '../bodies/mirror.ts';
import { assemble } from './assemble.ts';
import type { Coupling } from './assemble.ts';
import { sharingFactors } from './chargeSolver.ts';
import { findContacts } from './contacts.ts';

/**
 * The coupling (1) of those bodies that stay: what assemble gives for them, without any pair being computed again.
 *
 * @param stays whether the body of an index does
 */
export function fewerBodies(coupling: Coupling, stays: (body: number) => boolean): Coupling {
  const numbers = [...coupling.bodies.keys()].filter(stays);
  if (numbers.length === coupling.bodies.length) return coupling;
  const bodies = numbers.map((b) => coupling.bodies[b]!);
  const offsets = offsetsOf(bodies);
  const representatives = (coupling.representatives.symmetric ? findMirror : noMirror)(bodies, offsets);
  const contacts = findContacts(bodies, offsets, representatives);
  const { of, count } = coupling.representatives;
  const places = new Int32Array(representatives.count);
  numbers.forEach((b, k) => {
    for (let i = offsets[k]!; i < offsets[k + 1]!; i++) {
      const to = representatives.of[i]!;
      if (to >= 0 && representatives.unknown[to] === i)
        places[to] = of[coupling.offsets[b]! + i - offsets[k]!]!;
    }
  });
  // What lay against a body that is gone has a field of its own again.
  const hidden = new Set(coupling.contacts.hidden);
  const left = new Set(Array.from(contacts.hidden, (i) => places[i]!));
  const lost = places.some((place) => hidden.has(place) && !left.has(place));
  const halved = representatives.symmetric === coupling.representatives.symmetric;
  // A pole that is gone may have hidden a plate from another, or stood between; such builds are computed anew.
  if (lost || !halved || bodies.some(({ kind }) => kind === 'ring')) return assemble(bodies);
  const n = representatives.count;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const row = places[i]! * count;
    for (let j = 0; j < n; j++) matrix[i * n + j] = coupling.matrix[row + places[j]!]!;
  }
  return sharingFactors(coupling, { bodies, offsets, representatives, matrix, harmonics: [], contacts });
}
