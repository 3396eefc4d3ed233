/** The shell: the only place where everything meets. */
import '@fontsource/barlow/latin-400.css';
import '@fontsource/barlow/latin-500.css';
import '@fontsource/barlow/latin-600.css';
import { mount } from 'svelte';
import { JobClient } from './jobs/client.ts';
import { checkSheet } from './sheet/check.ts';
import { newHistory } from './sheet/history.ts';
import { wrap } from './sheet/trials.ts';
import { loadReader } from './sheet/units.ts';
import { Keeper } from './state/keeper.ts';
import { View } from './state/view.svelte.ts';
import { Workbench, type Preset } from './state/workbench.svelte.ts';
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

const jobs = new JobClient();
jobs.warm();
const keeper = new Keeper();
const restored = keeper.open(location.hash.length > 1);
const bench = new Workbench(
  restored.history ?? newHistory(wrap(first.sheet)),
  presets,
  jobs,
  new JobClient(),
  keeper,
);
bench.message = restored.message;
mount(App, { target, props: { bench, view: new View() } });

const openFragment = (): void => {
  const fragment = location.hash.slice(1);
  if (fragment) void bench.openLink(fragment);
};
window.addEventListener('hashchange', openFragment);
window.addEventListener('storage', (e) => {
  if (e.storageArea === localStorage) bench.keptElsewhere(e.key, e.newValue);
});
// Once the page is at rest, so that a figure can be typed without a network; not before, because it is the largest file.
window.setTimeout(() => void loadReader(), 4000);
openFragment();
