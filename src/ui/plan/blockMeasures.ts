/** The dimensions of bars and steel on the plan that the section doesn't show well: how long, how wide, and where. */
import { numbered, steelNames } from '../../sheet/steelWords.ts';
import type { FigureKey } from '../../sheet/figures.ts';
import type { Pickup } from '../../sheet/sheet.ts';
import { RingPlaces, type Point } from '../drawing/ringPlaces.ts';
import { toScreen, type PlanView, type Rect } from './view.ts';

export interface PlanMeasure extends Point {
  readonly key: string;
  /** For the ear. */
  readonly label: string;
  readonly figure: FigureKey;
  readonly value: number;
  readonly path: readonly (string | number)[];
  readonly along: 'x' | 'y';
  readonly pixelsPerUnit: number;
}

interface Spot extends Point {
  readonly pixelsPerUnit: number;
}

/** What can be dragged, the most wanted first; what it is called, and its direction where the pickup stands square. */
const FIELDS = [
  ['length', 'length', 'y'],
  ['offset', 'offset', 'x'],
  ['across', 'place across the strings', 'y'],
  ['width', 'width', 'x'],
] as const;
type Field = (typeof FIELDS)[number][0];

/** Along a side, the ends first: poles and strings stand over the middle. */
const SHARES = [0.46, 0.42, 0.38, 0.34, 0.3, 0.26, 0.22, 0.18, 0.14, 0.1, 0.06, 0].flatMap((aside) => [
  0.5 + aside,
  0.5 - aside,
]);

function spotsOf(field: Field, { x, y, width, height }: Rect, view: PlanView): readonly Spot[] {
  const { scale } = view;
  // What moves along the pickup's own axes goes so far along the screen's.
  const cos = Math.cos((view.turn * Math.PI) / 180);
  const spot = (px: number, py: number, perMetre: number): Spot => ({
    ...toScreen(view, { x: -px / scale, y: -py / scale }),
    pixelsPerUnit: perMetre * scale * cos,
  });
  const cx = x + width / 2;
  if (field === 'length')
    return [0.5, 0.2, 0.8].flatMap((share) => [
      spot(x + share * width, y + height, 0.5),
      spot(x + share * width, y, -0.5),
    ]);
  if (field === 'width')
    return SHARES.flatMap((share) => [
      spot(x + width, y + share * height, 0.5),
      spot(x, y + share * height, -0.5),
    ]);
  return SHARES.map((share) => spot(cx, y + share * height, -1));
}

/** For one plan; remembers where each ring stands. */
export class PlanBlockMeasures {
  readonly #places = new RingPlaces();

  /** @param of what is drawn; of another all places are found anew @param taken where other rings and figures stand, px */
  find(
    pickup: Pickup,
    index: number,
    view: PlanView,
    taken: readonly Point[],
    of: string,
    resting: boolean,
  ): readonly PlanMeasure[] {
    const { build, rows } = pickup;
    if (!build) return [];
    const words = steelNames(
      build,
      rows.map(({ offset }) => offset),
    );
    const blocks = [
      ...build.bars.map((data, i) => ({
        data,
        list: 'bars',
        figure: 'bar',
        i,
        name: numbered(`${pickup.name} bar magnet`, i, build.bars.length),
      })),
      ...build.steel.map((data, i) => ({
        data,
        list: 'steel',
        figure: 'steel',
        i,
        name: `${pickup.name} steel ${numbered(words[i]!, i, build.steel.length)}`,
      })),
    ];
    // Each part has one ring before any has two.
    const asked = FIELDS.flatMap(([field, word, along]) =>
      blocks.map(({ data, list, figure, i, name }, b) => ({
        key: `${list} ${i} ${field}`,
        places: spotsOf(field, view.blocks[b]!, view),
        measure: {
          label: `${name}, ${word} on the plan`,
          figure: `${figure}${field[0]!.toUpperCase()}${field.slice(1)}` as FigureKey,
          value: data[field],
          path: ['pickups', index, 'build', list, i, field],
          along,
        },
      })),
    );
    const found = this.#places.find(
      of,
      asked,
      { width: view.width, height: view.height, rings: taken, boxes: [] },
      resting,
    );
    return asked.flatMap(({ key, places, measure }): PlanMeasure[] => {
      const spot = places[found.get(key) ?? -1];
      return spot ? [{ key, ...measure, ...spot }] : [];
    });
  }
}
