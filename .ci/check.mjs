// npm run check: what can be said without running anything: types, components, lint, format.
import { setup } from './setup.mjs';

setup();
const { steps, runSteps } = await import('./steps.mjs');
await runSteps(steps.filter((step) => step.quick));
