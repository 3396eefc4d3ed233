/** Random lives of windows that keep designs by themselves: whatever they do, nothing is lost. */
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { DesignBrowser, presets, type DesignWindow } from './designWindows.ts';

const ACTS = [
  ...['edit', 'edit', 'edit', 'undo', 'redo', 'preset', 'earlier', 'open', 'back', 'rest', 'duplicate'],
  ...['reload', 'kill', 'window', 'take over', 'branch', 'refuse'],
] as const;
const acts = fc.array(fc.record({ kind: fc.constantFrom(...ACTS), at: fc.nat(7) }), {
  minLength: 5,
  maxLength: 40,
});

/** One gesture of one of the windows. */
async function perform(
  browser: DesignBrowser,
  windows: DesignWindow[],
  { kind, at }: { readonly kind: (typeof ACTS)[number]; readonly at: number },
  title: string,
): Promise<void> {
  const window = windows[at % windows.length]!;
  const { list, keeping } = window;
  await list.refresh();
  const design = list.list[at % Math.max(1, list.list.length)];
  if (kind === 'edit') window.edit(title);
  else if (kind === 'undo' || kind === 'redo') window.do((bench) => bench[kind]());
  else if (kind === 'preset') window.do((bench) => bench.open(presets[at % 2]!.sheet));
  else if (kind === 'earlier') window.do((bench) => bench.openEarlier(bench.earlier.list[at]?.key ?? ''));
  else if (kind === 'open' && design) await window.openDesign(design.name);
  else if (kind === 'back' && design) {
    await list.unfold(design);
    const state = list.earlier[at % Math.max(1, list.earlier.length)];
    if (state) await list.goBack(design, state);
    keeping.note();
  } else if (kind === 'rest') await window.rest();
  else if (kind === 'duplicate' && design) await list.duplicate(design);
  else if (kind === 'take over' && keeping.elsewhere) await keeping.takeOver();
  else if (kind === 'branch') await keeping.branch();
  else if (kind === 'refuse') {
    const put = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('No.', 'QuotaExceededError');
    });
    window.edit(title);
    await window.rest();
    put.mockRestore();
  } else if (kind === 'window' && windows.length < 3) windows.push(await browser.open());
  else if (kind === 'reload' || kind === 'kill') {
    const session = window.kill();
    windows.splice(windows.indexOf(window), 1);
    if (kind === 'reload' || windows.length === 0)
      windows.push(await browser.open(kind === 'reload' ? session : undefined));
  }
  keeping.note();
}

describe('[exact] whatever windows do', () => {
  it('what was among the designs stays there, every last state comes there, and every state can be had back', async () => {
    await fc.assert(
      fc.asyncProperty(acts, fc.boolean(), async (all, locks) => {
        const browser = new DesignBrowser();
        if (!locks) browser.locks = null;
        const windows = [await browser.open()];
        const committed = new Set<string>();
        const kept = new Set<string>();
        const inDesigns = async (): Promise<Set<string>> =>
          new Set(Object.values(await browser.designs()).flat());
        let count = 0;
        for (const act of all) {
          const title = `state ${++count}`;
          const alive = [...windows];
          await perform(browser, windows, act, title);
          if (alive.some((window) => window.title === title)) committed.add(title);
          for (const there of await inDesigns()) kept.add(there);
        }
        const last = windows.map(({ title }) => title).filter((title) => committed.has(title));
        const lines = new Set(windows.flatMap(({ line }) => line));
        for (const window of windows) window.kill();
        const next = await browser.open();
        const designs = await inDesigns();
        expect([...kept].filter((title) => !designs.has(title))).toEqual([]);
        expect(last.filter((title) => !designs.has(title))).toEqual([]);
        for (const { key } of next.bench.earlier.list)
          for (const state of ((line) => (line ? [...line.past, line.present, ...line.future] : []))(
            next.bench.keeper.earlier.take(key),
          ))
            lines.add(state.trials[0]!.title);
        for (const title of next.line) lines.add(title);
        expect([...committed].filter((title) => !designs.has(title) && !lines.has(title))).toEqual([]);
      }),
      { seed: 11, numRuns: 40 },
    );
  });
});
