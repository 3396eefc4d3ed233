/**
 * Whole pickups. What the trade's books and benches say has no exact figure: ranges and orders, marked [practice].
 * Identities of the whole chain are marked [exact].
 */
import { describe, expect, it } from 'vitest';
import type {
  BuiltPickup,
  BuiltRow,
  RodPole,
  SteelPole,
} from '../../../../src/physics/magnetics/build/build.ts';
import { checkBuild } from '../../../../src/physics/magnetics/build/checkBuild.ts';
import { fieldOnStrings, pickupField } from '../../../../src/physics/magnetics/overPickup/pickupField.ts';
import type { PickupField } from '../../../../src/physics/magnetics/overPickup/pickupField.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { noteLimits } from '../../../../src/physics/magnetics/overPickup/stringPull.ts';
import { sixRods, stringSet, twoRows } from '../../../fixtures/pickups.ts';
import { coreInductance, sensitivityFactor } from '../../../fixtures/atFrequency.ts';
import { fluxDensityAt } from '../../../fixtures/fluxDensity.ts';

const strings = stringSet();
const B = { x: 0, y: 0, z: 0 };

function withRow(build: BuiltPickup, change: Partial<BuiltRow>, only?: number): BuiltPickup {
  return {
    ...build,
    rows: build.rows.map((row, i) => (only === undefined || only === i ? { ...row, ...change } : row)),
  };
}

function rods(change: Partial<RodPole>): BuiltPickup {
  const build = sixRods('alnico 5');
  return withRow(build, { pole: { ...(build.rows[0]!.pole as RodPole), ...change } });
}

function slugs(): BuiltPickup {
  const pole: SteelPole = {
    kind: 'steel',
    steel: 'low-carbon, as drawn',
    diameter: 4.75e-3,
    length: 14e-3,
    head: null,
    shank: null,
    tip: { shape: 'flat' },
  };
  return {
    ...withRow(sixRods('alnico 5'), { pole }),
    bars: [
      {
        grade: 'ceramic 8',
        strength: 1,
        size: { x: 12e-3, y: 62e-3, z: 5e-3 },
        centre: { x: 0, y: 0, z: -16.6e-3 },
        axis: 'z',
        sign: 1,
      },
    ],
  };
}

/** What a hall probe reads, mT, its element this far above the tip of pole 3 in row 1. */
function gauss(build: BuiltPickup, above: number): number {
  fluxDensityAt(solvePickup(build), build.rows[0]!.offset, 0.5 * build.rows[0]!.pitch, above, B);
  return 1e3 * B.z;
}

describe('figures that the trade knows [practice]', () => {
  it('8000 turns of AWG 42 on six alnico 5 rods: 5.5–6.5 kΩ, 2–2.8 H', () => {
    const coil = pickupField(sixRods('alnico 5'), strings).coils[0]!;
    expect(coil.resistance).toBeGreaterThan(5500);
    expect(coil.resistance).toBeLessThan(6500);
    expect(coil.inductance).toBeGreaterThan(2);
    expect(coil.inductance).toBeLessThan(2.8);
  });

  it('the same on steel slugs: 1.5–2 times the inductance', () => {
    const rod = pickupField(sixRods('alnico 5'), strings).coils[0]!;
    const slug = pickupField(slugs(), strings).coils[0]!;
    expect(slug.inductance / rod.inductance).toBeGreaterThan(1.5);
    expect(slug.inductance / rod.inductance).toBeLessThan(2);
  });

  it('two coils of 5000 turns in series: 3.5–5 H', () => {
    const { coils, mutual } = pickupField(twoRows(), strings);
    const total = coils[0]!.inductance + coils[1]!.inductance + 2 * mutual;
    expect(total).toBeGreaterThan(3.5);
    expect(total).toBeLessThan(5);
  });

  it('alnico 5 rod tops read 90–150 mT 0.5–1 mm above the tip', () => {
    for (const above of [0.5e-3, 1e-3]) {
      const mT = gauss(sixRods('alnico 5'), above);
      expect(mT).toBeGreaterThan(90);
      expect(mT).toBeLessThan(150);
    }
  });

  it('1 mm of string at 200 Hz gives 30–250 mV at 2–4 mm', () => {
    const { strings: heard } = pickupField(
      { ...sixRods('alnico 5'), gapBass: 3e-3, gapTreble: 3e-3 },
      strings,
    );
    for (const { rows } of heard) {
      const volts = Math.abs(rows[0]!.sensitivity) * 2 * Math.PI * 200 * 1e-3;
      expect(volts).toBeGreaterThan(0.03);
      expect(volts).toBeLessThan(0.25);
    }
  });
});

