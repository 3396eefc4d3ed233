/** What a pickup comes to of what is wanted of it, and how far that is from it. */
import type { Search, SearchLoad, Sheet, WantKey } from '../sheet/sheet.ts';
import { Alone, weightsOf } from './alone.ts';
import type { CurveFeatures } from './circuit/features.ts';
import { resolve } from './heard/resolve.ts';
import type { Fields } from './heard/fieldAnswer.ts';
import type { HeardSheet } from './heard/resolved.ts';
import { heardNotes, notesLoudness } from './heardNotes.ts';
import { heardDifference, type NoteTones } from './hearing/heardDifference.ts';
import { featuresOf, heardWith } from './matters.ts';
import { outcomeOf } from './outcome.ts';

/** One thing that is wanted. */
export interface Missing {
  readonly want: WantKey;
  /** As the wants have it: Hz, H, Ω, m, dB or cents; and what there is, null for no resonance. */
  readonly wanted: number;
  readonly got: number | null;
  /** In steps that count, 1 at most where it is reached; above 0: too much. */
  readonly off: number;
}

/** What counts as one step: of frequencies, H, Ω and m a share, of the rest dB or cents. */
const STEPS: Readonly<Record<WantKey, number>> = {
  resonance: 0.01,
  height: 0.5,
  q: 0.05,
  inductance: 0.02,
  resistance: 0.02,
  level: 0.5,
  reach: 0.03,
  balance: 0.5,
  pull: 0.5,
  alike: 1,
};
const SHARES: ReadonlySet<WantKey> = new Set(['resonance', 'q', 'inductance', 'resistance', 'reach']);
const MOSTS: ReadonlySet<WantKey> = new Set(['balance', 'pull']);
/** Steps by which a resonance that is not there is missed. */
const NONE = 100;

/** The other trial as it is heard. */
export interface Against {
  readonly notes: readonly NoteTones[];
  readonly loudness: number;
}

/** What a sheet is heard as, V² and dB. @param sheet of which the same is played */
export function againstOf(sheet: Sheet, pickup: number, fields: Fields): Against {
  const notes = heardNotes(resolve(heardWith(sheet, pickup), fields));
  return { notes, loudness: notesLoudness(notes) };
}

/**
 * Every want by itself, SI, dB and cents, and in steps.
 *
 * @param fields of the sheet's pickups, from heardWith
 * @param search what is wanted, and of a resonance into which load
 * @param against for level and alike
 */
export function missingOf(
  asked: Sheet,
  fields: Fields,
  pickup: number,
  { wants, load }: Pick<Search, 'wants' | 'load'>,
  against: Against | null,
): readonly Missing[] {
  const sheet = resolve(heardWith(asked, pickup), fields);
  const figures = new Figures(sheet, pickup, load ?? null, against);
  return (Object.keys(STEPS) as WantKey[]).flatMap((want) => {
    const wanted = wants[want];
    if (wanted === undefined) return [];
    const got = figures.of(want);
    return [{ want, wanted, got, off: offOf(want, wanted, got) }];
  });
}

function offOf(want: WantKey, wanted: number, got: number | null): number {
  if (got === null) return NONE;
  if (want === 'alike') return got / wanted;
  const off = SHARES.has(want) ? Math.log(got / wanted) / STEPS[want] : (got - wanted) / STEPS[want];
  return MOSTS.has(want) ? Math.max(0, off) : off;
}

/** Hz, dB; null where there is none. */
type Peak = CurveFeatures['resonance'];

/** Each found once it is asked for. */
class Figures {
  private heard: Against | null = null;
  /** undefined: not yet asked for. */
  private resonance: Peak | undefined;
  private outcome: ReturnType<typeof outcomeOf> | null = null;

  constructor(
    private readonly sheet: HeardSheet,
    private readonly pickup: number,
    /** null: the pots and the cable. */
    private readonly load: SearchLoad | null,
    private readonly against: Against | null,
  ) {}

  /** SI, dB, cents; null where there is no resonance. */
  of(want: WantKey): number | null {
    switch (want) {
      case 'resonance':
        return this.peak()?.frequency ?? null;
      case 'height':
        return this.peak()?.heightDb ?? null;
      case 'q':
        return this.peak()?.q ?? null;
      case 'inductance':
      case 'resistance': {
        const values = this.come().coils.map((coil) => coil[want]);
        const parallel = this.sheet.pickups[this.pickup]!.join === 'parallel';
        return parallel
          ? 1 / values.reduce((sum, value) => sum + 1 / value, 0)
          : values.reduce((sum, value) => sum + value, 0);
      }
      case 'level':
        return this.notes().loudness - this.against!.loudness;
      case 'alike': {
        const { notes, loudness } = this.notes();
        const than = this.against!;
        return Math.abs(heardDifference(than.notes, notes, loudness - than.loudness).most);
      }
      case 'reach':
        return Math.max(...this.come().strings[this.sheet.listen.string - 1]!.widths);
      case 'balance': {
        const levels = this.come().strings.map(({ level }) => 20 * Math.log10(level));
        return Math.max(...levels) - Math.min(...levels);
      }
      case 'pull':
        return Math.max(
          ...this.come().strings.flatMap(({ field }) =>
            field ? [field.centsTowards, field.centsAcross].map(Math.abs) : [0],
          ),
        );
    }
  }

  private peak(): Peak {
    if (this.resonance === undefined)
      this.resonance = (this.load ? this.aloneInto(this.load) : featuresOf(this.sheet)).resonance;
    return this.resonance;
  }

  private aloneInto(load: SearchLoad): CurveFeatures {
    const { instrument, pickups, listen } = this.sheet;
    const own = pickups[this.pickup]!;
    return new Alone(own, load, weightsOf(instrument, own, listen.string)).features();
  }

  private come(): ReturnType<typeof outcomeOf> {
    return (this.outcome ??= outcomeOf(this.sheet.instrument, this.sheet.pickups[this.pickup]!));
  }

  private notes(): Against {
    if (!this.heard) {
      const notes = heardNotes(this.sheet);
      this.heard = { notes, loudness: notesLoudness(notes) };
    }
    return this.heard;
  }
}
