/** The newest pictures of the chosen pickup's field. What is shown asks for its picture; nothing else is computed. */
import { polePlace } from '../shape/poleRow.ts';
import type { JobClient } from '../jobs/client.ts';
import type { JobValue } from '../jobs/protocol.ts';
import type { Pickup, Sheet } from '../sheet/sheet.ts';

type Answer = JobValue['picture'];
/** SI; see physics/picture/types.ts. */
export type SectionPicture = NonNullable<Answer['section']>;
export type PlanPicture = NonNullable<Answer['plan']>;
export type ProbeReading = NonNullable<Answer['probe']>;

/** Pictures that can be on the screen. */
export type Shown = 'section' | 'plan' | 'probe';

/** Where the field is read, in the pickup's own frame (towards the nut, towards the treble side), m. */
export interface ProbePlace {
  readonly x: number;
  readonly y: number;
}

/** A pickup dragged along its strings keeps its pictures for this long a way: they run together very little there. m. */
const SAME_PLACE = 2e-3;
/** A hall probe laid on a pole: its element sits inside the tip. m. */
const FIRST_HEIGHT = 0.75e-3;

/** Pictures of the chosen pickup, newest or last good. */
export class Pictures {
  readonly #sheet: () => Sheet;
  readonly #chosen: () => number;
  readonly #jobs: JobClient;

  #section: SectionPicture | null = $state.raw(null);
  #plan: PlanPicture | null = $state.raw(null);
  #reading: ProbeReading | null = $state.raw(null);
  #moved: ProbePlace | null = $state.raw(null);
  /** Where a pickup was when its section was asked for, m from the saddle. */
  #sectionPlace = $state.raw(0);
  /** Of which pickup the pictures are. */
  #pictured = $state.raw(-1);
  /** Above the nominal pole tops, m. */
  height = $state(FIRST_HEIGHT);

  readonly #pickup: Pickup | undefined = $derived.by(() => this.#sheet().pickups[this.#chosen()]);
  /** Whether there is a field to be shown. */
  readonly built: boolean = $derived((this.#pickup?.build ?? null) !== null);
  /** All that every picture depends on; equal texts have equal pictures. */
  readonly #question: string = $derived.by(() => {
    const { instrument, magnets } = this.#sheet();
    const pickup = this.#pickup;
    if (!pickup?.build) return '';
    const { build, rows, slant, place } = pickup;
    const offsets = rows.map((row) => row.offset);
    const about = Math.round(place / SAME_PLACE);
    return JSON.stringify([this.#chosen(), build, offsets, slant, about, instrument, magnets]);
  });
  /** Where the field is read: over the pole under the chosen string until it is moved. */
  readonly place: ProbePlace = $derived.by(() => this.#moved ?? this.#overPole());
  /** Whether the probe has been moved from where it lies by itself. */
  readonly moved: boolean = $derived(this.#moved !== null);

  /** Those of another pickup would be false. */
  readonly #shows: boolean = $derived.by(() => this.built && this.#pictured === this.#chosen());

  /** The section under the chosen string, newest or last good; null without a build and before the first. */
  readonly section: SectionPicture | null = $derived.by(() => (this.#shows ? this.#section : null));
  /** As `section`. */
  readonly plan: PlanPicture | null = $derived.by(() => (this.#shows ? this.#plan : null));
  /** As `section`; at `place`. */
  readonly reading: ProbeReading | null = $derived.by(() => (this.#shows ? this.#reading : null));
  /** Where the section's own zero stands now, m from the saddle: it goes along with a pickup that is dragged. */
  readonly origin: number = $derived.by(() =>
    this.#section ? this.#section.origin + (this.#pickup?.place ?? 0) - this.#sectionPlace : 0,
  );

  /** What every picture on the screen answers, and which is to be asked for. */
  readonly #answered: Record<Shown, string> = { section: '', plan: '', probe: '' };
  readonly #asked: Record<Shown, string> = { section: '', plan: '', probe: '' };
  #busy = false;

  constructor(sheet: () => Sheet, chosen: () => number, jobs: JobClient) {
    this.#sheet = sheet;
    this.#chosen = chosen;
    this.#jobs = jobs;
  }

  /**
   * Asks for a picture of the sheet as it is. To be called in an effect while the picture is shown: it reads all that the
   * picture depends on, so that the effect runs again when that changes.
   */
  show = (what: Shown): void => {
    const asked = this.#keyOf(what);
    if (asked === this.#asked[what]) return;
    this.#asked[what] = asked;
    // Once all effects have asked.
    queueMicrotask(() => void this.#next());
  };

  /** Reads the field elsewhere; null is over the pole again. */
  moveProbe = (to: ProbePlace | null): void => {
    this.#moved = to;
  };

  /** All that a picture depends on. */
  #keyOf(what: Shown): string {
    if (this.#question === '') return '';
    if (what === 'section') return `${this.#question} ${this.#sheet().listen.string}`;
    if (what === 'plan') return this.#question;
    const { x, y } = this.place;
    return `${this.#question} ${x} ${y} ${this.height}`;
  }

  async #next(): Promise<void> {
    if (this.#busy) return;
    const due = (what: Shown): boolean =>
      this.#asked[what] !== '' && this.#asked[what] !== this.#answered[what];
    const [section, probe] = [due('section'), due('probe')];
    // The plan is the slowest: a section does not wait for it.
    const plan = !section && due('plan');
    if (!section && !plan && !probe) return;
    const asked = { ...this.#asked };
    const pickup = this.#chosen();
    const { place } = this.#pickup ?? { place: 0 };
    this.#busy = true;
    const answer = await this.#jobs.pictures(this.#sheet(), {
      pickup,
      section,
      plan,
      probe: probe ? { ...this.place, height: this.height } : null,
    });
    this.#busy = false;
    if (section) this.#answered.section = asked.section;
    if (plan) this.#answered.plan = asked.plan;
    if (probe) this.#answered.probe = asked.probe;
    if (answer.status === 'done') {
      const { value } = answer;
      if (pickup !== this.#pictured) this.#forget();
      this.#pictured = pickup;
      if (value.section) {
        this.#section = value.section;
        this.#sectionPlace = place;
      }
      if (value.plan) this.#plan = value.plan;
      if (value.probe) this.#reading = value.probe;
    } else if (answer.status === 'failed' && pickup !== this.#pictured) {
      // The last good pictures stay, but not those of another pickup.
      this.#forget();
    }
    void this.#next();
  }

  #forget(): void {
    this.#section = null;
    this.#plan = null;
    this.#reading = null;
  }

  #overPole(): ProbePlace {
    const pickup = this.#pickup;
    const { pitch = 0, rows = [] } = pickup?.build ?? {};
    const row = { pitch, heights: rows[0]?.pole.heights ?? [] };
    return { x: pickup?.rows[0]?.offset ?? 0, y: polePlace(row, this.#sheet().listen.string - 1) };
  }
}
