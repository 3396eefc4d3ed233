/** Bars and steel in the view across the strings, px: cut through the middle of a row, broken off where the drawing ends. */
import type { Block, PickupBuild } from '../../sheet/sheet.ts';
import type { AcrossView } from './view.ts';

export interface AcrossBlock {
  readonly kind: 'bar' | 'steel';
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** Whether the row's middle plane cuts it; else it is seen behind that plane. */
  readonly cut: boolean;
}

/** Those that reach above the break. @param offset of the row's middle from the pickup's, m */
export function blocksAcross(
  build: PickupBuild,
  offset: number,
  view: Pick<AcrossView, 'x' | 'z' | 'cut' | 'scale'>,
): readonly AcrossBlock[] {
  const seen = (block: Block, kind: AcrossBlock['kind']): AcrossBlock[] => {
    const bottom = block.top - block.thickness;
    if (block.top <= view.cut) return [];
    return [
      {
        kind,
        x: view.x(block.across - block.length / 2),
        y: view.z(block.top),
        width: block.length * view.scale,
        height: (block.top - Math.max(view.cut, bottom)) * view.scale,
        cut: Math.abs(block.offset - offset) < block.width / 2,
      },
    ];
  };
  return [
    ...build.bars.flatMap((bar) => seen(bar, 'bar')),
    ...build.steel.flatMap((piece) => seen(piece, 'steel')),
  ];
}
