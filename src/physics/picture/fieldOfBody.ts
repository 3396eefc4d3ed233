/** H of one body's charges, quickly: as many points as a picture needs. */
import { barField } from './barField.ts';
import type { BodyField } from './bodyField.ts';
import { poleField } from './poleField.ts';
import type { FieldSources } from './sources.ts';

export type { BodyField } from './bodyField.ts';

/** H, A/m, of body number `b` of the sources as a function of the place; see poleField and barField. */
export function fieldOfBody(sources: FieldSources, b: number): BodyField {
  const body = sources.bodies[b]!;
  return body.kind === 'ring' ? poleField(sources, b, body) : barField(sources, b, body);
}
