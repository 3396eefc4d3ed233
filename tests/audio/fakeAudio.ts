/**
 * An audio clock that is turned by hand, and nodes that write down what is scheduled on them. Gains are evaluated by
 * the rules of the Web Audio API for setValueAtTime and linearRampToValueAtTime.
 */
type Event_ =
  | { readonly kind: 'set' | 'ramp'; readonly value: number; readonly time: number }
  | { readonly kind: 'target'; readonly value: number; readonly time: number; readonly constant: number };

export class FakeParam {
  /** What it is before anything is scheduled. */
  value = 1;
  readonly events: Event_[] = [];

  /** In order of time; behind those of the same time. */
  private insert(event: Event_): void {
    const later = this.events.findIndex((e) => e.time > event.time);
    this.events.splice(later < 0 ? this.events.length : later, 0, event);
  }

  setValueAtTime(value: number, time: number): this {
    this.insert({ kind: 'set', value, time });
    return this;
  }

  linearRampToValueAtTime(value: number, time: number): this {
    this.insert({ kind: 'ramp', value, time });
    return this;
  }

  setTargetAtTime(value: number, time: number, constant: number): this {
    this.insert({ kind: 'target', value, time, constant });
    return this;
  }

  at(time: number): number {
    let { value } = this;
    let since = 0;
    for (const event of this.events) {
      if (event.kind === 'target') throw new Error('Targets are compared as events, not evaluated.');
      if (event.kind === 'ramp' && time < event.time) {
        if (time <= since) return value;
        return value + ((event.value - value) * (time - since)) / (event.time - since);
      }
      if (time < event.time) return value;
      value = event.value;
      since = event.time;
    }
    return value;
  }
}

export class FakeNode extends EventTarget {
  readonly outputs = new Set<FakeNode>();

  connect(to: FakeNode): FakeNode {
    this.outputs.add(to);
    return to;
  }

  disconnect(): void {
    this.outputs.clear();
  }
}

export class FakeGain extends FakeNode {
  readonly gain = new FakeParam();
}

export class FakeSource extends FakeNode {
  buffer: FakeBuffer | null = null;
  loop = false;
  started: { when: number; offset: number } | null = null;
  stopped = Infinity;

  start(when: number, offset: number): void {
    if (this.started) throw new Error('A source can be started only once.');
    this.started = { when, offset };
  }

  stop(when: number): void {
    if (!this.started) throw new Error('A source must be started before it is stopped.');
    this.stopped = when;
  }

  audible(time: number): boolean {
    return this.started !== null && time >= this.started.when && time < this.stopped;
  }

  /** Where in its buffer it reads, s. */
  place(time: number): number {
    return (time - this.started!.when + this.started!.offset) % this.buffer!.duration;
  }
}

export class FakeBuffer {
  readonly duration: number;
  readonly data: Float32Array;
  readonly sampleRate: number;

  constructor(length: number, sampleRate: number) {
    this.sampleRate = sampleRate;
    this.data = new Float32Array(length);
    this.duration = length / sampleRate;
  }

  copyToChannel(data: Float32Array): void {
    this.data.set(data);
  }
}

export class FakeContext extends EventTarget {
  currentTime = 0;
  sampleRate = 48000;
  baseLatency = 0.005;
  state: string = 'running';
  readonly destination = new FakeNode();
  readonly sources: FakeSource[] = [];
  readonly gains: FakeGain[] = [];
  /** How often resume() was asked for; what it does is up to the test. */
  resumed = 0;
  grants = false;

  createGain(): FakeGain {
    const gain = new FakeGain();
    this.gains.push(gain);
    return gain;
  }

  createBufferSource(): FakeSource {
    const source = new FakeSource();
    this.sources.push(source);
    return source;
  }

  createAnalyser(): FakeNode {
    return Object.assign(new FakeNode(), { context: this });
  }

  /** The API must take 8 to 96 kHz; more than 768 kHz is refused by all. */
  createBuffer(_channels: number, length: number, sampleRate: number): FakeBuffer {
    if (sampleRate < 8000 || sampleRate > 768000) throw new Error('NotSupportedError');
    return new FakeBuffer(length, sampleRate);
  }

  resume(): Promise<void> {
    this.resumed++;
    if (!this.grants) return new Promise(() => undefined);
    this.become('running');
    return Promise.resolve();
  }

  close(): Promise<void> {
    this.state = 'closed';
    return Promise.resolve();
  }

  become(state: string): void {
    this.state = state;
    this.dispatchEvent(new Event('statechange'));
  }

  /** Turns the clock, and tells sources that have ended. */
  advance(seconds: number): void {
    this.currentTime += seconds;
    for (const source of this.sources) {
      if (source.stopped <= this.currentTime) source.dispatchEvent(new Event('ended'));
    }
  }

  /** Everything heard at a time: the gain of each audible source, without volume, and where it reads. */
  heard(time: number): { gain: number; place: number; data: Float32Array }[] {
    return this.sources
      .filter((s) => s.audible(time) && s.outputs.size > 0)
      .map((s) => {
        const voice = [...s.outputs][0] as FakeGain;
        const bus = [...voice.outputs][0] as FakeGain;
        return { gain: voice.gain.at(time) * bus.gain.at(time), place: s.place(time), data: s.buffer!.data };
      });
  }
}
