/** Whether what a page shows is what its document comes to: in figures, by `predict`, and in every line, as a page that opens it afresh has it. */
import type { Page } from 'playwright-core';
import { FieldError } from '../../../src/physics/fieldFaults.ts';
import { predict } from '../../../src/physics/predict.ts';
import type { Prediction } from '../../../src/physics/prediction.ts';
import type { Sheet } from '../../../src/sheet/sheet.ts';
import { stringRows } from '../../../src/ui/strings/rows.ts';

/** What a page shows, as text that has nothing in it of how it came about. */
export interface Shown {
  /** Of every place on the sheet, by its heading: its drawing and words. */
  readonly places: Readonly<Record<string, string>>;
  /** «label: value» of all fields and choices. */
  readonly figures: readonly string[];
  /** Rows of the table of strings. */
  readonly strings: readonly (readonly string[])[];
  /** From 0. */
  readonly chosen: number;
  /** The main curve's points, px, and where its axes lie: dB at two y, px of 20 Hz and 20 kHz. */
  readonly curve: string;
  readonly levels: readonly { readonly y: number; readonly text: string }[];
  readonly left: number;
  readonly right: number;
  /** What is called out at the resonance. */
  readonly callout: string;
  readonly said: string;
  readonly older: boolean;
  readonly trials: number;
}

/** What is looked at, which no link carries. */
export const VIEWS = [
  'pickup shown in the section',
  'row of poles shown across',
  'level balanced to',
  'field picture',
  'what a drag of the focus changes',
] as const;

export const look = (page: Page): Promise<Shown> =>
  page.evaluate(() => {
    const text = (e: Element | null | undefined): string =>
      (e?.textContent ?? '').replace(/\s+/g, ' ').trim();
    const clean = (section: Element): string => {
      const copy = section.cloneNode(true) as Element;
      // Sentences about what was done last, and what is said to the ear alone.
      for (const e of copy.querySelectorAll(
        '[role="alert"], [role="status"], [aria-live], canvas, .message, .reading, .cross, .readings',
      ))
        e.remove();
      for (const e of [copy, ...copy.querySelectorAll('*')])
        for (const { name } of [...e.attributes])
          if (
            /^(id|for|name|open|aria-describedby|aria-controls|aria-invalid|aria-busy|placeholder)$/.test(
              name,
            )
          )
            e.removeAttribute(name);
      return copy.innerHTML
        .replace(/<!--.*?-->/gs, '')
        .replace(/\s+/g, ' ')
        .replaceAll('> <', '><')
        .replace(/<([\w-]+)((?: [\w:-]+="[^"]*")+)>/g, (_, tag: string, all: string) => {
          // In which order a page has come by its attributes and classes says nothing.
          const sorted = [...all.matchAll(/ ([\w:-]+)="([^"]*)"/g)]
            .map(([, name, value]) => {
              const names = name === 'class' ? value!.split(' ').sort().join(' ') : value!;
              return ` ${name!}="${names}"`;
            })
            .sort();
          return `<${tag}${sorted.join('')}>`;
        });
    };
    const places: Record<string, string> = {};
    for (const section of document.querySelectorAll('main section')) {
      const by = section.getAttribute('aria-labelledby') ?? section.getAttribute('aria-label') ?? '';
      places[by] = clean(section);
    }
    const figures = [
      ...document.querySelectorAll<HTMLInputElement>(
        'main input:not([readonly]), main select, main textarea',
      ),
    ]
      .filter((e) => !e.closest('section[aria-label="Files"]'))
      .map((e) => {
        const name = e.ariaLabel ?? text(e.labels?.[0]);
        return `${name}: ${e.type === 'radio' ? String(e.checked) : e.value}`;
      });
    const select = (name: string): HTMLSelectElement | undefined =>
      [...document.querySelectorAll('select')].find((e) => e.ariaLabel === name);
    const curve = document.querySelector('section[aria-labelledby="curve-title"] .drawing svg');
    const surface = curve?.querySelector('.surface');
    const number = (e: Element | null | undefined, name: string): number =>
      Number(e?.getAttribute(name) ?? NaN);
    return {
      places,
      figures,
      strings: [...document.querySelectorAll('section[aria-labelledby="strings-title"] tbody tr')].map(
        (row) => [...row.querySelectorAll('td')].map(text),
      ),
      chosen: select('pickup shown in the section')?.selectedIndex ?? 0,
      curve: curve?.querySelector('path.main')?.getAttribute('d') ?? '',
      levels: [...(curve?.querySelectorAll('text.level') ?? [])].flatMap((e) =>
        /\d/.test(text(e)) ? [{ y: number(e, 'y') - 4, text: text(e) }] : [],
      ),
      left: number(surface, 'x'),
      right: number(surface, 'x') + number(surface, 'width'),
      callout: text(curve?.querySelector('.callout')),
      said: text(document.querySelector('section[aria-label="Title block"] [role="status"]')),
      older: document.querySelector('main')?.classList.contains('older') ?? true,
      trials: document.querySelectorAll('[aria-label="trial on the table"] input').length,
    };
  });

/** px: a path is written to hundredths. */
const PIXEL = 0.03;

