// npm test: everything. With names of steps (npm test -- unit build browser): just those.
import { beginInstall, findChromium, findWavReader } from './programs.mjs';
import { setup, stop } from './setup.mjs';

const names = process.argv.slice(2);
const programs = names.length === 0 ? beginInstall() : undefined;
setup();
await programs;
const { steps, runSteps } = await import('./steps.mjs'); // after setup: it may import installed packages
const unknown = names.find((name) => !steps.some((step) => step.name === name));
if (unknown !== undefined) {
  stop(`A step must be one of ${steps.map((step) => step.name).join(', ')}; got ${unknown}.`);
}
const wanted = steps.filter((step) => names.length === 0 || names.includes(step.name));
if (wanted.some(({ name }) => ['browser', 'sound'].includes(name)))
  process.env['LODETONE_CHROMIUM'] = findChromium();
if (wanted.some((step) => step.name === 'unit')) findWavReader();
await runSteps(wanted);
