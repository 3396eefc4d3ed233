import { MessageChannel } from 'node:worker_threads';
import { describe, expect, it } from 'vitest';
import { answer, buffersOf, type Door } from '../../src/jobs/answer.ts';
import type { FieldAnswer } from '../../src/physics/heard/fieldAnswer.ts';
import type { Prediction, Sound } from '../../src/physics/prediction.ts';
import type { LiveSetup } from '../../src/physics/sound/live/types.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';

const sheet = { title: 'x' } as Sheet;

describe('buffers of a result', () => {
  it('are found at any depth, each once, also when two arrays share one [exact]', () => {
    const shared = new ArrayBuffer(64);
    const value = {
      frets: new Float64Array(shared, 0, 4),
      voices: [{ db: new Float64Array(shared, 32, 4), reach: { x: new Float32Array(3) } }],
      name: 'E2',
      none: null,
    };
    const found = buffersOf(value);
    expect(found).toHaveLength(2);
    expect(found).toContain(shared);
    expect(buffersOf('text')).toEqual([]);
  });
});

describe('the worker’s answer', () => {
  const kept = new Float64Array(5);
  const door: Door = {
    field: () => [{ start: kept[0]!, strings: [kept] } as unknown as FieldAnswer, null],
    predict: () => ({ frequencies: new Float64Array([20, 20000]), warnings: [] }) as unknown as Prediction,
    beginning: () => ({ samples: new Float64Array(100), sampleRate: 48000, voltGain: 0.5 }),
    sound: () => ({ samples: new Float64Array(1000), sampleRate: 48000 }) as Sound,
    live: (_, { sampleRate, feed }) => ({
      setup: { sampleRate, times: new Float64Array(3) } as unknown as LiveSetup,
      fedAt: feed ? 7 : null,
    }),
    through: (_, { recording }) => recording as Sound,
    level: () => ({ gain: 2, loudness: -29 }),
    picture: () => ({ section: null, plan: null, probe: null }),
    close: () => null,
    track: () => {
      throw new Error('no track here');
    },
    why: () => {
      throw new Error('no why here');
    },
  };

  it('hands over what a kind of job needs beside the sheet [exact]', () => {
    const live = answer(
      { id: 1, kind: 'live', sheet, input: { sampleRate: 44100, gain: null, feed: true }, fields: null },
      door,
    ).response;
    expect(live).toMatchObject({ id: 1, ok: true, value: { setup: { sampleRate: 44100 }, fedAt: 7 } });
    const recording = { samples: new Float64Array(4), sampleRate: 8000 };
    const through = answer(
      { id: 2, kind: 'through', sheet, input: { recording, from: null, fromFields: null }, fields: null },
      door,
    ).response;
    expect(through).toMatchObject({ id: 2, ok: true, value: { sampleRate: 8000 } });
  });

  it('asks the right door and moves the arrays instead of copying them [exact]', async () => {
    const { response, transfer } = answer({ id: 7, kind: 'sound', sheet, input: null, fields: null }, door);
    if (!response.ok) throw new Error('It must be an answer.');
    const { port1, port2 } = new MessageChannel();
    const received = new Promise<typeof response>((resolve) => port2.once('message', resolve));
    port1.postMessage(response, transfer);
    expect((response.value as Sound).samples).toHaveLength(0);
    const copy = await received;
    expect(copy.id).toBe(7);
    expect((copy.value as Sound).samples).toHaveLength(1000);
    port1.close();
    const figures = answer({ id: 8, kind: 'figures', sheet, input: null, fields: null }, door).response;
    expect(figures.ok && figures.value !== null && 'frequencies' in figures.value).toBe(true);
  });

  it('copies fields instead of moving them, since they are kept for the next request [exact]', () => {
    const { response, transfer } = answer(
      { id: 3, kind: 'field', sheet, input: { wanted: [true] }, fields: null },
      door,
    );
    expect(response.ok && response.value).toHaveLength(2);
    expect(transfer).toEqual([]);
  });

  it('turns whatever is thrown into a message', () => {
    const thrown = (what: unknown): string => {
      const failing: Door = {
        ...door,
        predict: () => {
          throw what;
        },
      };
      const { response, transfer } = answer(
        { id: 1, kind: 'figures', sheet, input: null, fields: null },
        failing,
      );
      expect(transfer).toEqual([]);
      return response.ok ? '' : response.message;
    };
    expect(thrown(new RangeError('The fret must be 0 to 24; got 30.'))).toBe(
      'The fret must be 0 to 24; got 30.',
    );
    expect(thrown('out of luck')).toBe('out of luck');
  });
});
