/** Random hands inside the page: what there is to take hold of, and quick gestures without a way through the driver. */
import type { Gesture, Inventory, Target } from './gestures.ts';

export interface Agent {
  readonly inventory: () => Inventory;
  /** Does what can be done by events of its own; returns whether what it is done to was there. */
  readonly act: (gesture: Gesture) => Promise<boolean>;
  /** The middle of a handle on the screen, px, once it is scrolled to; null when it is not there or covered. */
  readonly place: (target: Target) => { x: number; y: number } | null;
}

export type Window_ = { agent: Agent };

/** To be run in the page before anything of the app; must use nothing from outside itself. */
export function installAgent(): void {
  /** What leaves the page, waits for a person, or makes files in quantity. */
  const NOT = /^(print|copy link)$|^(WAV|report|every trial as)\b/;
  // A window of the system, behind which the page would stand still.
  window.print = () => undefined;

  const root = (): ParentNode => document.querySelector('dialog:modal') ?? document;
  const nameOf = (e: Element): string => {
    const labels = 'labels' in e ? (e.labels as NodeListOf<HTMLElement> | null) : null;
    return (e.ariaLabel ?? labels?.[0]?.textContent ?? e.textContent).trim().replace(/\s+/g, ' ');
  };
  const usable = (e: Element): boolean =>
    !(e as HTMLInputElement).disabled &&
    // What a bench sheet lies over is there, and out of anybody's reach.
    e.checkVisibility({ visibilityProperty: true }) &&
    !NOT.test(nameOf(e));
  const SLIDERS = '[role="slider"], input[type="range"]';
  const FIELDS = 'input[type="text"]:not([readonly]), textarea';
  const SELECTS = 'select';
  const PRESSES = 'button, input[type="radio"], input[type="checkbox"], summary';
  const all = (what: string): Element[] => [...root().querySelectorAll(what)].filter(usable);
  const targets = (elements: readonly Element[]): (Target & { e: Element })[] => {
    const met = new Map<string, number>();
    return elements.map((e) => {
      const name = nameOf(e);
      const nth = met.get(name) ?? 0;
      met.set(name, nth + 1);
      return { name, nth, e };
    });
  };
  const find = (what: string, { name, nth }: Target): Element | undefined =>
    all(what).filter((e) => nameOf(e) === name)[nth];
  const bare = ({ name, nth }: Target): Target => ({ name, nth });

  const key = (e: EventTarget, type: string, init: KeyboardEventInit): void => {
    e.dispatchEvent(new KeyboardEvent(type, { bubbles: true, cancelable: true, ...init }));
  };
  const stroke = (e: EventTarget, init: KeyboardEventInit): void => {
    key(e, 'keydown', init);
    key(e, 'keyup', init);
  };
  /** Sets what a person would have typed or chosen, past the framework's own view of it. */
  const put = (e: HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement, value: string): void => {
    Reflect.set(Object.getPrototypeOf(e) as object, 'value', value, e);
  };
  const frame = (): Promise<unknown> => new Promise((resolve) => setTimeout(resolve, 0));

  const act = async (gesture: Gesture): Promise<boolean> => {
    if (gesture.do === 'keys') {
      const e = find(SLIDERS, gesture.on) as HTMLElement | undefined;
      if (!e) return false;
      e.focus({ preventScroll: true });
      for (const name of gesture.keys) {
        if (!e.isConnected) break;
        if (e instanceof HTMLInputElement) {
          // A native slider moves by the browser's own keys only.
          put(e, name === 'Home' || /Down|Left/.test(name) ? e.min : e.max);
          e.dispatchEvent(new Event('input', { bubbles: true }));
          e.dispatchEvent(new Event('change', { bubbles: true }));
        } else key(e, 'keydown', { key: name, shiftKey: gesture.shift });
        await frame();
      }
      const last = gesture.keys.at(-1) ?? '';
      if (gesture.end === 'Escape') stroke(e, { key: 'Escape' });
      else if (gesture.end === 'blur') e.blur();
      else if (gesture.end === 'up') key(e, 'keyup', { key: last, shiftKey: gesture.shift });
      return true;
    }
    if (gesture.do === 'type') {
      const e = find(FIELDS, gesture.on) as HTMLInputElement | undefined;
      if (!e) return false;
      e.focus({ preventScroll: true });
      // Nobody types where the cursor is not, and nothing that stands there would ever be entered.
      if (document.activeElement !== e) return false;
      put(e, gesture.text.replace('…', e.value).slice(0, e.maxLength > 0 ? e.maxLength : undefined));
      e.dispatchEvent(new InputEvent('input', { bubbles: true }));
      await frame();
      if (gesture.end === 'blur') e.blur();
      else if (gesture.end !== 'left') stroke(e, { key: gesture.end });
      const change = (): boolean => e.dispatchEvent(new Event('change', { bubbles: true }));
      if (gesture.end !== 'left') change();
      // A person's text is taken to be changed when it is left for another; one that a script wrote is not.
      else e.addEventListener('blur', change, { once: true, capture: true });
      return true;
    }
    if (gesture.do === 'choose') {
      const e = find(SELECTS, gesture.on) as HTMLSelectElement | undefined;
      const option = e?.options[gesture.option];
      if (!e || !option) return false;
      e.focus({ preventScroll: true });
      put(e, option.value);
      e.dispatchEvent(new Event('change', { bubbles: true }));
      return true;
    }
    if (gesture.do === 'press') {
      const e = find(PRESSES, gesture.on) as HTMLElement | undefined;
      e?.focus({ preventScroll: true });
      e?.click();
      return e !== undefined;
    }
    if (gesture.do === 'key') {
      const { ctrl, shift } = gesture;
      stroke(document.activeElement ?? document.body, { key: gesture.key, ctrlKey: ctrl, shiftKey: shift });
    } else if (gesture.do === 'scroll')
      window.scrollTo(0, gesture.share * (document.documentElement.scrollHeight - innerHeight));
    else if (gesture.do === 'link') location.hash = gesture.fragment;
    else if (gesture.do === 'wait') await new Promise((resolve) => setTimeout(resolve, gesture.ms));
    return true;
  };

  const agent: Agent = {
    inventory: () => ({
      sliders: targets(all(SLIDERS)).map(bare),
      fields: targets(all(FIELDS)).map(bare),
      selects: targets(all(SELECTS)).map((t) => ({
        ...bare(t),
        options: (t.e as HTMLSelectElement).options.length,
      })),
      presses: targets(all(PRESSES)).map(bare),
      modal: document.querySelector('dialog:modal') !== null,
    }),
    act,
    place: (target) => {
      const e = find(SLIDERS, target);
      if (!e) return null;
      e.scrollIntoView({ block: 'center', behavior: 'instant' });
      const ring = e.querySelector('.hit, .ring, .grasp') ?? e;
      const { left, top, width, height } = ring.getBoundingClientRect();
      const at = { x: left + width / 2, y: top + height / 2 };
      return e.contains(document.elementFromPoint(at.x, at.y)) ? at : null;
    },
  };
  Object.assign(window, { agent });
}
