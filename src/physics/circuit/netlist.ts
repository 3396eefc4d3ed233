import { coreLadder, type WindingLadder } from './coreLadder.ts';
import type { CoilBranch, Network } from './network.ts';

/** What a deck is to sweep. */
export interface NetlistOptions {
  readonly title: string;
  /** The coil that carries 1 V of EMF, in the order of `coilsOf`; the EMF of all others is zero. */
  readonly coil: number;
  /** Sweep: points a decade, and from and to in Hz. */
  readonly sweep: { readonly perDecade: number; readonly from: number; readonly to: number };
}

/**
 * Digits of a value: more than any part has, and fewer than two engines' sines and exponentials agree to, so that the deck is
 * the same from every machine.
 */
const DIGITS = 10;
const value = (exact: number): string => String(Number(exact.toPrecision(DIGITS)));

/**
 * A network as a SPICE deck (R, C, L, V and .ac cards; SPICE 2 syntax, values in SI units without suffixes), which
 * prints level (dB) and phase of the output voltage per volt of one coil's EMF. The unit of the phase is the
 * simulator's: degrees in SPICE 2, radians in ngspice.
 *
 * A coil round solid poles becomes a chain of inductors with resistors across them, and its EMF one of sources: the
 * level comes out within 0.05 dB of ours up to 20 kHz.
 *
 * @throws RangeError for a winding with a free impedance: SPICE has no card for it; or when there is no such coil.
 */
export function netlist(network: Network, { title, coil: active, sweep }: NetlistOptions): string {
  const { nodes, elements, output } = network;
  // The title may come from the sheet: kept on its one line, it cannot become a card.
  const lines: string[] = [`* ${title.replace(/\s+/g, ' ')}`];
  let coil = 0;
  for (const element of elements) {
    const ends = `${nodes[element.plus]} ${nodes[element.minus]}`;
    if (element.kind === 'resistor') lines.push(`R${element.name} ${ends} ${value(element.resistance)}`);
    else if (element.kind === 'capacitor')
      lines.push(`C${element.name} ${ends} ${value(element.capacitance)}`);
    else lines.push(...coilCards(element, nodes, coil++ === active ? 1 : 0));
  }
  if (!(Number.isInteger(active) && active >= 0 && active < coil)) {
    throw new RangeError(`The driven coil must be one of the network's ${coil}; got ${active}.`);
  }
  const out = nodes[output];
  lines.push(
    `.ac dec ${sweep.perDecade} ${sweep.from} ${sweep.to}`,
    `.print ac vdb(${out}) vp(${out})`,
    '.end',
  );
  return lines.join('\n') + '\n';
}

/** From minus to plus: the EMF, the resistance, the inductance with its core loss; the capacitance across all. */
function coilCards(coil: CoilBranch, nodes: readonly string[], emf: number): string[] {
  const { name, winding, capacitance } = coil;
  const plus = nodes[coil.plus]!;
  const minus = nodes[coil.minus]!;
  const cards: string[] = [];
  if (winding.kind === 'constant') {
    cards.push(
      `V${name} ${name}_e ${minus} DC 0 AC ${emf}`,
      `R${name} ${name}_e ${name}_l ${value(winding.resistance)}`,
      `L${name} ${name}_l ${plus} ${value(winding.inductance)}`,
    );
    if (winding.coreLoss !== null) cards.push(`R${name}_core ${name}_l ${plus} ${value(winding.coreLoss)}`);
  } else if (winding.wound) {
    const ladder = coreLadder(winding.wound.resistance, winding.wound.core);
    cards.push(
      ...(emf === 0 ? [`V${name} ${name}_e ${minus} DC 0 AC 0`] : emfCards(name, minus, ladder.emf)),
      ...ladderCards(name, plus, ladder),
    );
  } else {
    throw new RangeError(
      `A coil in a netlist must have a fixed resistance and inductance, or be a chain of them; ${name} has an impedance that varies with frequency otherwise.`,
    );
  }
  if (capacitance > 0) cards.push(`C${name} ${plus} ${minus} ${value(capacitance)}`);
  return cards;
}

/** The driven EMF, less what eddy currents take of it: a chain of sources behind low-pass filters of 1 Ω. */
function emfCards(name: string, minus: string, { direct, lows }: WindingLadder['emf']): string[] {
  const last = lows.length;
  const node = (k: number): string => (k === last ? `${name}_e` : `${name}_e${k}`);
  return [
    `V${name} ${name}_in 0 DC 0 AC 1`,
    `E${name}_0 ${node(0)} ${minus} ${name}_in 0 ${value(direct)}`,
    ...lows.flatMap(({ share, rate }, i) => [
      `R${name}_f${i + 1} ${name}_in ${name}_f${i + 1} 1`,
      `C${name}_f${i + 1} ${name}_f${i + 1} 0 ${value(1 / rate)}`,
      `E${name}_${i + 1} ${node(i + 1)} ${node(i)} ${name}_f${i + 1} 0 ${value(share)}`,
    ]),
  ];
}

/** The winding and, one after the other, the sections of its core. */
function ladderCards(name: string, plus: string, { resistance, direct, sections }: WindingLadder): string[] {
  const last = sections.length;
  const node = (k: number): string => (k === last ? plus : `${name}_c${k}`);
  return [
    `R${name} ${name}_e ${name}_l ${value(resistance)}`,
    `L${name} ${name}_l ${node(0)} ${value(direct)}`,
    ...sections.flatMap((section, i) => [
      `L${name}_${i + 1} ${node(i)} ${node(i + 1)} ${value(section.inductance)}`,
      `R${name}_${i + 1} ${node(i)} ${node(i + 1)} ${value(section.resistance)}`,
    ]),
  ];
}
