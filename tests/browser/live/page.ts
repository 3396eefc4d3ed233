/** A page with nothing but the live player, for live.browser.ts: what stands in `window.live` is called from there. */
import { LivePlayer, type LiveState } from '../../../src/audio/livePlayer.ts';
import { liveSetup } from '../../../src/physics/soundingLive.ts';
import type { LiveSetup } from '../../../src/physics/sound/live/types.ts';
import type { Sheet } from '../../../src/sheet/sheet.ts';

const states: LiveState[] = [];
const player = new LivePlayer({ onchange: (state) => states.push(state) });
let setups: LiveSetup[] = [];

const live = {
  states,
  /** Ready-made, so that the page's thread only hands over. */
  prepare: (sheets: readonly Sheet[], sampleRate: number) => {
    setups = sheets.map((sheet) => liveSetup(sheet, sampleRate));
  },
  open: (sampleRate: number) => player.open(sampleRate),
  play: (index: number) => player.play(setups[index]!),
  update: (index: number) => player.update(setups[index]!),
  broken: () => player.update({ ...setups[0]!, gain: NaN }),
  stop: () => player.stop(),
  state: () => player.state,
  stats: () => player.stats(),
  capture: async (samples: number) => Array.from((await player.capture(samples)) ?? []),
  /** The largest value of the tap at this moment. */
  tapped: () => {
    const analyser = player.tap();
    if (!analyser) return 0;
    const data = new Float32Array(analyser.fftSize);
    analyser.getFloatTimeDomainData(data);
    return Math.max(...data.map(Math.abs));
  },
  /** A change every frame for so long, ms; resolves with how many. */
  drag: (milliseconds: number) =>
    new Promise<number>((resolve) => {
      let count = 0;
      const begun = performance.now();
      const timer = setInterval(() => {
        player.update(setups[++count % setups.length]!);
        if (performance.now() - begun < milliseconds) return;
        clearInterval(timer);
        resolve(count);
      }, 1000 / 60);
    }),
};

export type Live = typeof live;

(window as unknown as { live: Live }).live = live;
// The first sound of a page needs a gesture.
document.querySelector('button')?.addEventListener('click', () => live.play(0));
