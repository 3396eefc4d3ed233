/** What is heard of one sheet beside another, and what stands there while it is being found. */
import { expect, it } from 'vitest';
import type { JobResult } from '../../src/jobs/lane.ts';
import { Louder } from '../../src/state/louder.svelte.ts';
import type { HeardDifference } from '../../src/state/types.ts';
import { sheetWith } from './listeningRig.ts';

const heardOf = (most: number): HeardDifference => ({
  frequencies: Float64Array.of(1000),
  curve: Float64Array.of(most),
  most,
  at: 1000,
  string: 1,
  fret: 0,
  part: 'body',
});

/** Answers in the order they were asked for, when it is told to. */
function setUp(): { louder: Louder; answer: (value: JobResult<HeardDifference>) => Promise<void> } {
  const asked: ((answer: JobResult<HeardDifference>) => void)[] = [];
  const heard = (): Promise<JobResult<HeardDifference>> => new Promise((resolve) => asked.push(resolve));
  const louder = new Louder(({ listen }) => Promise.resolve({ loudness: listen.tempo / 10 }), { heard });
  const turn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));
  const answer = async (value: JobResult<HeardDifference>): Promise<void> => {
    await turn();
    asked.shift()?.(value);
    await turn();
  };
  return { louder, answer };
}

const [was, is, next] = [60, 70, 80].map((tempo) => sheetWith({ tempo })) as [
  ReturnType<typeof sheetWith>,
  ReturnType<typeof sheetWith>,
  ReturnType<typeof sheetWith>,
];

it('what was heard last stands until the next is known, but is not called the next [exact]', async () => {
  const { louder, answer } = setUp();
  void louder.ask(is, was);
  expect(louder.lately()).toBeNull();
  await answer({ status: 'done', value: heardOf(3) });
  expect(louder.of(is, was)).toMatchObject({ louder: 1, heard: { most: 3 } });
  void louder.ask(next, is);
  expect(louder.of(next, is)).toBeNull();
  expect(louder.lately()).toMatchObject({ louder: 1, heard: { most: 3 } });
  // Where what it is compared with matters, another's is not shown for it.
  expect(louder.lately(was)).not.toBeNull();
  expect(louder.lately(is)).toBeNull();
  await answer({ status: 'done', value: heardOf(-2) });
  expect(louder.lately(is)).toMatchObject({ heard: { most: -2 } });
});

it('an answer that comes after all was forgotten is not kept [exact]', async () => {
  const { louder, answer } = setUp();
  void louder.ask(is, was);
  louder.forget();
  await answer({ status: 'done', value: heardOf(3) });
  expect(louder.of(is, was)).toBeNull();
  expect(louder.lately()).toBeNull();
});

it('one that was superseded leaves the one before standing [exact]', async () => {
  const { louder, answer } = setUp();
  void louder.ask(is, was);
  await answer({ status: 'done', value: heardOf(3) });
  void louder.ask(next, was);
  await answer({ status: 'superseded' });
  expect(louder.of(next, was)).toBeNull();
  expect(louder.lately(was)).toMatchObject({ heard: { most: 3 } });
});
