/**
 * Every numeric figure of the sheet: what it is called, its unit, its limits and its steps.
 * Values are SI (m, kg, s, V, Ω, H, F, rad; pot positions 0–1). Limits and steps are common practice of the
 * trade, wide enough for an experiment; what they must also obey together stands in check.ts.
 */
import { BUILD_FIGURES, type BuildFigureKey } from './buildFigures.ts';
import { length, type Figure } from './figure.ts';

export type { Figure } from './figure.ts';

/** Names a figure wherever it stands. */
export type FigureKey =
  | 'scaleLength'
  | 'frets'
  | 'spreadSaddle'
  | 'spreadNut'
  | 'stringDiameter'
  | 'stringCore'
  | 'linearDensity'
  | 'midi'
  | 'place'
  | 'slant'
  | 'rowOffset'
  | 'focus'
  | 'sensitivity'
  | 'coilResistance'
  | 'coilInductance'
  | 'coilCapacitance'
  | 'coreLoss'
  | 'potResistance'
  | 'potPosition'
  | 'bleedCapacitance'
  | 'bleedResistance'
  | 'toneCapacitance'
  | 'cableLength'
  | 'cablePerMetre'
  | 'inputResistance'
  | 'inputCapacitance'
  | 'fret'
  | 'strum'
  | 'pluckPlace'
  | 'pluckWidth'
  | 'pluckDepth'
  | 'pluckAngle'
  | 'seconds'
  | 'partial'
  | 'tempo'
  | 'beat'
  | 'fade'
  | 'radius'
  | BuildFigureKey
  | 'detuning'
  | 'action'
  | 'probeAlong'
  | 'probeAcross'
  | 'probeHeight'
  | 'celsius'
  | 'bridge'
  | 'readPeak'
  | 'readField'
  | 'probeDepth'
  | 'spreadShare'
  | 'spreadGap'
  | 'spreadPluck'
  | 'targetPeak'
  | 'slope'
  | 'wantedHeight'
  | 'wantedQ'
  | 'wantedLevel'
  | 'wantedWithin'
  | 'rounds'
  | 'roundsRight';

/** Degrees to the same twelve digits that a typed angle is rounded to, so that a limit can be typed. */
const degrees = (angle: number): number => Number(((angle * Math.PI) / 180).toPrecision(12));

/** Steps of R, L and C: about 1 % and 10 %, both finer than the tolerance of such parts. */
const LOG = { scale: 'log', step: 1.01, page: 1.1 } as const;

