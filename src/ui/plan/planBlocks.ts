/** Bars and steel on the plan, px in the pickup's own frame. */
import type { BarMagnet, Block, PickupBuild } from '../../sheet/build.ts';

export interface Place {
  readonly x: number;
  readonly y: number;
}

export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface PlanBlock extends Rect {
  /** Whether it lies under a coil. */
  readonly hidden: boolean;
  /** Of a bar's poles, local px. */
  readonly letters: readonly (Place & { readonly text: 'N' | 'S' })[];
}

/** Room for a letter, px. */
const LETTER = 14;

/** Bars, then steel. @param coils of the rows, local px @param scale px per metre */
export function planBlocks(build: PickupBuild, coils: readonly Rect[], scale: number): readonly PlanBlock[] {
  const rect = ({ width, length, offset, across }: Block): Rect => ({
    x: (-offset - width / 2) * scale,
    y: (-across - length / 2) * scale,
    width: width * scale,
    height: length * scale,
  });
  const under = (block: Block): boolean =>
    coils.some((coil, r) => block.top <= build.rows[r]!.window.top && covers(coil, rect(block)));
  return [
    ...build.bars.map((bar): PlanBlock => ({
      ...rect(bar),
      hidden: under(bar),
      letters: planLetters(bar, rect(bar)),
    })),
    ...build.steel.map((piece): PlanBlock => ({ ...rect(piece), hidden: under(piece), letters: [] })),
  ];
}

const covers = (a: Rect, b: Rect): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

/** On the upper face, at either side or at either end: as it is magnetised. */
function planLetters({ direction, turned }: BarMagnet, { x, y, width, height }: Rect): PlanBlock['letters'] {
  if (Math.min(width, height) < LETTER) return [];
  const [first, second] = turned ? (['S', 'N'] as const) : (['N', 'S'] as const);
  const [cx, cy] = [x + width / 2, y + height / 2];
  // Beyond the outer poles, which stand over its middle.
  const end = y + height - LETTER;
  if (direction === 'through the thickness') return [{ text: first, x: cx, y: end }];
  if (direction === 'along the length')
    return [
      { text: first, x: cx, y: y + LETTER },
      { text: second, x: cx, y: end },
    ];
  return width < 2 * LETTER
    ? []
    : [
        { text: first, x: x + LETTER / 2, y: cy },
        { text: second, x: x + width - LETTER / 2, y: cy },
      ];
}
