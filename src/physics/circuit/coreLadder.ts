/** A coil round solid poles, under a cover or without one, as a chain of inductors and resistors for programs that know nothing else. */
import { stillInductance } from '../magnetics/coil/eddy.ts';
import { eddyLadder, type EddyLadder } from '../magnetics/coil/eddyLadder.ts';
import { symmetricEigen } from '../numerics/symmetric.ts';
import type { CoilCore } from './coilCore.ts';
import type { PlateLoops } from './plateLoops.ts';

/** R + s (direct + Σ L/(1 + s L/R)), Ω and H; and the EMF's factor, direct + Σ share/(1 + s/rate), without unit and 1/s. */
export interface WindingLadder {
  readonly resistance: number;
  readonly direct: number;
  readonly sections: readonly {
    readonly inductance: number;
    readonly resistance: number;
  }[];
  readonly emf: {
    readonly direct: number;
    readonly lows: readonly { readonly share: number; readonly rate: number }[];
  };
}

/** R + s (direct + Σ L/(1 + s L/R)) and the EMF that a string makes in it; units stand at the type. @param resistance Ω */
export function coreLadder(resistance: number, core: CoilCore): WindingLadder {
  const { air, fit, metal, turns, scale, share, plates } = core;
  const chain = eddyLadder(fit, metal);
  const still = stillInductance(fit, metal);
  const each = scale * turns * turns;
  const { direct, lows } = plates
    ? inductanceChain(plates, still, chain)
    : {
        direct: chain.direct,
        lows: chain.sections.map(({ inductance, rate }) => ({
          share: inductance,
          rate,
        })),
      };
  return {
    resistance,
    direct: scale * air + each * direct,
    sections: lows.map((low) => ({
      inductance: each * low.share,
      resistance: each * low.share * low.rate,
    })),
    emf: plates
      ? sensitivityChain(plates, still, share, chain)
      : {
          direct: 1 - share + (share * direct) / still,
          lows: lows.map((low) => ({
            share: (share * low.share) / still,
            rate: low.rate,
          })),
        },
  };
}

/** A share of the whole that is left to the direct part. */
const NOTHING = 1e-9;

/** A sum of direct + Σ share/(1 + s/rate). */
interface LowPasses {
  readonly direct: number;
  readonly lows: readonly { readonly share: number; readonly rate: number }[];
}

/** coveredInductance as such a sum, the cores taken as their chain; see eddyLadder. All shares are above 0. */
function inductanceChain({ tau, air, core }: PlateLoops, still: number, chain: EddyLadder): LowPasses {
  const whole = air.map((value, k) => value + core[k]!);
  return lowPasses(tau, core, still, chain, [1, whole], [1, whole], still);
}

/**
 * coveredSensitivity as such a sum, a ratio.
 * @param still H per turn²; @param share of the sensitivity that the cores bring
 */
function sensitivityChain(
  { tau, ownAir, ownCore, moved }: PlateLoops,
  still: number,
  share: number,
  chain: EddyLadder,
): LowPasses {
  const heard = ownAir.map((value, k) => value + ownCore[k]!);
  const e = share / still;
  const driven = moved.map((value, k) => value + e * ownCore[k]!);
  return lowPasses(tau, ownCore, still, chain, [1, heard], [e, driven], 1);
}

/**
 * Loops of plates and cores together, all of 1 Ω, by themselves uncoupled from one another: each leaves one pole.
 *
 * @param heard driven what a coil hears of the plates' loops and what drives them; before each, the same for the cores
 *   over √L_core
 * @param all the sum at s = 0
 */
function lowPasses(
  tau: Float64Array,
  core: Float64Array,
  still: number,
  { sections }: EddyLadder,
  heard: readonly [number, Float64Array],
  driven: readonly [number, Float64Array],
  all: number,
): LowPasses {
  const cores = sections.length;
  const n = cores + tau.length;
  // √(L_core) k of every section of the cores, k its coupling to what magnetises them.
  const k = sections.map(({ inductance, rate }) => Math.sqrt(inductance / rate));
  const L = new Float64Array(n * n);
  sections.forEach(({ rate }, i) => (L[i * n + i] = 1 / rate));
  tau.forEach((value, i) => {
    const row = (cores + i) * n;
    tau.forEach((_, j) => (L[row + cores + j] = (core[i]! * core[j]!) / still));
    L[row + cores + i] = L[row + cores + i]! + value;
    for (let j = 0; j < cores; j++) {
      L[row + j] = L[j * n + cores + i] = (k[j]! * core[i]!) / still;
    }
  });
  const turned = symmetricEigen(L, n);
  const seen = ([own, plates]: readonly [number, Float64Array], i: number): number => {
    let sum = 0;
    for (let j = 0; j < cores; j++) sum += own * k[j]! * turned[j * n + i]!;
    for (let j = 0; j < tau.length; j++) sum += plates[j]! * turned[(cores + j) * n + i]!;
    return sum;
  };
  const lows: { share: number; rate: number }[] = [];
  let direct = all;
  for (let i = 0; i < n; i++) {
    const time = L[i * n + i]!;
    if (!(time > 0)) continue;
    const share = (seen(heard, i) * seen(driven, i)) / time;
    if (!(Math.abs(share) > NOTHING * all)) continue;
    direct -= share;
    lows.push({ share, rate: 1 / time });
  }
  return { direct, lows };
}
