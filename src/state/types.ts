/** What the screen sees of a prediction, named here so that nothing above this room looks into the physics. */
import type { JobValue } from '../jobs/protocol.ts';

/** SI; see physics/prediction.ts. */
export type Prediction = JobValue['figures'];
export type Sound = JobValue['sound'];
export type Beginning = JobValue['beginning'];
export type Voice = Prediction['voices'][number];
export type PhraseNotes = Prediction['phrase'];
export type PhraseNote = PhraseNotes['notes'][number];
export type PickupOutcome = Prediction['pickups'][number];
export type StringOutcome = PickupOutcome['strings'][number];
export type CoilOutcome = PickupOutcome['coils'][number];
export type HeardDifference = JobValue['heard'];
export type { SheetFault } from '../jobs/protocol.ts';
