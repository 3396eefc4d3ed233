/** Runs the prediction off the page's thread. Every array of a result must be fresh: its buffer moves away. */
import { FieldSolver } from '../physics/field.ts';
import type { LiveRequest, LiveSetup } from '../physics/sound/live/types.ts';
import { answer, type Door, type Had, type LaterKind } from './answer.ts';
import { lifelines } from './lifeline.ts';
import { physicsDoor } from './physicsDoor.ts';
import type { FeedMessage, JobKind, JobRequest, WorkerSign } from './protocol.ts';

/** Straight to the worklet. */
let feed: MessagePort | null = null;
const solver = new FieldSolver();
const door = physicsDoor(solver);
const fed = (setup: LiveSetup): number | null => {
  if (!feed) return null;
  feed.postMessage({ kind: 'update', setup } satisfies LiveRequest);
  return performance.timeOrigin + performance.now();
};

const atSound = (): Promise<Partial<Door>> =>
  import('./liveDoor.ts').then(({ liveDoor }) => liveDoor(fed, solver));

const atRest = (): Promise<Partial<Door>> => import('./restDoor.ts').then(({ restDoor }) => restDoor(solver));
const atBench = (): Promise<Partial<Door>> =>
  import('./benchDoor.ts').then(({ bench, measured, through }) => ({ bench, measured, through }));
const atSpace = (): Promise<Partial<Door>> => import('./spaceDoor.ts');
const atSolder = (): Promise<Partial<Door>> =>
  import('./solderDoor.ts').then(({ solderDoor }) => solderDoor(solver));
const LATER: Readonly<Record<LaterKind, () => Promise<Partial<Door>>>> = {
  ...{ sound: atSound, beginning: atSound, live: atSound, level: atSound },
  ...{ close: atRest, track: atRest, why: atRest, heard: atRest },
  ...{ bench: atBench, measured: atBench, through: atBench },
  ...{ spread: atSolder, matters: atSolder, target: atSolder, balance: atSolder, search: atSolder },
  space: atSpace,
  takenOut: atSpace,
};
const isLater = (kind: JobKind): kind is LaterKind => kind in LATER;
const had: Had = new Map();

const tell = (sign: WorkerSign['sign']): void => self.postMessage({ sign } satisfies WorkerSign);

// Held for good: the browser lets go of it when this worker ends, however that comes about. See lifeline.ts.
if (self.name !== '')
  void lifelines()?.request(self.name, () => {
    tell('held');
    return new Promise(() => {});
  });

self.addEventListener('message', (event: MessageEvent<JobRequest | FeedMessage>) => {
  if (event.data.kind === 'feed') {
    feed = event.ports[0] ?? null;
    return;
  }
  tell('begun');
  const request = event.data;
  const { kind } = request;
  if (!isLater(kind) || door[kind]) respond(request);
  else
    void LATER[kind]().then(
      (part) => {
        Object.assign(door, part);
        respond(request);
      },
      // Without its file the answer is a sentence too.
      () => respond(request),
    );
});

function respond(request: JobRequest): void {
  const { response, transfer } = answer(request, door, had);
  self.postMessage(response, { transfer });
}
