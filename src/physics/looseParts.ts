/** What of a sheet its maker can't hold, and the sheet as it comes out once. */
import { isHeard } from '../shape/hasCoil.ts';
import type {
  CoilFigures,
  Controls,
  Magnet,
  Pickup,
  PickupBuild,
  Row,
  Sheet,
  Spread,
  SpreadKey,
} from '../sheet/sheet.ts';
import type { FieldAnswer, Fields } from './heard/fieldAnswer.ts';

/** One thing that comes out by itself. All counted from 0. */
export type Loose =
  | { readonly key: 'turns' | 'wire'; readonly pickup: number; readonly row: number }
  | { readonly key: 'magnet' | 'gap'; readonly pickup: number }
  | { readonly key: 'pot'; readonly set: number; readonly part: 'volume' | 'tone' }
  | { readonly key: 'capacitor'; readonly set: number; readonly part: 'tone' | 'bleed' }
  | { readonly key: 'cable' | 'pluck' };

/** By how much: a share, and of gap and pluck m. */
export type Move = Loose & { readonly by: number };

/** Of a coil, a pickup, a pot or a capacitor each by itself; only pickups that sound count. */
export function looseParts(sheet: Sheet): readonly Loose[] {
  const pickups = sheet.pickups.flatMap(({ sounds, rows, build, reachBy }, pickup): Loose[] => {
    if (!isHeard({ sounds, build })) return [];
    const coils = rows.flatMap((_, row): Loose[] => [
      { key: 'turns', pickup, row },
      { key: 'wire', pickup, row },
    ]);
    const whole: Loose[] =
      build && reachBy === 'build'
        ? [
            { key: 'magnet', pickup },
            { key: 'gap', pickup },
          ]
        : [];
    return [...coils, ...whole];
  });
  const parts = sheet.harness.controls.flatMap(({ tone, bleed }, set): Loose[] => [
    { key: 'pot', set, part: 'volume' },
    ...(tone
      ? ([
          { key: 'pot', set, part: 'tone' },
          { key: 'capacitor', set, part: 'tone' },
        ] as const)
      : []),
    ...(bleed ? ([{ key: 'capacitor', set, part: 'bleed' }] as const) : []),
  ]);
  return [...pickups, ...parts, { key: 'cable' }, { key: 'pluck' }];
}

/** One standard deviation of what the table gives for 19 in 20: a share, of gap and pluck m. */
export const deviationOf = (spread: Spread, key: SpreadKey): number => 0.5 * spread[key];

/** m; a plectrum closer to the saddle than this would lie on it. */
const NEAREST_PLUCK = 3e-3;
/** Of a share: a part has never less of itself than this. */
const LEAST = 0.05;

const share = (by: number): number => Math.max(LEAST, 1 + by);

/** The sheet as it is with all of these; a wire's resistance that is left to the build is not in it: see `movedFields`. */
export const movedSheet = (sheet: Sheet, moves: readonly Move[]): Sheet => moves.reduce(moved, sheet);

function moved(sheet: Sheet, move: Move): Sheet {
  switch (move.key) {
    case 'turns':
    case 'wire':
      return ofPickup(sheet, move.pickup, (pickup) => ofCoil(pickup, move.row, move.key, share(move.by)));
    case 'magnet':
      return ofPickup(sheet, move.pickup, (pickup) =>
        ofBuild(pickup, (build) => charged(build, share(move.by))),
      );
    case 'gap':
      return ofPickup(sheet, move.pickup, (pickup) =>
        ofBuild(pickup, (build) => ({
          ...build,
          gapBass: build.gapBass + move.by,
          gapTreble: build.gapTreble + move.by,
        })),
      );
    case 'pot':
    case 'capacitor':
      return ofControls(sheet, move.set, (controls) => ofPart(controls, move.key, move.part, share(move.by)));
    case 'cable': {
      const { cable } = sheet.harness;
      const capacitancePerMetre = cable.capacitancePerMetre * share(move.by);
      return { ...sheet, harness: { ...sheet.harness, cable: { ...cable, capacitancePerMetre } } };
    }
    case 'pluck': {
      const { pluck } = sheet.listen;
      const place = Math.max(NEAREST_PLUCK, pluck.place + move.by);
      return { ...sheet, listen: { ...sheet.listen, pluck: { ...pluck, place } } };
    }
  }
}

