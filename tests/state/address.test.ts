import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { decodeLink } from '../../src/sheet/link.ts';
import { addTrial, editOpen, openTrial, wrap, type Trials } from '../../src/sheet/trials.ts';
import { Address } from '../../src/state/address.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const first = addTrial(wrap(exampleSheet()));
const changed = editOpen(first, { ...exampleSheet(), title: 'changed' });

let href = '';
beforeEach(() => {
  href = 'https://tern-lane.example/lodetone/';
  vi.stubGlobal('location', {
    get href() {
      return href;
    },
  });
  vi.stubGlobal('window', {
    history: { replaceState: (_: unknown, __: unknown, url: string) => (href = url) },
  });
});
afterEach(() => vi.unstubAllGlobals());

const carried = async (url: string): Promise<Trials> => {
  const read = await decodeLink(new URL(url).hash);
  if (!read.ok) throw new Error(read.message);
  return read.trials;
};

describe('[exact] the link in the address', () => {
  it('is that of the document, and goes when the document is no longer that', async () => {
    const address = new Address();
    const url = await address.linkOf(() => first);
    expect(href).toBe(url);
    expect(await carried(url)).toEqual(first);
    address.settle(first);
    expect(href).toBe(url);
    address.settle(changed);
    expect(href).toBe('https://tern-lane.example/lodetone/');
  });

  it('stays while one only turns to another trial', async () => {
    const address = new Address();
    const url = await address.linkOf(() => first);
    address.settle(openTrial(first, 0));
    expect(href).toBe(url);
  });

  it('a change while the link is being made keeps it out of the address; the link is still what was asked for', async () => {
    const address = new Address();
    let now = first;
    const asked = address.linkOf(() => now);
    now = changed;
    address.settle(now);
    const url = await asked;
    expect(await carried(url)).toEqual(first);
    expect(href).toBe('https://tern-lane.example/lodetone/');
  });
});
