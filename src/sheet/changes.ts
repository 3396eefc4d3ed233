/** The figures in which two versions of a sheet differ, and what is said of them. Pure. */
import { PLATE_WORDS, PLATES } from '../shape/plates.ts';
import { OPTIONAL, sameData } from './edit.ts';
import type { FigureKey } from './figures.ts';
import { formatFigure } from './format.ts';
import type { Sheet } from './sheet.ts';

/** A figure, a word, or a part that only one of the two has. */
export interface Change {
  readonly path: readonly (string | number)[];
  /** The path without its numbers: «pickups build gapBass». */
  readonly place: string;
  readonly from: unknown;
  readonly to: unknown;
}

/** Down to where only one has a part, or lists are of unlike length; nothing where they say the same. */
export function changesOf(before: Sheet, after: Sheet): Change[] {
  const found: Change[] = [];
  const visit = (from: unknown, to: unknown, path: readonly (string | number)[]): void => {
    if (sameData(from, to)) return;
    const inner = partsOf(from, to);
    if (inner)
      inner.forEach((key) =>
        visit((from as Record<string, unknown>)[key], (to as Record<string, unknown>)[key], [...path, key]),
      );
    else found.push({ path, place: path.filter((key) => typeof key === 'string').join(' '), from, to });
  };
  visit(before, after, []);
  return found;
}

/** The keys that both have; null where they are not made of the same parts. */
function partsOf(a: unknown, b: unknown): (string | number)[] | null {
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return null;
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length ? [...a.keys()] : null;
  const keys = [...new Set([...Object.keys(a), ...Object.keys(b)])];
  return keys.every((key) => (Object.hasOwn(a, key) && Object.hasOwn(b, key)) || OPTIONAL.has(key))
    ? keys
    : null;
}

/** What a figure is called in a sentence, and how it is written, by the end of its place. */
const NAMES: readonly (readonly [RegExp, string, FigureKey | null])[] = [
  [/strings midi$/, 'note', 'midi'],
  [/strings diameter$/, 'gauge', 'stringDiameter'],
  [/strings core$/, 'core', 'stringCore'],
  [/linearDensity$/, 'weight', 'linearDensity'],
  [/scaleLength$/, 'scale', 'scaleLength'],
  [/spreadSaddle$/, 'spread at the saddle', 'spreadSaddle'],
  [/spreadNut$/, 'spread at the nut', 'spreadNut'],
  [/radius$/, 'fretboard radius', 'radius'],
  [/instrument frets$/, 'frets', 'frets'],
  [/pickups place$/, 'place', 'place'],
  [/slant$/, 'slant', 'slant'],
  [/bars offset$/, 'bar offset', 'barOffset'],
  [/bars across$/, 'bar’s place across', 'barAcross'],
  [/build steel offset$/, 'steel offset', 'steelOffset'],
  [/steel across$/, 'steel’s place across', 'steelAcross'],
  [/offset$/, 'offset', 'rowOffset'],
  [/reach width$/, 'reach', 'focus'],
  [/reach sensitivity$/, 'sensitivity', 'sensitivity'],
  [/fade$/, 'fade', 'fade'],
  [/coil resistance$/, 'typed resistance', 'coilResistance'],
  [/coil inductance$/, 'typed inductance', 'coilInductance'],
  [/coil capacitance$/, 'typed self-capacitance', 'coilCapacitance'],
  [/coreLoss$/, 'typed core loss', 'coreLoss'],
  [/pole own$/, 'single poles', null],
  [/own up$/, 'pole turned over', null],
  [/^magnets temperature$/, 'temperature', 'magnetTemperature'],
  [/own remanence$/, 'Br', 'remanence'],
  [/own coercivity$/, 'Hc', 'coercivity'],
  [/own energyProduct$/, '(BH)max', 'energyProduct'],
  [/own recoil$/, 'recoil permeability', 'recoil'],
  [/ownSteel permeability$/, 'own steel’s µ', 'steelMu'],
  [/ownSteel conductivity$/, 'own steel’s conductivity', 'steelConductivity'],
  [/ownSteel saturation$/, 'own steel’s saturation', 'steelSaturation'],
  [/ownSteel$/, 'own steel', null],
  [/^magnets/, 'temperature or own grade', null],
  [/coilSteel mu$/, 'steel’s µ for the coil', 'coilMu'],
  [/coilSteel relaxation$/, 'relaxation of the steel', 'relaxation'],
  [/coilSteel$/, 'steel’s µ for the coil', null],
  [/pole steel$/, 'steel of the poles', null],
  [/build coils$/, 'coil', null],
  [/grade$/, 'magnet', null],
  [/charge$/, 'magnetisation', 'charge'],
  [/pole kind$/, 'poles', null],
  [/rows up$/, 'pole that is up', null],
  [/rows wound$/, 'winding', null],
  [/reachBy$/, 'reach by', null],
  [/pickups build$/, 'build', null],
  [/pickups build rows$/, 'rows', null],
  [/pickups rows$/, 'coils', null],
  [/bars width$/, 'bar width', 'barWidth'],
  [/bars length$/, 'bar length', 'barLength'],
  [/bars thickness$/, 'bar thickness', 'barThickness'],
  [/bars top$/, 'bar top', 'barTop'],
  [/bars direction$/, 'bar magnetised', null],
  [/bars turned$/, 'bar turned over', null],
  [/steel width$/, 'steel width', 'steelWidth'],
  [/steel length$/, 'steel length', 'steelLength'],
  [/steel thickness$/, 'steel thickness', 'steelThickness'],
  [/steel top$/, 'steel top', 'steelTop'],
  [/steel steel$/, 'steel grade', null],
  [/tip shape$/, 'tip', null],
  [/tip size$/, 'tip', 'tipSize'],
  [/heights$/, 'pole height', 'poleHeight'],
  [/head diameter$/, 'head diameter', 'headDiameter'],
  [/head height$/, 'head height', 'headHeight'],
  [/(pole|own) diameter$/, 'pole diameter', 'poleDiameter'],
  [/(pole|own) length$/, 'pole length', 'poleLength'],
  [/pitch$/, 'pole pitch', 'polePitch'],
  [/gap(Bass|Treble)$/, 'gap', 'gap'],
  [/turns$/, 'turns', 'turns'],
  [/conductor$/, 'wire', 'wire'],
  [/enamel$/, 'enamel', null],
  [/window straight$/, 'straight side', 'windowStraight'],
  [/window inner$/, 'inner radius', 'windowInner'],
  [/window outer$/, 'outer radius', 'windowOuter'],
  [/window top$/, 'top of the coil', 'windowTop'],
  [/window bottom$/, 'bottom of the coil', 'windowBottom'],
  [/cover clearance$/, 'cover height', 'coverClearance'],
  [/cover thickness$/, 'cover thickness', 'coverThickness'],
  [/basePlate thickness$/, 'base plate thickness', 'plateThickness'],
  ...PLATES.map((name) => [new RegExp(`${name}$`), PLATE_WORDS[name], null] as const),
  [/build bars$/, 'bar', null],
  [/build steel$/, 'steel', null],
  [/metal$/, 'metal', null],
  [/volume resistance$/, 'volume pot', 'potResistance'],
  [/volume position$/, 'volume', 'potPosition'],
  [/tone resistance$/, 'tone pot', 'potResistance'],
  [/tone position$/, 'tone', 'potPosition'],
  [/tone capacitance$/, 'tone capacitor', 'toneCapacitance'],
  [/bleed capacitance$/, 'bleed capacitor', 'bleedCapacitance'],
  [/bleed resistance$/, 'bleed resistor', 'bleedResistance'],
  [/bleed$/, 'treble bleed', null],
  [/tone$/, 'tone control', null],
  [/cable length$/, 'cable', 'cableLength'],
  [/capacitancePerMetre$/, 'cable capacitance', 'cablePerMetre'],
  [/input resistance$/, 'input resistance', 'inputResistance'],
  [/input capacitance$/, 'input capacitance', 'inputCapacitance'],
];

