/** Measures the worklet's work on whatever clock it has. No allocation. */
export class Stopwatch {
  /** Since `reset`. */
  blocks = 0;
  /** Blocks that took longer than they last. */
  late = 0;
  /** Number of the last late block; −1 when there was none. */
  lateAt = -1;
  /** ms. */
  longest = 0;
  /** ms by which the blocks have fallen behind the clock at worst. */
  behind = 0;
  /** Of the worst second. */
  worstShare = 0;
  private busy = 0;
  private lasting = 0;
  private begun = 0;
  private earliest = 0;
  private started = 0;
  private second = 0;
  private busySecond = 0;

  /** Computing over the time that the blocks last, 0–1 while all is well. */
  get share(): number {
    return this.lasting > 0 ? this.busy / this.lasting : 0;
  }

  reset(): void {
    this.blocks = 0;
    this.late = 0;
    this.lateAt = -1;
    this.longest = 0;
    this.behind = 0;
    this.worstShare = 0;
    this.busy = 0;
    this.lasting = 0;
    this.second = 0;
    this.busySecond = 0;
  }

  /** @param clock ms */
  start(clock: number): void {
    this.started = clock;
    if (this.blocks === 0) {
      this.begun = clock;
      this.earliest = 0;
    }
    // How much later than planned this block is wanted, against the one that was wanted earliest.
    const drift = clock - this.begun - this.lasting;
    this.earliest = Math.min(this.earliest, drift);
    this.behind = Math.max(this.behind, drift - this.earliest);
  }

  /** @param clock ms @param length of the block, ms */
  stop(clock: number, length: number): void {
    const took = clock - this.started;
    this.blocks++;
    this.lasting += length;
    this.busy += took;
    this.longest = Math.max(this.longest, took);
    if (took > length) {
      this.late++;
      this.lateAt = this.blocks - 1;
    }
    this.second += length;
    this.busySecond += took;
    if (this.second < 1000) return;
    this.worstShare = Math.max(this.worstShare, this.busySecond / this.second);
    this.second = 0;
    this.busySecond = 0;
  }
}
