/** Every curve on the log paper, with the line that tells it apart and its name. Pure. */
import type { Workbench } from '../../state/workbench.svelte.ts';
import type { Voice } from '../../state/types.ts';
import { trialMark } from '../trials/marks.ts';

export interface CurveLine {
  readonly key: string;
  readonly voice: Voice;
  readonly frequencies: Float64Array;
  /** 'main' is what sounds; another trial's; what was before a mod; another pickup of the same sheet. */
  readonly kind: 'main' | 'trial' | 'before' | 'pickup';
  readonly colour: string;
  readonly dash: string;
  /** Letter of a trial; empty while there is but one. */
  readonly letter: string;
  /** For the legend. */
  readonly words: string;
}

const PICKUP_DASHES = ['8 5', '1.5 4', '6 3 1.5 3'];

/** «computed», «set by hand», «partly computed»: how the reach of a voice's pickups came about. */
export function reachWords(bench: Workbench, voice: Voice): string {
  if (voice.reach.rows.length === 0) return 'no coil';
  const by = voice.pickups.map((i) => bench.sheet.pickups[i]?.reachBy ?? 'hand');
  if (by.every((b) => b === 'build')) return 'reach computed from the build';
  return by.includes('build') ? 'reach computed or set by hand' : 'reach set by hand';
}

/** The main one first; empty until there is a prediction. */
export function curveLines(bench: Workbench): readonly CurveLine[] {
  const { prediction, other, before, trials } = bench;
  const main = prediction?.voices[prediction.sounding];
  if (!prediction || !main) return [];
  const { frequencies } = prediction;
  const mark = trialMark(trials.open);
  const lines: CurveLine[] = [
    {
      key: 'main',
      voice: main,
      frequencies,
      kind: 'main',
      ...mark,
      letter: other ? bench.letter(trials.open) : '',
      words: main.reach.rows.length > 0 ? `${main.label}, with reach` : 'no coil: nothing to hear',
    },
  ];
  if (other)
    lines.push({
      key: 'trial',
      voice: other.voice,
      frequencies: other.prediction.frequencies,
      kind: 'trial',
      ...trialMark(other.index),
      letter: other.letter,
      words: `${other.sheet.title}: ${other.voice.label}`,
    });
  const was = before?.prediction.voices[before.prediction.sounding];
  if (before && was)
    lines.push({
      key: 'before',
      voice: was,
      frequencies: before.prediction.frequencies,
      kind: 'before',
      colour: 'var(--ink)',
      dash: '12 3 2 3',
      letter: '',
      words: `before: ${was.label}`,
    });
  // Of a pickup without a coil there is no curve.
  const rest = prediction.voices.flatMap((voice, index) =>
    voice === main || voice.reach.rows.length === 0 ? [] : [{ voice, index }],
  );
  return lines.concat(
    rest.map(({ voice, index }, i) => ({
      key: `voice ${index}`,
      voice,
      frequencies,
      kind: 'pickup',
      colour: 'var(--thin)',
      dash: PICKUP_DASHES[i % PICKUP_DASHES.length] ?? '2 4',
      letter: '',
      words: voice.label,
    })),
  );
}