/** Figures of a group that are written out; of more only the group's name is said. */
const MOST_WRITTEN = 2;

/**
 * «gap 2.0 → 3.2 mm», «magnet alnico 5 → alnico 2»; the same of several poles or coils is said once.
 * @param name of the group, for what is no single figure
 */
export function changeWords(name: string, changes: readonly Change[]): string {
  const [first = name, ...more] = new Set(changes.map((change) => wordsOf(name, change)));
  if (more.length >= MOST_WRITTEN) return name;
  // «gap 4.2 → 5.3 mm and 2.6 → 3.7 mm»
  const label = /^\D+ (?=[\d−])/.exec(first)?.[0] ?? '';
  return [
    first,
    ...more.map((words) => (label && words.startsWith(label) ? words.slice(label.length) : words)),
  ].join(' and ');
}

/** Each of them, the same of several poles or coils once: «poles slug → rod», «bar taken off». */
export const changeList = (changes: readonly Change[]): readonly string[] => [
  ...new Set(changes.map((change) => wordsOf(String(change.path.at(-1) ?? ''), change))),
];

function wordsOf(name: string, { place, from, to }: Change): string {
  const [, label, key] = NAMES.find(([fits]) => fits.test(place)) ?? [null, name, null];
  if (typeof from === 'number' && typeof to === 'number' && key) return `${label} ${fromTo(from, to, key)}`;
  if (isPlain(from) && isPlain(to)) return `${label} ${plain(from, key)} → ${plain(to, key)}`;
  if (/^magnets|pole own/.test(place) && !(isPlain(from) && isPlain(to))) return label;
  if (/build coils$/.test(place)) return `${label} ${to === 'off' ? 'taken off' : 'put on'}`;
  if (from === null) return `${label} put on`;
  if (Array.isArray(from) && Array.isArray(to) && /build (bars|steel)$/.test(place))
    return `${label} ${countWords(from.length, to.length)}`;
  if (to !== null) return label;
  return label.startsWith('typed') ? `${label} cleared` : `${label} taken off`;
}

/** What became of the bars, or of the steel, when there are fewer or more. */
function countWords(from: number, to: number): string {
  if (to > from) return from === 0 ? 'put on' : 'added';
  return to === 0 ? 'taken off' : 'taken away';
}

/** The unit once: «2.0 → 3.2 mm», where both have the same; all the digits where those shown are the same. */
function fromTo(from: number, to: number, key: FigureKey): string {
  const [a, b] = [formatFigure(from, key), formatFigure(to, key)];
  const unit = / \S+$/.exec(b)?.[0] ?? '';
  return unit !== '' && a.endsWith(unit) ? `${a.slice(0, -unit.length)} → ${b}` : `${a} → ${b}`;
}

const isPlain = (value: unknown): value is string | number | boolean =>
  typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean';

const plain = (value: string | number | boolean, key: FigureKey | null): string =>
  typeof value === 'number'
    ? key
      ? formatFigure(value, key)
      : String(value)
    : typeof value === 'boolean'
      ? value
        ? 'yes'
        : 'no'
      : value;
