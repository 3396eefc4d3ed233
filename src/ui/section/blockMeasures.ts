/** The dimensions of bars and steel on the section, each where there is room for it. */
import { numbered, steelNames } from '../../sheet/steelWords.ts';
import type { FigureKey } from '../../sheet/figures.ts';
import { figureIsFree, RingPlaces, type Point, type Rect, type Taken } from '../drawing/ringPlaces.ts';
import type { BuiltBlock } from './built.ts';
import { CLEAR, LETTERS, type Measure, type MeasureInput, type Path } from './measure.ts';

/** Where a ring may stand. */
interface Spot extends Point {
  readonly line: Measure['line'];
  readonly leader?: Measure['leader'];
  readonly pixelsPerUnit: number;
}

type Wanted = Omit<Measure, 'handle' | 'line' | 'leader' | 'place' | 'pixelsPerUnit'> & {
  readonly spots: readonly Spot[];
};

/** What can be dragged, the most wanted first. */
const FIELDS = ['thickness', 'offset', 'width', 'top'] as const;

/** From a part to a dimension line beside it, px. */
const BESIDE = 20;
/** A face so wide has room for two rings, px. */
const WIDE = 60;
/** Of a figure, and of each letter before it, px. */
const FIGURE = { width: 62, height: 24, letter: 8 };

const boxAt = ({ x, y, anchor }: NonNullable<Measure['place']>, before: string, after: string): Rect => {
  const width = FIGURE.width + FIGURE.letter * (before.length + after.length);
  const left = { start: x, middle: x - width / 2, end: x - width }[anchor];
  return { x: left, y: y - FIGURE.height / 2, width, height: FIGURE.height };
};

interface Block {
  readonly block: BuiltBlock;
  /** For the ear, and in a word. */
  readonly name: string;
  readonly word: string;
  readonly list: 'bars' | 'steel';
  readonly index: number;
}

/** Those that the string's plane cuts come first. */
function blocksOf({ build, built, pickup }: MeasureInput): readonly Block[] {
  const names = steelNames(
    build,
    pickup.rows.map(({ offset }) => offset),
  );
  const bars = built.bars.map((block, index): Block => ({
    block,
    name: numbered(`${pickup.name} bar magnet`, index, built.bars.length),
    word: numbered('magnet', index, built.bars.length),
    list: 'bars',
    index,
  }));
  const steel = built.steel.map((block, index): Block => {
    const word = numbered(names[index]!, index, built.steel.length);
    return { block, name: `${pickup.name} steel ${word}`, word, list: 'steel', index };
  });
  return [...bars, ...steel].toSorted((a, b) => Number(b.block.cut) - Number(a.block.cut));
}

function wanted(
  { build, index: p, view }: MeasureInput,
  { block, name, word, list, index }: Block,
): Wanted[] {
  const { x, y, width, height } = block.box;
  const [right, bottom, cx, cy] = [x + width, y + height, x + width / 2, y + height / 2];
  const data = build[list][index]!;
  const of = list === 'bars' ? 'bar' : 'steel';
  const { scale } = view;
  const perOffset = (view.at(data.offset + 1e-3).x - view.at(data.offset).x) / 1e-3;
  const measure = (
    field: (typeof FIELDS)[number],
    said: readonly [label: string, word: string, before: string],
    along: 'x' | 'y',
    spots: readonly Spot[],
  ): Wanted => {
    const path: Path = ['pickups', p, 'build', list, index, field];
    return {
      key: `${of} ${index} ${field}`,
      label: `${name}, ${said[0]}`,
      word: said[1],
      before: said[2],
      after: '',
      figure: `${of}${field[0]!.toUpperCase()}${field.slice(1)}` as FigureKey,
      value: data[field],
      paths: [path],
      change: (value) => ({ path, value }),
      along,
      spots,
    };
  };
  const on = (px: number, py: number, pixelsPerUnit: number): Spot => ({
    x: px,
    y: py,
    line: null,
    pixelsPerUnit,
  });
  // On its faces, or just beside a bar too narrow for two rings.
  const apart = list === 'bars' ? Math.max(14, Math.min(28, width / 2)) : 0;
  const faces = width >= WIDE ? [0.3, -0.3, 0.4, -0.4, 0.15, -0.15].map((share) => share * width) : [];
  const beside = (at: number, from: number): Spot => ({
    x: at,
    y: bottom,
    line: { from: { x: from, y }, to: { x: from, y: bottom }, at },
    pixelsPerUnit: scale,
  });
  const across = (at: number, end: number): Spot => ({
    x: end,
    y: at,
    line: { from: { x, y: at < y ? y : bottom }, to: { x: right, y: at < y ? y : bottom }, at },
    pixelsPerUnit: ((end === right ? 1 : -1) * scale) / 2,
  });
  const led = (px: number, py: number, to: Point, pixelsPerUnit: number): Spot => ({
    ...on(px, py, pixelsPerUnit),
    leader: [{ x: px, y: py }, to],
  });
  const flanks = [0.5, 0.25, 0.75].map((share) => y + share * height);
  return [
    measure('top', ['upper face', `${word} top`, 'top'], 'y', [
      on(cx - apart, y, -scale),
      ...faces.map((aside) => on(cx - aside, y, -scale)),
      led(x - BESIDE, y, { x, y }, -scale),
      led(right + BESIDE, y, { x: right, y }, -scale),
    ]),
    measure('thickness', ['thickness', word, ''], 'y', [
      ...(list === 'bars' ? [on(cx + apart, bottom, scale)] : []),
      ...(width >= WIDE ? [] : [on(cx, bottom, scale)]),
      beside(right + BESIDE, right),
      beside(x - BESIDE, x),
      ...faces.map((aside) => on(cx + aside, bottom, scale)),
    ]),
    measure('width', ['width', `${word} width`, ''], 'x', [
      ...(height >= 2 * BESIDE || width >= WIDE ? flanks.map((py) => on(right, py, scale / 2)) : []),
      ...(height >= 2 * BESIDE || width >= WIDE ? flanks.map((py) => on(x, py, -scale / 2)) : []),
      across(bottom + BESIDE, right),
      across(y - BESIDE, right),
      across(bottom + 1.6 * BESIDE, right),
    ]),
    measure('offset', ["offset from the pickup's centre", `${word} at`, 'at'], 'x', [
      ...[0, 0.2, -0.2, 0.35, -0.35].map((share) =>
        on(cx + share * (width >= WIDE ? width : 0), cy, perOffset),
      ),
      ...flanks.map((py) => on(cx, py, perOffset)),
      led(cx, bottom + BESIDE, { x: cx, y: bottom }, perOffset),
      led(cx, y - BESIDE, { x: cx, y }, perOffset),
    ]),
  ];
}

