/** What passes between the page and the live worklet: requests with their replies, and a way past the page for updates. */
import type { LiveReply, LiveRequest, LiveStats } from '../physics/sound/live/types.ts';

type Asked = LiveStats | Float32Array | null;

/** The page's end of one worklet. */
export class LivePort {
  /** The worklet's node. */
  readonly node: AudioWorkletNode;
  private asked = 0;
  private readonly waiting = new Map<number, (reply: Asked) => void>();

  /** @param onfault called with a sentence when the worklet has muted itself */
  constructor(node: AudioWorkletNode, onfault: (message: string) => void) {
    this.node = node;
    node.port.onmessage = ({ data: reply }: MessageEvent<LiveReply>) => {
      if (reply.kind === 'fault') {
        onfault(reply.message);
        return;
      }
      const resolve = this.waiting.get(reply.id);
      this.waiting.delete(reply.id);
      resolve?.(reply.kind === 'stats' ? reply.stats : reply.samples);
    };
  }

  /** Sends a request that has no reply. */
  post(request: LiveRequest, transfer: Transferable[] = []): void {
    this.node.port.postMessage(request, transfer);
  }

  /** The other end of a port on which the worklet takes updates from whoever makes them. */
  feed(): MessagePort {
    const { port1, port2 } = new MessageChannel();
    this.post({ kind: 'feed' }, [port1]);
    return port2;
  }

  /** null when the port is closed before. */
  stats(): Promise<LiveStats | null> {
    return this.ask((id) => ({ kind: 'stats', id })) as Promise<LiveStats | null>;
  }

  /** The next samples that leave the worklet; null when the port is closed before. */
  capture(samples: number): Promise<Float32Array | null> {
    return this.ask((id) => ({ kind: 'capture', id, samples })) as Promise<Float32Array | null>;
  }

  /** What is still asked resolves to null. */
  close(): void {
    for (const resolve of this.waiting.values()) resolve(null);
    this.waiting.clear();
  }

  private ask(request: (id: number) => LiveRequest): Promise<Asked> {
    const id = ++this.asked;
    return new Promise((resolve) => {
      this.waiting.set(id, resolve);
      this.post(request(id));
    });
  }
}
