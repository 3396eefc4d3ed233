/** The figures of a pickup's build, in SI; limits and steps are common practice of the trade. */
import { length, type Figure } from './figure.ts';

/** By key; spread into FIGURES. */
export const BUILD_FIGURES = {
  poleDiameter: length('Pole diameter', 0.001, 0.012, 5e-5, 5e-4),
  poleLength: length('Pole length', 0.003, 0.04),
  tipSize: length('Tip', 0, 0.005, 5e-5, 5e-4),
  headDiameter: length('Screw head diameter', 0.002, 0.012, 5e-5, 5e-4),
  headHeight: length('Screw head height', 0.0005, 0.006, 5e-5, 5e-4),
  poleHeight: length('Pole height', -0.004, 0.005, 5e-5, 5e-4),
  polePitch: length('Pole pitch', 0.007, 0.021, 5e-5, 5e-4),
  gap: length('Gap to the string', 0.0005, 0.015),
  barWidth: length('Magnet width', 0.001, 0.03),
  barLength: length('Magnet length', 0.005, 0.12, 5e-4, 5e-3),
  barThickness: length('Magnet thickness', 0.0005, 0.015),
  barTop: length('Top of the magnet', -0.04, 0.005),
  barOffset: length('Magnet offset', -0.03, 0.03),
  barAcross: length('Place of the magnet across', -0.06, 0.06, 5e-4, 5e-3),
  steelWidth: length('Steel width', 0.0005, 0.06),
  steelLength: length('Steel length', 0.0005, 0.12, 5e-4, 5e-3),
  steelThickness: length('Steel thickness', 0.0005, 0.04),
  steelTop: length('Top of the steel', -0.04, 0.005),
  steelOffset: length('Steel offset', -0.03, 0.03),
  steelAcross: length('Place of the steel across', -0.06, 0.06, 5e-4, 5e-3),
  coverThickness: length('Thickness of the cover', 0.0002, 0.001, 5e-5, 2e-4),
  coverClearance: length('Underside of the cover', -0.003, 0.006, 5e-5, 5e-4),
  plateThickness: length('Thickness of the base plate', 0.0003, 0.002, 5e-5, 5e-4),
  windowStraight: length('Straight side of the coil', 0, 0.11, 5e-4, 5e-3),
  windowInner: length('Inner radius of the coil', 0.0015, 0.02),
  windowOuter: length('Outer radius of the coil', 0.002, 0.03),
  windowTop: length('Top of the coil', -0.03, -0.0002),
  windowBottom: length('Bottom of the coil', -0.04, -0.001),
  turns: { label: 'Turns', unit: 'count', min: 10, max: 30_000, step: 10, page: 500 },
  wire: { label: 'Wire', unit: 'wire', min: 0.00002, max: 0.0005, step: 1e-7, page: 5e-6 },
  modAmount: length('Amount', 0.0001, 0.02),
  modTurns: { label: 'Share of the turns', unit: 'share', min: 0.01, max: 0.9, step: 0.01, page: 0.1 },
  charge: { label: 'Magnetisation', unit: 'share', min: 0.05, max: 1, step: 0.01, page: 0.1 },
} as const satisfies Readonly<Record<string, Figure>>;

/** Names one of them. */
export type BuildFigureKey = keyof typeof BUILD_FIGURES;
