/** Which beat of the maker's own line sounds, asked for a few times a second while somebody looks. */
import { CELL } from '../sheet/line.ts';

/** ms between two looks; and where less motion is asked for, which then goes by whole beats. */
const PERIOD = 48;
const CALM_PERIOD = 500;

/** null while nobody looks. */
export class Playhead {
  readonly #position: () => Promise<number | null>;
  readonly #tempo: () => number;
  /** Beats from the beginning, in steps of a cell of the grid; null while nothing sounds. */
  beat: number | null = $state(null);

  /**
   * @param position in the phrase, s; null while nothing sounds
   * @param tempo beats a minute
   */
  constructor(position: () => Promise<number | null>, tempo: () => number) {
    this.#position = position;
    this.#tempo = tempo;
  }

  /** Looks until the returned function is called. Nothing is asked while the page is out of sight. */
  watch = (): (() => void) => {
    const calm = matchMedia('(prefers-reduced-motion: reduce)');
    let last = -Infinity;
    let frame = 0;
    let over = false;
    let asking = false;
    const look = (now: number): void => {
      frame = requestAnimationFrame(look);
      if (asking || now - last < (calm.matches ? CALM_PERIOD : PERIOD)) return;
      last = now;
      asking = true;
      void this.#position().then((position) => {
        asking = false;
        if (!over) this.beat = position === null ? null : this.#stepAt(position, calm.matches ? 1 : CELL);
      });
    };
    frame = requestAnimationFrame(look);
    return () => {
      over = true;
      cancelAnimationFrame(frame);
      this.beat = null;
    };
  };

  #stepAt(position: number, step: number): number {
    return step * Math.floor((position * this.#tempo()) / 60 / step);
  }
}
