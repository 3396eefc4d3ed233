/** What the browser remembers as JSON, which may be another program's, a later one's, or spoilt: read field by field. */
import { recall } from './storage.ts';

/** What an object should be and may be anything. */
export type Fields = Readonly<Record<string, unknown>>;

export const fields = (data: unknown): Fields =>
  typeof data === 'object' && data !== null ? (data as Fields) : {};

/** What was remembered as JSON; empty where nothing was, or something else. */
export function recallFields(key: string): Fields {
  try {
    return fields(JSON.parse(recall(key) ?? '{}'));
  } catch {
    return {};
  }
}
