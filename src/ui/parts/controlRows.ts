/** Pots, capacitors, cable and input in the parts list. */
import { withBleed, withTone, withWiring } from '../../sheet/compose.ts';
import { calledApart } from '../../sheet/calledApart.ts';
import type { Controls, Sheet } from '../../sheet/sheet.ts';
import { choice, either, figure, type PartsRow, type Path } from './cells.ts';

const TAPERS = ['audio', 'linear'];
const FITTED = ['none', 'fitted'] as const;

function setRows(c: Controls, k: number, of: string): PartsRow[] {
  const at = (...path: Path): Path => ['harness', 'controls', k, ...path];
  const name = (part: string): string => (of ? `${of} ${part}` : part);
  const { volume, bleed, tone } = c;
  return [
    {
      key: `volume ${k}`,
      part: name('volume'),
      cells: [
        figure(name('volume pot'), '', 'potResistance', volume.resistance, at('volume', 'resistance')),
        choice(name('volume taper'), volume.taper, TAPERS, at('volume', 'taper')),
        figure(name('volume position'), 'at', 'potPosition', volume.position, at('volume', 'position')),
      ],
    },
    {
      key: `bleed ${k}`,
      part: name('treble bleed'),
      cells: [
        either(name('treble bleed'), bleed !== null, FITTED, (bench, on) =>
          bench.restructure((sheet) => withBleed(sheet, k, on)),
        ),
        ...(bleed
          ? [
              figure(
                name('bleed capacitor'),
                '',
                'bleedCapacitance',
                bleed.capacitance,
                at('bleed', 'capacitance'),
              ),
              choice(
                name('bleed arrangement'),
                bleed.arrangement,
                ['parallel', 'series'],
                at('bleed', 'arrangement'),
              ),
              figure(
                name('bleed resistor'),
                '',
                'bleedResistance',
                bleed.resistance,
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
        either(name('tone control'), tone !== null, FITTED, (bench, on) =>
          bench.restructure((sheet) => withTone(sheet, k, on)),
        ),
        ...(tone
          ? [
              figure(name('tone pot'), '', 'potResistance', tone.resistance, at('tone', 'resistance')),
              choice(name('tone taper'), tone.taper, TAPERS, at('tone', 'taper')),
              figure(name('tone position'), 'at', 'potPosition', tone.position, at('tone', 'position')),
              figure(
                name('tone capacitor'),
                '',
                'toneCapacitance',
                tone.capacitance,
                at('tone', 'capacitance'),
              ),
            ]
          : []),
      ],
    },
  ];
}

export function controlRows({ harness, pickups }: Sheet): PartsRow[] {
  const own = harness.wiring === 'own';
  const called = calledApart(pickups);
  const { cable, input } = harness;
  return [
    {
      key: 'wiring',
      part: 'controls',
      cells: [
        either('controls of the pickups', own, ['shared', 'own'], (bench, on) =>
          bench.restructure((sheet) => withWiring(sheet, on ? 'own' : 'shared')),
        ),
      ],
    },
    ...harness.controls.flatMap((c, k) => setRows(c, k, own ? (called[k] ?? '') : '')),
    {
      key: 'cable',
      part: 'cable',
      cells: [
        figure('cable length', '', 'cableLength', cable.length, ['harness', 'cable', 'length']),
        figure('cable capacitance per metre', 'at', 'cablePerMetre', cable.capacitancePerMetre, [
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
        figure('input resistance', 'R', 'inputResistance', input.resistance, [
          'harness',
          'input',
          'resistance',
        ]),
        figure('input capacitance', 'C', 'inputCapacitance', input.capacitance, [
          'harness',
          'input',
          'capacitance',
        ]),
      ],
    },
  ];
}
