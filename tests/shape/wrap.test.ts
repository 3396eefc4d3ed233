import { describe, expect, it } from 'vitest';
import { REFERENCE_DIAMETER, stringLevel } from '../../src/shape/stringLevel.ts';
import { roundSection, WRAP_FILL, wrapSection } from '../../src/shape/wrap.ts';

/** Metal of a real helix, turns touching, to a length of string, m³/m: the wire's own length times its section. */
function helix(diameter: number, core: number): number {
  const wire = (diameter - core) / 2;
  const turn = Math.hypot(Math.PI * (core + wire), wire);
  return (roundSection(wire) * turn) / wire;
}

describe('the wrap', () => {
  it('[exact] 0.046 in over 0.016 in: 0.7402 mm² of metal, π/4 of the ring', () => {
    const [diameter, core] = [1.1684e-3, 0.4064e-3];
    expect(1e6 * wrapSection(diameter, core)).toBeCloseTo(0.740219, 6);
    expect(wrapSection(diameter, core) / (roundSection(diameter) - roundSection(core))).toBeCloseTo(
      WRAP_FILL,
      12,
    );
  });

  it.each([
    [0.61e-3, 0.33e-3],
    [1.1684e-3, 0.4064e-3],
    [3.3e-3, 1e-3],
  ])('[exact] is a helix of wire but for its lean: %d m over %d m within 3 %%', (diameter, core) => {
    const ratio = helix(diameter, core) / wrapSection(diameter, core);
    expect(ratio).toBeGreaterThan(1);
    expect(ratio).toBeLessThan(1.03);
  });

  it('[exact] of no thickness is nothing', () => {
    expect(wrapSection(4e-4, 4e-4)).toBe(0);
  });
});

describe('the level of a string', () => {
  const plain = (diameter: number) =>
    stringLevel({ construction: 'plain', diameter, core: diameter, wrap: 'nickel' });

  it('[exact] is 1 for the reference string and goes with the section of a plain one', () => {
    expect(plain(REFERENCE_DIAMETER)).toBe(1);
    expect(plain(0.254e-3) / plain(0.33e-3)).toBeCloseTo((0.254 / 0.33) ** 2, 12);
  });

  it('[exact] of a wound one adds its share of the wrap: (0.4064² + 0.4 · π/4 · (1.1684² − 0.4064²))/0.432²', () => {
    const wound = { construction: 'wound', diameter: 1.1684e-3, core: 0.4064e-3 } as const;
    expect(stringLevel({ ...wound, wrap: 'nickel-plated steel' })).toBeCloseTo(2.90505, 5);
    expect(stringLevel({ ...wound, wrap: 'bronze' })).toBeCloseTo((0.4064 / 0.432) ** 2, 12);
  });
});
