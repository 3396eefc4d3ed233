/** What a blind listen came to, for the rooms that do not look into the physics. */
export { FEWEST_ROUNDS, guessingProbability, verdict } from '../physics/sound/live/binomial.ts';
