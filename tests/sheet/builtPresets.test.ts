/** The workshop's sheets with every pickup as it is built: data for the field engine, kept whole. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { checkSheet } from '../../src/sheet/check.ts';

const folder = new URL('../fixtures/built-presets/', import.meta.url);

it.each(readdirSync(folder))('[exact] %s passes the check as it stands', (name) => {
  const data: unknown = JSON.parse(readFileSync(new URL(name, folder), 'utf8'));
  expect(checkSheet(data)).toStrictEqual({ ok: true, sheet: data });
});
