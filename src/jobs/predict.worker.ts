/** Runs the prediction off the page's thread. Every array of a result must be fresh: its buffer moves away. */
import type { LiveRequest } from '../physics/sound/live/types.ts';
import { answer, type Had } from './answer.ts';
import { lifelines } from './lifeline.ts';
import { physicsDoor } from './physicsDoor.ts';
import type { FeedMessage, JobRequest, WorkerSign } from './protocol.ts';

/** Straight to the worklet. */
let feed: MessagePort | null = null;
const door = physicsDoor((setup) => {
  if (!feed) return null;
  feed.postMessage({ kind: 'update', setup } satisfies LiveRequest);
  return performance.timeOrigin + performance.now();
});
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
  if (request.kind !== 'bench' && request.kind !== 'measured') respond(request);
  else
    void import('./benchDoor.ts').then(
      ({ bench, measured }) => {
        Object.assign(door, { bench, measured });
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
