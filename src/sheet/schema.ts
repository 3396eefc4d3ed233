/**
 * The JSON Schema of a design (draft 2020-12), found by listening to the check while it reads a document in which everything
 * comes up: what is checked and what is published can't part. A schema knows one field at a time; rules that hold two of them
 * together (BEYOND) are the check's alone.
 */
import { FEWEST_STRINGS, MOST_STRINGS } from '../shape/strings.ts';
import { checkTrials } from './checkTrials.ts';
import { everything } from './everything.ts';
import { listening, type Demand } from './fault.ts';
import { FIGURES, isWhole } from './figures.ts';
import { baseUnit } from './reading.ts';
import { MOST_TRIALS } from './trials.ts';

export interface Schema {
  [keyword: string]: unknown;
}

/** What a schema leaves to the check, for the description. */
export const BEYOND =
  'Rules that hold several fields together are checked when a design is opened: lists with one entry a string, a pickup or a ' +
  'row, numbers of strings and trials that must be there, frets within the neck, places between saddle and nut, one edge of ' +
  'a winding window beyond the other, a core within its string, at least one pickup and string that sounds, reach by a ' +
  'build where there is one, and where its coil is off neither cover nor base plate, what Br, Hc and (BH)max of a grade allow each other, two different trials to a blind result and no more right rounds than rounds, one instrument ' +
  'and way of listening for all trials, days that are in the calendar. Texts are counted in UTF-16 units there, without ' +
  'invisible characters, and here in characters.';

/** What has been asked of a field, and of those in it. */
class Place {
  readonly #demands: Demand[] = [];
  readonly #fields = new Map<string, Place>();
  #items: Place | null = null;

  add(demand: Demand): void {
    this.#demands.push(demand);
  }

  field(name: string): Place {
    const known = this.#fields.get(name) ?? new Place();
    this.#fields.set(name, known);
    return known;
  }

  get items(): Place {
    return (this.#items ??= new Place());
  }

  get #optional(): boolean {
    return this.#demands.some(({ optional }) => optional);
  }

