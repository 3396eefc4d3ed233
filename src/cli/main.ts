/**
 * The prediction from a terminal: a sheet in; figures (JSON), curves (CSV), sound (WAV), circuit (SPICE) and drawings (SVG)
 * out, from the same `predict` and `render` that the screen uses; and the page for the workbench, if asked for.
 */
import { mkdirSync, statSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { drawingSvg, sections } from '../benchSheet/drawingFile.ts';
import { close } from '../physics/close.ts';
import { curveCsv, DETUNING, figuresJson, netlists } from '../physics/outputs.ts';
import { predict } from '../physics/predict.ts';
import { render } from '../physics/rendered.ts';
import { encodeWav } from '../physics/sound/wav.ts';
import { schemaText } from '../sheet/schema.ts';
import { benchDocument } from './bench.ts';
import { compare } from './compare.ts';
import { Complaint, readOptions, USAGE, type Options } from './options.ts';
import { partsJson } from './parts.ts';
import { computed, readSheet } from './read.ts';
import { target } from './target.ts';

export interface Streams {
  readonly out: (line: string) => void;
  readonly err: (line: string) => void;
}

/** Folder by folder: where one can't be made, Node's own way of making them all at once may try for ever. */
function makeFolder(path: string): void {
  if (statSync(path, { throwIfNoEntry: false })?.isDirectory()) return;
  makeFolder(dirname(path));
  mkdirSync(path);
}

/** Says what is wrong with the folder, if anything is. */
function into(folder: string, act: () => void): void {
  try {
    act();
  } catch (error) {
    const reason = (error as NodeJS.ErrnoException).code ?? 'no reason given';
    throw new Complaint(`--out must be a folder that can be written to; got ${folder} (${reason}).`, 2);
  }
}

function write(folder: string, name: string, content: string | Uint8Array, { out }: Streams): void {
  into(folder, () => writeFileSync(join(folder, name), content));
  out(join(folder, name));
}

function run({ file, out, sampleRate, wav, bench, parts }: Options, streams: Streams): void {
  const opened = readSheet(file);
  const sheet = sampleRate === null ? opened : { ...opened, listen: { ...opened.listen, sampleRate } };
  // Before anything is computed for nothing.
  into(out, () => makeFolder(resolve(out)));
  if (bench?.pickup && !sheet.pickups[bench.pickup])
    throw new Complaint(
      `--pickup must be one of the sheet’s ${sheet.pickups.length}; got ${bench.pickup + 1}.`,
      2,
    );
  const fields = computed(sheet);
  const prediction = predict(sheet, fields);
  const sound = render(sheet, fields);
  const closest = sheet.pickups.map(({ build }, i) => build && close(sheet, i, DETUNING));
  const name = basename(file).replace(/\.json$/i, '');
  write(out, `${name}.figures.json`, figuresJson(sheet, prediction, sound, closest), streams);
  write(out, `${name}.curve.csv`, curveCsv(prediction), streams);
  write(out, `${name}.wav`, encodeWav(sound.samples, sound.sampleRate, wav), streams);
  for (const { suffix, text } of netlists(sheet, fields)) write(out, `${name}.${suffix}.cir`, text, streams);
  for (const { suffix, drawing } of sections(sheet))
    write(out, `${name}.${suffix}.svg`, drawingSvg(drawing, sheet.title), streams);
  if (parts) write(out, `${name}.parts.json`, partsJson(sheet, fields), streams);
  if (bench) write(out, `${name}.bench.html`, benchDocument(opened, fields, bench), streams);
  for (const warning of prediction.warnings) streams.err(`predict: note: ${warning}`);
}

/**
 * @param args what stands behind the program's name
 * @param streams line by line
 * @returns the exit status: 0, or 1 for a sheet that will not do, or 2 for a wrong call; what is wrong stands in one line
 *   on the error stream
 */
export function main(args: readonly string[], streams: Streams): 0 | 1 | 2 {
  try {
    const options = readOptions(args);
    if (options === 'help') streams.out(USAGE);
    else if (options === 'schema') streams.out(schemaText().trimEnd());
    else if ('target' in options) streams.out(target(options.target));
    else if ('other' in options) streams.out(compare(options));
    else run(options, streams);
    return 0;
  } catch (error) {
    if (!(error instanceof Complaint)) throw error;
    streams.err(`predict: ${error.message}`);
    return error.status;
  }
}