/** The table that check, fields, handles and generated test sheets read. */
export const FIGURES: Readonly<Record<FigureKey, Figure>> = {
  scaleLength: { label: 'Scale length', unit: 'mm', min: 0.45, max: 1, step: 0.0005, page: 0.01 },
  frets: { label: 'Number of frets', unit: 'count', min: 12, max: 36, step: 1, page: 2 },
  spreadSaddle: {
    label: 'String spread at the saddle',
    unit: 'mm',
    min: 0.025,
    max: 0.11,
    step: 0.0005,
    page: 0.002,
  },
  spreadNut: {
    label: 'String spread at the nut',
    unit: 'mm',
    min: 0.02,
    max: 0.09,
    step: 0.0005,
    page: 0.002,
  },
  stringDiameter: {
    label: 'String diameter',
    unit: 'mm',
    min: 0.00015,
    max: 0.004,
    step: 0.00001,
    page: 0.0001,
  },
  stringCore: { label: 'String core', unit: 'mm', min: 0.0001, max: 0.004, step: 0.00001, page: 0.0001 },
  linearDensity: {
    label: 'String weight',
    unit: 'g/m',
    min: 0.0001,
    max: 0.09,
    step: 0.00001,
    page: 0.0001,
  },
  midi: { label: 'Open note', unit: 'note', min: 21, max: 88, step: 1, page: 12 },
  place: { label: 'Pickup place', unit: 'mm', min: 0.01, max: 0.64, step: 0.0005, page: 0.005 },
  slant: {
    label: 'Pickup slant',
    unit: 'deg',
    min: degrees(-30),
    max: degrees(30),
    step: degrees(0.5),
    page: degrees(5),
  },
  rowOffset: { label: 'Row offset', unit: 'mm', min: -0.025, max: 0.025, step: 0.0001, page: 0.001 },
  focus: { label: 'Focus', unit: 'mm', min: 0.002, max: 0.06, step: 0.0001, page: 0.001 },
  sensitivity: { label: 'Sensitivity', unit: 'mV·s/m', min: 0.001, max: 1, step: 0.001, page: 0.01 },
  coilResistance: { label: 'Coil resistance', unit: 'ohm', min: 100, max: 100e3, optional: true, ...LOG },
  coilInductance: { label: 'Coil inductance', unit: 'henry', min: 1e-3, max: 20, optional: true, ...LOG },
  coilCapacitance: {
    label: 'Coil capacitance',
    unit: 'farad',
    min: 1e-12,
    max: 10e-9,
    optional: true,
    ...LOG,
  },
  coreLoss: { label: 'Core loss', unit: 'ohm', min: 1e3, max: 100e6, optional: true, ...LOG },
  potResistance: { label: 'Pot resistance', unit: 'ohm', min: 1e3, max: 10e6, ...LOG },
  potPosition: { label: 'Pot position', unit: 'knob', min: 0, max: 1, step: 0.01, page: 0.1 },
  bleedCapacitance: { label: 'Bleed capacitor', unit: 'farad', min: 1e-12, max: 1e-6, ...LOG },
  bleedResistance: { label: 'Bleed resistor', unit: 'ohm', min: 100, max: 10e6, optional: true, ...LOG },
  toneCapacitance: { label: 'Tone capacitor', unit: 'farad', min: 100e-12, max: 1e-6, bare: 'nF', ...LOG },
  cableLength: { label: 'Cable length', unit: 'metre', min: 0, max: 50, step: 0.1, page: 1 },
  cablePerMetre: {
    label: 'Cable capacitance',
    unit: 'pF/m',
    min: 10e-12,
    max: 1000e-12,
    step: 1e-12,
    page: 10e-12,
  },
  inputResistance: { label: 'Input resistance', unit: 'ohm', min: 1e3, max: 100e6, ...LOG },
  // Linear, because an input without capacitance is a fair thing to ask for.
  inputCapacitance: {
    label: 'Input capacitance',
    unit: 'farad',
    min: 0,
    max: 10e-9,
    step: 1e-12,
    page: 10e-12,
  },
  fret: { label: 'Fret', unit: 'count', min: 0, max: 36, step: 1, page: 5 },
  strum: { label: 'Strum time', unit: 'ms', min: 0, max: 0.5, step: 0.001, page: 0.01 },
  pluckPlace: { label: 'Pluck place', unit: 'mm', min: 0.003, max: 0.64, step: 0.0005, page: 0.005 },
  pluckWidth: { label: 'Plectrum width', unit: 'mm', min: 0, max: 0.03, step: 0.0001, page: 0.001 },
  pluckDepth: { label: 'Pluck depth', unit: 'mm', min: 0.00005, max: 0.005, step: 0.00005, page: 0.0005 },
  pluckAngle: {
    label: 'Pluck angle',
    unit: 'deg',
    min: degrees(-90),
    max: degrees(90),
    step: degrees(1),
    page: degrees(10),
  },
  seconds: { label: 'Phrase length', unit: 's', min: 0.5, max: 10, step: 0.1, page: 1 },
  partial: { label: 'Partial', unit: 'count', min: 1, max: 40, step: 1, page: 5 },
  tempo: { label: 'Tempo', unit: 'bpm', min: 30, max: 300, step: 1, page: 10 },
  // Quarters of a beat, counted from zero: eight bars of four beats.
  beat: { label: 'Beat', unit: 'beat', min: 0, max: 31.75, step: 0.25, page: 1 },
  fade: { ...length('Fade', 0.001, 0.03), optional: true },
  radius: length('Fretboard radius', 0.15, 1, 1e-3, 1e-2),
  ...BUILD_FIGURES,
  action: length('Action at the 12th fret', 0.0005, 0.004, 5e-5, 5e-4),
  detuning: { label: 'Detuning', unit: 'cent', min: 0.1, max: 20, step: 0.1, page: 1 },
  // Of the plan: nothing of these is kept in the sheet.
  probeAlong: length('Probe along the strings', -0.018, 0.018, 5e-4, 5e-3),
  probeAcross: length('Probe across the strings', -0.06, 0.06, 5e-4, 5e-3),
  probeHeight: length('Height of the probe', -0.01, 0.015, 1e-4, 1e-3),
  // Of the bench.
  celsius: { label: 'Temperature', unit: 'count', min: 0, max: 60, step: 1, page: 5 },
  bridge: { label: 'Frequency of the bridge', unit: 'hertz', min: 50, max: 20e3, ...LOG },
  readPeak: { label: 'Peak', unit: 'hertz', min: 500, max: 200e3, optional: true, ...LOG },
  readField: { label: 'Field', unit: 'tesla', min: 1e-4, max: 1, step: 1e-3, page: 1e-2, optional: true },
  probeDepth: length('Depth of the element', 0, 0.005, 1e-4, 1e-3),
  spreadShare: { label: 'Spread', unit: 'share', min: 0, max: 0.5, step: 0.01, page: 0.05 },
  spreadGap: length('Spread of the gap', 0, 0.001, 5e-5, 1e-4),
  spreadPluck: length('Spread of the pluck place', 0, 0.03, 5e-4, 5e-3),
  targetPeak: { label: 'Resonance', unit: 'hertz', min: 500, max: 20e3, ...LOG },
  slope: { label: 'Slope', unit: 'decibel', min: -3, max: 3, step: 0.1, page: 0.5 },
  wantedHeight: { label: 'Height of the peak', unit: 'decibel', min: 0.1, max: 40, step: 0.1, page: 1 },
  wantedQ: { label: 'Q', unit: 'ratio', min: 0.6, max: 50, step: 0.1, page: 1 },
  wantedLevel: { label: 'Level', unit: 'decibel', min: -30, max: 30, step: 0.1, page: 1 },
  wantedWithin: { label: 'Difference', unit: 'decibel', min: 0.1, max: 20, step: 0.1, page: 1 },
  rounds: { label: 'Rounds of a blind listen', unit: 'count', min: 1, max: 200, step: 1, page: 10 },
  roundsRight: { label: 'Right rounds', unit: 'count', min: 0, max: 200, step: 1, page: 10 },
};

/** Whether it has whole values only. */
export const isWhole = (key: FigureKey): boolean =>
  FIGURES[key].unit === 'count' || FIGURES[key].unit === 'note';

/** Within the figure's limits; whole for a count and a note. */
export function clampFigure(value: number, key: FigureKey): number {
  const figure = FIGURES[key];
  const whole = isWhole(key) ? Math.round(value) : value;
  return Math.min(figure.max, Math.max(figure.min, whole));
}

/**
 * The nearest value that a drag should leave behind: on the grid of arrow steps, or three significant digits on
 * a log scale, within limits.
 */
export function snapFigure(value: number, key: FigureKey): number {
  const figure = FIGURES[key];
  const snapped =
    figure.scale === 'log'
      ? Number(value.toPrecision(3))
      : Number((Math.round(value / figure.step) * figure.step).toPrecision(12));
  return clampFigure(snapped + 0, key);
}
