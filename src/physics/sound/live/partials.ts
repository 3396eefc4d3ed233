import { addPartials, createPartials } from '../partials.ts';

/**
 * The modal bank of one block. Unlike sound/bank.ts it is started from the modes' running state instead of the closed
 * form, and what can't be heard is left out anew in each block, because the gains may change at any time.
 */
export class PartialBank {
  /** Partials in the block so far. */
  count = 0;
  private partials = createPartials(0);

  /** Room for `capacity` partials; nothing is allocated after. */
  reserve(capacity: number): void {
    if (capacity > this.partials.y0.length) this.partials = createPartials(capacity);
  }

  /** @param turn 2e^(−α)cos ω @param fall e^(−2α), per sample */
  add(y0: number, y1: number, turn: number, fall: number): void {
    const { partials } = this;
    const i = this.count++;
    partials.y0[i] = y0;
    partials.y1[i] = y1;
    partials.turn[i] = turn;
    partials.fall[i] = fall;
  }

  /** out[0 … length − 1] = Σ partials. */
  run(out: Float64Array, length: number): void {
    out.fill(0, 0, length);
    // Up to a multiple of four with partials that are silent.
    while (this.count % 4 !== 0 && this.count < this.partials.y0.length) this.add(0, 0, 0, 0);
    addPartials(this.partials, this.count, out, 0, length);
    this.count = 0;
  }
}
