/** The parts list of a sheet: one line a part, each figure with the place in the sheet where it stands. */
import type { FigureKey } from '../../sheet/figures.ts';
import type { Controls, Pickup, Sheet } from '../../sheet/sheet.ts';

export type Path = readonly (string | number)[];

export interface FigureCell {
  readonly kind: 'figure';
  readonly label: string;
  readonly before: string;
  readonly figure: FigureKey;
  readonly value: number | null;
  readonly path: Path;
  readonly optional: boolean;
}

export interface ChoiceCell {
  readonly kind: 'choice';
  readonly label: string;
  readonly value: string;
  readonly options: readonly string[];
  /** A path in the sheet, or the name of a change of structure. */
  readonly path: Path | null;
  readonly change?: {
    readonly name: 'rows' | 'bleed' | 'tone' | 'wiring' | 'reversed';
    readonly index: number;
  };
}

export interface PartsRow {
  readonly key: string;
  readonly part: string;
  readonly cells: readonly (FigureCell | ChoiceCell)[];
}

const figure = (
  label: string,
  before: string,
  key: FigureKey,
  value: number | null,
  path: Path,
  optional = false,
): FigureCell => ({ kind: 'figure', label, before, figure: key, value, path, optional });

const choice = (label: string, value: string, options: readonly string[], path: Path): ChoiceCell => ({
  kind: 'choice',
  label,
  value,
  options,
  path,
});

const change = (
  label: string,
  value: string,
  options: readonly string[],
  name: NonNullable<ChoiceCell['change']>['name'],
  index: number,
): ChoiceCell => ({ kind: 'choice', label, value, options, path: null, change: { name, index } });

/** Words of the structural choices, in one place so that the reader of a choice finds the same ones. */
export const CHOICES = {
  rows: ['one coil', 'two coils'],
  fitted: ['none', 'fitted'],
  wires: ['wires as drawn', 'wires exchanged'],
  wiring: ['shared', 'own'],
} as const;

function pickupRows(pickup: Pickup, i: number): PartsRow[] {
  const two = pickup.rows.length === 2;
  const head: PartsRow = {
    key: `pickup ${i}`,
    part: `${pickup.name} pickup`,
    cells: [
      change(`${pickup.name} pickup, coils`, CHOICES.rows[two ? 1 : 0], CHOICES.rows, 'rows', i),
      ...(two
        ? [
            choice(
              `${pickup.name} pickup, coils joined in`,
              pickup.join,
              ['series', 'parallel'],
              ['pickups', i, 'join'],
            ),
            choice(
              `${pickup.name} pickup, coils in or out of phase`,
              pickup.phase,
              ['in', 'out'],
              ['pickups', i, 'phase'],
            ),
          ]
        : []),
      change(
        `${pickup.name} pickup, hot and ground wires`,
        CHOICES.wires[pickup.reversed ? 1 : 0],
        CHOICES.wires,
        'reversed',
        i,
      ),
    ],
  };
  const coils = pickup.rows.map((row, r): PartsRow => {
    const name = two ? `${pickup.name} coil ${r + 1}` : `${pickup.name} coil`;
    const at = (field: string): Path => ['pickups', i, 'rows', r, 'coil', field];
    return {
      key: `coil ${i} ${r}`,
      part: name,
      cells: [
        figure(`${name}, DC resistance`, 'R', 'coilResistance', row.coil.resistance, at('resistance')),
        figure(`${name}, inductance`, 'L', 'coilInductance', row.coil.inductance, at('inductance')),
        figure(`${name}, self-capacitance`, 'C', 'coilCapacitance', row.coil.capacitance, at('capacitance')),
        figure(`${name}, core loss`, 'loss', 'coreLoss', row.coil.coreLoss, at('coreLoss'), true),
      ],
    };
  });
  return [head, ...coils];
}

function controlRows(c: Controls, k: number, of: string): PartsRow[] {
  const at = (...path: Path): Path => ['harness', 'controls', k, ...path];
  const name = (part: string): string => (of ? `${of} ${part}` : part);
  const tapers = ['audio', 'linear'];
  return [
    {
      key: `volume ${k}`,
      part: name('volume'),
      cells: [
        figure(name('volume pot'), '', 'potResistance', c.volume.resistance, at('volume', 'resistance')),
        choice(name('volume taper'), c.volume.taper, tapers, at('volume', 'taper')),
        figure(name('volume position'), 'at', 'potPosition', c.volume.position, at('volume', 'position')),
      ],
    },
    {
      key: `bleed ${k}`,
      part: name('treble bleed'),
      cells: [
        change(name('treble bleed'), CHOICES.fitted[c.bleed ? 1 : 0], CHOICES.fitted, 'bleed', k),
        ...(c.bleed
          ? [
              figure(
                name('bleed capacitor'),
                '',
                'bleedCapacitance',
                c.bleed.capacitance,
                at('bleed', 'capacitance'),
              ),
              choice(
                name('bleed arrangement'),
                c.bleed.arrangement,
                ['parallel', 'series'],
                at('bleed', 'arrangement'),
              ),
              figure(
                name('bleed resistor'),
                '',
                'bleedResistance',
                c.bleed.resistance,
                at('bleed', 'resistance'),
                true,
              ),
            ]
          : []),
      ],
    },
    {
      key: `tone ${k}`,
      part: name('tone'),
      cells: [
        change(name('tone control'), CHOICES.fitted[c.tone ? 1 : 0], CHOICES.fitted, 'tone', k),
        ...(c.tone
          ? [
              figure(name('tone pot'), '', 'potResistance', c.tone.resistance, at('tone', 'resistance')),
              choice(name('tone taper'), c.tone.taper, tapers, at('tone', 'taper')),
              figure(name('tone position'), 'at', 'potPosition', c.tone.position, at('tone', 'position')),
              figure(
                name('tone capacitor'),
                '',
                'toneCapacitance',
                c.tone.capacitance,
                at('tone', 'capacitance'),
              ),
            ]
          : []),
      ],
    },
  ];
}

export function partsRows(sheet: Sheet): PartsRow[] {
  const { harness } = sheet;
  const own = harness.wiring === 'own';
  return [
    ...sheet.pickups.flatMap(pickupRows),
    {
      key: 'wiring',
      part: 'controls',
      cells: [change('controls of the pickups', harness.wiring, CHOICES.wiring, 'wiring', 0)],
    },
    ...harness.controls.flatMap((c, k) => controlRows(c, k, own ? (sheet.pickups[k]?.name ?? '') : '')),
    {
      key: 'cable',
      part: 'cable',
      cells: [
        figure('cable length', '', 'cableLength', harness.cable.length, ['harness', 'cable', 'length']),
        figure('cable capacitance per metre', 'at', 'cablePerMetre', harness.cable.capacitancePerMetre, [
          'harness',
          'cable',
          'capacitancePerMetre',
        ]),
      ],
    },
    {
      key: 'input',
      part: 'input',
      cells: [
        figure('input resistance', 'R', 'inputResistance', harness.input.resistance, [
          'harness',
          'input',
          'resistance',
        ]),
        figure('input capacitance', 'C', 'inputCapacitance', harness.input.capacitance, [
          'harness',
          'input',
          'capacitance',
        ]),
      ],
    },
  ];
}
