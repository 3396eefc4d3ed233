/** What goes to a worker and what comes back: plain data and typed arrays only. */
import type { BenchFigures, BenchWish } from '../physics/benchFigures.ts';
import type { Closeness, CloseNotes } from '../physics/close.ts';
import type { FocusTrack } from '../physics/focusTrack.ts';
import type { HeardWish } from '../physics/heardBetween.ts';
import type { HeardDifference } from '../physics/hearing/heardDifference.ts';
import type { MeasuredFigures, MeasuredWish } from '../physics/measured.ts';
import type { SpacePicture, SpaceWish } from '../physics/picture/spaceTypes.ts';
import type { Pictures, PictureWish } from '../physics/picture/types.ts';
import type { Beginning, SheetFault, Prediction, Sound } from '../physics/prediction.ts';
import type { PhraseLevel } from '../physics/sound/live/phraseLevel.ts';
import type { LiveSetup } from '../physics/sound/live/types.ts';
import type { Recording } from '../physics/sound/through.ts';
import type { Fields } from '../physics/heard/fieldAnswer.ts';
import type { TakenOutFigures, TakenOutWish } from '../physics/takenOut.ts';
import type { BalanceWish, Sheet } from '../sheet/sheet.ts';
import type { Balanced } from '../physics/balance.ts';
import type { Target, TargetWish } from '../physics/target.ts';
import type { SearchPart, SearchWish } from '../physics/search.ts';
import type { SpreadPart, SpreadWish } from '../physics/spreadOf.ts';
import type { MattersAnswer, MattersWish } from './matters.ts';
import type { TrackWish } from './track.ts';
import type { WhyAnswer, WhyWish } from './why.ts';

export type { Pictures, PictureWish } from '../physics/picture/types.ts';
export type { SheetFault } from '../physics/prediction.ts';

/** Kinds of job; see workers.ts for those that share a worker. */
export type JobKind =
  | 'field'
  | 'figures'
  | 'sound'
  | 'beginning'
  | 'live'
  | 'through'
  | 'level'
  | 'close'
  | 'track'
  | 'why'
  | 'heard'
  | 'spread'
  | 'matters'
  | 'target'
  | 'balance'
  | 'search'
  | 'picture'
  | 'space'
  | 'takenOut'
  | 'bench'
  | 'measured';

/** What a job of each kind needs beside the sheet. */
export interface JobInput {
  readonly field: FieldWish;
  readonly figures: null;
  readonly sound: null;
  readonly beginning: null;
  readonly live: LiveWish;
  readonly through: OwnPlaying & { readonly fromFields: Fields | null };
  readonly level: null;
  readonly close: CloseWish;
  readonly track: TrackWish;
  readonly why: WhyWish;
  readonly heard: HeardWish;
  readonly spread: SpreadWish;
  readonly matters: MattersWish;
  readonly target: TargetWish;
  readonly balance: BalanceWish;
  /** Asked for step by step, from 0. */
  readonly search: { readonly wish: SearchWish; readonly step: number };
  readonly picture: PictureWish;
  readonly space: SpaceWish;
  readonly takenOut: TakenOutWish;
  readonly bench: BenchWish;
  readonly measured: MeasuredWish;
}

/** By how many cents the worst note over a pickup (counted from 0) may shift, and of which notes. */
export interface CloseWish extends CloseNotes {
  readonly pickup: number;
  readonly cents: number;
}

/** Of which pickups the field is to be computed. */
export interface FieldWish {
  readonly wanted: readonly boolean[];
}

/** What live sound needs besides the sheet. */
export interface LiveWish {
  /** Of the output, Hz. */
  readonly sampleRate: number;
  /** Digital amplitude for one volt; null has the sheet's level found, which takes ten times as long where it is matched. */
  readonly gain: number | null;
  /** Whether the setup goes to what sounds at once, by the port of a FeedMessage, without waiting for the page's thread. */
  readonly feed: boolean;
}

/** A setup, and whether it is heard already. */
export interface LiveAnswer {
  readonly setup: LiveSetup;
  /** When it has gone to what sounds, ms as Date counts them but finer; null when it has not. */
  readonly fedAt: number | null;
  /** Whether it was made with a field a little way off; see JobClient.live. */
  readonly near?: boolean;
}

/** Comes with a port: where setups go that are to be heard at once. */
export interface FeedMessage {
  readonly kind: 'feed';
}

/** A recording of one's own, and the sheet through which it was made; null when it is the bare string's. */
export interface OwnPlaying {
  readonly recording: Recording;
  readonly from: Sheet | null;
}

/** What a job of each kind results in. */
export interface JobValue {
  readonly field: Fields;
  readonly figures: Prediction;
  readonly sound: Sound;
  readonly beginning: Beginning;
  readonly live: LiveAnswer;
  readonly through: Sound;
  readonly level: PhraseLevel;
  /** null: too close even when it is lowered as far as is searched. */
  readonly close: Closeness | null;
  readonly track: FocusTrack;
  readonly why: WhyAnswer;
  readonly heard: HeardDifference;
  readonly spread: SpreadPart;
  readonly matters: MattersAnswer;
  readonly target: Target;
  readonly balance: Balanced;
  readonly search: SearchPart;
  readonly picture: Pictures;
  /** null: a pickup without a build. */
  readonly space: SpacePicture | null;
  /** null: a pickup without a build. */
  readonly takenOut: TakenOutFigures | null;
  readonly bench: BenchFigures;
  readonly measured: MeasuredFigures;
}

/** Page to worker. `id`: rising within a lane, and repeated by the response. */
export interface JobRequest<K extends JobKind = JobKind> {
  readonly id: number;
  readonly kind: K;
  /** Plain data; a reactive proxy can't cross. */
  readonly sheet: Sheet;
  readonly input: JobInput[K];
  /** Of the sheet's pickups; null where the worker finds what it needs. */
  readonly fields: Sent | null;
}

/** Stands for what went to the same worker under the same number the last time. */
export const AS_BEFORE = 'as before';
/** Fields on their way to a worker. */
export type Sent = readonly (Fields[number] | typeof AS_BEFORE)[];

/**
 * Worker to page, of no request. 'begun': a job has been taken up, before anything is computed. 'held': the worker holds the
 * lock that bears its name, until it ends.
 */
export interface WorkerSign {
  readonly sign: 'begun' | 'held';
}

/** Worker to page; `message` is a sentence, `faults` name the figures it is about. */
export type JobResponse<K extends JobKind = JobKind> =
  | { readonly id: number; readonly ok: true; readonly value: JobValue[K] }
  | {
      readonly id: number;
      readonly ok: false;
      readonly message: string;
      readonly faults: readonly SheetFault[];
    };
