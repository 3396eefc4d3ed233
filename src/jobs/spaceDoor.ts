/** Flux lines in space and what parts do to the field, in a file of their own: a worker loads it when one of them is first asked for. */
export { space } from '../physics/space.ts';
export { withoutPart as takenOut } from '../physics/takenOut.ts';
