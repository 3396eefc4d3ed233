/** What a person types after `npm run predict --`. */
import type { Sheet } from '../sheet/sheet.ts';

/** Something that the person at the terminal can mend; said in one line. */
export class Complaint extends Error {
  /** Exit status: 2 for a wrong call, 1 for data that will not do. */
  readonly status: 1 | 2;

  constructor(message: string, status: 1 | 2) {
    super(message.replace(/\s+/g, ' '));
    this.status = status;
  }
}

export interface Options {
  readonly file: string;
  readonly out: string;
  /** null: as the sheet says. */
  readonly sampleRate: Sheet['listen']['sampleRate'] | null;
  readonly wav: 'float' | '24';
  /** On what paper the bench sheet is set, of which pickup (from 0), and the address that its link begins with; null: none. */
  readonly bench: BenchOptions | null;
  /** Whether it is to be said what each part does to the field. */
  readonly parts: boolean;
}

export interface BenchOptions {
  readonly paper: 'A4' | 'Letter';
  /** null: the first that sounds. */
  readonly pickup: number | null;
  readonly address: string;
}

export const USAGE =
  'npm run predict -- SHEET.json --out FOLDER [--sample-rate 44100|48000|96000] [--wav float|24] [--parts] [--bench A4|Letter [--pickup 1|2|3] [--address URL]], or compare ONE.json OTHER.json [--seed NUMBER] [--makes NUMBER] for what is heard of the one beside the other, or target TARGET.json for the turns that a resonance takes, a balance of the strings or a search, or --schema for the JSON Schema of a sheet';

const RATES = [44100, 48000, 96000] as const;

const wrong = (message: string): never => {
  throw new Complaint(`${message} Call it as: ${USAGE}`, 2);
};

function readRate(text: string): Options['sampleRate'] {
  return (
    RATES.find((rate) => String(rate) === text) ??
    wrong(`--sample-rate must be one of ${RATES.join(', ')}; got "${text}".`)
  );
}

const NAMES = ['--out', '--sample-rate', '--wav', '--bench', '--pickup', '--address'];

function readBench(given: ReadonlyMap<string, string>): BenchOptions | null {
  const paper = given.get('--bench');
  const pickup = given.get('--pickup');
  const address = given.get('--address');
  if (paper === undefined) {
    if (pickup !== undefined || address !== undefined)
      wrong('--pickup and --address must stand beside --bench; got one of them alone.');
    return null;
  }
  if (paper !== 'A4' && paper !== 'Letter') return wrong(`--bench must be A4 or Letter; got "${paper}".`);
  if (pickup !== undefined && !/^[123]$/.test(pickup)) wrong(`--pickup must be 1, 2 or 3; got "${pickup}".`);
  if (address !== undefined && !/^https?:\/\/[^\s#]+$/.test(address))
    wrong(`--address must be the page’s own, beginning with http, without a #; got "${address}".`);
  return { paper, pickup: pickup === undefined ? null : Number(pickup) - 1, address: address ?? '' };
}

const readWav = (text: string): Options['wav'] =>
  text === 'float' || text === '24' ? text : wrong(`--wav must be float or 24; got "${text}".`);

/** Two sheets: what is heard of the one beside the other. */
export interface Comparison {
  readonly one: string;
  readonly other: string;
  /** Of chance, and how many are made of each; null: as on the page. */
  readonly seed: number | null;
  readonly makes: number | null;
}

/** Makes of each: a hundred times what the page has, and pairs of one's own take two. */
const MOST_MAKES = 20_000;

function readComparison(args: readonly string[]): Comparison {
  const files: string[] = [];
  const given = new Map<string, number>();
  const rest = [...args];
  for (let arg = rest.shift(); arg !== undefined; arg = rest.shift()) {
    if (!arg.startsWith('-')) {
      files.push(arg);
      continue;
    }
    const [name = '', value = rest.shift() ?? ''] = arg.split('=');
    if (name !== '--seed' && name !== '--makes')
      wrong(`Option of compare must be --seed or --makes; got ${name}.`);
    if (given.has(name)) wrong(`${name} must be given once; got it twice.`);
    const number = /^\d{1,9}$/.test(value) ? Number(value) : NaN;
    if (name === '--seed' && Number.isNaN(number))
      wrong(`--seed must be a whole number from 0 to 999999999; got "${value}".`);
    if (name === '--makes' && !(number >= 2 && number <= MOST_MAKES && number % 2 === 0))
      wrong(`--makes must be an even number from 2 to ${MOST_MAKES}; got "${value}".`);
    given.set(name, number);
  }
  const [one, other] = files;
  if (one === undefined || other === undefined || files.length > 2)
    return wrong(`What compare compares must be two files; got ${files.join(' ') || 'none'}.`);
  return { one, other, seed: given.get('--seed') ?? null, makes: given.get('--makes') ?? null };
}

/** A file that says what is to be reached. */
export interface Aim {
  readonly target: string;
}

function readAim(args: readonly string[]): Aim {
  const [target, ...more] = args;
  if (target === undefined || more.length > 0 || target.startsWith('-'))
    return wrong(`What is to be reached must be one file; got ${args.join(' ') || 'none'}.`);
  return { target };
}

/**
 * @returns what is asked for where it is no prediction
 * @throws Complaint
 */
export function readOptions(args: readonly string[]): Options | Comparison | Aim | 'help' | 'schema' {
  if (args[0] === 'target') return readAim(args.slice(1));
  if (args[0] === 'compare') return readComparison(args.slice(1));
  const files: string[] = [];
  const given = new Map<string, string>();
  const rest = [...args];
  let parts = false;
  for (let arg = rest.shift(); arg !== undefined; arg = rest.shift()) {
    if (arg === '--help' || arg === '-h') return 'help';
    if (arg === '--schema') return 'schema';
    if (!arg.startsWith('-')) {
      files.push(arg);
      continue;
    }
    if (arg === '--parts') {
      parts = true;
      continue;
    }
    const [name = '', ...value] = arg.split('=');
    if (!NAMES.includes(name)) wrong(`Option must be ${NAMES.join(', ')} or --parts; got ${name}.`);
    if (given.has(name)) wrong(`${name} must be given once; got it twice.`);
    const text = value.length > 0 ? value.join('=') : rest.shift();
    if (text === undefined || text === '' || (value.length === 0 && text.startsWith('--')))
      wrong(`${name} must be followed by its value; got none.`);
    given.set(name, text as string);
  }
  if (files.length !== 1) wrong(`Sheet must be one file; got ${files.length === 0 ? 'none' : files.length}.`);
  const rate = given.get('--sample-rate');
  return {
    file: files[0] as string,
    out: given.get('--out') ?? wrong('--out must name a folder for the results; got none.'),
    sampleRate: rate === undefined ? null : readRate(rate),
    wav: readWav(given.get('--wav') ?? '24'),
    bench: readBench(given),
    parts,
  };
}
