/** Magnet wire and what a window full of it measures. */
import type { WindingWindow } from './winding.ts';

/** Copper at 20 °C, Ω·m, and its rise, 1/K. Source: International Annealed Copper Standard [NBS100]. */
const COPPER_RESISTIVITY = 1.7241e-8;
const COPPER_RISE = 0.00393;

/** Resistance of copper at a temperature, °C, over that at 20 °C, 1. */
export const copperRise = (celsius: number): number => 1 + COPPER_RISE * (celsius - 20);

/** Ω/m of round copper wire. @param diameter bare, m; @param celsius temperature */
export function resistancePerMetre(diameter: number, celsius = 20): number {
  const area = 0.25 * Math.PI * diameter * diameter;
  return (COPPER_RESISTIVITY * copperRise(celsius)) / area;
}

/** Copper at 20 °C, kg/m³. Source: the tables of [ASTMB258] and [NBS100] reckon with 8.89 g/cm³. */
const COPPER_DENSITY = 8890;

/** kg/m of bare round copper wire. @param diameter bare, m */
export const copperPerMetre = (diameter: number): number => 0.25 * Math.PI * diameter ** 2 * COPPER_DENSITY;

/** Of polyurethane enamel, kg/m³, ± 10 %. From memory. */
const ENAMEL_DENSITY = 1200;

/** kg/m of the enamel on a wire. @param diameter bare, m @param overall with its enamel, m */
export const enamelPerMetre = (diameter: number, overall: number): number =>
  0.25 * Math.PI * (overall ** 2 - diameter ** 2) * ENAMEL_DENSITY;

/** Thickness of the enamel: the nominal single and heavy builds. */
export type Enamel = 'single' | 'heavy';

/** Growth of the diameter by the enamel. From memory of nominal builds [NEMAMW1000], AWG 40–44; ± 5 % of overall. */
const ENAMEL: Readonly<Record<Enamel, number>> = { single: 1.12, heavy: 1.22 };

/** Overall diameter, m. @param diameter bare, m */
export function overallDiameter(diameter: number, enamel: Enamel): number {
  return diameter * ENAMEL[enamel];
}

/**
 * Turns for which the window has room.
 *
 * @param overall diameter of the wire with its enamel, m
 * @param packing turns per square of the overall diameter: 1 is a square lattice, machine-wound coils reach 0.9,
 *   scatter-wound ones 0.7–0.8 (common practice)
 */
export function turnsThatFit(window: WindingWindow, overall: number, packing: number): number {
  return Math.floor(
    ((window.outer - window.inner) * (window.top - window.bottom) * packing) / (overall * overall),
  );
}

/** Outer radius that so many turns reach in a window `height` high from `inner` on, m. The rest as for turnsThatFit. */
export function woundRadius(
  inner: number,
  height: number,
  turns: number,
  overall: number,
  packing: number,
): number {
  return inner + (turns * overall * overall) / (packing * height);
}

/** Length of the mean turn, m. */
export function meanTurn(window: WindingWindow): number {
  return 2 * window.straight + Math.PI * (window.inner + window.outer);
}

/** Relative permittivity of polyurethane enamel. From memory; the estimate below is no better than it. */
const ENAMEL_PERMITTIVITY = 3.5;
const VACUUM_PERMITTIVITY = 8.8541878128e-12;

/**
 * Self-capacitance of the bare winding from its layers, F, as good as shape/selfCapacitance.ts says.
 *
 * Source: layers in series, energy of a linear voltage [Snelling1988] § 11.7 (from memory): (4/3) C₁ (n − 1)/n² with
 * C₁ between neighbouring layers an effective 1.26 d_overall − 1.15 d_bare apart. A coil measured with all metal taken out
 * has 43 pF [Zollner]; coils of its resistance and inductance are put at 37–45 pF. The same energy over the cells of
 * [Massarini1997], in which every turn touches six others, comes to 6 % more when each line of force is added up, and to
 * 43 % more by their closed form; where turns cross and don't touch, as in a scatter-wound coil, there is less.
 *
 * Not in it: the leads (some 50–100 pF/m), and poles, base plate and cover, which stand at one end's potential. With these a
 * single coil has 80–130 pF at its leads, and two coils in series have 80–200 pF,
 * most of it from these [Zollner] (from memory).
 *
 * @param diameter bare, m
 * @param overall diameter with its enamel, m
 */
export function selfCapacitance(
  window: WindingWindow,
  turns: number,
  diameter: number,
  overall: number,
): number {
  const height = window.top - window.bottom;
  // Turns as they really lie: the layer's pitch follows from turns and window, not from the wire.
  const pitch = Math.sqrt(((window.outer - window.inner) * height) / turns);
  const layers = Math.max(2, (window.outer - window.inner) / pitch);
  const apart = 1.26 * overall - 1.15 * diameter;
  const layer = (VACUUM_PERMITTIVITY * ENAMEL_PERMITTIVITY * meanTurn(window) * height) / apart;
  return ((4 / 3) * layer * (layers - 1)) / layers ** 2;
}
