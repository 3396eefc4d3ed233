/** Runs the prediction off the page's thread. Every array of a result must be fresh: its buffer moves away. */
import { liveSetup, phraseLevel, predict, render, through } from '../physics/predict.ts';
import { answer } from './answer.ts';
import type { JobRequest } from './protocol.ts';

self.addEventListener('message', (event: MessageEvent<JobRequest>) => {
  const { response, transfer } = answer(event.data, {
    predict,
    render,
    live: (sheet, { sampleRate, gain }) => liveSetup(sheet, sampleRate, gain),
    through,
    level: phraseLevel,
  });
  self.postMessage(response, { transfer });
});
