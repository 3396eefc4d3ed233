/**
 * Which kinds of job have a worker of their own: what is drawn or heard while something is dragged. What follows once a hand
 * rests takes turns: every worker compiles the same code for itself, which is most of what opening the page costs.
 */
import type { WorkerLike } from './lane.ts';
import { lifelineName, watchEnd } from './lifeline.ts';
import type { JobKind } from './protocol.ts';
import { Turns } from './turns.ts';

/** Who has a worker, or a share in one. A track by the gap wants nothing but what the field's worker has solved. */
export type Place = JobKind | 'track by the gap';

/** Those that share one, the most urgent first. */
const SHARING: readonly (readonly Place[])[] = [
  ['field', 'track by the gap'],
  ['level', 'beginning'],
  [
    'track',
    'why',
    'heard',
    'close',
    'space',
    'takenOut',
    'bench',
    'measured',
    'target',
    'balance',
    'matters',
    'search',
    'spread',
  ],
];

/** @param create for tests */
export function workers(create: () => WorkerLike = createWorker): (kind: Place) => WorkerLike {
  const shared = SHARING.map((kinds) => ({ kinds, turns: new Turns(create) }));
  return (kind) => {
    const among = shared.find(({ kinds }) => kinds.includes(kind));
    return among ? among.turns.seat(among.kinds.indexOf(kind)) : create();
  };
}

function createWorker(): WorkerLike {
  const name = lifelineName();
  // The bundler compiles the worker only when it sees exactly this expression.
  const worker = new Worker(new URL('./predict.worker.ts', import.meta.url), { type: 'module', name });
  return watchEnd(worker, name);
}
