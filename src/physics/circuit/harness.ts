import { hasCoil } from '../../shape/hasCoil.ts';
import type { Coil, Harness, Pickup, Row } from '../../sheet/sheet.ts';
import { NetworkBuilder } from './builder.ts';
import { addControls } from './controls.ts';
import type { CoilCore } from './coilCore.ts';
import { coreWinding } from './coreWinding.ts';
import { NetworkSolver, type Network, type Winding } from './network.ts';

/** A pickup with all figures of its coils. */
export interface WiredPickup extends Pickup<Coil> {
  readonly rows: readonly WiredRow[];
}

/** A row with all figures of its coil. */
export interface WiredRow extends Row<Coil> {
  /** Absent where the coil's inductance is the same at all frequencies. */
  readonly core?: CoilCore;
}

/** What reaches the amplifier of one coil. */
export interface CoilTransfer {
  /** Index of the pickup on the sheet. */
  readonly pickup: number;
  /** Index of its row. */
  readonly row: number;
  /** Output voltage per volt of this coil's EMF, V/V, a value a frequency. */
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A network that knows which coil on the sheet each of its coils is. */
export interface HarnessNetwork extends Network {
  /** In the order of `coilsOf` and of `NetworkSolver.transfer`: pickups in the sheet's order, rows within. */
  readonly coils: readonly { readonly pickup: number; readonly row: number }[];
}

/**
 * Everything from the coils to the amplifier's input as one network; its output is the input jack's hot pin.
 *
 * Only sounding pickups that have a coil are in it. Wired 'shared', they stand in parallel before one set of controls; wired 'own', each
 * has its set and the wipers are joined. Cable and input follow, from the output to ground. A coil's EMF counts
 * positive when its string moves as the first coil of an unreversed pickup would have it: exchanging the wires of
 * the second coil (phase 'out') or of the whole pickup (reversed) turns the sign of the transfer.
 *
 * @param sounding one flag a pickup; with none set of one that has a coil there is no coil and no control, only cable and input.
 * @throws RangeError when flags or sets of controls do not fit the pickups, or a part is out of range.
 */
export function harnessNetwork(
  pickups: readonly WiredPickup[],
  harness: Harness,
  sounding: readonly boolean[],
): HarnessNetwork {
  const { wiring, controls, cable, input } = harness;
  if (sounding.length !== pickups.length) {
    throw new RangeError(
      `Sounding flags must be as many as the pickups (${pickups.length}); got ${sounding.length}.`,
    );
  }
  const sets = wiring === 'shared' ? 1 : pickups.length;
  if (controls.length !== sets) {
    throw new RangeError(
      `Controls wired '${wiring}' must have ${sets} set(s) for ${pickups.length} pickup(s); got ${controls.length}. Add or remove a set.`,
    );
  }
  const builder = new NetworkBuilder();
  const coils: { pickup: number; row: number }[] = [];
  const selected = pickups.flatMap((pickup, index) =>
    sounding[index] && hasCoil(pickup.build) ? [{ pickup, index }] : [],
  );
  // Nodes are numbered from the twigs to the output, so that elimination in this order fills in next to nothing.
  const hots: number[] = [];
  for (const { pickup, index } of selected) {
    const middle = isSeries(pickup) ? builder.node(`middle${index + 1}`) : 0;
    const shared = wiring === 'shared' ? hots[0] : undefined;
    const hot = shared ?? builder.node(wiring === 'shared' ? 'hot' : `hot${index + 1}`);
    hots.push(hot);
    addPickup(builder, pickup, hot, middle, index + 1);
    pickup.rows.forEach((_, row) => coils.push({ pickup: index, row }));
  }
  const output = builder.node('out');
  if (wiring === 'shared') {
    if (selected.length) addControls(builder, controls[0]!, hots[0]!, output, '');
  } else {
    selected.forEach(({ index }, k) =>
      addControls(builder, controls[index]!, hots[k]!, output, `${index + 1}`),
    );
  }
  const { ground } = NetworkBuilder;
  builder.capacitor('cable', output, ground, cable.length * cable.capacitancePerMetre);
  builder.resistor('input', output, ground, input.resistance);
  builder.capacitor('input', output, ground, input.capacitance);
  return { ...builder.build(output), coils };
}

/**
 * Output voltage at the amplifier's input per volt of each coil's EMF, as the harness is set.
 *
 * @param sounding which pickups are selected, one flag a pickup; the others are left out of the result and
 *   disconnected, in wiring 'own' together with their controls.
 * @param frequencies Hz, above zero.
 * @returns one transfer a coil, pickups in the sheet's order and rows within; the sign covers winding polarity.
 * @throws RangeError as `harnessNetwork` does.
 */
export function harnessTransfer(
  pickups: readonly WiredPickup[],
  harness: Harness,
  sounding: readonly boolean[],
  frequencies: Float64Array,
): CoilTransfer[] {
  const network = harnessNetwork(pickups, harness, sounding);
  const solver = new NetworkSolver(network);
  const transfers = network.coils.map((coil) => ({
    ...coil,
    re: new Float64Array(frequencies.length),
    im: new Float64Array(frequencies.length),
  }));
  if (transfers.length === 0) return transfers;
  for (let i = 0; i < frequencies.length; i++) {
    solver.solve(0, 2 * Math.PI * frequencies[i]!);
    for (let k = 0; k < transfers.length; k++) {
      transfers[k]!.re[i] = solver.transfer.re[k]!;
      transfers[k]!.im[i] = solver.transfer.im[k]!;
    }
  }
  return transfers;
}

function isSeries(pickup: WiredPickup): boolean {
  return pickup.rows.length > 1 && pickup.join === 'series';
}

/**
 * A pickup off its guitar, with nothing at its leads but a resistance (Ω; null: none) and a capacitance (F): what a meter or
 * a probe puts there. Its output is the hot lead; signs as for harnessNetwork.
 *
 * @throws RangeError when a part is out of range
 */
export function aloneNetwork(
  pickup: WiredPickup,
  load: { readonly resistance: number | null; readonly capacitance: number },
): Network {
  const builder = new NetworkBuilder();
  const { ground } = NetworkBuilder;
  const middle = isSeries(pickup) ? builder.node('middle') : ground;
  const hot = builder.node('hot');
  addPickup(builder, pickup, hot, middle, 1);
  if (load.resistance !== null) builder.resistor('probe', hot, ground, load.resistance);
  builder.capacitor('probe', hot, ground, load.capacitance);
  return builder.build(hot);
}

function addPickup(
  builder: NetworkBuilder,
  pickup: WiredPickup,
  hot: number,
  middle: number,
  number: number,
): void {
  const { ground } = NetworkBuilder;
  const top = pickup.reversed ? ground : hot;
  const bottom = pickup.reversed ? hot : ground;
  pickup.rows.forEach((built, row) => {
    const series = isSeries(pickup);
    const plus = series && row > 0 ? middle : top;
    const minus = series && row === 0 ? middle : bottom;
    const crossed = row > 0 && pickup.phase === 'out';
    const name = `coil${number}_${row + 1}`;
    builder.coil(
      name,
      crossed ? minus : plus,
      crossed ? plus : minus,
      windingOf(built),
      built.coil.capacitance,
    );
  });
}

function windingOf({ coil, core }: WiredRow): Winding {
  const { resistance, inductance, coreLoss } = coil;
  return core ? coreWinding(resistance, core) : { kind: 'constant', resistance, inductance, coreLoss };
}
