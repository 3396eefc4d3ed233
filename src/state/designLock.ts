/**
 * One window at a time goes on in a design: who has it holds a lock of the browser's (Web Locks), which goes with the window
 * however that ends. Where there are none, as on a page that isn't served securely, every window may; what lies in the database
 * is then looked at before it is written over, and in any case.
 */

/** What is needed of the browser. */
export type Locks = Pick<LockManager, 'request'>;

const PREFIX = 'lodetone.design.';

interface Options {
  /** Another window has taken the design that this one had. */
  readonly onlost: (id: string) => void;
  /** The design that another window had is free, and now this one's. */
  readonly onfree: (id: string) => void;
}

interface Hand {
  has: boolean;
  /** Let go of by ourselves. */
  left: boolean;
}

/** One a page; holds one design at most. */
export class DesignLock {
  readonly #locks: Locks | null;
  readonly #options: Options;
  /** Lets go of what is held or waited for. */
  #letGo: () => void = () => {};

  constructor(locks: Locks | null, options: Options) {
    this.#locks = locks;
    this.#options = options;
  }

  /** Lets go of another. @returns whether this window has it; if not, it waits for it */
  hold = async (id: string): Promise<boolean> => {
    const had = await this.#request(id, { ifAvailable: true });
    if (!had) void this.#wait(id);
    return had;
  };

  /** Has it whoever else had it. */
  take = async (id: string): Promise<void> => void (await this.#request(id, { steal: true }));

  release = (): void => {
    this.#letGo();
    this.#letGo = () => {};
  };

  #request(id: string, how: LockOptions): Promise<boolean> {
    this.release();
    const locks = this.#locks;
    if (!locks) return Promise.resolve(true);
    const hand: Hand = { has: false, left: false };
    return new Promise((resolve) => {
      locks
        .request(PREFIX + id, how, (lock) => {
          resolve(lock !== null);
          return lock ? this.#keep(hand) : undefined;
        })
        .catch(() => {
          this.#lost(id, hand);
          // A browser that has locks and gives none is one without.
          resolve(true);
        });
    });
  }

  async #wait(id: string): Promise<void> {
    const end = new AbortController();
    this.#letGo = () => end.abort();
    const hand: Hand = { has: false, left: false };
    try {
      await this.#locks?.request(PREFIX + id, { signal: end.signal }, () => {
        if (end.signal.aborted) return;
        this.#options.onfree(id);
        return this.#keep(hand);
      });
    } catch {
      this.#lost(id, hand);
    }
  }

  /** Until it is let go of. */
  #keep(hand: Hand): Promise<void> {
    hand.has = true;
    return new Promise((done) => {
      this.#letGo = () => {
        hand.left = true;
        done();
      };
    });
  }

  /** A request ends so when another window takes the lock; and when it was never given. */
  #lost(id: string, { has, left }: Hand): void {
    if (!has || left) return;
    this.#options.onlost(id);
    void this.#wait(id);
  }
}
