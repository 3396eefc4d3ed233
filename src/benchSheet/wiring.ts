/** The harness as a diagram: pickups on the left, the jack on the right; what the letters stand for is in the parts list. */
import { hasCoil } from '../shape/hasCoil.ts';
import type { Controls, Pickup, Sheet } from '../sheet/sheet.ts';
import { startsHot } from './leads.ts';
import { middled } from './measure.ts';
import { box, circle, path, text, through, type Drawing, type Mark } from './page.ts';

/** mm of paper. */
const WIDTH = 92;
const RAIL = 12;
const HOT = 42;
const SWITCH = 51;
const WIPER = 77;
const OUT = 84;
/** Height of a pickup with one coil, with two in parallel, and of a set of controls. */
const SINGLE = 10;
const DOUBLE = 14;
const SET = 17;
const HUMP = 1.5;
const COIL = 4 * 2 * HUMP;

/** Four humps from left to right and a dot where the winding starts. */
function coil(x: number, y: number, dotLeft: boolean): Mark[] {
  const arcs = Array.from({ length: 4 }, () => `a${HUMP} ${HUMP} 0 0 1 ${2 * HUMP} 0`).join('');
  const dot = dotLeft ? x - 1.4 : x + COIL + 1.4;
  return [path(`M${x} ${y}${arcs}`, 'outline'), path(circle(dot, y - 1.6, 0.7), 'solid')];
}

const ground = (x: number, y: number): Mark =>
  path(
    through([
      [x - 2, y],
      [x + 2, y],
    ]) +
      through([
        [x - 1.2, y + 0.8],
        [x + 1.2, y + 0.8],
      ]) +
      through([
        [x - 0.5, y + 1.6],
        [x + 0.5, y + 1.6],
      ]),
    'outline',
  );

const line = (...points: readonly (readonly [number, number])[]): Mark => path(through(points), 'outline');

/** From the rail to its hot end at `HOT`, on the middle of the room that it has from `y` on. */
function pickupMarks(pickup: Pickup, y: number, height: number): Mark[] {
  const middle = y + height / 2;
  const two = pickup.rows.length > 1;
  const left = (row: number): boolean => !startsHot(pickup, row);
  if (two && pickup.join === 'parallel') {
    const [a, b] = [middle - 3, middle + 3];
    const x = 0.5 * (RAIL + HOT - COIL);
    return [
      ...coil(x, a, left(0)),
      ...coil(x, b, left(1)),
      line([RAIL, middle], [RAIL + 4, middle]),
      line([x, a], [RAIL + 4, a], [RAIL + 4, b], [x, b]),
      line([x + COIL, a], [HOT - 4, a], [HOT - 4, b], [x + COIL, b]),
      line([HOT - 4, middle], [HOT, middle]),
      text(x + COIL / 2, a - 2.2, '1'),
      text(x + COIL / 2, b - 2.2, '2'),
    ];
  }
  const coils = two ? [1, 0] : [0];
  const each = (HOT - RAIL) / coils.length;
  return coils.flatMap((row, k): Mark[] => {
    const x = RAIL + k * each + 0.5 * (each - COIL);
    return [
      ...coil(x, middle, left(row)),
      line([RAIL + k * each, middle], [x, middle]),
      line([x + COIL, middle], [RAIL + (k + 1) * each, middle]),
      ...(two ? [text(x + COIL / 2, middle - 2.2, String(row + 1))] : []),
    ];
  });
}

