/** Runs the prediction off the page's thread. Every array of a result must be fresh: its buffer moves away. */
import { close } from '../physics/close.ts';
import { FieldSolver } from '../physics/field.ts';
import { pictures } from '../physics/picture.ts';
import { liveSetup, phraseLevel, predict, render, through } from '../physics/predict.ts';
import { answer } from './answer.ts';
import type { JobRequest } from './protocol.ts';

const solver = new FieldSolver();

self.addEventListener('message', (event: MessageEvent<JobRequest>) => {
  const { response, transfer } = answer(event.data, {
    field: (sheet, { wanted }) => solver.fields(sheet, wanted),
    predict: (sheet, fields) => predict(sheet, fields ?? solver.fields(sheet)),
    render: (sheet, fields) => render(sheet, fields ?? solver.fields(sheet)),
    live: (sheet, { sampleRate, gain }, fields) =>
      liveSetup(sheet, sampleRate, gain, fields ?? solver.fields(sheet)),
    through: (sheet, playing, fields) => through(sheet, playing, fields ?? solver.fields(sheet)),
    level: (sheet, fields) => phraseLevel(sheet, fields ?? solver.fields(sheet)),
    close: (sheet, { pickup, cents }) => close(sheet, pickup, cents),
    picture: pictures,
  });
  self.postMessage(response, { transfer });
});
