/** What was read at the bench of which pickup: kept on this machine, by the sheet's title. */
import type { PoleReadings } from '../benchSheet/sayFollows.ts';
import { USUAL_WISH } from '../benchSheet/usual.ts';
import type { JobInput } from '../jobs/protocol.ts';
import { fields, recallFields } from './fields.ts';
import { remember } from './storage.ts';

const READINGS_KEY = 'lodetone.readings';
/** Pickups of which readings are kept; the longest unused make room. */
const MOST = 60;

export type Read = JobInput['bench']['read'];

interface Noted {
  readonly read: Read;
  readonly poles: PoleReadings;
}

export const NOTHING_READ: Noted = { read: USUAL_WISH.read, poles: { tops: [], up: [] } };

const reading = (value: unknown): number | null =>
  typeof value === 'number' && Number.isFinite(value) && value > 0 ? value : null;

const list = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

/** Field by field: what lies there may be another program's, or a later one's. */
function notedOf(data: unknown): Noted {
  const { read, poles } = fields(data);
  const { resistance, inductance, capacitance, peak } = fields(read);
  const { tops, up } = fields(poles);
  return {
    read: {
      resistance: reading(resistance),
      inductance: reading(inductance),
      capacitance: reading(capacitance),
      peak: reading(peak),
    },
    poles: {
      tops: list(tops)
        .slice(0, 2)
        .map((row) => list(row).slice(0, 8).map(reading)),
      up: list(up)
        .slice(0, 2)
        .map((pole) => (pole === 'north' || pole === 'south' ? pole : null)),
    },
  };
}

export class BenchNotes {
  readonly #noted = new Map(
    Object.entries(recallFields(READINGS_KEY)).map(([key, data]) => [key, notedOf(data)]),
  );

  /** @param key names the pickup */
  of(key: string): Noted {
    return this.#noted.get(key) ?? NOTHING_READ;
  }

  keep(key: string, noted: Noted): void {
    this.#noted.delete(key);
    this.#noted.set(key, noted);
    for (const oldest of this.#noted.keys()) {
      if (this.#noted.size <= MOST) break;
      this.#noted.delete(oldest);
    }
    remember(READINGS_KEY, JSON.stringify(Object.fromEntries(this.#noted)));
  }
}
