/**
 * Makes an element draggable along one direction by pointer and by keyboard, as one WAI-ARIA slider: both go
 * through the same value-space functions. While it moves `onpreview` is called; a gesture ends once, in
 * `oncommit` or `oncancel`. Holding a key down is one gesture.
 */
import type { Attachment } from 'svelte/attachments';
import {
  grip as held,
  keyStep,
  moveGrip,
  type Figure as DragFigure,
  type Grip as Held,
} from '../../plot/drag.ts';
import { FIGURES, type FigureKey } from '../../sheet/figures.ts';

/** The figure's limits and steps as a drag counts them: on a log scale a step is a fraction, not a ratio. */
export function dragFigure(key: FigureKey): DragFigure {
  const { min, max, step, page, scale = 'linear' } = FIGURES[key];
  return scale === 'log'
    ? { min, max, step: step - 1, page: page - 1, scale }
    : { min, max, step, page, scale };
}

export interface Grip {
  readonly value: number;
  readonly figure: FigureKey;
  readonly along: 'x' | 'y';
  /** Signed: pixels on screen (right and down positive) for one unit of the value. */
  readonly pixelsPerUnit: number;
  readonly onpreview: (value: number) => void;
  readonly oncommit: () => void;
  readonly oncancel: () => void;
}

export function grip(read: () => Grip): Attachment<HTMLElement | SVGElement> {
  return (node) => {
    let from: { at: number; held: Held; pointer: number } | null = null;
    let keyed = false;

    const end = (keep: boolean): void => {
      if (!from) return;
      const { pointer } = from;
      from = null;
      if (node.hasPointerCapture(pointer)) node.releasePointerCapture(pointer);
      if (keep) read().oncommit();
      else read().oncancel();
    };
    const endKeys = (): void => {
      if (!keyed) return;
      keyed = false;
      read().oncommit();
    };

    const down = (e: PointerEvent): void => {
      if (e.button !== 0 || from) return;
      endKeys();
      const g = read();
      node.focus({ preventScroll: true });
      node.setPointerCapture(e.pointerId);
      from = { at: g.along === 'x' ? e.clientX : e.clientY, held: held(g.value), pointer: e.pointerId };
      e.preventDefault();
      e.stopPropagation();
    };
    const move = (e: PointerEvent): void => {
      if (!from || e.pointerId !== from.pointer) return;
      const g = read();
      const at = g.along === 'x' ? e.clientX : e.clientY;
      const next = moveGrip(dragFigure(g.figure), from.held, at - from.at, g.pixelsPerUnit, e.shiftKey);
      // Against what was asked for last: what is held may have stopped short of it, and still be shown as the same.
      const asked = from.held.value;
      from.at = at;
      from.held = next;
      if (next.value !== asked) g.onpreview(next.value);
    };
    const up = (e: PointerEvent): void => {
      if (from && e.pointerId === from.pointer) end(true);
    };
    // The system took the pointer away: what was dragged so far was not let go on purpose, so it goes back.
    const lost = (e: PointerEvent): void => {
      if (from && e.pointerId === from.pointer) end(e.type === 'lostpointercapture');
    };
    // It also comes while the handle itself is taken out of the drawing, when nothing may be changed: a moment later.
    const blur = (): void => {
      if (!from && !keyed) return;
      const { oncommit } = read();
      const pointer = from?.pointer;
      from = null;
      keyed = false;
      if (pointer !== undefined && node.hasPointerCapture(pointer)) node.releasePointerCapture(pointer);
      queueMicrotask(oncommit);
    };
    const key = (e: KeyboardEvent): void => {
      if (e.key === 'Escape') {
        if (from) end(false);
        else if (keyed) {
          keyed = false;
          read().oncancel();
        }
        return;
      }
      if (e.ctrlKey || e.metaKey || e.altKey) return;
      const g = read();
      const value = keyStep(e.key, g.value, dragFigure(g.figure), e.shiftKey);
      if (value === null) return;
      e.preventDefault();
      e.stopPropagation();
      if (value === g.value) return;
      keyed = true;
      g.onpreview(value);
    };

    const listeners: [string, EventListener][] = [
      ['pointerdown', down as EventListener],
      ['pointermove', move as EventListener],
      ['pointerup', up as EventListener],
      ['pointercancel', lost as EventListener],
      ['lostpointercapture', lost as EventListener],
      ['keydown', key as EventListener],
      ['keyup', endKeys],
      ['blur', blur],
    ];
    // Browsers may overlook touch-action inside an SVG and scroll the page under the finger; this they heed.
    const still = (e: TouchEvent): void => e.preventDefault();
    for (const [type, f] of listeners) node.addEventListener(type, f);
    (node as HTMLElement).addEventListener('touchstart', still, { passive: false });
    window.addEventListener('blur', blur);
    return () => {
      for (const [type, f] of listeners) node.removeEventListener(type, f);
      (node as HTMLElement).removeEventListener('touchstart', still);
      window.removeEventListener('blur', blur);
    };
  };
}
