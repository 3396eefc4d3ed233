import { describe, expect, it } from 'vitest';
import { scoreOf, strumOnsets } from '../../../src/physics/sound/score.ts';
import { TOUCH } from '../../../src/physics/sound/touch.ts';
import type { Listen } from '../../../src/sheet/sheet.ts';
import { sheetWith } from './live/sheets.ts';

const of = (listen: Partial<Listen>) => scoreOf(sheetWith({ listen }));
/** string.fret at beat, for a tempo of 120. */
const written = (listen: Partial<Listen>) =>
  of(listen).events.map(({ string, fret, time }) => `${string}.${fret}@${Number((2 * time).toFixed(6))}`);

describe('the score', () => {
  it('of one string is one pluck that rings until the next', () => {
    expect(of({ play: 'string', string: 4, fret: 7, seconds: 3 })).toEqual({
      seconds: 3,
      events: [{ time: 0, until: 3, string: 4, fret: 7 }],
    });
  });

  it('of a chord is a strum from the lowest string to the highest', () => {
    const { seconds, events } = of({
      play: 'chord',
      chord: [2, 3, 2, 0, null, null],
      strum: 0.03,
      seconds: 2,
    });
    expect(seconds).toBe(2);
    expect(events.map(({ string }) => string)).toEqual([4, 3, 2, 1]);
    events.forEach(({ time }, i) => expect(time).toBeCloseTo(0.01 * i, 12));
    for (const { time, until } of events) expect(until - time).toBeCloseTo(2, 12);
  });

  it('of an arpeggio goes up and down on eighths', () => {
    expect(written({ play: 'arpeggio', chord: [0, 1, 0, 2, 3, null] })).toEqual([
      '5.3@0',
      '4.2@0.5',
      '3.0@1',
      '2.1@1.5',
      '1.0@2',
      '2.1@2.5',
      '3.0@3',
      '4.2@3.5',
    ]);
    expect(of({ play: 'arpeggio', chord: [0, 1, 0, 2, 3, null] }).seconds).toBeCloseTo(2, 12);
  });

  // The usual fingering of a major scale from the low string, as every book of scales has it.
  it('of a scale stays in position', () => {
    expect(written({ play: 'scale', string: 6, fret: 3 }).map((note) => note.split('@')[0])).toEqual([
      '6.3',
      '6.5',
      '5.2',
      '5.3',
      '5.5',
      '4.2',
      '4.4',
      '4.5',
    ]);
  });

  it('of a scale has each note end where the next begins', () => {
    const { seconds, events } = of({ play: 'scale', string: 5, fret: 0 });
    expect(seconds).toBeCloseTo(2, 12);
    events.forEach(({ until }, i) => expect(until).toBeCloseTo(events[i + 1]?.time ?? seconds, 12));
  });

  it('of a scale leaves out what lies beyond the last fret', () => {
    const { events } = of({ play: 'scale', string: 1, fret: 20 });
    expect(events.map(({ fret }) => fret)).toEqual([20, 22]);
  });

  it('of the progression strums four chords twice a bar, and stops what the next chord leaves out', () => {
    const { seconds, events } = of({ play: 'progression', strum: 0 });
    expect(seconds).toBeCloseTo(8, 12);
    expect(events).toHaveLength(2 * (6 + 4 + 6 + 5));
    const low = events.filter(({ string }) => string === 6);
    expect(low.map(({ time }) => time)).toEqual([0, 1, 4, 5]);
    expect(low.map(({ until }) => until)).toEqual([1, 2, 5, 6]);
  });

  it('of a line fills whole bars', () => {
    expect(written({ play: 'line' })).toEqual(['2.3@0', '2.5@0.5', '1.0@1', '3.7@2.25']);
    expect(of({ play: 'line' }).seconds).toBeCloseTo(2, 12);
    expect(of({ play: 'line', line: [{ beat: 4, string: 1, fret: 0 }] }).seconds).toBeCloseTo(4, 12);
    expect(of({ play: 'line', line: [] })).toEqual({ seconds: 2, events: [] });
  });

  it('never plucks a string again before it can have been silenced', () => {
    const line = [
      { beat: 0, string: 2, fret: 3 },
      { beat: 0, string: 2, fret: 5 },
      { beat: 0.25, string: 2, fret: 7 },
    ];
    const { events } = of({ play: 'line', line, tempo: 300 });
    expect(events.map(({ fret }) => fret)).toEqual([5, 7]);
    for (const { time, until } of events) expect(until - time).toBeGreaterThanOrEqual(TOUCH);
  });

  it('spreads a strum evenly over whatever strings are played', () => {
    const onsets = strumOnsets([{ string: 1 }, { string: 2 }, { string: 6 }], 0.1);
    expect(onsets).toEqual([0.1, 0.05, 0]);
  });
});
