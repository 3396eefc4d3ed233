/** A build's parts as they are cut along a string, px. */
import { hasCoil } from '../../shape/hasCoil.ts';
import type { Point } from '../../plot/drawing.ts';
import { FLANGE, FLANGE_RIM, upperFlange } from '../../shape/bobbin.ts';
import { poleForm, poleOutline, topDiameter } from '../../shape/pole.ts';
import { standingPoles } from '../../shape/poleRow.ts';
import { buildUnder } from '../../sheet/singlePoles.ts';
import type { BarMagnet, Block, PickupBuild, Pole, RowBuild } from '../../sheet/build.ts';
import { metalCuts } from './metalCuts.ts';
import type { SectionView } from './view.ts';

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Letter {
  readonly text: 'N' | 'S';
  readonly x: number;
  readonly y: number;
}

export interface BuiltRow {
  readonly index: number;
  readonly kind: Pole['kind'];
  readonly centre: number;
  /** y of the pole's ends, and half its diameter, px. */
  readonly top: number;
  readonly bottom: number;
  readonly half: number;
  /** Half its width at the top: of the head of a screw. */
  readonly halfTop: number;
  readonly outline: readonly Point[];
  /** From the centre line to the edge of the flanges, px; on either side to that of what stands beside them. */
  readonly edge: number;
  readonly asideLeft: number;
  readonly asideRight: number;
  readonly flanges: readonly Box[];
  /** The window on either side, and the part of it that the wire fills. */
  readonly windows: readonly Box[];
  readonly wound: readonly Box[];
  readonly letters: readonly Letter[];
}

/** A bar or a piece of steel. */
export interface BuiltBlock {
  readonly kind: 'bar' | 'steel';
  readonly box: Box;
  /** Whether the string's plane cuts it; else it lies beside that plane. */
  readonly cut: boolean;
  readonly letters: readonly Letter[];
}

export interface Built {
  readonly rows: readonly BuiltRow[];
  readonly bars: readonly BuiltBlock[];
  readonly steel: readonly BuiltBlock[];
  /** Cuts through a cover, as closed outlines: one, or where there are holes several; and through a base plate. */
  readonly metal: readonly (readonly Point[])[];
}

const LETTER = 15;
/** Room about a pole that has no coil, m. */
const NO_COIL = 5e-3;

function builtRow(
  row: RowBuild,
  index: number,
  build: PickupBuild,
  string: number,
  share: number,
  view: SectionView,
): BuiltRow {
  const { pole, window } = row;
  const { scale, z } = view;
  const centre = view.centres[index] ?? view.middle;
  const height = pole.heights[string - 1] ?? 0;
  const form = poleForm(pole);
  const top = z.to(height);
  const bottom = z.to(height - pole.length);
  const half = (pole.diameter / 2) * scale;
  const bare = !hasCoil(build);
  const edge = bare ? Math.max(NO_COIL, topDiameter(form)) * scale : (window.outer + FLANGE_RIM) * scale;
  const flange = (from: number, thick: number): Box => ({
    x: centre - edge,
    y: z.to(from),
    width: 2 * edge,
    height: Math.max(0, thick) * scale,
  });
  const above = upperFlange(window.top);
  const blocks = [...build.bars, ...build.steel].filter(({ top }) => top < window.bottom);
  const below = Math.min(FLANGE, ...blocks.map(({ top }) => window.bottom - top));
  const sides = (outer: number): Box[] =>
    [-1, 1].map((s) => ({
      x: centre + (s < 0 ? -outer : window.inner) * scale,
      y: z.to(window.top),
      width: (outer - window.inner) * scale,
      height: (window.top - window.bottom) * scale,
    }));
  const tall = pole.kind !== 'none' && bottom - top > 3 * LETTER;
  return {
    index,
    kind: pole.kind,
    centre,
    top,
    bottom,
    half,
    halfTop: (topDiameter(form) / 2) * scale,
    outline:
      standingPoles(pole).length === 0
        ? []
        : poleOutline(form).map((p) => ({ x: centre + p.x * scale, y: z.to(height + p.z) })),
    edge,
    asideLeft: edge,
    asideRight: edge,
    flanges: bare ? [] : [flange(window.top + above, above), flange(window.bottom, below)],
    windows: bare ? [] : sides(window.outer),
    wound: bare
      ? []
      : sides(window.inner + (window.outer - window.inner) * Math.max(0.05, Math.min(1, share))),
    letters: tall ? polarity(row, build, index, view, { x: centre, top, bottom }) : [],
  };
}

