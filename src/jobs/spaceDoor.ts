/** Flux lines in space, in a file of their own: a worker loads it when it is first asked for. */
export { space } from '../physics/space.ts';