  /** @param path where it is, for the maker of a new reader */
  schema(path: string): Schema {
    const kinds = this.#demands.filter((demand) => !demand.optional && !demand.none);
    const none = this.#demands.some((demand) => demand.none);
    if (none && kinds.length === 0 && this.#fields.size === 0) return { type: 'null' };
    const merged = this.#fields.size > 0 ? this.#object(path) : this.#value(path);
    if (!none) return merged;
    const { enum: choices, type } = merged;
    return Array.isArray(choices)
      ? { ...merged, enum: [...(choices as readonly unknown[]), null] }
      : { ...merged, type: [type, 'null'] };
  }

  #object(path: string): Schema {
    const fields = [...this.#fields];
    return {
      type: 'object',
      required: fields.filter(([, place]) => !place.#optional).map(([name]) => name),
      properties: Object.fromEntries(fields.map(([name, place]) => [name, place.schema(`${path}.${name}`)])),
    };
  }

  #value(path: string): Schema {
    const what = this.#demands.find((demand) => demand.what !== undefined)?.what;
    const named = what === undefined ? {} : { description: what };
    const lists = this.#demands.flatMap(({ list }) => (list ? [list] : []));
    if (lists.length > 0)
      return {
        type: 'array',
        ...named,
        minItems: Math.min(...lists.map(([least]) => least)),
        maxItems: Math.max(...lists.map(([, most]) => most)),
        items: this.items.schema(`${path}[]`),
      };
    const choices = [...new Set(this.#demands.flatMap(({ choice }) => choice ?? []))];
    if (choices.length > 0) return { ...named, enum: choices };
    if (this.#demands.some(({ flag }) => flag)) return { type: 'boolean', ...named };
    const [text] = this.#demands.filter((demand) => demand.text !== undefined);
    if (text) {
      const pattern =
        text.form?.source ?? (text.lines ? '^[^\\p{Cc}]*(?:[\\n\\t][^\\p{Cc}]*)*$' : '^[^\\p{Cc}]*$');
      return { type: 'string', ...named, maxLength: text.text, pattern };
    }
    const [figure] = this.#demands.filter((demand) => demand.figure !== undefined);
    if (!figure?.figure)
      throw new Error(`A reader must tell what it asks of a field; got nothing of ${path}.`);
    const { label, min, max } = FIGURES[figure.figure];
    const unit = baseUnit(figure.figure);
    return {
      type: isWhole(figure.figure) ? 'integer' : 'number',
      description: unit === '' ? label : `${label}, ${unit}`,
      minimum: min,
      maximum: max,
      ...(figure.step !== undefined && { multipleOf: figure.step }),
    };
  }
}

/** The check's rules for a document. */
function heard(document: unknown): Schema {
  const root = new Place();
  const places = new WeakMap<object, Place>([[document as object, root]]);
  const put = (value: unknown, place: Place): void => {
    if (typeof value === 'object' && value !== null) places.set(value, place);
  };
  listening(
    (of, name, demand) => {
      const parent = places.get(of)!;
      const place = Array.isArray(of) ? parent.items : parent.field(String(name));
      place.add(demand);
      const value = (of as Record<string, unknown>)[name];
      put(value, place);
      if (Array.isArray(value)) for (const item of value) put(item, place.items);
    },
    () => {
      const checked = checkTrials(document);
      if (!checked.ok)
        throw new Error(`The document of everything must be one that opens: ${checked.message}`);
    },
  );
  return root.schema('design');
}

/** No two parts of it the same object, so that each has a place of its own. */
const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value)) as unknown;

type Properties = Record<string, Schema>;
const inside = (schema: Schema, ...names: readonly string[]): Schema =>
  names.reduce(
    (at, name) => (name === '[]' ? (at['items'] as Schema) : (at['properties'] as Properties)[name]!),
    schema,
  );

/** Counts and numbers of strings, pickups and trials are those of the one document that was heard; any will do. */
function loosen(design: Schema): void {
  const within = (least: number, most: number): Schema => ({ minItems: least, maxItems: most });
  const sheet = inside(design, 'trials', '[]');
  const numbers = (least: number, most: number): Schema => ({
    enum: Array.from({ length: most - least + 1 }, (_, i) => least + i),
  });
  Object.assign(inside(sheet, 'listen', 'chord'), within(FEWEST_STRINGS, MOST_STRINGS));
  Object.assign(inside(sheet, 'listen', 'string'), numbers(1, MOST_STRINGS));
  Object.assign(inside(sheet, 'listen', 'line', '[]', 'string'), numbers(1, MOST_STRINGS));
  const { maxItems } = inside(sheet, 'pickups');
  Object.assign(inside(sheet, 'harness', 'controls'), within(1, maxItems as number));
  for (const trial of [
    inside(design, 'open'),
    inside(design, 'blind', '[]', 'a'),
    inside(design, 'blind', '[]', 'b'),
  ])
    Object.assign(trial, numbers(0, MOST_TRIALS - 1));
}

/** Fresh at every call. */
export function designSchema(): Schema {
  const design = heard(plain(everything(true)));
  const byHand = heard(plain(everything(false)));
  loosen(design);
  const sheet = inside(design, 'trials', '[]');
  const built = inside(sheet, 'pickups', '[]');
  const heights = inside(built, 'build', 'rows', '[]', 'pole', 'heights');
  const own = inside(built, 'build', 'rows', '[]', 'pole', 'own');
  for (const list of [heights, own])
    Object.assign(list, { minItems: FEWEST_STRINGS, maxItems: MOST_STRINGS });
  inside(sheet, 'pickups')['items'] = { $ref: '#/$defs/pickup' };
  inside(design, 'trials')['items'] = { $ref: '#/$defs/sheet' };
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'Design of an electric guitar’s pickups and wiring, as Lodetone opens it',
    description: `A sheet, or several as trials of one instrument. SI units; pots from 0 to 1. ${BEYOND}`,
    if: { type: 'object', required: ['trials'], properties: { trials: {} } },
    then: { $ref: '#/$defs/design' },
    else: { $ref: '#/$defs/sheet' },
    $defs: {
      design,
      sheet,
      // Figures may be left to a build, where there is one.
      pickup: {
        if: { type: 'object', required: ['build'], properties: { build: { type: 'object' } } },
        then: { $ref: '#/$defs/pickupWithBuild' },
        else: { $ref: '#/$defs/pickupByHand' },
      },
      pickupWithBuild: built,
      pickupByHand: inside(byHand, 'trials', '[]', 'pickups', '[]'),
    },
  };
}

/** As a file. */
export const schemaText = (): string => `${JSON.stringify(designSchema(), null, 2)}\n`;