/** Outwards of its ring, below or above it; null where nothing is free. @param middle of the pickup, px */
function figureFor(
  { before, after }: Wanted,
  { x, y }: Point,
  taken: Taken,
  middle: number,
): Measure['place'] {
  const [out, anchor] = x >= middle ? ([CLEAR, 'start'] as const) : ([-CLEAR, 'end'] as const);
  const places: readonly NonNullable<Measure['place']>[] = [
    { x: x + out, y, anchor },
    { x, y: y + CLEAR + 8, anchor: 'middle' },
    { x, y: y - CLEAR - 8, anchor: 'middle' },
    { x: x + out, y: y + CLEAR, anchor },
  ];
  return places.find((place) => figureIsFree(boxAt(place, before, after), taken)) ?? null;
}

/** The coil's note, where one stands (CoilNote.svelte), px. */
function note({ built, build, view }: MeasureInput): readonly Rect[] {
  const [row] = built.rows;
  const window = row?.windows[1];
  if (!row || !window || build.rows.length === 2 || view.tabled) return [];
  return [{ x: row.centre + row.asideRight, y: window.y + 0.35 * window.height, width: 190, height: 72 }];
}

/** No figure lies over a pole. */
const poles = ({ built }: MeasureInput): readonly Rect[] =>
  built.rows.flatMap(({ outline, centre, halfTop, top, bottom }) =>
    outline.length === 0 ? [] : [{ x: centre - halfTop, y: top, width: 2 * halfTop, height: bottom - top }],
  );

/** For one section; remembers where each ring stands. */
export class BlockMeasures {
  readonly #places = new RingPlaces();

  /**
   * @param placed the dimensions that are there already
   * @param of what is drawn; of another all places are found anew
   */
  find(input: MeasureInput, placed: readonly Measure[], of: string, resting: boolean): readonly Measure[] {
    const { view } = input;
    const blocks = blocksOf(input);
    const asked = blocks.flatMap((block) => wanted(input, block));
    // Each part has one ring before any has two.
    const inTurn = FIELDS.flatMap((field) => asked.filter(({ key }) => key.endsWith(field)));
    const boxes = view.tabled
      ? []
      : placed.flatMap(({ place, before, after }) => (place ? [boxAt(place, before, after)] : []));
    const taken: Taken = {
      width: view.width,
      height: view.height,
      rings: placed.map(({ handle }) => handle),
      boxes: [...boxes, ...note(input)],
    };
    const found = this.#places.find(
      of,
      inTurn.map(({ key, spots }) => ({ key, places: spots })),
      taken,
      resting,
    );
    const standing = asked
      .flatMap((one) => {
        const spot = one.spots[found.get(one.key) ?? -1];
        return spot ? [{ one, spot }] : [];
      })
      // As many as there are letters for.
      .slice(0, view.tabled ? Math.max(0, LETTERS.length - placed.length) : Infinity);
    const rings = [...taken.rings, ...standing.map(({ spot }) => spot)];
    const written = [...taken.boxes, ...poles(input)];
    return standing.map(({ one, spot }): Measure => {
      const { spots: _, ...measure } = one;
      const place = figureFor(one, spot, { ...taken, rings, boxes: written }, view.middle);
      if (place) written.push(boxAt(place, one.before, one.after));
      return {
        ...measure,
        handle: { x: spot.x, y: spot.y },
        line: spot.line,
        ...(spot.leader && { leader: spot.leader }),
        pixelsPerUnit: spot.pixelsPerUnit,
        place,
      };
    });
  }
}
