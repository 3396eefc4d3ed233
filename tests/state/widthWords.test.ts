/** What is said where the field and the reach go opposite ways. */
import { describe, expect, it } from 'vitest';
import { whyFigures, type WhyFigures } from '../../src/physics/why.ts';
import { withLever } from '../../src/sheet/focusLever.ts';
import { setAt } from '../../src/sheet/edit.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { oppositeInShort, oppositeWords } from '../../src/state/widthWords.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { fieldsOf } from '../fixtures/solved.ts';

const from = { reach: 16.5e-3, fieldWidth: 9.1e-3, tipWidth: 6e-3 };

describe('field and reach', () => {
  it('one sentence where they go opposite ways, from the figures', () => {
    expect(oppositeWords(from, { ...from, reach: 17.6e-3, tipWidth: 5.2e-3 })).toBe(
      'The field over the tip grows tighter, 6.0 → 5.2 mm, but the reach wider, 16.5 → 17.6 mm: filings show the one, the string says the other.',
    );
    expect(oppositeWords(from, { reach: 16e-3, fieldWidth: 9.4e-3, tipWidth: 6e-3 })).toBe(
      'The field at the string grows wider, 9.1 → 9.4 mm, but the reach tighter, 16.5 → 16.0 mm: filings show the one, the string says the other.',
    );
  });

  it('in short while a hand is on it', () => {
    expect(oppositeInShort(from, { ...from, reach: 17.6e-3, tipWidth: 5.2e-3 })).toBe(
      'field over the tip tighter, reach wider',
    );
    expect(oppositeInShort(from, from)).toBe('');
  });

  it('nothing where they go the same way, or where the digits show no change', () => {
    expect(oppositeWords(from, from)).toBe('');
    expect(oppositeWords(from, { reach: 17e-3, fieldWidth: 9.3e-3, tipWidth: 6.2e-3 })).toBe('');
    expect(oppositeWords(from, { ...from, reach: 17e-3 })).toBe('');
    expect(oppositeWords(from, { ...from, reach: 17e-3, tipWidth: 5.99e-3 })).toBe('');
    expect(oppositeWords(from, { ...from, tipWidth: 5e-3 })).toBe('');
    expect(oppositeWords({ ...from, reach: null }, from)).toBe('');
    expect(oppositeWords(from, { reach: 17e-3, fieldWidth: null, tipWidth: null })).toBe('');
  });

  // Over the tip: tests/reference/finite-element/axisymmetric.json has the same sense (finite-element.test.ts).
  it('a bevel of 2.3 mm on the first preset’s neck pickup does that, a wider gap does not', () => {
    const read = checkSheet(PRESETS[0]!.data);
    if (!read.ok) throw new Error(read.message);
    const { sheet } = read;
    const neck = sheet.pickups.findIndex(({ name }) => name === 'neck');
    const build = sheet.pickups[neck]!.build!;
    const by = (lever: 'tip' | 'gap', value: number): Sheet =>
      setAt(sheet, ['pickups', neck, 'build'], withLever(build, 0, lever, value));
    const figures = (of: Sheet): WhyFigures =>
      whyFigures(of, fieldsOf(of), { pickup: neck, string: of.listen.string - 1 });
    const [flat, bevelled, near, far] = [
      by('tip', 0),
      by('tip', 2.3e-3),
      by('gap', 2e-3),
      by('gap', 4e-3),
    ].map(figures);
    expect(bevelled!.reach! - flat!.reach!).toBeGreaterThan(0.5e-3);
    expect(bevelled!.tipWidth! / flat!.tipWidth!).toBeLessThan(0.9);
    expect(oppositeWords(flat!, bevelled!)).toMatch(/^The field over the tip grows tighter/);
    expect(oppositeWords(near!, far!)).toBe('');
  });
});