describe('orders and signs that players and makers report [practice]', () => {
  it('alnico 5 is stronger than alnico 2, and that than alnico 3, on the same rod', () => {
    const reading = (['alnico 5', 'alnico 2', 'alnico 3'] as const).map((grade) =>
      gauss(sixRods(grade), 1e-3),
    );
    expect(reading[0]!).toBeGreaterThan(reading[1]!);
    expect(reading[1]!).toBeGreaterThan(reading[2]!);
  });

  // Finite elements say the same of a single rod, see finite-element.test.ts.
  it('a bevel tightens the pattern just above the pole', () => {
    /** Half width at half maximum of Bz 1 mm up, m. */
    const halfWidth = (build: BuiltPickup): number => {
      const pickup = solvePickup(build);
      const at = (x: number) => {
        fluxDensityAt(pickup, x, 5.2e-3, 1e-3, B);
        return B.z;
      };
      let x = 0;
      while (at(x) > 0.5 * at(0)) x += 0.02e-3;
      return x;
    };
    const bevelled = rods({ tip: { shape: 'chamfered', width: 1e-3, depth: 1e-3 } });
    expect(halfWidth(bevelled)).toBeLessThan(0.95 * halfWidth(rods({})));
  });

  // What the coil hears does not follow: most of the reach comes from where the field runs along the string, some 4 mm
  // to either side of the pole. The bevel lowers these two humps by a tenth and leaves the flanks, which come from the
  // whole rod, so that the width at half of the maximum grows a little. It does so on any mesh.
  it.each([1, 2])(
    'on a string 2.4 mm up the bevel lowers the humps of the reach, not its flanks: fineness %d',
    (fineness) => {
      const bevelled = rods({ tip: { shape: 'chamfered', width: 1e-3, depth: 1e-3 } });
      const [plain, cut] = [rods({}), bevelled].map((build) => {
        const gaps = { ...build, gapBass: 2.4e-3, gapTreble: 2.4e-3 };
        const { strings: heard, x } = fieldOnStrings(solvePickup(gaps, fineness), strings);
        const { reachZ, width } = heard[2]!.rows[0]!;
        const at = (place: number) => Math.abs(reachZ[x.findIndex((value) => value > place)]!);
        return { width, hump: at(4e-3), flank: at(14e-3) };
      });
      expect(cut!.hump / plain!.hump).toBeGreaterThan(0.85);
      expect(cut!.hump / plain!.hump).toBeLessThan(0.95);
      expect(Math.abs(cut!.flank / plain!.flank - 1)).toBeLessThan(0.02);
      expect(cut!.width / plain!.width).toBeGreaterThan(1);
      expect(cut!.width / plain!.width).toBeLessThan(1.05);
    },
  );

  it('trimming the screws flush changes the field a little, and mostly over the screws', () => {
    const long = twoRows();
    const trimmed = withRow(
      long,
      { pole: { ...(long.rows[0]!.pole as SteelPole), length: 12e-3, shank: null } },
      0,
    );
    const over = (build: BuiltPickup, row: number): number => {
      fluxDensityAt(solvePickup(build), build.rows[row]!.offset, 5.2e-3, 3e-3, B);
      return Math.abs(B.z);
    };
    const screws = over(trimmed, 0) / over(long, 0) - 1;
    const slugsToo = over(trimmed, 1) / over(long, 1) - 1;
    expect(screws).toBeGreaterThan(0.03);
    expect(screws).toBeLessThan(0.3);
    expect(Math.abs(slugsToo)).toBeLessThan(0.25 * screws);
  });

  it('the weaker magnet can sit closer before intonation suffers', () => {
    /** Gap left over the poles when the worst string is 3 cents flat, m. */
    const closest = (grade: 'alnico 5' | 'alnico 2'): number => {
      const build = sixRods(grade);
      const open = strings.map((note, on) => ({ on, note: { ...note, lowered: 0 } }));
      const limits = noteLimits(solvePickup(build), strings, open, 3);
      return build.gapTreble - Math.min(...limits.map((limit) => limit!.raise));
    };
    expect(closest('alnico 2')).toBeLessThan(closest('alnico 5'));
  });

  it('a rod knocked down to half its magnetisation reads half', () => {
    expect(Math.abs(gauss(rods({ strength: 0.5 }), 1e-3) / gauss(rods({}), 1e-3) - 0.5)).toBeLessThan(1e-3);
  });

  it('twice the magnet is not twice the level: the string saturates', () => {
    const level = (strength: number) =>
      Math.abs(pickupField(rods({ strength }), strings).strings[2]!.rows[0]!.sensitivity);
    expect(level(1)).toBeLessThan(1.9 * level(0.5));
  });

  it('few turns with a strong magnet is bright: resonance above that of many turns', () => {
    const resonance = (build: BuiltPickup): number => {
      const { inductance, capacitance } = pickupField(build, strings).coils[0]!;
      // With 500 pF of cable.
      return 1 / (2 * Math.PI * Math.sqrt(inductance * (capacitance + 500e-12)));
    };
    const few = withRow(sixRods('neodymium'), {
      winding: { ...sixRods('alnico 5').rows[0]!.winding!, turns: 4000 },
    });
    expect(resonance(few)).toBeGreaterThan(1.5 * resonance(sixRods('alnico 5')));
  });

  it('steel cores lose inductance to eddy currents within the audio band, alnico much less', () => {
    const kept = (build: BuiltPickup): number => {
      const { core, metal } = pickupField(build, strings).coils[0]!;
      const [low, high] = [
        { re: 0, im: 0 },
        { re: 0, im: 0 },
      ];
      coreInductance(core, metal, 1, low);
      coreInductance(core, metal, 2 * Math.PI * 5000, high);
      return high.re / low.re;
    };
    // The sensitivity falls with them, but never below the air's share.
    const { coils, strings: heard } = pickupField(slugs(), strings);
    const { core, metal } = coils[0]!;
    const { coreShare } = heard[2]!.rows[0]!;
    expect(coreShare).toBeGreaterThan(0.3);
    expect(coreShare).toBeLessThan(0.9);
    const factor = { re: 0, im: 0 };
    sensitivityFactor(core, metal, coreShare, 0, factor);
    expect(factor.re).toBeCloseTo(1, 12);
    sensitivityFactor(core, metal, coreShare, 2 * Math.PI * 5000, factor);
    expect(Math.hypot(factor.re, factor.im)).toBeLessThan(0.95);
    expect(Math.hypot(factor.re, factor.im)).toBeGreaterThan(1 - coreShare);
    expect(kept(slugs())).toBeLessThan(0.8);
    expect(kept(sixRods('alnico 5'))).toBeGreaterThan(0.9);
  });
});

