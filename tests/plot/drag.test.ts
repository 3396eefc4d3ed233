import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dragValue, grip, keyStep, moveGrip, settle, type Figure } from '../../src/plot/drag.ts';

const seeded = { seed: 20240505, numRuns: 1000 };

/** A focus: 3 to 30 mm in tenths of a millimetre. */
const focus: Figure = { min: 0.003, max: 0.03, step: 1e-4, page: 1e-3, scale: 'linear' };
/** A resistance: 1 kΩ to 2 MΩ, steps of 1 %. */
const ohms: Figure = { min: 1e3, max: 2e6, step: 0.01, page: 0.1, scale: 'log' };

const figures = fc.oneof(
  fc
    .record({
      min: fc.double({ min: -10, max: 10, noNaN: true }),
      span: fc.double({ min: 0.01, max: 100, noNaN: true }),
      step: fc.constantFrom(1e-4, 1e-3, 0.01, 0.1, 0.25, 1, 3),
    })
    .map(({ min, span, step }): Figure => ({ min, max: min + span, step, page: step * 10, scale: 'linear' })),
  fc
    .record({
      min: fc.double({ min: 1e-12, max: 1e3, noNaN: true }),
      ratio: fc.double({ min: 1.5, max: 1e6, noNaN: true }),
      step: fc.constantFrom(0.001, 0.01, 0.02, 0.05, 0.1),
    })
    .map(({ min, ratio, step }): Figure => ({ min, max: min * ratio, step, page: step * 5, scale: 'log' })),
);
const share = fc.double({ min: 0, max: 1, noNaN: true });
const within = (f: Figure, t: number): number =>
  f.scale === 'log' ? f.min * (f.max / f.min) ** t : f.min + (f.max - f.min) * t;

describe('keys of a slider (WAI-ARIA Authoring Practices, slider pattern)', () => {
  it('arrows a step, Page keys a page, Home and End the limits [practice]', () => {
    expect(keyStep('ArrowRight', 0.0112, focus)).toBe(0.0113);
    expect(keyStep('ArrowUp', 0.0112, focus)).toBe(0.0113);
    expect(keyStep('ArrowLeft', 0.0112, focus)).toBe(0.0111);
    expect(keyStep('ArrowDown', 0.0112, focus)).toBe(0.0111);
    expect(keyStep('PageUp', 0.0112, focus)).toBe(0.0122);
    expect(keyStep('PageDown', 0.0112, focus)).toBe(0.0102);
    expect(keyStep('Home', 0.0112, focus)).toBe(0.003);
    expect(keyStep('End', 0.0112, focus)).toBe(0.03);
    expect(keyStep('ArrowRight', 0.0112, focus, true)).toBe(0.01121);
    expect(keyStep('PageDown', 0.0112, focus, true)).toBe(0.0111);
  });

  it('other keys mean nothing here', () => {
    for (const key of ['Tab', 'Enter', 'Escape', ' ', 'a']) expect(keyStep(key, 0.0112, focus)).toBeNull();
  });

  it('on a logarithmic figure a step is a share of the value, on round figures [exact]', () => {
    expect(keyStep('ArrowRight', 7200, ohms)).toBe(7270);
    expect(keyStep('ArrowRight', 240e3, ohms)).toBe(242e3);
    expect(keyStep('PageUp', 250e3, ohms)).toBe(275e3);
    expect(keyStep('ArrowRight', 1e3, ohms)).toBe(1010);
    expect(keyStep('ArrowRight', 22e-9, { ...ohms, min: 1e-9, max: 1e-6 })).toBe(22.2e-9);
  });

  it('always move the right way until the limit is reached, from any value [exact]', () => {
    fc.assert(
      fc.property(figures, share, fc.boolean(), (figure, t, fine) => {
        const value = within(figure, t);
        const up = keyStep('ArrowRight', value, figure, fine)!;
        const down = keyStep('ArrowLeft', value, figure, fine)!;
        expect(up === figure.max || up > value).toBe(true);
        expect(down === figure.min || down < value).toBe(true);
        expect(up).toBeLessThanOrEqual(figure.max);
        expect(down).toBeGreaterThanOrEqual(figure.min);
      }),
      seeded,
    );
  });

  it('reach both limits and come back from them [exact]', () => {
    fc.assert(
      fc.property(figures, share, (figure, t) => {
        let value = within(figure, t);
        for (let i = 0; i < 200_000 && value < figure.max; i++) value = keyStep('PageUp', value, figure)!;
        expect(value).toBe(figure.max);
        const back = keyStep('ArrowLeft', value, figure)!;
        expect(back).toBeLessThan(figure.max);
      }),
      { seed: 20240506, numRuns: 60 },
    );
  });
});

