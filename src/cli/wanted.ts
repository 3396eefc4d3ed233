/** What a file wants of a pickup and has for it, and what the search of the page finds, in figures. */
import { FieldSolver } from '../physics/field.ts';
import { Searches } from '../physics/search.ts';
import { CHOSEN_GRADES } from '../sheet/readSearch.ts';
import type { FigureKey } from '../sheet/figures.ts';
import { quantity } from '../sheet/quantity.ts';
import { ENAMELS, MOST_OF_A_LIST, NO_LOAD, USUAL_STOCK, WANTS } from '../sheet/search.ts';
import type { SearchLoad, Sheet, Stock, Wants } from '../sheet/sheet.ts';

type Fields = Readonly<Record<string, unknown>>;
type Refuse = (message: string) => never;

const told = (value: unknown): string => (value === undefined ? 'none' : JSON.stringify(value));

function readWants(fields: Fields, refuse: Refuse): Wants {
  const known = WANTS.map(([key]) => key as string);
  const strange = Object.keys(fields).find((key) => !known.includes(key));
  if (strange !== undefined)
    refuse(`What its «want» wants must be among ${known.join(', ')}; got ${told(strange)}.`);
  return Object.fromEntries(
    WANTS.flatMap(([key, figure]) =>
      fields[key] === undefined ? [] : [[key, quantity(fields[key], figure, `Its want’s «${key}»`, refuse)]],
    ),
  );
}

/** «guitar», «unloaded», or the resistance and capacitance of what stands at the leads. */
function readLoad(given: unknown, refuse: Refuse): SearchLoad | null {
  if (given === undefined || given === 'guitar') return null;
  if (given === 'unloaded') return NO_LOAD;
  if (typeof given !== 'object' || given === null || Array.isArray(given))
    return refuse(
      `Its «load» must be "guitar", "unloaded" or a group of «resistance» and «capacitance»; got ${told(given)}.`,
    );
  const { resistance, capacitance, ...rest } = given as Fields;
  const [strange] = Object.keys(rest);
  if (strange !== undefined)
    return refuse(`What its «load» has must be resistance and capacitance; got ${told(strange)}.`);
  return {
    resistance: quantity(resistance, 'inputResistance', 'Its load’s «resistance»', refuse),
    capacitance: quantity(capacitance, 'inputCapacitance', 'Its load’s «capacitance»', refuse),
  };
}

/** What is not named stays as it is. */
function readStock(fields: Fields, refuse: Refuse): Stock {
  const list = <T>(name: string, read: (value: unknown, where: string) => T): readonly T[] | undefined => {
    const given = fields[name];
    const where = `Its stock’s «${name}»`;
    if (given === undefined) return undefined;
    if (!Array.isArray(given) || given.length === 0 || given.length > MOST_OF_A_LIST)
      return refuse(`${where} must be a list of 1 to ${MOST_OF_A_LIST}; got ${told(given)}.`);
    return given.map((value) => read(value, where));
  };
  const figures = (name: string, key: FigureKey): readonly number[] | undefined =>
    list(name, (value, where) => quantity(value, key, where, refuse));
  const words = <T extends string>(name: string, among: readonly T[]): readonly T[] | undefined =>
    list(
      name,
      (value, where) =>
        among.find((one) => one === value) ??
        refuse(`${where} must name ones of ${among.join(', ')}; got ${told(value)}.`),
    );
  const ends = (name: string, key: FigureKey): readonly [number, number] | undefined => {
    const pair = figures(name, key);
    if (!pair) return undefined;
    const [least = NaN, most = NaN] = pair;
    if (pair.length !== 2 || least > most)
      return refuse(`Its stock’s «${name}» must be two, the lower one first; got ${told(fields[name])}.`);
    return [least, most];
  };
  const all = {
    ...{ wires: figures('wires', 'wire'), enamels: words('enamels', ENAMELS) },
    ...{ grades: words('grades', CHOSEN_GRADES), diameters: figures('diameters', 'poleDiameter') },
    ...{ lengths: figures('lengths', 'poleLength'), turns: ends('turns', 'turns'), gap: ends('gap', 'gap') },
  };
  const strange = Object.keys(fields).find((key) => !Object.hasOwn(all, key));
  if (strange !== undefined)
    refuse(`What its «stock» has must be among ${Object.keys(all).join(', ')}; got ${told(strange)}.`);
  return Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined)) as Stock;
}

/**
 * The best few: what they are built of (m), what each wanted figure is (SI, dB, cents), and by how many steps it misses.
 *
 * @param than what level and alike are against; null: the sheet as it is
 */
export function wanted(
  sheet: Sheet,
  pickup: number,
  fields: { readonly want: Fields; readonly stock: Fields | null; readonly load: unknown },
  than: Sheet | null,
  refuse: Refuse,
): unknown {
  const wants = readWants(fields.want, refuse);
  const stock = fields.stock ? readStock(fields.stock, refuse) : USUAL_STOCK;
  const load = readLoad(fields.load, refuse);
  const wish = { wants, stock, pickup, than, ...(load && { load }) };
  const searches = new Searches(new FieldSolver());
  let part = searches.part(sheet, wish, 0);
  for (let step = 1; part.done < part.of; step++) part = searches.part(sheet, wish, step);
  const { best, limits } = part;
  return {
    reached: best[0]?.reached ?? false,
    limits,
    best: best.map(({ build, missing, reached }) => ({
      turns: build.rows.map(({ turns }) => turns),
      wire: build.rows[0]!.wire,
      poles: build.rows.map(({ pole: { kind, magnet, diameter, length } }) => ({
        ...{ kind, diameter, length },
        ...(kind === 'rod' && { grade: magnet.grade }),
      })),
      bars: build.bars.map(({ magnet }) => magnet.grade),
      ...{ gapBass: build.gapBass, gapTreble: build.gapTreble, reached, missing },
    })),
  };
}