describe('polarity of two coils', () => {
  it('strings add and hum cancels with opposite windings over opposite poles', () => {
    const { strings: heard } = pickupField(twoRows(), strings);
    for (const { rows } of heard) expect(rows[0]!.sensitivity * rows[1]!.sensitivity).toBeGreaterThan(0);
    // A uniform alternating field induces turns × direction: opposite.
    expect(twoRows().rows[0]!.winding!.direction).toBe(-twoRows().rows[1]!.winding!.direction);
  });

  it('two coils over one magnet’s two poles see opposite fields', () => {
    const pickup = solvePickup(twoRows());
    fluxDensityAt(pickup, 9.5e-3, 5.2e-3, 2e-3, B);
    const north = B.z;
    fluxDensityAt(pickup, -9.5e-3, 5.2e-3, 2e-3, B);
    expect(north * B.z).toBeLessThan(0);
  });
});

/** Largest difference of two fields' reaches over the largest reach. */
function differ(
  a: PickupField,
  b: PickupField,
  map: (s: number, i: number) => readonly [number, number],
  sign = 1,
): number {
  let worst = 0;
  let peak = 0;
  a.strings.forEach((string, s) =>
    string.rows[0]!.reachZ.forEach((value, i) => {
      const [t, j] = map(s, i);
      worst = Math.max(worst, Math.abs(value - sign * b.strings[t]!.rows[0]!.reachZ[j]!));
      peak = Math.max(peak, Math.abs(value));
    }),
  );
  return worst / peak;
}

describe('identities of the whole chain [exact]', () => {
  const alike = strings.map((string) => ({ ...strings[2]!, y: string.y }));
  const staggered = withRow(sixRods('alnico 5'), { heights: [0, 1e-3, 0.5e-3, -0.5e-3, 0.7e-3, 0] });

  it('mirrored across, strings exchange their reaches, to 1e-6', () => {
    const mirrored = {
      ...withRow(staggered, { heights: [...staggered.rows[0]!.heights].reverse() }),
      gapBass: staggered.gapTreble,
      gapTreble: staggered.gapBass,
    };
    const [one, two] = [pickupField(staggered, alike), pickupField(mirrored, alike)];
    expect(differ(one, two, (s, i) => [5 - s, i])).toBeLessThan(1e-6);
  });

  it('turned half round, the reach runs backwards, to 1e-6', () => {
    const turned = {
      ...withRow(staggered, { heights: [...staggered.rows[0]!.heights].reverse() }),
      gapBass: staggered.gapTreble,
      gapTreble: staggered.gapBass,
    };
    const [one, two] = [pickupField(staggered, alike), pickupField(turned, alike, 0)];
    const n = one.x.length;
    expect(differ(one, two, (s, i) => [5 - s, n - 1 - i])).toBeLessThan(1e-6);
  });

  it('the other pole towards the strings turns the voltage round, and so does the other winding', () => {
    const south = rods({ facing: 'south' });
    const reversed = withRow(sixRods('alnico 5'), {
      winding: { ...sixRods('alnico 5').rows[0]!.winding!, direction: -1 },
    });
    const north = pickupField(sixRods('alnico 5'), strings);
    expect(differ(north, pickupField(south, strings), (s, i) => [s, i], -1)).toBeLessThan(1e-6);
    expect(differ(north, pickupField(reversed, strings), (s, i) => [s, i], -1)).toBeLessThan(1e-12);
  });

  it('a slanted pickup hears the treble nearer the saddle by the tangent of the slant', () => {
    const slant = 0.15;
    const { strings: heard, x } = pickupField(sixRods('alnico 5'), strings, slant);
    [0, 5].forEach((s) => {
      const S = heard[s]!.rows[0]!.reachZ;
      let sum = 0;
      let moment = 0;
      S.forEach((value, i) => {
        sum += value;
        moment += value * x[i]!;
      });
      expect(Math.abs(moment / sum + strings[s]!.y * Math.tan(slant))).toBeLessThan(0.6e-3);
    });
  });
});

