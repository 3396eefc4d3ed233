/** Sentences about the sheet, for headings and for the ear. Pure. */
import type { Sheet } from '../sheet/sheet.ts';
import type { Keeping } from './keeper.ts';
import type { Prediction } from './types.ts';

const mm = (metres: number): string => `${(metres * 1000).toFixed(1)} mm`;

/** «A2 · 110.00 Hz · 78.2 N». */
export function noteWords({ note }: Prediction): string {
  return `${note.name} · ${note.frequency.toFixed(2)} Hz · ${note.tension.toFixed(1)} N`;
}

/**
 * «partial 1 falls by 60 dB in 10.9 s as plucked; towards the pickup alone 10.7 s, across it 16.4 s»: how the chosen partial
 * begins to die away. Empty above the partials there are.
 */
export function fallWords({ listen }: Sheet, { voices, sounding }: Prediction): string {
  const tone = voices[sounding]?.partials[listen.partial - 1];
  if (!tone) return '';
  const { asPlucked, towards, across } = tone.t60;
  return `partial ${tone.n} falls by 60 dB in ${seconds(asPlucked)} as plucked; towards the pickup alone ${seconds(towards)}, across it ${seconds(across)}`;
}

const seconds = (value: number): string => `${value.toPrecision(3)} s`;

/** «Plan of the strings from nut to saddle, 648.0 mm; …»: pickups, pluck and standing wave. */
export function placementWords(sheet: Sheet): string {
  const pickups = sheet.pickups.map((p) => `${p.name} pickup ${mm(p.place)} from the saddle`);
  return [
    `Plan of the strings from nut to saddle, ${mm(sheet.instrument.scaleLength)}`,
    ...pickups,
    `plucked ${mm(sheet.listen.pluck.place)} from the saddle`,
    `standing wave of partial ${sheet.listen.partial} on string ${sheet.listen.string}`,
  ].join('; ');
}

/** «27 Nov 2026, 14:05», in this machine's time zone. */
export function dayWords(date: string): string {
  return new Date(date).toLocaleString('en-GB', {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
  });
}

/** How the document is kept between visits. */
export function keepingWords(keeping: Keeping): string {
  switch (keeping) {
    case 'kept':
      return 'kept on this machine only';
    case 'shortened':
      return 'kept on this machine only, with fewer steps to undo: the browser’s room for this page is full';
    case 'full':
      return 'not kept: the browser’s room for this page is full; copy the link';
    case 'refused':
      return 'not kept: the browser keeps nothing for this page; copy the link';
  }
}
