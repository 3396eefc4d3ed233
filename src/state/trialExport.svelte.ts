/** The phrase of every trial as a file each, and one report of them all. */
import { downloadSound, downloadText } from '../audio/wavFile.ts';
import type { JobClient } from '../jobs/client.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { letter, type Trials } from '../sheet/trials.ts';
import { Renders } from './renders.ts';
import { soundReport } from './soundReport.ts';
import type { Sound } from './types.ts';

interface Rendered {
  readonly sheet: Sheet;
  readonly name: string;
  readonly sound: Sound;
}

/** One export at a time. */
export class TrialExport {
  readonly #renders: Renders;
  /** How many files are still to come; 0 when none is being made. */
  waiting = $state(0);
  /** A sentence, or empty. */
  problem = $state('');

  constructor(jobs: Pick<JobClient, 'sound'>) {
    this.#renders = new Renders(jobs);
  }

  /** As the sheet's level says: matched, or as they are. */
  run = async ({ trials }: Trials, format: '24' | 'float'): Promise<void> => {
    if (this.waiting > 0) return;
    this.problem = '';
    this.waiting = trials.length;
    const all: Rendered[] = [];
    for (const [index, sheet] of trials.entries()) {
      const name = `${letter(index)} ${sheet.title}`;
      const answer = await this.#renders.of(sheet);
      this.waiting--;
      if (answer.status === 'failed') this.problem = `Trial ${letter(index)}: ${answer.message}`;
      if (answer.status !== 'done') continue;
      downloadSound(answer.value, format, name);
      all.push({ sheet, name, sound: answer.value });
    }
    this.waiting = 0;
    if (all.length > 0) downloadText(trialsReport(all), `${trials[0]!.title}, trials`);
  };
}

/** dB over any fixed level: how loud it is as built, whatever it was brought to. */
const asBuilt = ({ loudness, gain }: Sound): number => loudness - 20 * Math.log10(gain);

/** What the files are, one after another, and how they differ in loudness. Pure. */
export function trialsReport(all: readonly Rendered[]): string {
  const first = all[0];
  const lines = all.slice(1).flatMap(({ name, sound }) => {
    const by = first ? asBuilt(sound) - asBuilt(first.sound) : NaN;
    if (!first || !Number.isFinite(by)) return [];
    return [
      `As they are, ${name} is ${Math.abs(by).toFixed(2)} dB ${by < 0 ? 'softer' : 'louder'} than ${first.name}`,
    ];
  });
  const parts = all.map(({ sheet, name, sound }) => soundReport(sheet, name, sound));
  return [...parts, ...(lines.length > 0 ? [`${lines.join('\r\n')}\r\n`] : [])].join('\r\n');
}
