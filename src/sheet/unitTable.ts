/** The units in which makers read and write, and the one place where SI meets them. */

export type UnitKey =
  | 'mm'
  | 'metre'
  | 'deg'
  | 'ohm'
  | 'henry'
  | 'farad'
  | 'pF/m'
  | 'mV·s/m'
  | 'knob'
  | 'hertz'
  | 'tesla'
  | 'remanence'
  | 'coercivity'
  | 'energy'
  | 'conductivity'
  | 'celsius'
  | 'ratio'
  | 's'
  | 'ms'
  | 'g/m'
  | 'bpm'
  | 'beat'
  | 'share'
  | 'cent'
  | 'decibel'
  | 'wire'
  | 'note'
  | 'count';

/** A unit with its prefix, as shown, as said aloud, and its size in SI. */
export interface ShownUnit {
  readonly symbol: string;
  readonly said: string;
  readonly size: number;
}

/** How a kind of figure is shown, said and typed. */
export interface Unit {
  /** Smallest first; one for a unit that keeps its prefix. */
  readonly shown: readonly ShownUnit[];
  /** What the figure is, in a sentence: 'a length'. */
  readonly quantity: string;
  /** The symbol of the unit that a bare number takes unless the figure or the shown text says otherwise. */
  readonly bare: string;
  /** For a message. */
  readonly example: string;
}

const one = (symbol: string, said: string, size: number): readonly ShownUnit[] => [{ symbol, said, size }];

/** The one table of units; `size` is a shown unit's in SI. */
export const UNITS: Readonly<Record<UnitKey, Unit>> = {
  mm: {
    shown: one('mm', 'millimetres', 1e-3),
    quantity: 'a length',
    bare: 'mm',
    example: '4.75 mm or 3/16 in',
  },
  metre: { shown: one('m', 'metres', 1), quantity: 'a length', bare: 'm', example: '3 m or 10 ft' },
  deg: { shown: one('°', 'degrees', Math.PI / 180), quantity: 'an angle', bare: '°', example: '9 deg' },
  ohm: {
    shown: [
      { symbol: 'Ω', said: 'ohms', size: 1 },
      { symbol: 'kΩ', said: 'kilohms', size: 1e3 },
      { symbol: 'MΩ', said: 'megohms', size: 1e6 },
    ],
    quantity: 'a resistance',
    bare: 'kΩ',
    example: '7.2 kohm',
  },
  henry: {
    shown: [
      { symbol: 'µH', said: 'microhenries', size: 1e-6 },
      { symbol: 'mH', said: 'millihenries', size: 1e-3 },
      { symbol: 'H', said: 'henries', size: 1 },
    ],
    quantity: 'an inductance',
    bare: 'H',
    example: '2.4 H',
  },
  farad: {
    shown: [
      { symbol: 'pF', said: 'picofarads', size: 1e-12 },
      { symbol: 'nF', said: 'nanofarads', size: 1e-9 },
      { symbol: 'µF', said: 'microfarads', size: 1e-6 },
    ],
    quantity: 'a capacitance',
    bare: 'pF',
    example: '470 pF or 22 nF',
  },
  'pF/m': {
    shown: one('pF/m', 'picofarads per metre', 1e-12),
    quantity: 'a capacitance per length',
    bare: 'pF/m',
    example: '100 pF/m',
  },
  'mV·s/m': {
    shown: one('mV·s/m', 'millivolts for one metre per second', 1e-3),
    quantity: 'a voltage per speed',
    bare: 'mV·s/m',
    example: '80 mV s/m',
  },
  knob: {
    shown: one('', 'of 10', 0.1),
    quantity: 'a position from 0 to 10',
    bare: '',
    example: '7 or 70 %',
  },
  hertz: {
    shown: [
      { symbol: 'Hz', said: 'hertz', size: 1 },
      { symbol: 'kHz', said: 'kilohertz', size: 1e3 },
    ],
    quantity: 'a frequency',
    bare: 'kHz',
    example: '8.2 kHz',
  },
  tesla: {
    shown: one('mT', 'milliteslas', 1e-3),
    quantity: 'a flux density',
    bare: 'mT',
    example: '95 mT or 950 G',
  },
  remanence: {
    shown: one('T', 'teslas', 1),
    quantity: 'a flux density',
    bare: 'T',
    example: '1.28 T or 12.8 kG',
  },
  coercivity: {
    shown: one('kA/m', 'kiloamperes per metre', 1e3),
    quantity: 'a field strength',
    bare: 'kA/m',
    example: '50.9 kA/m or 640 Oe',
  },
  energy: {
    shown: one('kJ/m³', 'kilojoules per cubic metre', 1e3),
    quantity: 'an energy product',
    bare: 'kJ/m³',
    example: '43.8 kJ/m³ or 5.5 MGOe',
  },
  conductivity: {
    shown: one('MS/m', 'megasiemens per metre', 1e6),
    quantity: 'a conductivity',
    bare: 'MS/m',
    example: '5.8 MS/m',
  },
  celsius: {
    shown: one('°C', 'degrees Celsius', 1),
    quantity: 'a temperature in °C',
    bare: '°C',
    example: '35 °C',
  },
  ratio: { shown: one('', 'times that of air', 1), quantity: 'a number', bare: '', example: '1.05' },
  s: { shown: one('s', 'seconds', 1), quantity: 'a time', bare: 's', example: '4 s' },
  ms: { shown: one('ms', 'milliseconds', 1e-3), quantity: 'a time', bare: 'ms', example: '30 ms' },
  'g/m': {
    shown: one('g/m', 'grams per metre', 1e-3),
    quantity: 'a weight per length',
    bare: 'g/m',
    example: '0.3956 g/m',
  },
  bpm: {
    shown: one('bpm', 'beats per minute', 1),
    quantity: 'a number of beats per minute',
    bare: 'bpm',
    example: '96',
  },
  beat: { shown: one('', 'beats', 1), quantity: 'a number of beats', bare: '', example: '2.5' },
  share: { shown: one('%', 'per cent', 0.01), quantity: 'a share of 100 %', bare: '%', example: '80 %' },
  cent: {
    shown: one('cents', 'cents', 1),
    quantity: 'a number of cents',
    bare: 'cents',
    example: '1.5 cents',
  },
  decibel: { shown: one('dB', 'decibels', 1), quantity: 'a number of dB', bare: 'dB', example: '0.5 dB' },
  wire: {
    shown: one('mm', 'millimetres', 1e-3),
    quantity: 'a wire diameter',
    bare: 'mm',
    example: 'AWG 42 or 0.063 mm',
  },
  note: { shown: one('', '', 1), quantity: 'a note with its octave', bare: '', example: 'E2 or B♭1' },
  count: { shown: one('', '', 1), quantity: 'a whole number', bare: '', example: '12' },
};
