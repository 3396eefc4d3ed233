/**
 * How far the chosen lever moves the focus of the chosen pickup, a track a row: asked of the worker once the hand rests, or
 * at once when somebody takes hold of the focus. A track goes on being true while its own lever moves.
 */
import type { JobClient } from '../jobs/client.ts';
import type { JobValue } from '../jobs/protocol.ts';
import type { Lever } from '../sheet/focusLever.ts';
import { leverWithin } from './leverWithin.ts';
import type { PickupBuild, Sheet } from '../sheet/sheet.ts';

/** See physics/focusTrack.ts. */
export type FocusTrack = JobValue['track'];

/** ms without a change before the worker is asked. */
const REST = 300;
/** Tracks kept: of a few pickups, rows and levers. */
const MOST = 8;

interface Known {
  readonly key: string;
  readonly track: FocusTrack;
}

/** The newest tracks. */
export class FocusTracks {
  readonly #sheet: () => Sheet;
  readonly #chosen: () => number;
  readonly #jobs: JobClient;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #turn = 0;
  #asking = '';
  #known: readonly Known[] = $state.raw([]);

  /** What a drag of the focus moves. */
  lever: Lever = $state('gap');

  readonly #keys: readonly string[] = $derived.by(() => keysOf(this.#sheet(), this.#chosen(), this.lever));

  /** One a row of the chosen pickup; null while it isn't known, and where it can't be computed. */
  readonly tracks: readonly (FocusTrack | null)[] = $derived.by(() => this.#keys.map((key) => this.#of(key)));

  constructor(sheet: () => Sheet, chosen: () => number, jobs: JobClient) {
    this.#sheet = sheet;
    this.#chosen = chosen;
    this.#jobs = jobs;
  }

  /** To be called with every change of what the tracks depend on. @param now whether a hand waits for them */
  ask = (now = false): void => {
    clearTimeout(this.#timer);
    if (this.tracks.every((track) => track !== null)) return;
    if (now) void this.#solve();
    else this.#timer = setTimeout(() => void this.#solve(), REST);
  };

  /** Asks no more; for when nobody looks. */
  rest = (): void => {
    clearTimeout(this.#timer);
  };

  #of(key: string): FocusTrack | null {
    return this.#known.find((known) => known.key === key)?.track ?? null;
  }

  async #solve(): Promise<void> {
    const [sheet, pickup, lever, keys] = [this.#sheet(), this.#chosen(), this.lever, this.#keys];
    if (this.#asking === keys.join()) return;
    this.#asking = keys.join();
    const turn = ++this.#turn;
    for (const [row, key] of keys.entries()) {
      if (this.#of(key)) continue;
      const result = await this.#jobs.track(sheet, {
        ...{ pickup, row, lever },
        within: leverWithin(sheet, pickup, row, lever),
      });
      if (turn !== this.#turn) return;
      if (result.status !== 'done') break;
      this.#known = [...this.#known, { key, track: result.value }].slice(-MOST);
    }
    this.#asking = '';
  }
}

/** All that a row's track depends on, which is all but its lever. */
function keysOf(sheet: Sheet, index: number, lever: Lever): string[] {
  const pickup = sheet.pickups[index];
  if (!pickup?.build || pickup.reachBy === 'hand') return [];
  const { build, rows, slant, place } = pickup;
  const about = [
    lever,
    rows.map(({ offset }) => offset),
    slant,
    place,
    sheet.instrument,
    sheet.magnets,
    sheet.listen.string,
  ];
  return build.rows.map((_, row) => JSON.stringify([row, without(build, row, lever), about]));
}

function without(build: PickupBuild, row: number, lever: Lever): unknown {
  if (lever === 'gap')
    return { ...build, gapBass: 0, gapTreble: (build.gapTreble - build.gapBass).toFixed(6) };
  const rows = build.rows.map((r, i) => {
    if (i !== row) return r;
    const { pole } = r;
    if (lever === 'tip')
      return { ...r, pole: { ...pole, tip: pole.tip.shape === 'flat' ? 'chamfered' : pole.tip.shape } };
    return {
      ...r,
      pole:
        pole.kind === 'screw' ? { ...pole, head: { ...pole.head, diameter: 0 } } : { ...pole, diameter: 0 },
    };
  });
  return { ...build, rows };
}
