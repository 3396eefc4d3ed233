/** Outline of a pole for ringMesh: from the bottom on the axis to the top at z = 0 on the axis. */
import type { BuiltPole, Tip } from './build.ts';
import type { ProfilePoint } from '../bodies/ringMesh.ts';

/** Straight pieces of a dome: its sagitta error is below 1 % of its depth. */
const DOME_PIECES = 4;

/**
 * A shank's and a head's steps are flat rings; a dome becomes straight pieces.
 *
 * @param pole of lengths that checkBuild passes
 * @returns vertices, m, heights from −length to 0
 */
export function poleProfile(pole: BuiltPole): readonly ProfilePoint[] {
  const radius = 0.5 * pole.diameter;
  const points: ProfilePoint[] = [{ r: 0, z: -pole.length }];
  let topRadius = radius;
  if (pole.kind === 'steel' && pole.shank) {
    const shank = 0.5 * pole.shank.diameter;
    points.push({ r: shank, z: -pole.length }, { r: shank, z: -pole.length + pole.shank.length });
    points.push({ r: radius, z: -pole.length + pole.shank.length });
  } else points.push({ r: radius, z: -pole.length });
  if (pole.kind === 'steel' && pole.head) {
    topRadius = 0.5 * pole.head.diameter;
    points.push({ r: radius, z: -pole.head.height }, { r: topRadius, z: -pole.head.height });
  }
  points.push(...tipPoints(pole.tip, topRadius), { r: 0, z: 0 });
  return points;
}

function tipPoints(tip: Tip, radius: number): readonly ProfilePoint[] {
  switch (tip.shape) {
    case 'flat':
      return [{ r: radius, z: 0 }];
    case 'chamfered':
      return [
        { r: radius, z: -tip.depth },
        { r: radius - tip.width, z: 0 },
      ];
    case 'coned':
      return [
        { r: radius, z: -tip.depth },
        { r: 0.5 * tip.flat, z: 0 },
      ];
    case 'domed': {
      const sphere = (radius * radius + tip.depth * tip.depth) / (2 * tip.depth);
      const edge = Math.asin(Math.min(1, radius / sphere));
      // A dome deeper than its radius would bulge beyond the pole; the check refuses it.
      return Array.from({ length: DOME_PIECES }, (_, k) => {
        const angle = edge * (1 - k / DOME_PIECES);
        return { r: sphere * Math.sin(angle), z: sphere * (Math.cos(angle) - 1) };
      });
    }
  }
}
