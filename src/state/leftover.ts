/**
 * What windows that ended had in their records (keeper.ts) and not yet among the designs. With its designs a window notes, in one
 * transaction, of when the record is that they hold: who comes next brings in what is behind.
 */
import { readRecord, type KeptRecord } from '../sheet/record.ts';
import { sameContent, type Trials } from '../sheet/trials.ts';
import { idOf, isAsOpened } from './belonging.ts';
import type { DesignStore, Stored } from './designStore.ts';
import { putEarlier, putState, textOf, trialsOf } from './designWrites.ts';

interface WindowRecord {
  readonly window: string;
  readonly text: string;
}

/** Without reading all of it. */
const dateOf = (text: string): string =>
  /^\{"record":\d+,"date":"([^"]*)"/.exec(text.slice(0, 80))?.[1] ?? '';

/** Every design that a record has states of, with the last of them: what undo has passed through does not count. */
function lastOf(
  { history }: KeptRecord,
  of: (state: Trials) => string,
): { readonly state: Trials; readonly id: string }[] {
  const found = new Map<string, Trials>();
  for (const state of [history.present, ...history.future.toReversed(), ...history.past.toReversed()]) {
    const id = idOf(of(state));
    if (id !== '' && !found.has(id)) found.set(id, state);
  }
  return Array.from(found, ([id, state]) => ({ id, state }));
}

/**
 * @param untouched whether a state is one that nobody has changed, which is not kept
 * @param now ms since 1970
 */
export async function bringIn(
  store: DesignStore,
  records: readonly WindowRecord[],
  untouched: (state: Trials) => boolean,
  now: number,
): Promise<Stored<void>> {
  if (records.length === 0) return { ok: true, value: undefined };
  const known = await store.read((reading) => reading.objectStore('windows').getAll());
  if (!known.ok) return known;
  const dates = new Map(known.value.map(({ window, date }) => [window, date]));
  const behind = records.flatMap(({ window, text }) => {
    const date = dateOf(text);
    const record = date !== '' && date === dates.get(window) ? null : readRecord(text);
    return record ? [{ window, record }] : [];
  });
  const gone = [...dates.keys()].filter((window) => !records.some((record) => record.window === window));
  if (behind.length === 0 && gone.length === 0) return { ok: true, value: undefined };
  return store.write(async (writing) => {
    for (const { window, record } of behind) {
      const { date, history, designs } = record;
      // Before states belonged to designs: as keeper.ts calls it.
      const of = (state: Trials): string => designs.get(state) ?? (state === history.present ? window : '');
      const states = [history.present, ...history.past, ...history.future];
      for (const { id, state } of lastOf(record, of)) {
        const put = await putState(
          writing,
          {
            id,
            trials: state,
            date,
            create: !isAsOpened(of(state)) && !untouched(state),
            knows: (was) => {
              const lay = was.date <= date ? trialsOf(was.design) : null;
              return (
                lay !== null && states.some((other) => idOf(of(other)) === id && sameContent(other, lay))
              );
            },
          },
          now,
        );
        // Another window has gone on since.
        if (put === 'other') await putEarlier(writing, { id, date, design: textOf(state) }, now);
      }
      await writing.objectStore('windows').put({ window, date });
    }
    for (const window of gone) await writing.objectStore('windows').delete(window);
  });
}
