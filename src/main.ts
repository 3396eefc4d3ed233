/** The shell: the only place where everything meets. */
import '@fontsource/barlow/latin-400.css';
import '@fontsource/barlow/latin-500.css';
import '@fontsource/barlow/latin-600.css';
import { mount } from 'svelte';
import { JobClient } from './jobs/client.ts';
import { checkSheet } from './sheet/check.ts';
import { checkTrials } from './sheet/checkTrials.ts';
import { wrap, type Trials } from './sheet/trials.ts';
import { loadReader } from './sheet/units.ts';
import { recall } from './state/storage.ts';
import { View } from './state/view.svelte.ts';
import { SHEET_KEY, Workbench, type Preset } from './state/workbench.svelte.ts';
import App from './ui/App.svelte';
import './ui/paper.css';

const files = import.meta.glob('../presets/*.json', { eager: true, import: 'default' });
const presets: Preset[] = Object.keys(files)
  .sort()
  .flatMap((path) => {
    const checked = checkSheet(files[path]);
    return checked.ok ? [{ name: checked.sheet.title, sheet: checked.sheet }] : [];
  });
const first = presets[0];
const target = document.getElementById('sheet');
if (!first || !target) throw new Error('The page must hold a #sheet element and at least one preset sheet.');

/** The document left open last time, or the single sheet of an earlier version, if it still reads. */
function kept(): { trials: Trials | null; message: string } {
  const text = recall(SHEET_KEY);
  if (text === null) return { trials: null, message: '' };
  try {
    const checked = checkTrials(JSON.parse(text));
    if (checked.ok) return { trials: checked.trials, message: '' };
  } catch {
    // Not even JSON; the sentence below covers it.
  }
  return {
    trials: null,
    message: 'The sheet kept from the last visit could not be read. A preset is open instead.',
  };
}

const jobs = new JobClient();
jobs.warm();
const restored = kept();
const bench = new Workbench(restored.trials ?? wrap(first.sheet), presets, jobs, new JobClient());
bench.message = restored.message;
mount(App, { target, props: { bench, view: new View() } });

const openFragment = (): void => {
  const fragment = location.hash.slice(1);
  if (fragment) void bench.openLink(fragment);
};
window.addEventListener('hashchange', openFragment);
window.addEventListener('storage', (e) => {
  if (e.key === SHEET_KEY && e.newValue !== null) bench.keptElsewhere();
});
// Once the page is at rest, so that a figure can be typed without a network; not before, because it is the largest file.
window.setTimeout(() => void loadReader(), 4000);
openFragment();
