/** Bars, plates, walls and blades as bodies, cut for each other and for the poles close to them. */
import type { BoxBody } from '../bodies/body.ts';
import { cutFaces } from '../bodies/boxCuts.ts';
import type { CutFace, Neighbour } from '../bodies/boxCuts.ts';
import { meshOfFaces } from '../bodies/boxMesh.ts';
import type { BoxMesh } from '../bodies/boxMesh.ts';
import { facings } from '../bodies/facings.ts';
import type { PlacedBox } from '../bodies/facings.ts';
import { jointFaces } from '../bodies/jointCuts.ts';
import { Kept } from '../../numerics/kept.ts';

/** Of the last boxes: only what changed is meshed, and coupled with itself, again. */
const meshes = new Kept<BoxMesh>(32);

/**
 * @param boxes must not overlap, may touch each other and the poles; m
 * @param poles in the same frame, m
 * @param fineness of the meshes; 1 meets the accuracy that the tests state
 * Boxes that are not of steel and lie against none are cut as they are without any.
 */
export function boxBodies(
  boxes: readonly PlacedBox[],
  poles: readonly Neighbour[],
  fineness = 1,
): readonly BoxBody[] {
  const against = new Set(facings(boxes).flatMap(({ a, b }) => [a, b]));
  const joint = boxes.filter((box, b) => box.joins || against.has(b));
  const cuts = joint.length === 0 ? [] : jointFaces(joint, poles, fineness);
  const faces = new Map(joint.map((box, k) => [box, cuts[k]!]));
  return boxes.map((box) => {
    const { size, centre, joins = false } = box;
    const mesh = meshOf(
      box,
      faces.get(box) ?? cutFaces(size, fineness, box.stiff ? [] : seenFrom(box, poles)),
    );
    return { kind: 'box', mesh, ...centre, joins };
  });
}

function seenFrom({ centre }: PlacedBox, poles: readonly Neighbour[]): readonly Neighbour[] {
  return poles.map((pole) => ({
    x: pole.x - centre.x,
    y: pole.y - centre.y,
    bottom: pole.bottom - centre.z,
    top: pole.top - centre.z,
    radius: pole.radius,
  }));
}

function meshOf({ size }: PlacedBox, faces: readonly CutFace[]): BoxMesh {
  const cuts = faces.flatMap(({ u, v, breaksU, breaksV, at }) => [
    ...(at === undefined ? [] : [at]),
    ...u,
    ...v,
    ...(breaksU ?? []),
    ...(breaksV ?? []),
  ]);
  return meshes.of([size.x, size.y, size.z, ...cuts].join(' '), () => meshOfFaces(size, faces));
}