/** From a hot line at `from` to the wiper of the volume pot at `WIPER`, whose height it returns. */
function setMarks(
  { bleed, tone }: Controls,
  from: number,
  y: number,
  mark: string,
): { marks: Mark[]; wiper: number } {
  const bottom = y + 11;
  const pot = 71;
  const wiper = y + 5.5;
  const toneX = 61;
  const bleedX = WIPER;
  const marks: Mark[] = [
    line([from, y], [bleed ? bleedX : pot, y]),
    line([pot, y], [pot, y + 2.5]),
    path(box(pot - 1.2, y + 2.5, 2.4, 6), 'outline'),
    line([pot, y + 8.5], [pot, bottom]),
    ground(pot, bottom),
    line([pot + 1.2, wiper], [WIPER, wiper]),
    path(
      through(
        [
          [pot + 1.3, wiper],
          [pot + 3, wiper - 0.8],
          [pot + 3, wiper + 0.8],
        ],
        true,
      ),
      'arrow',
    ),
    text(pot - 2, middled(y + 5.5), `V${mark}`, 'end'),
  ];
  if (tone)
    marks.push(
      line([toneX, y], [toneX, y + 1.5]),
      path(box(toneX - 1.2, y + 1.5, 2.4, 5), 'outline'),
      line([toneX - 2.6, y + 6], [toneX + 2.6, y + 2]),
      line([toneX, y + 6.5], [toneX, y + 8.6]),
      line([toneX - 1.8, y + 8.6], [toneX + 1.8, y + 8.6]),
      line([toneX - 1.8, y + 9.6], [toneX + 1.8, y + 9.6]),
      line([toneX, y + 9.6], [toneX, bottom]),
      ground(toneX, bottom),
      text(toneX - 3, middled(y + 4.6), `T${mark}`, 'end'),
    );
  if (bleed)
    marks.push(
      path(box(bleedX - 1.2, y + 1, 2.4, 3), 'outline'),
      line([bleedX, y], [bleedX, y + 1]),
      line([bleedX, y + 4], [bleedX, wiper]),
      text(bleedX + 2, middled(y + 2.4), `B${mark}`, 'start'),
    );
  return { marks, wiper };
}

/** The contact of a pickup, closed where the selector lets it through. */
const contact = (x: number, y: number, closed: boolean): Mark[] => [
  path(circle(x, y, 0.7), 'outline'),
  path(circle(x + 6, y, 0.7), 'outline'),
  line([x + 0.7, y], closed ? [x + 5.3, y] : [x + 5.2, y - 2.4]),
];

const roomOf = ({ rows, join }: Pickup): number => (rows.length > 1 && join === 'parallel' ? DOUBLE : SINGLE);

const jack = (y: number): Mark[] => [
  path(circle(OUT + 2, y, 1.4), 'outline'),
  text(OUT + 2, y + 5.6, 'jack'),
];

/** Of pickups that have a coil; at least one must. */
export function wiringDrawing({ pickups, harness }: Sheet): Drawing {
  const own = harness.wiring === 'own';
  // The letter above the first of two in parallel wants more room.
  const wired = pickups.flatMap((pickup, index) => (hasCoil(pickup.build) ? [{ pickup, index }] : []));
  let y = own && roomOf(wired[0]!.pickup) === DOUBLE ? 3.2 : 2;
  const places = wired.map(({ pickup, index }) => {
    const height = own ? Math.max(roomOf(pickup), SET) : roomOf(pickup);
    const top = y;
    y += height;
    // With a set of its own the hot line runs at the top of that, and below it the pots hang down.
    return { pickup, index, top, height: own ? SINGLE : height, line: top + (own ? SINGLE : height) / 2 };
  });
  const marks = places.flatMap(({ pickup, top, height, line: at }): Mark[] => [
    text(0, middled(at), pickup.name.slice(0, 7), 'start'),
    ...pickupMarks(pickup, top, height),
    line([RAIL, at], [RAIL, y]),
  ]);
  marks.push(ground(RAIL, y));
  const [first, last] = [places[0]!, places.at(-1)!];
  if (own) {
    const sets = places.map(({ line: at, index }) =>
      setMarks(harness.controls[index]!, HOT, at, pickups.length > 1 ? String(index + 1) : ''),
    );
    sets.forEach(({ marks: drawn, wiper }, k) => {
      marks.push(...drawn, ...contact(WIPER, wiper, places[k]!.pickup.sounds));
      marks.push(line([WIPER + 6.7, wiper], [OUT + 2, wiper]));
    });
    const wipers = sets.map(({ wiper }) => wiper);
    const middle = wipers[0]!;
    marks.push(line([OUT + 2, middle], [OUT + 2, wipers.at(-1)!]), ...jackAt(wipers.at(-1)!));
  } else {
    places.forEach(({ pickup, line: at }) => {
      marks.push(...contact(HOT, at, pickup.sounds), line([HOT + 6.7, at], [SWITCH, at]));
    });
    marks.push(line([SWITCH, first.line], [SWITCH, last.line]));
    const set = setMarks(harness.controls[0]!, SWITCH, first.line, '');
    marks.push(...set.marks, line([WIPER, set.wiper], [OUT + 0.6, set.wiper]), ...jack(set.wiper));
  }
  return {
    width: WIDTH,
    height: Math.max(y, first.line + 12) + 3,
    marks,
    says: '● where a winding starts',
  };
}

const jackAt = (y: number): Mark[] => [
  path(circle(OUT + 2, y + 1.4, 1.4), 'outline'),
  text(OUT + 2, y + 6.8, 'jack'),
];
