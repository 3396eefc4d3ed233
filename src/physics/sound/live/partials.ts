import { addPartials, addPartialsToThree, createPartials } from '../partials.ts';

/** As many at most share their partials. */
export const LISTENERS = 3;

/**
 * The modal bank of one block. Unlike sound/bank.ts it is started from the modes' running state instead of the closed
 * form, and what can't be heard is left out anew in each block, because the gains may change at any time.
 */
export class PartialBank {
  /** Partials in the block so far. */
  count = 0;
  private partials = createPartials(0);
  /** Of every partial what each listener hears of it, where there are several. */
  private readonly shares = Array.from({ length: LISTENERS }, () => new Float64Array(0));

  /** Room for `capacity` partials; nothing is allocated after. */
  reserve(capacity: number): void {
    if (capacity <= this.partials.y0.length) return;
    const even = capacity + (capacity % 2);
    this.partials = createPartials(even);
    for (let k = 0; k < LISTENERS; k++) this.shares[k] = new Float64Array(even);
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

  /** A partial of which three listeners have a share; 0 for one that isn't there. */
  addShared(y0: number, y1: number, turn: number, fall: number, a: number, b: number, c: number): void {
    const [u, v, w] = this.shares;
    const i = this.count;
    u![i] = a;
    v![i] = b;
    w![i] = c;
    this.add(y0, y1, turn, fall);
  }

  /** outs[k][0 … length − 1] = Σ of the shares of listener k; an even length. */
  runShared(outs: readonly Float64Array[], length: number): void {
    for (const out of outs) out.fill(0, 0, length);
    // One more that is silent makes pairs.
    if (this.count % 2 !== 0) this.addShared(0, 0, 0, 0, 0, 0, 0);
    addPartialsToThree(this.partials, this.count, this.shares, outs, length);
    this.count = 0;
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
