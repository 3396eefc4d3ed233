/** The worker's side of the protocol, free of any worker scope so that it runs anywhere. */
import type { JobRequest, JobResponse, JobValue } from './protocol.ts';
import type { Sheet } from '../sheet/sheet.ts';

export interface Door {
  predict(sheet: Sheet): JobValue['figures'];
  render(sheet: Sheet): JobValue['sound'];
}

/** The response and the buffers that may be moved with it. Whatever is thrown comes back as its message. */
export function answer(request: JobRequest, door: Door): { response: JobResponse; transfer: ArrayBuffer[] } {
  const { id, kind, sheet } = request;
  try {
    const value = kind === 'figures' ? door.predict(sheet) : door.render(sheet);
    return { response: { id, ok: true, value }, transfer: buffersOf(value) };
  } catch (error) {
    const message = error instanceof Error && error.message ? error.message : String(error);
    return { response: { id, ok: false, message }, transfer: [] };
  }
}

/** The buffers behind every typed array in plain data, each once. */
export function buffersOf(value: unknown): ArrayBuffer[] {
  const found = new Set<ArrayBuffer>();
  const visit = (item: unknown): void => {
    if (typeof item !== 'object' || item === null) return;
    if (ArrayBuffer.isView(item)) {
      if (item.buffer instanceof ArrayBuffer) found.add(item.buffer);
    } else if (Array.isArray(item)) {
      for (const element of item) visit(element);
    } else {
      for (const element of Object.values(item)) visit(element);
    }
  };
  visit(value);
  return [...found];
}
