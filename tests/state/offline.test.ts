/** What is said of being kept for when there is no network. */
import { expect, it } from 'vitest';
import { Offline } from '../../src/state/offline.svelte.ts';

class Worker_ extends EventTarget {}

class Registration extends EventTarget {
  installing: Worker_ | null = null;
  waiting: Worker_ | null = null;
  active: Worker_ | null = null;
}

function setUp() {
  const registration = new Registration();
  const container = { register: () => Promise.resolve(registration) };
  const offline = new Offline();
  const keep = () => offline.keep(container as never);
  const move = (worker: Worker_, to: Partial<Registration>): void => {
    Object.assign(registration, { installing: null, waiting: null }, to);
    worker.dispatchEvent(new Event('statechange'));
  };
  return { registration, offline, keep, move };
}

it('a first visit is kept once everything is there [exact]', async () => {
  const { registration, offline, keep, move } = setUp();
  const worker = (registration.installing = new Worker_());
  await keep();
  expect(offline.status).toBe('asking');
  move(worker, { waiting: worker });
  expect(offline.status).toBe('asking');
  move(worker, { active: worker });
  expect(offline.status).toBe('kept');
});

it('a newer one that waits is said [exact]', async () => {
  const { registration, offline, keep, move } = setUp();
  registration.active = new Worker_();
  await keep();
  expect(offline.status).toBe('kept');
  const newer = (registration.installing = new Worker_());
  registration.dispatchEvent(new Event('updatefound'));
  move(newer, { waiting: newer });
  expect(offline.status).toBe('newer');
});

it('one that waited already is said at once [exact]', async () => {
  const { registration, offline, keep } = setUp();
  registration.active = new Worker_();
  registration.waiting = new Worker_();
  await keep();
  expect(offline.status).toBe('newer');
});

it('a first visit on which not all could be had is not kept [exact]', async () => {
  const { registration, offline, keep, move } = setUp();
  const worker = (registration.installing = new Worker_());
  await keep();
  move(worker, {});
  expect(offline.status).toBe('no');
});

it('a browser that refuses, or has none, says so [exact]', async () => {
  const { offline } = setUp();
  const refuses = { register: () => Promise.reject(new Error('no')) };
  await offline.keep(refuses);
  expect(offline.status).toBe('no');
  const none = new Offline();
  await none.keep(null);
  expect(none.status).toBe('no');
});
