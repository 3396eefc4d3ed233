/** A prediction as text for other programs, from the command line and the page alike: figures as JSON, curves as CSV, the circuit as SPICE decks. */
import type { Sheet } from '../sheet/sheet.ts';
import { harnessNetwork } from './circuit/harness.ts';
import { netlist } from './circuit/netlist.ts';
import type { Closeness } from './close.ts';
import type { Fields } from './heard/fieldAnswer.ts';
import { resolve } from './heard/resolve.ts';
import type { Prediction, Sound } from './prediction.ts';

/** The shift for which is said how close a pickup may sit, cents: as the sheet has it when it opens. */
export const DETUNING = 2;

/**
 * Figures in SI units (levels in dB or LUFS) under the names that prediction.ts and close.ts explain.
 *
 * @param closest how close each pickup may sit for DETUNING, m; null without a build, or when no height is low enough
 */
export function figuresJson(
  sheet: Sheet,
  prediction: Prediction,
  sound: Sound,
  closest: readonly (Closeness | null)[],
): string {
  const { note, frets, voices, sounding, pickups, warnings } = prediction;
  const { sampleRate, gain, reducedDb, loudness, peakVolts } = sound;
  const figures = {
    title: sheet.title,
    note,
    frets: [...frets],
    voices: voices.map(({ label, pickups, features, reach, partials }) => ({
      label,
      pickups,
      features,
      reach: reach.rows,
      partials: partials.map(({ shares, responseDb, pluckedDb, t60, ...partial }) => ({
        ...partial,
        responseDb: levelOf(responseDb),
        pluckedDb: levelOf(pluckedDb),
        t60: { asPlucked: fallOf(t60.asPlucked), towards: fallOf(t60.towards), across: fallOf(t60.across) },
        shares: { towards: shareOf(shares.towards), across: shareOf(shares.across) },
      })),
    })),
    sounding,
    pickups,
    closest: closest.map((found) => found && { cents: DETUNING, ...found }),
    sound: { seconds: sound.samples.length / sampleRate, sampleRate, gain, reducedDb, loudness, peakVolts },
    warnings,
  };
  return (
    JSON.stringify(
      figures,
      (_, figure: unknown) => (typeof figure === 'number' ? rounded(figure) : figure),
      2,
    ) + '\n'
  );
}

/**
 * As a figure is written, in any unit: six digits are more than any reading can use, and fewer than two engines' sines and
 * exponentials leave alike (a T60 comes out alike to 1e-7), so that a file is the same from every machine.
 */
const rounded = (figure: number): number => Number(figure.toPrecision(6));

/**
 * Of a partial's power, its level in dB and its T60 in s. In a null of the pluck they come from a difference of what nearly cancels, and two
 * engines leave them alike to some 1e-6 alone; these decimals and digits are more than any ear can use.
 */
const levelOf = (level: number): number => Number(level.toFixed(2));
const fallOf = (seconds: number): number => Number(seconds.toPrecision(4));
const shareOf = (share: number): number => Number(share.toFixed(3));

/** RFC 4180: quoted where it must be, lines end in CR LF. */
const cell = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** Hz and dB: a line a frequency, three columns a voice. Nine digits: more than any reading of a curve can use. */
export function curveCsv(prediction: Prediction): string {
  const columns: [name: string, values: Float64Array][] = [['frequency / Hz', prediction.frequencies]];
  prediction.voices.forEach(({ label, circuitDb, reachDb, placedDb }, i) => {
    const voice = `${i + 1} ${label}`;
    columns.push([`circuit / dB, ${voice}`, circuitDb]);
    columns.push([`with reach / dB, ${voice}`, reachDb]);
    columns.push([`with reach and place / dB, ${voice}`, placedDb]);
  });
  const lines = [columns.map(([name]) => cell(name)).join(',')];
  for (let k = 0; k < prediction.frequencies.length; k++)
    lines.push(columns.map(([, values]) => String(Number(values[k]?.toPrecision(9)))).join(','));
  return lines.join('\r\n') + '\r\n';
}

/** One deck a coil of the pickups that sound, from 20 Hz to 20 kHz: that coil driven with 1 V, the others silent. */
export function netlists(sheet: Sheet, fields: Fields): { readonly suffix: string; readonly text: string }[] {
  const sounding = sheet.pickups.map((pickup) => pickup.sounds);
  const network = harnessNetwork(resolve(sheet, fields).pickups, sheet.harness, sounding);
  return network.coils.map(({ pickup, row }, coil) => ({
    suffix: `pickup-${pickup + 1}-coil-${row + 1}`,
    text: netlist(network, {
      title: `${sheet.title}: pickup ${pickup + 1} (${sheet.pickups[pickup]?.name ?? ''}), coil ${row + 1} driven`,
      coil,
      sweep: { perDecade: 100, from: 20, to: 20_000 },
    }),
  }));
}
