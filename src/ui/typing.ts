/**
 * Whether a field holds something typed that the sheet does not have yet: then Ctrl+Z is the field's, and takes the typing
 * back; otherwise it is the sheet's, wherever the focus is.
 */

type Field = HTMLInputElement | HTMLTextAreaElement;

/** The fields in which one types; null for everything else, choices, buttons and sliders included. */
function fieldOf(target: EventTarget | null): Field | null {
  if (target instanceof HTMLTextAreaElement) return target;
  return target instanceof HTMLInputElement && !['radio', 'range', 'checkbox', 'file'].includes(target.type)
    ? target
    : null;
}

/** One a page; to be told of what happens in it. */
export class Typing {
  /** What stood in the field when it was entered or last taken into the sheet. */
  readonly #before = new WeakMap<Field, string>();
  #typed: Field | null = null;

  readonly onfocusin = (e: Event): void => this.#rest(fieldOf(e.target));
  readonly onchange = (e: Event): void => this.#rest(fieldOf(e.target));

  readonly oninput = (e: Event): void => {
    const field = fieldOf(e.target);
    if (field) this.#typed = field.value === this.#before.get(field) ? null : field;
  };

  #rest(field: Field | null): void {
    this.#typed = null;
    if (field) this.#before.set(field, field.value);
  }

  /** A field that takes what is typed by itself says so in `data-typed`, yes or no. */
  readonly in = (target: EventTarget | null): boolean => {
    const field = fieldOf(target);
    if (!field || field.readOnly) return false;
    const { typed } = field.dataset;
    return typed === undefined ? field === this.#typed : typed === 'yes';
  };
}
