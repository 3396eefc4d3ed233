/** What goes to a worker and what comes back: plain data and typed arrays only. */
import type { Prediction, Sound } from '../physics/prediction.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** Kinds of job; each has a worker of its own, so that figures never wait behind a sound. */
export type JobKind = 'figures' | 'sound';

/** What a job of each kind results in. */
export interface JobValue {
  readonly figures: Prediction;
  readonly sound: Sound;
}

export interface JobRequest<K extends JobKind = JobKind> {
  readonly id: number;
  readonly kind: K;
  /** Plain data; a reactive proxy can't cross. */
  readonly sheet: Sheet;
}

export type JobResponse<K extends JobKind = JobKind> =
  | { readonly id: number; readonly ok: true; readonly value: JobValue[K] }
  | { readonly id: number; readonly ok: false; readonly message: string };
