/** Whether a bar or a piece of steel lies against anything that could hold it. Frame as in parts.ts, m. */
import { FLANGE, FLANGE_RIM, upperFlange } from './bobbin.ts';
import { blocksOf, type BlockPart, type PickupParts, type RowPart, type WindingRoom } from './parts.ts';
import { topDiameter } from './pole.ts';
import { polesStanding } from './poleRow.ts';
import { poleUnder } from './singlePole.ts';

/** Between two blocks with edges along x, y and z; 0 where they touch or overlap. */
function apart(a: BlockPart, b: BlockPart): number {
  const along = (axis: 'x' | 'y' | 'z'): number =>
    Math.max(0, Math.abs(a.centre[axis] - b.centre[axis]) - 0.5 * (a.size[axis] + b.size[axis]));
  return Math.hypot(along('x'), along('y'), along('z'));
}

/** A row's bobbin and poles as blocks about them. */
function roomsOf(row: RowPart, pitch: number): readonly BlockPart[] {
  const { offset, heights, winding } = row;
  const block = (half: readonly [number, number], y: number, low: number, high: number): BlockPart => ({
    size: { x: 2 * half[0], y: 2 * half[1], z: high - low },
    centre: { x: offset, y, z: 0.5 * (low + high) },
  });
  const bobbin = ({ straight, edge, top, bottom }: WindingRoom): BlockPart => {
    const out = edge + FLANGE_RIM;
    return block([out, 0.5 * straight + out], 0, bottom - FLANGE, top + upperFlange(top));
  };
  return [
    ...(winding ? [bobbin(winding)] : []),
    ...polesStanding({ pitch, heights }).map(({ y, k, top }) => {
      const pole = poleUnder(row, k);
      const radius = 0.5 * topDiameter(pole);
      return block([radius, radius], y, top - pole.length, top);
    }),
  ];
}

/** From every bar, then every piece of steel, to the nearest pole, bobbin, bar or steel. @param pitch of the poles */
export function gapsAround(parts: PickupParts, pitch: number): readonly number[] {
  const rooms = parts.rows.flatMap((row) => roomsOf(row, pitch));
  const blocks = blocksOf(parts);
  return blocks.map((block) =>
    Math.min(...[...rooms, ...blocks.filter((other) => other !== block)].map((other) => apart(block, other))),
  );
}
