/** Which pictures are asked for, and which are shown. */
import { describe, expect, it } from 'vitest';
import type { JobClient, JobResult } from '../../src/jobs/client.ts';
import type { Pictures as Answer, PictureWish } from '../../src/jobs/protocol.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { setAt } from '../../src/sheet/edit.ts';
import { Pictures, type Shown } from '../../src/state/picture.svelte.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

interface Asked {
  readonly sheet: Sheet;
  readonly wish: PictureWish;
  readonly answer: (result: JobResult<Answer>) => Promise<void>;
}

const PITCH = ['pickups', 0, 'build', 'pitch'] as const;
const start = builtSheet('six rods');
const settled = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

/** A picture that can be told from others. */
const named = (name: number): Answer =>
  ({ section: { origin: name }, plan: { x0: name }, probe: { strings: { x: name } } }) as unknown as Answer;

/** A sheet on a table and what is looked at; `look` does what the components' effects do after a change. */
interface Table {
  sheet: Sheet;
  chosen: number;
  readonly pictures: Pictures;
  readonly look: () => Promise<void>;
}

async function open(...shown: Shown[]): Promise<{ asked: Asked[]; at: Table }> {
  const asked: Asked[] = [];
  const jobs = {
    pictures: (sheet: Sheet, wish: PictureWish) =>
      new Promise<JobResult<Answer>>((resolve) => {
        const answer = async (result: JobResult<Answer>): Promise<void> => {
          resolve(result);
          await settled();
        };
        asked.push({ sheet, wish, answer });
      }),
  } as unknown as JobClient;
  const at: Table = {
    sheet: start,
    chosen: 0,
    pictures: new Pictures(
      () => at.sheet,
      () => at.chosen,
      jobs,
    ),
    look: () => {
      for (const what of shown) at.pictures.show(what);
      return settled();
    },
  };
  await at.look();
  return { asked, at };
}

describe('the newest pictures', () => {
  it('are asked for anew when the magnets stand at another temperature', async () => {
    const { asked, at } = await open('section');
    await asked[0]!.answer({ status: 'done', value: named(1) });
    await at.look();
    expect(asked).toHaveLength(1);
    at.sheet = { ...at.sheet, magnets: { temperature: 80, own: null } };
    await at.look();
    expect(asked).toHaveLength(2);
    expect(asked[1]!.sheet.magnets?.temperature).toBe(80);
  });

  it('are asked for one after the other while a part is dragged, the last state last', async () => {
    const { asked, at } = await open('section');
    expect(asked).toHaveLength(1);
    expect(asked[0]!.wish).toEqual({ pickup: 0, section: true, plan: false, probe: null });
    for (const pitch of [0.0101, 0.0102, 0.0103]) {
      at.sheet = setAt(at.sheet, PITCH, pitch);
      await at.look();
    }
    // The first is still being made.
    expect(asked).toHaveLength(1);
    await asked[0]!.answer({ status: 'done', value: named(1) });
    expect(at.pictures.section).toMatchObject({ origin: 1 });
    expect(asked).toHaveLength(2);
    expect(asked[1]!.sheet.pickups[0]!.build!.pitch).toBe(0.0103);
    await asked[1]!.answer({ status: 'done', value: named(2) });
    expect(at.pictures.section).toMatchObject({ origin: 2 });
    expect(asked).toHaveLength(2);
  });

  it('are not asked for again when only the circuit or the playing changes', async () => {
    const { asked, at } = await open('section', 'plan');
    await asked[0]!.answer({ status: 'done', value: named(1) });
    await asked[1]!.answer({ status: 'done', value: named(1) });
    at.sheet = setAt(at.sheet, ['harness', 'cable', 'length'], 7);
    at.sheet = setAt(at.sheet, ['listen', 'tempo'], 77);
    await at.look();
    expect(asked).toHaveLength(2);
    // Another string has another section, but the same plan.
    at.sheet = setAt(at.sheet, ['listen', 'string'], at.sheet.listen.string === 1 ? 2 : 1);
    await at.look();
    expect(asked).toHaveLength(3);
    expect(asked[2]!.wish).toMatchObject({ section: true, plan: false });
  });

  it('that failed for a gap or a winding are asked for again once it is mended', async () => {
    const build = ['pickups', 0, 'build'] as const;
    const { gapBass } = start.pickups[0]!.build!;
    for (const mended of [
      setAt(start, [...build, 'gapBass'], gapBass + 1e-4),
      setAt(start, [...build, 'rows', 0, 'window', 'inner'], 0.003),
    ]) {
      const { asked, at } = await open('section');
      await asked[0]!.answer({ status: 'failed', message: 'Something is in the way.' });
      expect(asked).toHaveLength(1);
      at.sheet = mended;
      await at.look();
      expect(asked).toHaveLength(2);
      await asked[1]!.answer({ status: 'done', value: named(1) });
      expect(at.pictures.section).toMatchObject({ origin: 1 });
    }
  });

  it('show the section before the plan, and the plan after it', async () => {
    const { asked } = await open('plan', 'section');
    expect(asked[0]!.wish).toMatchObject({ section: true, plan: false });
    await asked[0]!.answer({ status: 'done', value: named(1) });
    expect(asked[1]!.wish).toMatchObject({ section: false, plan: true });
  });

  it('stay as they were when a build fails, but not for another pickup', async () => {
    const { asked, at } = await open('section');
    await asked[0]!.answer({ status: 'done', value: named(1) });
    at.sheet = setAt(at.sheet, PITCH, 0.0075);
    await at.look();
    await asked[1]!.answer({ status: 'failed', message: 'Poles must not overlap.' });
    expect(at.pictures.section).toMatchObject({ origin: 1 });
    // A failure is not asked for again and again.
    expect(asked).toHaveLength(2);
    at.chosen = 1;
    await at.look();
    expect(at.pictures.section).toBeNull();
  });

  it('are none without a build, and none is asked for', async () => {
    const { asked, at } = await open('section', 'plan', 'probe');
    const first = asked.length;
    at.sheet = { ...at.sheet, pickups: at.sheet.pickups.map((p) => ({ ...p, build: null })) };
    await at.look();
    expect(at.pictures.built).toBe(false);
    expect(at.pictures.section).toBeNull();
    await asked[0]!.answer({ status: 'done', value: named(1) });
    expect(asked).toHaveLength(first);
  });
});

