/** The worker's side of the protocol, free of any worker scope so that it runs anywhere. */
import type {
  SheetFault,
  CloseWish,
  JobInput,
  JobKind,
  JobRequest,
  JobResponse,
  JobValue,
  LiveWish,
  PictureWish,
} from './protocol.ts';
import type { FieldAnswer, Fields } from '../physics/heard/fieldAnswer.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { restore } from './sparing.ts';

/** `fields` are those of the sheet's pickups; null: to be computed. */
export interface Door {
  /** What it returns may be kept: it is copied and not moved. */
  field(sheet: Sheet, wish: JobInput['field']): JobValue['field'];
  predict(sheet: Sheet, fields: Fields | null): JobValue['figures'];
  picture(sheet: Sheet, wish: PictureWish, field: FieldAnswer | null): JobValue['picture'];
  /** These are loaded when one of them is first asked for. `field`: of the wish's pickup, or of one that has the same charges. */
  sound?: (sheet: Sheet, fields: Fields | null) => JobValue['sound'];
  beginning?: (sheet: Sheet, fields: Fields | null) => JobValue['beginning'];
  live?: (sheet: Sheet, wish: LiveWish, fields: Fields | null) => JobValue['live'];
  level?: (sheet: Sheet, fields: Fields | null) => JobValue['level'];
  through?: (sheet: Sheet, playing: JobInput['through'], fields: Fields | null) => JobValue['through'];
  close?: (sheet: Sheet, wish: CloseWish, field: FieldAnswer | null) => JobValue['close'];
  track?: (sheet: Sheet, wish: JobInput['track']) => JobValue['track'];
  why?: (sheet: Sheet, wish: JobInput['why'], fields: Fields | null) => JobValue['why'];
  space?: (sheet: Sheet, wish: JobInput['space'], field: FieldAnswer | null) => JobValue['space'];
  takenOut?: (sheet: Sheet, wish: JobInput['takenOut'], field: FieldAnswer | null) => JobValue['takenOut'];
  heard?: (sheet: Sheet, wish: JobInput['heard'], fields: Fields | null) => JobValue['heard'];
  spread?: (sheet: Sheet, wish: JobInput['spread'], fields: Fields | null) => JobValue['spread'];
  matters?: (sheet: Sheet, wish: JobInput['matters'], fields: Fields | null) => JobValue['matters'];
  target?: (sheet: Sheet, wish: JobInput['target'], fields: Fields | null) => JobValue['target'];
  search?: (sheet: Sheet, wish: JobInput['search']) => JobValue['search'];
  balance?: (sheet: Sheet, wish: JobInput['balance']) => JobValue['balance'];
  bench?: (sheet: Sheet, wish: JobInput['bench'], fields: Fields | null) => JobValue['bench'];
  measured?: (sheet: Sheet, wish: JobInput['measured'], fields: Fields | null) => JobValue['measured'];
}

/** Kinds of job whose part of the program is loaded when it is first asked for. */
export type LaterKind =
  | 'sound'
  | 'beginning'
  | 'live'
  | 'level'
  | 'through'
  | 'close'
  | 'track'
  | 'why'
  | 'heard'
  | 'spread'
  | 'matters'
  | 'target'
  | 'balance'
  | 'search'
  | 'space'
  | 'takenOut'
  | 'bench'
  | 'measured';

/** The fields that last came with a request of each kind; one a worker. */
export type Had = Map<JobKind, Fields>;

/** The response and the buffers that may be moved with it. Whatever is thrown comes back as its message. */
export function answer(
  request: JobRequest,
  door: Door,
  had: Had = new Map(),
): { response: JobResponse; transfer: ArrayBuffer[] } {
  const { id } = request;
  try {
    const fields = request.fields && restore(request.fields, had.get(request.kind) ?? null);
    if (fields) had.set(request.kind, fields);
    const value = valueOf(request, fields, door);
    return { response: { id, ok: true, value }, transfer: request.kind === 'field' ? [] : buffersOf(value) };
  } catch (error) {
    const message = error instanceof Error && error.message ? error.message : String(error);
    const faults =
      error instanceof Error && 'sheetFaults' in error ? (error.sheetFaults as readonly SheetFault[]) : [];
    return { response: { id, ok: false, message, faults }, transfer: [] };
  }
}

function valueOf({ kind, sheet, input }: JobRequest, fields: Fields | null, door: Door): JobValue[JobKind] {
  switch (kind) {
    case 'field':
      return door.field(sheet, input as JobInput['field']);
    case 'figures':
      return door.predict(sheet, fields);
    case 'sound':
      return (door.sound ?? notLoaded())(sheet, fields);
    case 'beginning':
      return (door.beginning ?? notLoaded())(sheet, fields);
    case 'live':
      return (door.live ?? notLoaded())(sheet, input as JobInput['live'], fields);
    case 'through':
      return (door.through ?? notLoaded())(sheet, input as JobInput['through'], fields);
    case 'level':
      return (door.level ?? notLoaded())(sheet, fields);
    case 'close': {
      const wish = input as JobInput['close'];
      return (door.close ?? notLoaded())(sheet, wish, fields?.[wish.pickup] ?? null);
    }
    case 'track':
      return (door.track ?? notLoaded())(sheet, input as JobInput['track']);
    case 'why':
      return (door.why ?? notLoaded())(sheet, input as JobInput['why'], fields);
    case 'heard':
      return (door.heard ?? notLoaded())(sheet, input as JobInput['heard'], fields);
    case 'spread':
      return (door.spread ?? notLoaded())(sheet, input as JobInput['spread'], fields);
    case 'matters':
      return (door.matters ?? notLoaded())(sheet, input as JobInput['matters'], fields);
    case 'target':
      return (door.target ?? notLoaded())(sheet, input as JobInput['target'], fields);
    case 'balance':
      return (door.balance ?? notLoaded())(sheet, input as JobInput['balance']);
    case 'search':
      return (door.search ?? notLoaded())(sheet, input as JobInput['search']);
    case 'picture': {
      const wish = input as JobInput['picture'];
      return door.picture(sheet, wish, fields?.[wish.pickup] ?? null);
    }
    case 'space': {
      const wish = input as JobInput['space'];
      return (door.space ?? notLoaded())(sheet, wish, fields?.[wish.pickup] ?? null);
    }
    case 'takenOut': {
      const wish = input as JobInput['takenOut'];
      return (door.takenOut ?? notLoaded())(sheet, wish, fields?.[wish.pickup] ?? null);
    }
    case 'bench':
      return (door.bench ?? notLoaded())(sheet, input as JobInput['bench'], fields);
    case 'measured':
      return (door.measured ?? notLoaded())(sheet, input as JobInput['measured'], fields);
  }
}

function notLoaded(): never {
  throw new Error('This part of the program could not be loaded. Reload the page.');
}

/** The buffers behind every typed array in plain data, each once. */
export function buffersOf(value: unknown): ArrayBuffer[] {
  const found = new Set<ArrayBuffer>();
  const visit = (item: unknown): void => {
    if (typeof item !== 'object' || item === null) return;
    if (ArrayBuffer.isView(item)) {
      if (item.buffer instanceof ArrayBuffer) found.add(item.buffer);
    } else if (Array.isArray(item)) {
      for (const element of item) visit(element);
    } else {
      for (const element of Object.values(item)) visit(element);
    }
  };
  visit(value);
  return [...found];
}