const exchanged = <T>(items: readonly T[], index: number, change: (item: T) => T): readonly T[] =>
  items.map((item, i) => (i === index ? change(item) : item));

const ofPickup = (sheet: Sheet, index: number, change: (pickup: Pickup) => Pickup): Sheet => ({
  ...sheet,
  pickups: exchanged(sheet.pickups, index, change),
});

const ofBuild = (pickup: Pickup, change: (build: PickupBuild) => PickupBuild): Pickup =>
  pickup.build ? { ...pickup, build: change(pickup.build) } : pickup;

function charged(build: PickupBuild, by: number): PickupBuild {
  const stronger = (magnet: Magnet): Magnet => ({ ...magnet, charge: magnet.charge * by });
  return {
    ...build,
    bars: build.bars.map((bar) => ({ ...bar, magnet: stronger(bar.magnet) })),
    rows: build.rows.map((row) => {
      const { own } = row.pole;
      const singles = own?.map((one) => one && { ...one, charge: one.charge && one.charge * by });
      return {
        ...row,
        pole: { ...row.pole, magnet: stronger(row.pole.magnet), ...(singles && { own: singles }) },
      };
    }),
  };
}

/** What is typed of a coil moves with it: inductance as the turns squared. */
function ofCoil(pickup: Pickup, index: number, key: 'turns' | 'wire', by: number): Pickup {
  const times = (value: number | null, factor: number): number | null => value && value * factor;
  const coil = ({ resistance, inductance, ...rest }: CoilFigures): CoilFigures => ({
    ...rest,
    resistance: times(resistance, by),
    inductance: key === 'turns' ? times(inductance, by * by) : inductance,
  });
  const row = (one: Row): Row => ({
    ...one,
    coil: coil(one.coil),
    reach: key === 'turns' ? { ...one.reach, sensitivity: one.reach.sensitivity * by } : one.reach,
  });
  const wound = { ...pickup, rows: exchanged(pickup.rows, index, row) };
  if (key === 'wire') return wound;
  return ofBuild(wound, (build) => ({
    ...build,
    rows: exchanged(build.rows, index, (one) => ({ ...one, turns: one.turns * by })),
  }));
}

const ofControls = (sheet: Sheet, set: number, change: (controls: Controls) => Controls): Sheet => ({
  ...sheet,
  harness: { ...sheet.harness, controls: exchanged(sheet.harness.controls, set, change) },
});

function ofPart(
  controls: Controls,
  key: 'pot' | 'capacitor',
  part: 'volume' | 'tone' | 'bleed',
  by: number,
): Controls {
  const { volume, tone, bleed } = controls;
  if (part === 'volume') return { ...controls, volume: { ...volume, resistance: volume.resistance * by } };
  if (part === 'bleed')
    return { ...controls, bleed: bleed && { ...bleed, capacitance: bleed.capacitance * by } };
  if (key === 'pot') return { ...controls, tone: tone && { ...tone, resistance: tone.resistance * by } };
  return { ...controls, tone: tone && { ...tone, capacitance: tone.capacitance * by } };
}

/** The fields with the resistance of every coil as its wire comes out. */
export function movedFields(fields: Fields, moves: readonly Move[]): Fields {
  return fields.map((answer, pickup) => {
    if (!answer) return null;
    return moves.reduce(
      (of, move) =>
        move.key === 'wire' && move.pickup === pickup ? withResistance(of, move.row, share(move.by)) : of,
      answer,
    );
  });
}

const withResistance = (answer: FieldAnswer, row: number, by: number): FieldAnswer => ({
  ...answer,
  coils: exchanged(answer.coils, row, (coil) => ({ ...coil, resistance: coil.resistance * by })),
});
