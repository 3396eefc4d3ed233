/** Runs the prediction off the page's thread. Every array of a result must be fresh: its buffer moves away. */
import { close } from '../physics/close.ts';
import { FieldSolver } from '../physics/field.ts';
import { liveSetup, phraseLevel, predict, render, through } from '../physics/predict.ts';
import { answer } from './answer.ts';
import type { JobRequest } from './protocol.ts';

const solver = new FieldSolver();

self.addEventListener('message', (event: MessageEvent<JobRequest>) => {
  const { response, transfer } = answer(event.data, {
    predict: (sheet) => predict(sheet, solver.fields(sheet)),
    render: (sheet) => render(sheet, solver.fields(sheet)),
    live: (sheet, { sampleRate, gain }) => liveSetup(sheet, sampleRate, gain, solver.fields(sheet)),
    through: (sheet, { recording, from }) =>
      through(sheet, { recording, from, fromFields: from && solver.fields(from) }, solver.fields(sheet)),
    level: (sheet) => phraseLevel(sheet, solver.fields(sheet)),
    close: (sheet, { pickup, cents }) => close(sheet, pickup, cents),
  });
  self.postMessage(response, { transfer });
});
