import type { NetworkElement, Network, Winding } from './network.ts';

/** Collects nodes and elements by name; `build` turns them into a network. Ground is node 0. */
export class NetworkBuilder {
  private readonly names: string[] = ['0'];
  private readonly elements: NetworkElement[] = [];

  /** The node that is there from the beginning. */
  static readonly ground = 0;

  /** A new node; returns its index. */
  node(name: string): number {
    return this.names.push(name) - 1;
  }

  /** @param plus minus nodes; @param resistance Ω */
  resistor(name: string, plus: number, minus: number, resistance: number): void {
    this.elements.push({ kind: 'resistor', name, plus, minus, resistance });
  }

  /** A capacitor of exactly zero farads is no part and is left out. @param capacitance F */
  capacitor(name: string, plus: number, minus: number, capacitance: number): void {
    if (capacitance === 0) return;
    this.elements.push({ kind: 'capacitor', name, plus, minus, capacitance });
  }

  /** @param capacitance across winding and EMF, F; the EMF is positive at `plus` */
  coil(name: string, plus: number, minus: number, winding: Winding, capacitance: number): void {
    this.elements.push({ kind: 'coil', name, plus, minus, winding, capacitance });
  }

  /** @param output the node whose voltage is asked for; values are checked when the network is solved */
  build(output: number): Network {
    return { nodes: this.names, elements: this.elements, output };
  }
}
