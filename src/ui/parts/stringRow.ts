/** The strings in the parts list: set and tuning, and behind a line each string by itself and the neck they run over. */
import { withPickup } from '../../sheet/compose.ts';
import { FEWEST_STRINGS, MOST_STRINGS } from '../../shape/strings.ts';
import { withConstruction, withCore, withGauge, withStringBeside, withWrap } from '../../sheet/ownString.ts';
import type { Sheet, StringSpec } from '../../sheet/sheet.ts';
import { nameStringSet, STRING_SETS, wrapOf } from '../../sheet/strings.ts';
import { nameTuning, tuningsFor } from '../../sheet/tunings.ts';
import { WRAP_METALS } from '../../sheet/wrapMetals.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';
import {
  figure,
  note,
  type Cell,
  type ChoiceCell,
  type FigureCell,
  type PartsRow,
  type Path,
} from './cells.ts';
import { restring, setStrings, setTuning, setWrap } from './restringing.ts';

const AT: Path = ['instrument'];

/** What is there may be none of those offered. */
const offered = (value: string, options: readonly string[]): readonly string[] =>
  options.includes(value) ? options : [value, ...options];

const pick = (
  label: string,
  before: string,
  value: string,
  options: readonly string[],
  choose: NonNullable<ChoiceCell['choose']>,
): ChoiceCell => ({ kind: 'choice', label, before, value, options: offered(value, options), choose });

const neck = (
  label: string,
  before: string,
  key: 'spreadSaddle' | 'spreadNut' | 'frets',
  sheet: Sheet,
): FigureCell => figure(label, before, key, sheet.instrument[key], [...AT, key]);

/** Buttons for one string more or less on either side. */
function sides(strings: readonly StringSpec[]): Cell[] {
  const act = (word: string, next: readonly StringSpec[]): Cell => ({
    kind: 'do',
    label: word,
    word,
    run: (bench: Workbench) => void restring(bench, next),
  });
  const more = strings.length < MOST_STRINGS;
  const fewer = strings.length > FEWEST_STRINGS;
  return [
    ...(more ? [act('add a lower string', withStringBeside(strings, 'lower'))] : []),
    ...(fewer ? [act('take the lowest string off', strings.slice(0, -1))] : []),
    ...(more ? [act('add a higher string', withStringBeside(strings, 'higher'))] : []),
    ...(fewer ? [act('take the highest string off', strings.slice(1))] : []),
  ];
}

function stringLine(strings: readonly StringSpec[], i: number): Cell[] {
  const spec = strings[i]!;
  const name = `string ${i + 1}`;
  const at = (key: keyof StringSpec): Path => [...AT, 'strings', i, key];
  const change = (next: StringSpec) => (bench: Workbench) => restring(bench, strings.with(i, next));
  const own = (cell: FigureCell, next: (value: number) => StringSpec): FigureCell => ({
    ...cell,
    commit: (bench, value) => change(next(value))(bench),
  });
  const wound = spec.construction === 'wound';
  return [
    note(String(i + 1)),
    own(figure(`${name}, open note`, '', 'midi', spec.midi, at('midi')), (midi) => ({ ...spec, midi })),
    pick(`${name}, plain or wound`, '', spec.construction, ['plain', 'wound'], (bench, v) =>
      change(withConstruction(spec, v === 'wound' ? 'wound' : 'plain'))(bench),
    ),
    own(figure(`${name}, gauge`, 'Ø', 'stringDiameter', spec.diameter, at('diameter')), (d) =>
      withGauge(spec, d),
    ),
    ...(wound
      ? [
          own(figure(`${name}, core`, 'core', 'stringCore', spec.core, at('core')), (d) => withCore(spec, d)),
          pick(`${name}, wound of`, 'wound of', spec.wrap, WRAP_METALS, (bench, v) =>
            change(withWrap(spec, WRAP_METALS.find((metal) => metal === v) ?? spec.wrap))(bench),
          ),
        ]
      : []),
    figure(`${name}, weight`, '', 'linearDensity', spec.linearDensity, at('linearDensity')),
  ];
}

export function stringRow(sheet: Sheet): PartsRow {
  const { strings, radius } = sheet.instrument;
  const wrap = wrapOf(strings);
  const notes = strings.map(({ midi }) => midi);
  return {
    key: 'strings',
    part: 'strings',
    cells: [
      pick(
        'string set',
        '',
        nameStringSet(strings),
        STRING_SETS.map((s) => s.name),
        (bench, v) => setStrings(bench, v),
      ),
      pick(
        'tuning',
        'tuned',
        nameTuning(notes),
        tuningsFor(strings.length).map((t) => t.name),
        (bench, v) => setTuning(bench, v),
      ),
      ...(wrap
        ? [pick('what strings are wound of', 'wound of', wrap, WRAP_METALS, (bench, v) => setWrap(bench, v))]
        : []),
      figure('fretboard radius', 'fretboard radius', 'radius', radius, [...AT, 'radius']),
      ...(sheet.pickups.length < 3
        ? [
            {
              kind: 'do' as const,
              label: 'add a pickup',
              word: 'add a pickup',
              run: (bench: Workbench) => {
                bench.restructure(withPickup);
              },
            },
          ]
        : []),
    ],
    more: {
      summary: 'each string, their number, and the neck',
      cells: [
        neck('outer strings at the saddle', 'outer strings apart at the saddle', 'spreadSaddle', sheet),
        neck('outer strings at the nut', 'at the nut', 'spreadNut', sheet),
        neck('number of frets', 'frets', 'frets', sheet),
        ...sides(strings),
      ],
      lines: strings.map((_, i) => stringLine(strings, i)),
    },
  };
}
