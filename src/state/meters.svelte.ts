/** What a person's meters are: the same for the bench sheet and for measured curves, and kept on this machine. */
import { USUAL_WISH } from '../benchSheet/usual.ts';
import type { JobInput } from '../jobs/protocol.ts';
import { fields, recallFields, type Fields } from './fields.ts';
import { remember } from './storage.ts';

const KEY = 'lodetone.meters';

/** Units stand at the type of the wish. */
export type Figures = Omit<JobInput['bench'], 'pickup' | 'read'>;

/** One a page; see metersOf. */
export class Meters {
  #figures: Figures = $state.raw(kept(recallFields(KEY)));

  get figures(): Figures {
    return this.#figures;
  }

  /** Returns nothing, as a field has it whose figure is taken. */
  set = (change: Partial<Figures>): undefined => {
    this.#figures = { ...this.#figures, ...change };
    remember(KEY, JSON.stringify(this.#figures));
  };
}

const number = (value: unknown, otherwise: number): number =>
  typeof value === 'number' && Number.isFinite(value) && value >= 0 ? value : otherwise;

/** Field by field: what lies there may be another program's, or a later one's. */
function kept(data: Fields): Figures {
  const { probe, bridge, depth, celsius } = USUAL_WISH;
  const had = fields(data['probe']);
  return {
    probe: {
      resistance: number(had['resistance'], probe.resistance ?? 0) || probe.resistance,
      capacitance: number(had['capacitance'], probe.capacitance),
    },
    bridge: number(data['bridge'], bridge) || bridge,
    depth: number(data['depth'], depth),
    celsius: number(data['celsius'], celsius),
  };
}

const all = new WeakMap<object, Meters>();

/** Those of a page: a probe that is changed on the bench sheet is the one that a curve was measured with. @param bench its workbench */
export function metersOf(bench: object): Meters {
  const had = all.get(bench) ?? new Meters();
  all.set(bench, had);
  return had;
}
