import type { Vector } from '../numerics/vector.ts';

/** Adds a body's H at a point in the pickup's frame, A/m. */
export type BodyField = (x: number, y: number, z: number, out: Vector) => void;
