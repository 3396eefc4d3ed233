/** The workshop's sheets with one string plucked, and what comes out of the cable. */
import { predict } from '../../../src/physics/predict.ts';
import type { PartialTone } from '../../../src/physics/prediction.ts';
import { resolve } from '../../../src/physics/heard/resolve.ts';
import { renderVolts } from '../../../src/physics/sound/render.ts';
import { checkSheet } from '../../../src/sheet/check.ts';
import type { Listen, Sheet } from '../../../src/sheet/sheet.ts';
import { PRESETS } from '../../fixtures/presets.ts';
import type { WavData } from './analysis.ts';
import { solved as solver } from '../../fixtures/solved.ts';

export const presetSheets: readonly { readonly name: string; readonly sheet: Sheet }[] = PRESETS.map(
  ({ name, data }) => {
    const checked = checkSheet(data);
    if (!checked.ok) throw new Error(`${name}: ${checked.message}`);
    return { name, sheet: checked.sheet };
  },
);

/** The open string as the sheet plucks it, unless `listen` says otherwise: predicted, and in volts at 48 kHz. */
export function openNote(
  sheet: Sheet,
  string: number,
  listen: Partial<Listen> = {},
): { partials: readonly PartialTone[]; volts: WavData } {
  const one: Sheet = {
    ...sheet,
    listen: {
      ...sheet.listen,
      play: 'string',
      string,
      fret: 0,
      through: 'cable',
      sampleRate: 48000,
      ...listen,
    },
  };
  const fields = solver.fields(one);
  const { voices, sounding } = predict(one, fields);
  const samples = renderVolts(resolve(one, fields));
  return { partials: voices[sounding]!.partials, volts: { samples, sampleRate: 48000 } };
}

/** The same sheet's prediction. */
export const predicted = (sheet: Sheet): ReturnType<typeof predict> => predict(sheet, solver.fields(sheet));
