/** What the command line writes of a sheet, from what the workers find. To be loaded when it is asked for: no page opens with it. */
import type { Closeness } from '../physics/close.ts';
import { curveCsv, DETUNING, figuresJson, netlists } from '../physics/outputs.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { JobClient, JobResult } from './client.ts';

export type OutputKind = 'curve' | 'figures' | 'netlist';

/** A file's text, and what its name ends with. */
export interface Output {
  readonly suffix: string;
  readonly text: string;
}

/** Which notes the command line asks about: the open strings, on the nut. */
const OPEN = { frets: [0], action: 0 };

/** Never rejects. The client does nothing else meanwhile, and the sheet is plain data. */
export async function outputsOf(
  kind: OutputKind,
  sheet: Sheet,
  client: Pick<JobClient, 'figures' | 'sound' | 'close' | 'fields'>,
): Promise<JobResult<readonly Output[]>> {
  const done = (outputs: readonly Output[]): JobResult<readonly Output[]> => ({
    status: 'done',
    value: outputs,
  });
  if (kind === 'netlist') {
    const fields = await client.fields(sheet);
    if (fields.status !== 'done') return fields;
    return done(netlists(sheet, fields.value).map(({ suffix, text }) => ({ suffix: `${suffix}.cir`, text })));
  }
  const figures = await client.figures(sheet);
  if (figures.status !== 'done') return figures;
  if (kind === 'curve') return done([{ suffix: 'curve.csv', text: curveCsv(figures.value) }]);
  const closest: (Closeness | null)[] = [];
  for (const [pickup, { build }] of sheet.pickups.entries()) {
    const found = build ? await client.close(sheet, { pickup, cents: DETUNING, ...OPEN }) : null;
    if (found && found.status !== 'done') return found;
    closest.push(found && found.value);
  }
  const sound = await client.sound(sheet);
  if (sound.status !== 'done') return sound;
  return done([{ suffix: 'figures.json', text: figuresJson(sheet, figures.value, sound.value, closest) }]);
}
