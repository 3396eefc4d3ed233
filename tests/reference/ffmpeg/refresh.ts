/**
 * Measures every signal of signals.ts with ffmpeg's ebur128 filter and stores what it printed. Run from the repository's
 * root: npx tsx tests/reference/ffmpeg/refresh.ts
 */
import { writeFileSync } from 'node:fs';
import { measureByFfmpeg, versionOfFfmpeg } from './measure.ts';
import { signals } from './signals.ts';

const measured = signals().map(({ name, samples, sampleRate }) => ({
  name,
  ...measureByFfmpeg(samples, sampleRate),
}));
writeFileSync(
  `${import.meta.dirname}/ebur128.json`,
  `${JSON.stringify({ version: versionOfFfmpeg(), measured }, null, 2)}\n`,
);
