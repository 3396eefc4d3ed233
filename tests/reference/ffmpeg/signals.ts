/** Signals whose loudness a general-purpose meter has measured. They depend on nothing but this file. */

export interface Signal {
  readonly name: string;
  readonly sampleRate: number;
  readonly samples: Float64Array;
}

/** A plucked sound: partials n·f of amplitude 1/n that fall off the faster the higher they are. */
function pluck(frequency: number, seconds: number, sampleRate: number, level: number): Float64Array {
  return Float64Array.from({ length: Math.round(seconds * sampleRate) }, (_, i) => {
    const t = i / sampleRate;
    let sum = 0;
    for (let n = 1; n <= 40 && n * frequency < 0.45 * sampleRate; n++) {
      sum += (Math.exp(-(0.7 + 0.1 * n) * t) * Math.sin(2 * Math.PI * n * frequency * t + n)) / n;
    }
    return level * sum;
  });
}

function after(first: Float64Array, silence: number, second: Float64Array): Float64Array {
  const all = new Float64Array(first.length + silence + second.length);
  all.set(first);
  all.set(second, first.length + silence);
  return all;
}

export function signals(): Signal[] {
  return [
    { name: 'low note', sampleRate: 48000, samples: pluck(82.4, 4, 48000, 0.3) },
    { name: 'high note', sampleRate: 48000, samples: pluck(659.3, 3, 48000, 0.2) },
    { name: 'high note, 44.1 kHz', sampleRate: 44100, samples: pluck(659.3, 3, 44100, 0.2) },
    { name: 'note, 96 kHz', sampleRate: 96000, samples: pluck(196, 3, 96000, 0.25) },
    {
      name: 'two notes and silence',
      sampleRate: 48000,
      samples: after(pluck(110, 2, 48000, 0.4), 3 * 48000, pluck(330, 2, 48000, 0.05)),
    },
    { name: 'quiet note', sampleRate: 48000, samples: pluck(146.8, 4, 48000, 0.004) },
  ];
}
