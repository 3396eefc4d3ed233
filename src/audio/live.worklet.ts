/** Runs the live engine on the audio thread. Nothing is allocated or posted from block to block. */
import { LiveEngine } from '../physics/sound/live/engine.ts';
import { Stopwatch } from '../physics/sound/live/stopwatch.ts';
import { LIVE_PROCESSOR, type LiveReply, type LiveRequest } from '../physics/sound/live/types.ts';
import { rehearse, warmUp } from '../physics/sound/live/warmUp.ts';

/** Browsers that give a worklet no finer clock have whole milliseconds; over many blocks their sum is right. */
const { performance: fine } = globalThis as { performance?: { now(): number } };
const clock: () => number = fine ? () => fine.now() : () => Date.now();

const NOT_A_NUMBER =
  'The sound was muted because something that is not a number came out. Undo the last change, then press play.';

class LiveProcessor extends AudioWorkletProcessor {
  private readonly engine = new LiveEngine(sampleRate);
  private readonly watch = new Stopwatch();
  private captured: { readonly id: number; readonly samples: Float32Array<ArrayBuffer> } | null = null;
  private filled = 0;
  private faulty = false;
  private rehearsed = false;

  constructor() {
    super();
    warmUp(sampleRate);
    this.port.onmessage = (event: MessageEvent<LiveRequest>) => {
      try {
        if (event.data.kind === 'feed') this.listen(event.ports[0]);
        else this.answer(event.data);
      } catch (error) {
        this.reply({ kind: 'fault', message: error instanceof Error ? error.message : String(error) });
      }
    };
  }

  process(_inputs: Float32Array[][], outputs: Float32Array[][]): boolean {
    const out = outputs[0]?.[0];
    if (!out) return true;
    this.watch.start(clock());
    this.engine.process(out);
    this.watch.stop(clock(), (1000 * out.length) / sampleRate);
    if (this.captured) this.capture(out);
    if (this.engine.fault !== this.faulty) {
      this.faulty = this.engine.fault;
      if (this.faulty) this.reply({ kind: 'fault', message: NOT_A_NUMBER });
    }
    return true;
  }

  /** Updates that don't come by way of the page's thread, which may be busy drawing. */
  private listen(port: MessagePort | undefined): void {
    if (!port) return;
    port.onmessage = (event: MessageEvent<LiveRequest>) => {
      // One that was made for an output since replaced is none of ours.
      if (event.data.kind === 'update' && event.data.setup.sampleRate === sampleRate) this.answer(event.data);
    };
  }

  private answer(request: Exclude<LiveRequest, { kind: 'feed' }>): void {
    switch (request.kind) {
      case 'play':
        // Nothing sounds yet the first time: it costs no more than a moment before the beginning.
        if (!this.rehearsed) rehearse([request.setup]);
        this.rehearsed = true;
        this.engine.play(request.setup);
        this.watch.reset();
        break;
      case 'update':
        this.engine.update(request.setup);
        break;
      case 'stop':
        this.engine.stop();
        break;
      case 'capture':
        this.captured = { id: request.id, samples: new Float32Array(request.samples) };
        this.filled = 0;
        break;
      case 'stats':
        this.reply({ kind: 'stats', id: request.id, stats: this.stats() });
    }
  }

  private stats() {
    const { blocks, share, worstShare, late, lateAt, longest, behind } = this.watch;
    const { latency, reducedDb, position } = this.engine;
    return { blocks, share, worstShare, late, lateAt, longest, behind, latency, reducedDb, position };
  }

  private capture(out: Float32Array): void {
    const { captured } = this;
    if (!captured) return;
    const { samples } = captured;
    for (let i = 0; i < out.length && this.filled < samples.length; i++) samples[this.filled++] = out[i]!;
    if (this.filled < samples.length) return;
    this.captured = null;
    this.port.postMessage({ kind: 'capture', ...captured } satisfies LiveReply, [samples.buffer]);
  }

  private reply(message: LiveReply): void {
    this.port.postMessage(message);
  }
}

registerProcessor(LIVE_PROCESSOR, LiveProcessor);