/** @returns what does not agree, a line each */
export function disagreements(sheet: Sheet, shown: Shown): string[] {
  let prediction: Prediction;
  try {
    prediction = predict(sheet);
  } catch (error) {
    if (!(error instanceof FieldError)) throw error;
    return shown.older
      ? []
      : [`the build can't be computed (${error.message}), and the page does not say so`];
  }
  if (shown.older) return [`the page says that what it shows is not of this sheet: ${shown.said}`];
  const found: string[] = [];
  const expected = stringRows(prediction.pickups[shown.chosen]).map(({ cells }) => cells);
  const got = shown.strings.map((row) => row.slice(-8));
  if (JSON.stringify(expected) !== JSON.stringify(got))
    found.push(`table of strings: ${JSON.stringify(got)} is not ${JSON.stringify(expected)}`);
  found.push(...curveFaults(prediction, shown));
  return found;
}

function curveFaults({ voices, sounding, frequencies }: Prediction, shown: Shown): string[] {
  const voice = voices[sounding]!;
  const [first, last] = [shown.levels[0], shown.levels.at(-1)];
  if (!first || !last || first === last) return ['the curve has no axis'];
  const level = (label: string): number => Number(label.replace('−', '-'));
  const perPixel = (level(last.text) - level(first.text)) / (last.y - first.y);
  const dbAt = (y: number): number => level(first.text) + (y - first.y) * perPixel;
  const points = [...shown.curve.matchAll(/(-?[\d.]+)[ ,](-?[\d.]+)/g)].map(
    ([, x, y]) => [Number(x), Number(y)] as const,
  );
  const high = Math.max(level(first.text), level(last.text));
  const low = Math.min(level(first.text), level(last.text));
  const visible = voice.reachDb.some((db) => db > low && db < high);
  if (visible !== points.length > 0)
    return [`the curve has ${points.length} points, and is ${visible ? '' : 'not '}on the paper`];
  const octave = Math.log(frequencies.at(-1)! / frequencies[0]!);
  const worst = points.reduce((most, [x, y]) => {
    const at =
      (frequencies.length - 1) * Math.min(1, Math.max(0, (x - shown.left) / (shown.right - shown.left)));
    const i = Math.min(frequencies.length - 2, Math.floor(at));
    const between = voice.reachDb[i]! + (voice.reachDb[i + 1]! - voice.reachDb[i]!) * (at - i);
    // A hundredth of a pixel sideways counts where the curve is steep.
    const steep =
      Math.abs(voice.reachDb[i + 1]! - voice.reachDb[i]!) * (frequencies.length / (shown.right - shown.left));
    return Math.max(most, Math.abs(dbAt(y) - between) - PIXEL * (Math.abs(perPixel) + steep));
  }, -Infinity);
  const faults =
    worst > 0 && octave > 0 ? [`the curve is off by ${worst.toFixed(3)} dB more than its digits`] : [];
  const { resonance, lowDb } = voice.features;
  if (resonance && lowDb + Math.max(0, resonance.heightDb) >= low) {
    const q = `Q ${resonance.q.toFixed(1)}`;
    if (!shown.callout.includes(q)) faults.push(`«${shown.callout}» should say ${q}`);
  }
  return faults;
}

/** Places that say more than the document: what was done last, what sounds, what is compared with, which file is looked for. */
const OWN = /^(Title block|Files|mods-title|trials-title|close-title|listen-title|curve-title|Notes)$/;
/** Amounts and choices of the hand's own. */
const OWN_FIGURES =
  /^(how |share of |partly |bevel |swap |which pole |metal of the cover|gauss probe|height of the probe|shift of the worst|action: |what a drag|compare with|rounds of|open another|recorded from|volume: |level heard|loudspeaker|fret at )/;

/** @returns what differs between a page that has been worked on and one that has just opened the same, a line each */
export function differences(worked: Shown, fresh: Shown): string[] {
  const found: string[] = [];
  // A page that has just opened what can't be built has nothing older to show.
  const older = worked.older && fresh.older;
  if (worked.older !== fresh.older)
    found.push(`one page has figures of this sheet, the other (${fresh.said}) has not`);
  for (const [place, html] of Object.entries(fresh.places)) {
    if (older || OWN.test(place) || html === worked.places[place]) continue;
    const is = worked.places[place] ?? '';
    let at = 0;
    while (at < is.length && is[at] === html[at]) at++;
    found.push(
      `${place}: «${is.slice(Math.max(0, at - 150), at + 60)}» is not «${html.slice(Math.max(0, at - 20), at + 60)}»`,
    );
  }
  const own = (figure: string): boolean => !OWN_FIGURES.test(figure);
  const [is, should] = [worked.figures.filter(own), fresh.figures.filter(own)];
  // Without figures there is no focus to be typed, and no name of a string to be chosen.
  const wrong = older
    ? is.filter(
        (figure) =>
          figures(should).get(labelOf(figure)) === 1 && !should.includes(figure) && !/^string/.test(figure),
      )
    : is.filter((figure, i) => figure !== should[i]);
  if (wrong.length > 0 || (!older && is.length !== should.length))
    found.push(
      `fields: ${wrong.slice(0, 3).join('; ') || `${is.length}, not ${should.length}`}; should be ${should
        .filter((figure) => !is.includes(figure))
        .slice(0, 3)
        .join('; ')}`,
    );
  return found;
}

const labelOf = (figure: string): string => figure.slice(0, figure.lastIndexOf(': '));

/** How often each label is there. */
function figures(all: readonly string[]): Map<string, number> {
  const count = new Map<string, number>();
  for (const figure of all) count.set(labelOf(figure), (count.get(labelOf(figure)) ?? 0) + 1);
  return count;
}