describe('dragging', () => {
  it('follows the pointer in value space, against the axis too [exact]', () => {
    // 20 px a millimetre.
    expect(dragValue(focus, 0.0112, 30, 20e3)).toBe(0.0127);
    expect(dragValue(focus, 0.0112, 30, -20e3)).toBe(0.0097);
    expect(dragValue(focus, 0.0112, 30, 20e3, true)).toBe(0.01135);
    // 100 px a decade.
    expect(dragValue(ohms, 5000, 100, 100)).toBe(50000);
    expect(dragValue(ohms, 50000, -100, 100)).toBe(5000);
  });

  it('names the double that the decimal figure means, so that links stay short and equal [exact]', () => {
    for (let i = 30; i <= 300; i++) expect(settle(focus, i / 1e4 + 3e-5)).toBe(Number(`${i}e-4`));
    for (let i = 300; i <= 3000; i += 7) expect(settle(focus, i / 1e5 + 3e-6, true)).toBe(Number(`${i}e-5`));
  });

  it('is held within the limits, lands on its grid, and errs by half a step at most [exact]', () => {
    fc.assert(
      fc.property(
        figures,
        share,
        fc.double({ min: -800, max: 800, noNaN: true }),
        fc.boolean(),
        (figure, t, pixels, fine) => {
          // A press without movement leaves an unsettled figure alone; that has a check of its own.
          fc.pre(Math.abs(pixels) > 1e-6);
          const start = within(figure, t);
          const perUnit = figure.scale === 'log' ? 100 : 500 / (figure.max - figure.min);
          const value = dragValue(figure, start, pixels, perUnit, fine);
          expect(value).toBeGreaterThanOrEqual(figure.min);
          expect(value).toBeLessThanOrEqual(figure.max);
          // Settled twice is settled once.
          expect(settle(figure, value, fine)).toBe(value);
          const units = ((fine ? 0.1 : 1) * pixels) / perUnit;
          const exact = figure.scale === 'log' ? start * 10 ** units : start + units;
          if (exact > figure.min && exact < figure.max) {
            const step = (fine ? 0.1 : 1) * figure.step * (figure.scale === 'log' ? exact : 1);
            expect(Math.abs(value - exact)).toBeLessThanOrEqual(
              0.5 * step * (1 + 1e-6) + 1e-12 * Math.abs(exact),
            );
          }
        },
      ),
      seeded,
    );
  });

  it('a larger movement never gives a smaller value [exact]', () => {
    fc.assert(
      fc.property(
        figures,
        share,
        fc.integer({ min: -400, max: 400 }),
        fc.integer({ min: 0, max: 50 }),
        (figure, t, a, d) => {
          const start = within(figure, t);
          const at = (pixels: number): number => moveGrip(figure, grip(start), pixels, 7).value;
          fc.pre(a !== 0 && a + d !== 0);
          expect(at(a + d)).toBeGreaterThanOrEqual(at(a));
        },
      ),
      seeded,
    );
  });

  it('many small movements come to the same as one large one [exact]', () => {
    const moves = fc.array(fc.integer({ min: -40, max: 40 }), { minLength: 1, maxLength: 50 });
    fc.assert(
      fc.property(figures, share, moves, (figure, t, list) => {
        const start = within(figure, t);
        const perUnit = figure.scale === 'log' ? 100 : 500 / (figure.max - figure.min);
        const end = list.reduce((g, pixels) => moveGrip(figure, g, pixels, perUnit), grip(start));
        const total = list.reduce((a, b) => a + b, 0);
        const direct = moveGrip(figure, grip(start), total, perUnit);
        expect(Math.abs(end.exact - direct.exact)).toBeLessThan(
          1e-9 * (Math.abs(direct.exact) + Math.abs(figure.max)),
        );
      }),
      seeded,
    );
  });

  it('waits at the limit for a pointer that has gone beyond it [exact]', () => {
    const beyond = moveGrip(focus, grip(0.029), 60, 20e3);
    expect(beyond.value).toBe(0.03);
    const back = moveGrip(focus, beyond, -20, 20e3);
    expect(back.value).toBe(0.03);
    expect(moveGrip(focus, back, -40, 20e3).value).toBe(0.029);
  });

  it('does not jump when fine movement begins in mid-drag [exact]', () => {
    const coarse = moveGrip(focus, grip(0.01), 100, 20e3);
    const fine = moveGrip(focus, coarse, 10, 20e3, true);
    expect(coarse.value).toBe(0.015);
    expect(fine.value).toBe(0.01505);
  });

  it('a press without movement, or a drawing of no size, changes nothing [exact]', () => {
    expect(moveGrip(focus, grip(0.011234), 0, 20e3).value).toBe(0.011234);
    expect(moveGrip(focus, grip(0.011234), 10, 0).value).toBe(0.011234);
    expect(moveGrip(focus, grip(0.011234), NaN, 1).value).toBe(0.011234);
  });
});
