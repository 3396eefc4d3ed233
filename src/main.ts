/** The shell: the only place where everything meets. */
import '@fontsource/barlow/latin-400.css';
import '@fontsource/barlow/latin-500.css';
import '@fontsource/barlow/latin-600.css';
import { mount, unmount } from 'svelte';
import firstFile from '../presets/01-skerry-three-single-coils.json';
import { JobClient } from './jobs/client.ts';
import { firstFields } from './firstFields.ts';
import { checkSheet } from './sheet/check.ts';
import { newHistory } from './sheet/history.ts';
import type { Sheet } from './sheet/sheet.ts';
import { wrap } from './sheet/trials.ts';
import { loadReader } from './sheet/units.ts';
import { Keeper } from './state/keeper.ts';
import { View } from './state/view.svelte.ts';
import { Workbench, type Preset } from './state/workbench.svelte.ts';
import App from './ui/App.svelte';
import './ui/paper.css';

const checked = checkSheet(firstFile);
const target = document.getElementById('sheet');
if (!checked.ok || !target) throw new Error('The page must hold a #sheet element and a first preset sheet.');
const first: Preset = { name: checked.sheet.title, sheet: checked.sheet };
/** The first is drawn before the others are there. */
const others = import('./presets.ts').then(({ presetsAfter }) => presetsAfter(first));

const jobs = new JobClient();
const aside = new JobClient({ known: jobs.known });

let started = false;

/** @param withFirst whether it is the first preset that is opened */
function start(withFirst: boolean): void {
  if (started) return;
  started = true;
  jobs.warm(withFirst ? { sheet: first.sheet, load: firstFields } : undefined);
}

/** Lays the table for a visit: what the address or this window has, or the first preset. @returns clears it */
function lay(at: HTMLElement, sheet: Sheet): () => void {
  const keeper = new Keeper();
  const linked = location.hash.length > 1;
  const restored = keeper.open(linked);
  start(!linked && !restored.history);
  const bench = new Workbench(restored.history ?? newHistory(wrap(sheet)), [first], jobs, aside, keeper);
  bench.message = restored.message;
  others.then(
    (presets) => (bench.presets = presets),
    () =>
      (bench.message ||= 'The other sheets that come with it could not be loaded. Reload the page for them.'),
  );
  const app = mount(App, { target: at, props: { bench, view: new View() } });
  const openFragment = (): void => {
    const fragment = location.hash.slice(1);
    if (fragment) void bench.openLink(fragment);
  };
  const end = new AbortController();
  window.addEventListener('hashchange', openFragment, end);
  window.addEventListener(
    'storage',
    (e) => {
      if (e.storageArea === localStorage) bench.keptElsewhere(e.key, e.newValue);
    },
    end,
  );
  openFragment();
  return () => {
    end.abort();
    bench.listening.dispose();
    void unmount(app);
  };
}

let clear = lay(target, first.sheet);
/** A page that has long been open begins as on a new visit; only its workers stay. Asked for by the tests. */
window.addEventListener('lodetone:visit', () => {
  clear();
  clear = lay(target, first.sheet);
});
/**
 * Once the page is at rest, so that without a network figures can be typed, what follows is said, and designs keep themselves;
 * not before, because one of these files is the largest. One that does not arrive is asked for again where it is needed.
 */
window.setTimeout(() => {
  const parts = [
    import('./jobs/whyAsked.ts'),
    import('./state/whyWords.ts'),
    import('./state/designKeeping.svelte.ts'),
  ];
  void Promise.allSettled(parts).then(loadReader);
}, 4000);
