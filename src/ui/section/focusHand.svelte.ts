/**
 * The hand on the focus: the place of the hand is the width that is asked for, the track says where the lever has to be for
 * it, and nothing but the lever moves. At the track's ends the hand is told.
 */
import { monotoneCurve } from '../../plot/monotone.ts';
import { leverRange, withLever, type Lever } from '../../sheet/focusLever.ts';
import type { PickupBuild, Sheet } from '../../sheet/sheet.ts';
import type { FocusTrack } from '../../state/focusTracks.svelte.ts';
import type { Prediction } from '../../state/types.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';
import { endWords, shortWords } from './focusWords.ts';

/** What a maker sets, m: the lever stands on hundredths of a millimetre, within its track. */
const GRAIN = 1e-5;

/** Nearer than this to where it began it is there again, m: half of the figure's last digit. */
const BACK = 0.5e-4;

/** A hold of the focus, as it is shown. */
export interface Held {
  readonly row: number;
  readonly lever: Lever;
  /** Where the focus stands under the hand, m. */
  readonly width: number;
  /** Why it goes no further; empty within the track. */
  readonly end: string;
  /** What stood before. */
  readonly build: PickupBuild;
  readonly prediction: Prediction | null;
}

interface Grasp {
  readonly row: number;
  readonly lever: Lever;
  readonly build: PickupBuild;
  readonly prediction: Prediction | null;
  readonly width: number;
  /** As this hand left it. */
  sheet: Sheet;
  track: FocusTrack | null;
  valueAt: (width: number) => number;
  target: number;
  /** 'waits': let go, but there is no track yet; 'settles': the figures of what was kept are awaited. */
  phase: 'held' | 'waits' | 'settles';
  typed: boolean;
}

export class FocusHand {
  readonly #bench: Workbench;
  #grasp: Grasp | null = null;
  held: Held | null = $state.raw(null);

  constructor(bench: Workbench) {
    this.#bench = bench;
  }

  /** Asks for another width of a row's reach, m; begins a gesture if none is under way. */
  aim(row: number, width: number): void {
    this.#yield();
    if (this.#grasp?.row !== row || this.#grasp.phase !== 'held') this.#begin(row);
    this.#to(width);
  }

  /** A width that was typed: goes there and keeps it. */
  go(row: number, width: number): void {
    this.#begin(row);
    if (this.#grasp) this.#grasp.typed = true;
    this.#to(width);
    this.release();
  }

  release(): void {
    this.#yield();
    const grasp = this.#grasp;
    if (grasp?.phase !== 'held') {
      // What another hand has under way is let go of as well.
      if (!grasp) this.#bench.commit();
      return;
    }
    grasp.phase = grasp.track ? 'settles' : 'waits';
    if (grasp.track) this.#keep(grasp);
  }

  cancel(): void {
    if (!this.#grasp) return;
    this.#end();
    this.#bench.cancel();
  }

  /** A track has come, or figures, or the sheet is another. */
  answered(): void {
    this.#yield();
    const grasp = this.#grasp;
    if (!grasp) return;
    const { phase } = grasp;
    if (phase === 'settles') {
      if (this.#bench.outcomeOf(this.#bench.sheet)) this.#end();
    } else if (!grasp.track) {
      this.#apply(grasp);
      if (phase === 'waits' && (grasp.track as FocusTrack | null)) {
        grasp.phase = 'settles';
        this.#keep(grasp);
      }
    }
  }

  /** Somebody else has changed the sheet meanwhile: their change stands. */
  #yield(): void {
    if (this.#grasp && this.#bench.sheet !== this.#grasp.sheet) this.#end();
  }

  #begin(row: number): void {
    const { sheet, chosen, prediction, focus } = this.#bench;
    const build = sheet.pickups[chosen]?.build;
    const width = prediction?.voices[chosen]?.reach.rows[row]?.width;
    this.#end();
    if (!build || width === undefined) return;
    this.#grasp = {
      ...{ row, build, prediction, width, lever: focus.lever, target: width },
      ...{ sheet, track: null, valueAt: () => 0, phase: 'held', typed: false },
    };
  }

  #to(width: number): void {
    if (!this.#grasp) return;
    this.#grasp.target = width;
    this.#apply(this.#grasp);
  }

  #apply(grasp: Grasp): void {
    const { focus, chosen } = this.#bench;
    const { row, lever, build, target } = grasp;
    if (!grasp.track) {
      const track = focus.tracks[row] ?? null;
      if (!track) focus.ask(true);
      else Object.assign(grasp, { track, valueAt: monotoneCurve(track.widths, track.values) });
    }
    const { track } = grasp;
    if (!track) {
      this.#show(grasp, target, '');
      return;
    }
    const [least, most] = [track.widths[0]!, track.widths.at(-1)!];
    const width = Math.min(most, Math.max(least, target));
    const back = Math.abs(width - grasp.width) < BACK;
    const value = back ? leverRange(build, row, lever)!.value : settled(grasp.valueAt(width), track);
    this.#show(
      grasp,
      back ? grasp.width : width,
      Math.abs(target - width) < BACK ? '' : endWords(track, target < width, lever),
    );
    this.#bench.preview(['pickups', chosen, 'build'], withLever(build, row, lever, value));
    grasp.sheet = this.#bench.sheet;
  }

  #show({ row, lever, build, prediction }: Grasp, width: number, end: string): void {
    this.held = { row, lever, width, end, build, prediction };
  }

  #keep({ typed, target, lever }: Grasp): void {
    const { width, end } = this.held!;
    this.#bench.commit();
    if (typed && end !== '') this.#bench.message = shortWords(width, target, lever, end);
    // What was asked for may be known already.
    this.answered();
  }

  #end(): void {
    this.#grasp = null;
    this.held = null;
  }
}

function settled(value: number, { values }: FocusTrack): number {
  const [least, most] = [values[0]!, values.at(-1)!].sort((a, b) => a - b) as [number, number];
  const whole = (by: (x: number) => number): number => by(value / GRAIN) * GRAIN;
  const near = whole(Math.round);
  if (near < least) return Math.min(most, whole(Math.ceil));
  return near > most ? Math.max(least, whole(Math.floor)) : near;
}
