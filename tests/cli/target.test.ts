import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { balance } from '../../src/physics/balance.ts';
import { solderDoor } from '../../src/jobs/solderDoor.ts';
import { FieldSolver } from '../../src/physics/field.ts';
import { turnsFor, type Target } from '../../src/physics/target.ts';
import { gaugeDiameter } from '../../src/shape/gauges.ts';
import { balanceWish } from '../../src/sheet/balanceWish.ts';
import { setAt } from '../../src/sheet/edit.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

/** Without a build, so that no field has to be solved. */
const BY_HAND = fileURLToPath(new URL('../fixtures/old-links/one-coil-pickups.json', import.meta.url));

interface Found {
  readonly best: readonly Record<string, unknown>[];
}

let folder = '';
beforeAll(() => void (folder = mkdtempSync(join(tmpdir(), 'target-'))));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function call(...args: string[]): { readonly status: number; readonly out: string; readonly err: string } {
  const said = { out: '', err: '' };
  const status = main(args, {
    out: (line) => void (said.out += `${line}\n`),
    err: (line) => void (said.err += `${line}\n`),
  });
  return { status, ...said };
}

function save(name: string, content: string): string {
  const file = join(folder, name);
  writeFileSync(file, content);
  return file;
}

describe('target', () => {
  const asked = (data: unknown): string => save('target.json', JSON.stringify(data));

  it('[exact] says how many turns a resonance takes, as the page finds them', () => {
    const sheet = setAt(builtSheet('six rods'), ['pickups', 0, 'build', 'rows', 0, 'turns'], 7000);
    const file = save('rods.json', JSON.stringify(sheet));
    const said = call('target', asked({ sheet: file, pickup: 1, resonance: '5.2 kHz' }));
    expect(said).toMatchObject({ status: 0, err: '' });
    const found = JSON.parse(said.out) as Target;
    expect(found).toMatchObject({ reached: true, limit: '' });
    const wish = { pickup: 0, resonance: 5200 };
    expect(found.turns).toEqual(turnsFor(sheet, wish, new FieldSolver()).turns);
    expect(Math.abs(found.resonance! / 5200 - 1)).toBeLessThan(0.002);
  });

  it('[exact] balances a pickup, as the page does', () => {
    const sheet = builtSheet('six rods');
    const file = save('balance.json', JSON.stringify(sheet));
    const said = (fields: object): string =>
      call('target', asked({ sheet: file, balance: { by: 'gaps', of: 'movement', ...fields } })).err;
    const { status, out } = call('target', asked({ sheet: file, balance: { by: 'gaps', of: 'movement' } }));
    const wish = { pickup: 0, by: 'gaps', of: 'movement', slope: 0, cents: 4, than: 1 } as const;
    const { build, after, limits } = balance(sheet, balanceWish(wish), new FieldSolver());
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      ...{ gapBass: build.gapBass, gapTreble: build.gapTreble, reached: false, limits },
      after: after.map((off) => Number(off.toPrecision(6))),
    });
    expect(said({ by: 'magic' })).toMatch(/«by» must be one of poles, gaps, turns, pull; got "magic"/);
    expect(said({ slope: 1 })).toMatch(
      /«slope» must be a number of dB with its unit, such as "0.5 dB"; got 1\./,
    );
    expect(said({ slope: '9 dB' })).toMatch(/between −3.0 dB and 3.0 dB; got 9.0 dB/);
    expect(said({ by: 'turns' })).toMatch(/«than» must be the pickup/);
  });

  it('[exact] searches as the page does, and names what it can’t read at its place', () => {
    const sheet = builtSheet('six rods');
    const file = save('search.json', JSON.stringify(sheet));
    const want = { resonance: '5.2 kHz' };
    const ask = (more: object) => call('target', asked({ sheet: file, want, ...more }));
    const { status, out } = ask({ stock: { wires: ['AWG 42'], turns: [5000, 8000] } });
    expect(status).toBe(0);
    const stock = { wires: [gaugeDiameter(42)], turns: [5000, 8000] } as const;
    const wish = { pickup: 0, than: null, wants: { resonance: 5200 }, stock };
    // As the page asks, by a worker of its own.
    const { search } = solderDoor(new FieldSolver());
    const parts = [0, 1].map((step) => search(sheet, { wish, step }));
    expect(parts[1]).toMatchObject({ done: 2, of: 2, limits: [] });
    const { build, missing } = parts[1]!.best[0]!;
    const [found] = (JSON.parse(out) as Found).best;
    expect(found).toMatchObject({ turns: [build.rows[0]!.turns], missing, reached: true });
    const loaded = (load: unknown) => ask({ stock: { turns: [5000, 8000] }, load });
    const probe = { resistance: 10e6, capacitance: 12e-12 };
    const off = { ...wish, stock: { turns: [5000, 8000] as const }, load: probe };
    const probed = [0, 1].map((step) => search(sheet, { wish: off, step }))[1]!.best[0]!;
    const [first] = (JSON.parse(loaded({ resistance: '10 Mohm', capacitance: '12 pF' }).out) as Found).best;
    expect(first).toMatchObject({ turns: [probed.build.rows[0]!.turns], missing: probed.missing });
    for (const [load, message] of [
      ['short', /«load» must be "guitar", "unloaded" or a group .*; got "short"/],
      [{ resistance: 1e6, capacitance: '12 pF' }, /«resistance» must be .* with its unit.*; got 1000000\./],
      [{ resistance: '10 Mohm' }, /«capacitance» must be .* with its unit.*; got none\./],
      [{ inductance: '1 H' }, /must be resistance and capacitance; got "inductance"/],
    ] as const)
      expect(loaded(load).err).toMatch(message);
    for (const [more, message] of [
      [
        { want: { resonance: 5200 } },
        /«resonance» must be a frequency with its unit, such as "8.2 kHz"; got 5200\./,
      ],
      [{ want: { loud: 1 } }, /must be among resonance, .*; got "loud"/],
      [{ want: {} }, /Something must be wanted; nothing is\./],
      [{ stock: { wires: [] } }, /«wires» must be a list of 1 to 12; got \[\]/],
      [{ stock: { turns: [8000, 5000] } }, /«turns» must be two, the lower one first; got \[8000,5000\]/],
      [{ stock: { grades: ['lead'] } }, /«grades» must name ones of alnico 2, .*; got "lead"/],
      [{ stock: { gap: ['2 mm'] } }, /«gap» must be two, the lower one first/],
      [{ want: { alike: '1 dB' } }, /What it is to sound like must be another trial/],
    ] as const)
      expect(ask(more).err).toMatch(message);
  });

  it('names what it can’t read: no unit, no sheet, no build', () => {
    const said = (data: unknown): string => call('target', asked(data)).err;
    expect(said({ sheet: BY_HAND, resonance: 5200 })).toMatch(
      /«resonance» must be .* with its unit.*; got 5200\./,
    );
    expect(said({ sheet: BY_HAND, resonance: '30 kHz' })).toMatch(/between 500 Hz and 20 kHz; got 30 kHz/);
    expect(said({ resonance: '5 kHz' })).toMatch(/«sheet» must name a file/);
    expect(said({ sheet: BY_HAND, pickup: 7, resonance: '5 kHz' })).toMatch(
      /«pickup» must be 1, 2 or 3; got 7/,
    );
    expect(said({ sheet: BY_HAND, resonance: '5 kHz' })).toMatch(/must have a build/);
    expect(call('target')).toMatchObject({ status: 2 });
    expect(call('target', 'nowhere.json')).toMatchObject({ status: 1 });
  });
});
