/** What a hand that holds a handle asks for. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { grip, type Grip } from '../../src/ui/drawing/grip.ts';

/** As much of an element as a grip needs. */
class Element_ extends EventTarget {
  readonly focus = (): void => undefined;
  readonly setPointerCapture = (): void => undefined;
  readonly releasePointerCapture = (): void => undefined;
  readonly hasPointerCapture = (): boolean => true;

  pointer(type: string, clientX: number): void {
    this.dispatchEvent(Object.assign(new Event(type), { button: 0, pointerId: 1, clientX, shiftKey: false }));
  }
}

afterEach(() => {
  vi.unstubAllGlobals();
});

describe('[exact] a hand', () => {
  it('asks for where it is, however near to that what it holds has stopped', () => {
    vi.stubGlobal('window', new EventTarget());
    const asked: number[] = [];
    // It goes no further than 10.04 mm, and is shown to a tenth.
    let at = 0.01;
    const read = (): Grip => ({
      ...{ value: Math.round(at * 1e4) / 1e4, figure: 'focus', along: 'x', pixelsPerUnit: 1e4 },
      onpreview: (value) => {
        asked.push(value);
        at = Math.min(0.01004, value);
      },
      oncommit: () => undefined,
      oncancel: () => undefined,
    });
    const node = new Element_();
    const end = grip(read)(node as unknown as HTMLElement);
    node.pointer('pointerdown', 100);
    for (const x of [101, 102, 102.2, 101, 100]) node.pointer('pointermove', x);
    // And not again for what it asks for already.
    expect(asked).toEqual([0.0101, 0.0102, 0.0101, 0.01]);
    expect(at).toBe(0.01);
    end?.();
  });
});