/** A rod's own poles; a steel pole's are what the bar makes of it. */
function polarity(
  row: RowBuild,
  { bars }: PickupBuild,
  index: number,
  view: SectionView,
  at: { readonly x: number; readonly top: number; readonly bottom: number },
): Letter[] {
  let north = row.up === 'north';
  if (row.pole.kind !== 'rod') {
    // What several make of it, or one along its length, is for the field to say.
    const [bar] = bars;
    if (!bar || bars.length > 1 || bar.direction === 'along the length') return [];
    // Not turned over, a bar has its north upwards or towards the nut, which is drawn on the left.
    const nutSide = (view.centres[index] ?? 0) < view.middle;
    north = (bar.direction === 'through the thickness' || nutSide) !== bar.turned;
  }
  const [up, down] = north ? (['N', 'S'] as const) : (['S', 'N'] as const);
  const top: Letter = { text: up, x: at.x, y: at.top + 2.2 * LETTER };
  return row.pole.kind === 'rod' ? [top, { text: down, x: at.x, y: at.bottom - LETTER }] : [top];
}

function blockIn(block: Block, kind: BuiltBlock['kind'], view: SectionView): BuiltBlock {
  const { x, along } = view.at(block.offset);
  const width = block.width * view.scale;
  const height = block.thickness * view.scale;
  return {
    kind,
    box: { x: x - width / 2, y: view.z.to(block.top), width, height },
    cut: Math.abs(along - block.across) < block.length / 2,
    letters: [],
  };
}

function barIn(bar: BarMagnet, view: SectionView): BuiltBlock {
  const block = blockIn(bar, 'bar', view);
  return { ...block, letters: block.cut && !view.tabled ? poleLetters(bar, block.box) : [] };
}

/** Room for a dimension beyond what stands beside a coil, px. */
const ROOM = 60;

/** With what stands beside its coil, so that dimensions run clear of that; where no room is left for them, as they would. */
function beside(row: BuiltRow, blocks: readonly BuiltBlock[], { width }: SectionView): BuiltRow {
  const there = blocks.filter(({ box }) => box.y < row.bottom - 1 && box.y + box.height > row.top);
  const left = Math.max(row.edge, ...there.map(({ box }) => row.centre - box.x));
  const right = Math.max(row.edge, ...there.map(({ box }) => box.x + box.width - row.centre));
  return {
    ...row,
    asideLeft: row.centre - left > ROOM ? left : row.edge,
    asideRight: row.centre + right < width - ROOM ? right : row.edge,
  };
}

/** What of its poles is seen on the cut, where there is room to say it. */
function poleLetters({ direction, turned }: BarMagnet, { x, y, width, height }: Box): Letter[] {
  const [first, second] = turned ? (['S', 'N'] as const) : (['N', 'S'] as const);
  if (height < LETTER) return [];
  if (direction === 'across the width')
    return width < 3 * LETTER
      ? []
      : [
          { text: first, x: x + LETTER * 0.8, y: y + height / 2 },
          { text: second, x: x + width - LETTER * 0.8, y: y + height / 2 },
        ];
  if (width < LETTER) return [];
  // Nut on the left and strings on top, one looks from the treble side.
  if (direction === 'along the length') return [{ text: first, x: x + width / 2, y: y + height / 2 }];
  const beside = width < 4 * LETTER ? width / 2 : LETTER;
  const letters: Letter[] = [
    { text: first, x: x + beside, y: y + LETTER * 0.8 },
    { text: second, x: x + beside, y: y + height - LETTER * 0.8 },
  ];
  return height < 2.6 * LETTER ? letters.slice(0, 1) : letters;
}

/**
 * @param string 1 is the highest
 * @param shares how much of each row's window its wire fills, 0–1
 */
export function builtSection(
  build: PickupBuild,
  string: number,
  shares: readonly number[],
  view: SectionView,
): Built {
  const bars = build.bars.map((bar) => barIn(bar, view));
  const steel = build.steel.map((piece) => blockIn(piece, 'steel', view));
  return {
    rows: buildUnder(build, string - 1).rows.map((row, r) =>
      beside(builtRow(row, r, build, string, shares[r] ?? 1, view), [...bars, ...steel], view),
    ),
    bars,
    steel,
    metal: metalCuts(build, view),
  };
}

/** Copper in section: the middles of dots on a square lattice, as path text to be stroked with round ends. */
export function copperDots(boxes: readonly Box[], pitch: number): string {
  return boxes
    .map(({ x, y, width, height }) => {
      const columns = Math.max(1, Math.floor(width / pitch));
      const rows = Math.max(1, Math.floor(height / pitch));
      let path = '';
      for (let r = 0; r < rows; r++)
        for (let c = 0; c < columns; c++)
          path += `M${(x + ((c + 0.5) * width) / columns).toFixed(1)} ${(y + ((r + 0.5) * height) / rows).toFixed(1)}h0`;
      return path;
    })
    .join('');
}