describe('the probe', () => {
  it('stands over the outermost pole of a row of seven too [exact]', async () => {
    const { at } = await open('probe');
    const pickup = start.pickups[0]!;
    const rows = pickup.build!.rows.map((row) => ({
      ...row,
      pole: { ...row.pole, heights: Array.from({ length: 7 }, () => 0) },
    }));
    at.sheet = setAt(setAt(start, ['pickups', 0, 'build', 'rows'], rows), ['listen', 'string'], 7);
    expect(at.pictures.place.y).toBeCloseTo(-3 * pickup.build!.pitch, 12);
  });

  it('stands over the pole under the chosen string until it is moved [exact]', async () => {
    const { asked, at } = await open('probe');
    const { string } = at.sheet.listen;
    const { pitch } = at.sheet.pickups[0]!.build!;
    expect(at.pictures.place.y).toBeCloseTo((3.5 - string) * pitch, 12);
    expect(at.pictures.moved).toBe(false);
    expect(asked[0]!.wish.probe).toEqual({ ...at.pictures.place, height: at.pictures.height });
    await asked[0]!.answer({ status: 'done', value: named(1) });
    at.pictures.moveProbe({ x: 0.003, y: -0.01 });
    await at.look();
    expect(asked[1]!.wish).toEqual({
      pickup: 0,
      section: false,
      plan: false,
      probe: { x: 0.003, y: -0.01, height: at.pictures.height },
    });
    await asked[1]!.answer({ status: 'done', value: named(2) });
    expect(at.pictures.reading).toMatchObject({ strings: { x: 2 } });
    at.pictures.height = 2e-3;
    await at.look();
    expect(asked[2]!.wish.probe?.height).toBe(2e-3);
    at.pictures.moveProbe(null);
    expect(at.pictures.moved).toBe(false);
  });
});

describe('the section’s place', () => {
  it('goes along with a pickup that is dragged, before its new section is there [exact]', async () => {
    const { asked, at } = await open('section');
    await asked[0]!.answer({ status: 'done', value: named(0.1) });
    const { place } = at.sheet.pickups[0]!;
    at.sheet = setAt(at.sheet, ['pickups', 0, 'place'], place + 0.0004);
    await at.look();
    expect(at.pictures.origin).toBeCloseTo(0.1004, 12);
    at.sheet = setAt(at.sheet, ['pickups', 0, 'place'], place + 0.02);
    await at.look();
    expect(asked).toHaveLength(2);
  });
});
