/**
 * A covered pickup from the sheet to curve, netlist and link.
 *
 *   practice    a nickel-silver cover costs little treble, brass several times as much, copper most; nothing in the bass
 *   link        sheets from before there were covers have none
 */
import { describe, expect, it, vi } from 'vitest';
import { harnessNetwork } from '../../../src/physics/circuit/harness.ts';
import { netlist } from '../../../src/physics/circuit/netlist.ts';
import { predict } from '../../../src/physics/predict.ts';
import { resolve } from '../../../src/physics/heard/resolve.ts';
import { warningsFor } from '../../../src/physics/warnings.ts';
import { checkSheet } from '../../../src/sheet/check.ts';
import { withCover } from '../../fixtures/mods.ts';
import type { PlateMetal } from '../../../src/sheet/build.ts';
import type { Sheet } from '../../../src/sheet/sheet.ts';
import { builtSheet } from '../../fixtures/builtSheet.ts';
import { solved as solver } from '../../fixtures/solved.ts';

// Fields take seconds when the machine is busy.
vi.setConfig({ testTimeout: 60_000 });

/** Level at a frequency over that at 20 Hz, dB, of what sounds. */
function levelAt(sheet: Sheet, frequency: number): number {
  const { voices, sounding, frequencies } = predict(sheet, solver.fields(sheet));
  const { circuitDb } = voices[sounding]!;
  return circuitDb[frequencies.findIndex((f) => f >= frequency)]! - circuitDb[0]!;
}

describe('a plate too thick to be computed as a thin one', () => {
  const bare = builtSheet('six rods');
  const warned = (
    part: 'cover' | 'basePlate',
    metal: PlateMetal,
    thickness: number,
    coreLoss: number | null = null,
  ) => {
    const pickups = bare.pickups.map((pickup, p) => {
      if (p > 0 || !pickup.build) return pickup;
      const cover = { metal, thickness, clearance: 0.0005, holes: 'none' } as const;
      const build = { ...pickup.build, [part]: part === 'cover' ? cover : { metal, thickness } };
      const rows = pickup.rows.map((row) => ({ ...row, coil: { ...row.coil, coreLoss } }));
      return { ...pickup, build, rows };
    });
    return warningsFor({ ...bare, pickups });
  };

  // Skin depth √(ρ/(π f µ0)) [LandauLifshitz § 59], worked apart: copper 0.661 mm at 10 kHz, brass 0.883 mm at 20 kHz.
  it.each([
    ['cover', 'copper', 0.5e-3, '9.8 kHz', '0.35 mm'],
    ['basePlate', 'brass', 1.5e-3, '3.9 kHz', '0.66 mm'],
    ['basePlate', 'nickel silver', 1.5e-3, '18 kHz', '1.42 mm'],
  ] as const)('%s, %s, %d m: holds to %s, at 20 kHz up to %s', (part, metal, thickness, upTo, thin) => {
    const [warning, ...others] = warned(part, metal, thickness);
    expect(others).toEqual([]);
    expect(warning).toContain(part === 'cover' ? 'pickup’s cover' : 'pickup’s base plate');
    expect(warning).toContain(`holds up to ${upTo};`);
    expect(warning).toContain(`Up to ${thin} it would hold to 20 kHz.`);
  });

  it('is not said of usual covers and plates, nor where a typed loss takes their place', () => {
    expect(warned('cover', 'nickel silver', 0.4e-3)).toEqual([]);
    expect(warned('cover', 'brass', 0.5e-3)).toEqual([]);
    expect(warned('basePlate', 'nickel silver', 1e-3)).toEqual([]);
    expect(warned('basePlate', 'brass', 1.5e-3, 1e6)).toEqual([]);
  });
});

describe.each(['six rods', 'slugs and screws beside an alnico bar'])('%s', (name) => {
  const bare = builtSheet(name);
  const under = (metal: PlateMetal): Sheet => withCover(bare, 0, metal);
  const lost = (metal: PlateMetal, frequency: number): number =>
    levelAt(bare, frequency) - levelAt(under(metal), frequency);

  it('[practice] loses little under nickel silver, far more under brass, most under copper', () => {
    const [silver, brass, copper] = (['nickel silver', 'brass', 'copper'] as const).map((m) => lost(m, 4000));
    expect(silver).toBeGreaterThan(0.2);
    expect(silver).toBeLessThan(2);
    expect(brass).toBeGreaterThan(2.5 * silver!);
    expect(copper).toBeGreaterThan(brass!);
    for (const metal of ['nickel silver', 'brass'] as const)
      expect(Math.abs(lost(metal, 100))).toBeLessThan(0.1);
  });

  it('[exact] keeps its inductance and its level at low frequency', () => {
    const { pickups } = predict(bare, solver.fields(bare));
    const covered = predict(under('brass'), solver.fields(under('brass'))).pickups;
    expect(covered[0]!.coils.map(({ inductance }) => inductance)).toEqual(
      pickups[0]!.coils.map(({ inductance }) => inductance),
    );
    expect(covered[0]!.strings.map(({ level }) => level)).toEqual(
      pickups[0]!.strings.map(({ level }) => level),
    );
    // Its loss is what the cover is heard by.
    covered[0]!.coils.forEach(({ coreLoss }, r) =>
      expect(coreLoss!).toBeLessThan(pickups[0]!.coils[r]!.coreLoss!),
    );
  });

  it('goes into the netlist as a chain of positive parts', () => {
    const sheet = under('brass');
    const { pickups } = resolve(sheet, solver.fields(sheet));
    const network = harnessNetwork(
      pickups,
      sheet.harness,
      sheet.pickups.map((_, i) => i === 0),
    );
    const deck = netlist(network, {
      title: 'covered',
      coil: 0,
      sweep: { perDecade: 10, from: 20, to: 20e3 },
    });
    const inductors = deck.split('\n').filter((line) => line.startsWith('L'));
    expect(inductors.length).toBeGreaterThan(6);
    for (const line of inductors) expect(Number(line.split(' ')[3])).toBeGreaterThan(0);
  });

  it('[exact] has no cover in a sheet from before there were any', () => {
    const data = structuredClone(bare) as unknown as { pickups: { build: Record<string, unknown> | null }[] };
    for (const { build } of data.pickups) {
      delete build?.['cover'];
      delete build?.['basePlate'];
    }
    expect(checkSheet(data)).toStrictEqual({ ok: true, sheet: bare });
  });

  it('with a base plate loses a little more', () => {
    const sheet = under('nickel silver');
    const pickups = sheet.pickups.map((p, i) =>
      i === 0 && p.build
        ? { ...p, build: { ...p.build, basePlate: { metal: 'brass' as const, thickness: 0.001 } } }
        : p,
    );
    expect(levelAt({ ...sheet, pickups }, 4000)).toBeLessThan(levelAt(sheet, 4000));
  });
});
