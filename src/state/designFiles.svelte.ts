/** Designs from files and to files, and what other programs take of the open sheet. Loaded with the place where it is shown. */
import { download, fileName } from '../audio/download.ts';
import { downloadSound } from '../audio/wavFile.ts';
import { JobClient } from '../jobs/client.ts';
import type { OutputKind } from '../jobs/outputs.ts';
import { writeDesign } from '../sheet/designFile.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { plainText } from '../sheet/plainText.ts';
import { tellDesigns } from './designsChannel.ts';
import { clock, DesignStore } from './designStore.ts';
import { STORE_WORDS } from './designWords.ts';
import { take, type Dropped } from './dropped.ts';
import { measuredOf, type MeasuredBench } from './measured.svelte.ts';
import type { Workbench } from './workbench.svelte.ts';

export type { Dropped } from './dropped.ts';

/** What can be saved of the open sheet besides the design. */
export type SavedKind = OutputKind | 'sound' | DrawnKind;
type DrawnKind = 'drawing' | 'picture';

/** MIME types: RFC 4180, RFC 8259; a netlist is plain text. */
const TYPES: Readonly<Record<OutputKind, string>> = {
  curve: 'text/csv;charset=utf-8',
  figures: 'application/json',
  netlist: 'text/plain;charset=utf-8',
};

/** Letters of a file's name that are said; and faults in a file of many designs. */
const SAID = 60;
const FAULTS = 2;

type Bench = Pick<Workbench, 'trials' | 'openDocument' | 'openLink' | 'listening'> & MeasuredBench;

/** One a page. */
export class DesignFiles {
  readonly #bench: Bench;
  readonly #client: () => JobClient;
  /** Counts what was opened: the one asked for last is the one that is shown. */
  #asked = 0;
  /** What is being made; null for nothing. */
  making: SavedKind | null = $state(null);
  /** Why something was not opened or saved, or where a recording went; empty when there is nothing to say. */
  said = $state('');

  /** @param client a fresh one, for one file: what the page itself waits for is not held up */
  constructor(bench: Bench, client = (): JobClient => new JobClient()) {
    this.#bench = bench;
    this.#client = client;
  }

  /** A design takes the place of the open sheet as one step; whatever else it is leaves everything as it is and is said. */
  open = async (dropped: Dropped): Promise<void> => {
    const asked = ++this.#asked;
    this.said = '';
    const taken = await take(dropped);
    if (asked !== this.#asked) return;
    switch (taken.kind) {
      case 'design': {
        const name = plainText(taken.name).slice(0, SAID);
        this.#bench.openDocument(taken.trials, `${name} is open; undo brings back what was there.`);
        return;
      }
      case 'designs': {
        const { takeIn } = await import('./allDesigns.ts');
        const came = await takeIn(new DesignStore(), taken.designs, clock());
        tellDesigns();
        this.said = [came, ...taken.faults.slice(0, FAULTS)].join(' ');
        return;
      }
      case 'link':
        await this.#bench.openLink(taken.fragment);
        return;
      case 'recording':
        await this.#bench.listening.own.open(taken.file);
        this.said =
          this.#bench.listening.own.problem || 'The recording lies under «Your own playing», below Listen.';
        return;
      case 'curve': {
        const measured = measuredOf(this.#bench);
        this.said = measured.lay(taken.text, taken.name)
          ? measured.asks || 'The measured curve lies over the predicted one, at Curve.'
          : measured.said;
        return;
      }
      case 'refused':
        this.said = taken.message;
    }
  };

  /** All trials as one file, which `open` takes again. */
  saveDesign = (): void => {
    this.said = '';
    const { sheet, trials } = this.#bench;
    this.#put(writeDesign(trials), sheet.title, 'json', 'application/json');
  };

  /** All designs on this computer with what they were, as one file, which `open` takes again. */
  saveAll = async (): Promise<void> => {
    this.said = '';
    const { allAsText } = await import('./allDesigns.ts');
    const all = await allAsText(new DesignStore(), clock());
    if (!all.ok) this.said = STORE_WORDS[all.trouble];
    else if (all.value === null)
      this.said = 'There must be a design to save; there is none on this computer yet.';
    else this.#put(all.value, `Designs, ${clock().toISOString().slice(0, 10)}`, 'json', 'application/json');
  };

  /** Of the open trial, as the command line writes it. */
  save = async (kind: SavedKind): Promise<void> => {
    if (this.making) return;
    this.making = kind;
    this.said = '';
    const { sheet } = this.#bench;
    try {
      if (kind === 'drawing' || kind === 'picture') await this.#draw(kind, sheet);
      else await this.#compute(kind, sheet);
    } catch {
      // A part of the program that could not be loaded, a picture too large for the browser, a sheet without cards for it.
      this.said = 'The file could not be made. Try once more; nothing is lost.';
    } finally {
      this.making = null;
    }
  };

  async #compute(kind: OutputKind | 'sound', sheet: Sheet): Promise<void> {
    const client = this.#client();
    try {
      if (kind === 'sound') {
        const sound = await client.sound(sheet);
        if (sound.status === 'done') downloadSound(sound.value, '24', sheet.title);
        if (sound.status === 'failed') this.said = sound.message;
        return;
      }
      const { outputsOf } = await import('../jobs/outputs.ts');
      const outputs = await outputsOf(kind, sheet, client);
      if (outputs.status === 'failed') this.said = outputs.message;
      if (outputs.status === 'done')
        for (const { suffix, text } of outputs.value) this.#put(text, sheet.title, suffix, TYPES[kind]);
    } finally {
      client.dispose();
    }
  }

  async #draw(kind: DrawnKind, sheet: Sheet): Promise<void> {
    const { drawingSvg, sections } = await import('../benchSheet/drawingFile.ts');
    const all = sections(sheet);
    if (all.length === 0)
      this.said =
        'Drawing must be of a pickup that sounds and has a build; got none. Give it one under Parts.';
    for (const { suffix, drawing } of all) {
      if (kind === 'drawing')
        this.#put(drawingSvg(drawing, sheet.title), sheet.title, `${suffix}.svg`, 'image/svg+xml');
      else {
        const { drawingPng } = await import('./drawingPng.ts');
        download(await drawingPng(drawing), fileName(sheet.title, `${suffix}.png`), 'image/png');
      }
    }
  }

  #put(text: string, title: string, suffix: string, type: string): void {
    download(new TextEncoder().encode(text), fileName(title, suffix), type);
  }
}
