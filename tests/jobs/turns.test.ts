/** Several lanes that take turns at one worker. */
import { expect, it, vi } from 'vitest';
import { Lane } from '../../src/jobs/lane.ts';
import { Turns } from '../../src/jobs/turns.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import type { FakeWorker } from './fakeWorker.ts';
import { workshop } from './fakeWorker.ts';

const sheet = exampleSheet();
const turn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

function twoLanes(timeLimit = 1000) {
  const { create, made } = workshop();
  const turns = new Turns(() => create('level'));
  const level = new Lane('level', () => turns.seat(0), timeLimit);
  const close = new Lane('close', () => turns.seat(1), timeLimit);
  const wish = { pickup: 0, cents: 2, frets: [0], action: 0.0018 };
  const askLevel = () => level.request(sheet, null);
  const askClose = () => close.request(sheet, wish);
  const newest = (): FakeWorker => made.at(-1)!;
  const kinds = () => newest().received.map(({ kind }) => kind);
  return { made, level, close, askLevel, askClose, newest, kinds };
}

it('hands on one job at a time, the most urgent first, and each answer to who asked [exact]', async () => {
  const { made, askLevel, askClose, newest, kinds } = twoLanes();
  const slow = askClose();
  const urgent = askLevel();
  const later = askClose();
  expect(kinds()).toEqual(['close']);
  newest().answer('slow');
  expect(await slow).toEqual({ status: 'done', value: 'slow' });
  expect(kinds()).toEqual(['close', 'level']);
  newest().answer('urgent');
  expect(await urgent).toEqual({ status: 'done', value: 'urgent' });
  expect(kinds()).toEqual(['close', 'level', 'close']);
  newest().answer('later');
  expect(await later).toEqual({ status: 'done', value: 'later' });
  expect(made).toHaveLength(1);
  // Lanes count alike; the worker can tell their jobs apart.
  expect(new Set(newest().received.map(({ id }) => id)).size).toBe(3);
});

it('begins again with a fresh worker for every lane when it is lost [exact]', async () => {
  const { made, askLevel, askClose, newest, kinds } = twoLanes();
  const slow = askClose();
  const urgent = askLevel();
  newest().crash('out of memory');
  await turn();
  expect(made.map(({ terminated }) => terminated)).toEqual([true, false]);
  expect(kinds()).toHaveLength(1);
  const first = kinds()[0];
  newest().answer('one');
  newest().answer('other');
  expect(kinds().toSorted()).toEqual(['close', 'level']);
  expect((await slow).status).toBe('done');
  expect((await urgent).status).toBe('done');
  expect(await (first === 'close' ? slow : urgent)).toEqual({ status: 'done', value: 'one' });
});

it('sends a fresh worker the fields anew that the lost one had [exact]', async () => {
  const { level, newest } = twoLanes();
  const fields = [{ warnings: [] }] as never;
  const asked = level.request(sheet, null, fields);
  newest().answer('a');
  await asked;
  void level.request(sheet, null, fields);
  expect(newest().received.at(-1)?.fields).toEqual(['as before']);
  newest().crash('');
  await turn();
  expect(newest().received.at(-1)?.fields).toEqual(fields);
});

it('waits for no longer than its limit, and what another waits for goes on [exact]', async () => {
  vi.useFakeTimers();
  const { made, askLevel, askClose, newest } = twoLanes(100);
  const slow = askClose();
  await vi.advanceTimersByTimeAsync(60);
  const urgent = askLevel();
  // The first never answers.
  await vi.advanceTimersByTimeAsync(50);
  expect(made).toHaveLength(2);
  newest().answer('x');
  newest().answer('y');
  expect([(await slow).status, (await urgent).status]).toEqual(['done', 'done']);
  vi.useRealTimers();
});

it('a job that can’t be handed over fails with a sentence, and the others go on [exact]', async () => {
  const { askLevel, askClose, newest } = twoLanes();
  const first = askClose();
  const second = askLevel();
  newest().refuses = new Error('no clone');
  newest().answer('first', 1);
  expect((await first).status).toBe('done');
  expect(await second).toMatchObject({ status: 'failed' });
  newest().refuses = null;
  const third = askLevel();
  newest().answer('third');
  expect(await third).toEqual({ status: 'done', value: 'third' });
});

it('ends the worker when every lane has ended [exact]', () => {
  const { made, level, close } = twoLanes();
  level.warm();
  close.warm();
  level.dispose();
  expect(made[0]?.terminated).toBe(false);
  close.dispose();
  expect(made[0]?.terminated).toBe(true);
});
