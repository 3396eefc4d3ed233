/** What may be taken out of a pickup to see what it does to the field: every part by itself, and parts of one kind together. */
import { standingPoles } from '../shape/poleRow.ts';
import type { TakenOut } from '../shape/takenOut.ts';
import type { PickupBuild } from './build.ts';
import { numbered, steelNames } from './steelWords.ts';

/** A part and what a maker calls it. */
export interface NamedPart {
  readonly part: TakenOut;
  readonly name: string;
}

const POLES = { rod: 'rods', slug: 'slugs', screw: 'screws', none: 'poles' } as const;

/** Rows in which no pole stands are left out. @param offsets of the rows' centres, m */
export function takenOut(build: PickupBuild, offsets: readonly number[]): readonly NamedPart[] {
  const { rows, bars, steel } = build;
  const names = steelNames(build, offsets);
  return [
    ...rows.flatMap(({ pole }, index): NamedPart[] => {
      const name = rows.length > 1 ? `${POLES[pole.kind]} of row ${index + 1}` : POLES[pole.kind];
      return standingPoles(pole).length > 0 ? [{ part: { kind: 'row', index }, name }] : [];
    }),
    ...bars.map((_, index): NamedPart => ({
      part: { kind: 'bar', index },
      name: numbered('bar magnet', index, bars.length),
    })),
    ...(bars.length > 1 ? [{ part: { kind: 'bars' }, name: 'all bar magnets' } as const] : []),
    ...steel.map((_, index): NamedPart => ({
      part: { kind: 'steel', index },
      name: numbered(`steel ${names[index]}`, index, steel.length),
    })),
    ...(steel.length > 1 ? [{ part: { kind: 'pieces' }, name: 'all steel but poles' } as const] : []),
  ];
}
