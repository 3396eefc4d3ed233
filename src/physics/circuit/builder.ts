import type { NetworkElement, Network, Winding } from './network.ts';

/** Collects nodes and elements by name; `build` turns them into a network. Ground is node 0. */
export class NetworkBuilder {
  private readonly names: string[] = ['0'];
  private readonly elements: NetworkElement[] = [];

  static readonly ground = 0;

  node(name: string): number {
    return this.names.push(name) - 1;
  }

  resistor(name: string, plus: number, minus: number, resistance: number): void {
    this.elements.push({ kind: 'resistor', name, plus, minus, resistance });
  }

  /** A capacitor of exactly zero farads is no part and is left out. */
  capacitor(name: string, plus: number, minus: number, capacitance: number): void {
    if (capacitance === 0) return;
    this.elements.push({ kind: 'capacitor', name, plus, minus, capacitance });
  }

  coil(name: string, plus: number, minus: number, winding: Winding, capacitance: number): void {
    this.elements.push({ kind: 'coil', name, plus, minus, winding, capacitance });
  }

  build(output: number): Network {
    return { nodes: this.names, elements: this.elements, output };
  }
}