describe('warnings', () => {
  it('a weak rod against a strong bar is told of, a sound pickup is not', () => {
    expect(pickupField(sixRods('alnico 5'), strings).warnings).toEqual([]);
    const weak = {
      ...(sixRods('alnico 5').rows[0]!.pole as RodPole),
      strength: 0.05,
      diameter: 3e-3,
      length: 8e-3,
    };
    expect(pickupField(withRow(twoRows(), { pole: weak }), strings).warnings.join()).toContain(
      'driven past its coercivity',
    );
  });
});

describe('faults are named at the field that causes them', () => {
  const paths = (build: BuiltPickup) => checkBuild(build).map((fault) => fault.path);

  it('the fixtures have none', () => {
    for (const build of [sixRods('alnico 5'), twoRows(), slugs()]) expect(checkBuild(build)).toEqual([]);
  });

  it.each<readonly [string, BuiltPickup, string, string]>([
    ['overlapping poles', withRow(sixRods('alnico 5'), { pitch: 4e-3 }), 'rows[0].pitch', 'they overlap'],
    ['overlapping rows', withRow(twoRows(), { offset: -6e-3 }, 0), 'rows[1].offset', 'they overlap'],
    [
      'a bar through a pole',
      { ...twoRows(), bars: [{ ...twoRows().bars[0]!, size: { x: 16e-3, y: 60e-3, z: 3.2e-3 } }] },
      'bars[0].centre',
      'runs through a pole',
    ],
    [
      'a coil inside the metal',
      withRow(sixRods('alnico 5'), { winding: { ...sixRods('alnico 5').rows[0]!.winding!, inner: 2e-3 } }),
      'rows[0].winding.inner',
      'inside the metal',
    ],
    [
      'no turns',
      withRow(sixRods('alnico 5'), { winding: { ...sixRods('alnico 5').rows[0]!.winding!, turns: 0 } }),
      'rows[0].winding.turns',
      'hears nothing',
    ],
    [
      'too many turns',
      withRow(sixRods('alnico 5'), { winding: { ...sixRods('alnico 5').rows[0]!.winding!, turns: 20000 } }),
      'rows[0].winding.turns',
      'must fit the bobbin, which takes',
    ],
    ['a negative gap', { ...sixRods('alnico 5'), gapTreble: -1e-3 }, 'gapTreble', 'got −1 mm'],
    [
      'a string inside a pole',
      { ...sixRods('alnico 5'), gapBass: 0.1e-3 },
      'gapBass',
      'must clear its pole, pole 6, by 0.2 mm; got 0.1 mm. Lower the pickup.',
    ],
    ['no magnetisation', rods({ strength: 0 }), 'rows[0].pole.strength', 'must be above 0'],
    ['not a number', rods({ length: NaN }), 'rows[0].pole.length', 'got NaN mm'],
    [
      'a bevel wider than the pole',
      rods({ tip: { shape: 'chamfered', width: 4e-3, depth: 1e-3 } }),
      'rows[0].pole.tip.width',
      'The bevel',
    ],
  ])('%s', (_name, build, path, words) => {
    expect(paths(build)).toContain(path);
    expect(checkBuild(build).find((fault) => fault.path === path)!.message).toContain(words);
    expect(() => solvePickup(build)).toThrow(words);
  });

  it('a pole that reaches a string between the outer ones is named when the strings are known', () => {
    const high = withRow(sixRods('alnico 5'), { heights: [0, 0, 4.5e-3, 0, 0, 0] });
    expect(() => pickupField(high, strings)).toThrow('Pole 3 must stay 0.2 mm below string 3');
  });
});
