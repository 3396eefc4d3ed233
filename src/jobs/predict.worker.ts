/** Runs the prediction off the page's thread. Every array of a result must be fresh: its buffer moves away. */
import { close } from '../physics/close.ts';
import { FieldSolver } from '../physics/field.ts';
import { pictures } from '../physics/picture.ts';
import { liveSetup, phraseLevel, predict, render, through } from '../physics/predict.ts';
import type { LiveRequest } from '../physics/sound/live/types.ts';
import { answer, type Had } from './answer.ts';
import { lifelines } from './lifeline.ts';
import type { FeedMessage, JobRequest, WorkerSign } from './protocol.ts';

const solver = new FieldSolver();
/** Straight to the worklet. */
let feed: MessagePort | null = null;
const had: Had = { fields: null };

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
  const { response, transfer } = answer(
    event.data,
    {
      field: (sheet, { wanted }) => solver.fields(sheet, wanted),
      predict: (sheet, fields) => predict(sheet, fields ?? solver.fields(sheet)),
      render: (sheet, fields) => render(sheet, fields ?? solver.fields(sheet)),
      live: (sheet, wish, fields) => {
        const setup = liveSetup(sheet, wish.sampleRate, wish.gain, fields ?? solver.fields(sheet));
        if (!wish.feed || !feed) return { setup, fedAt: null };
        feed.postMessage({ kind: 'update', setup } satisfies LiveRequest);
        return { setup, fedAt: performance.timeOrigin + performance.now() };
      },
      through: (sheet, playing, fields) => through(sheet, playing, fields ?? solver.fields(sheet)),
      level: (sheet, fields) => phraseLevel(sheet, fields ?? solver.fields(sheet)),
      close: (sheet, { pickup, cents }) => close(sheet, pickup, cents),
      picture: pictures,
    },
    had,
  );
  self.postMessage(response, { transfer });
});
