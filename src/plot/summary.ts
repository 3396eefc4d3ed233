/** One-sentence descriptions of pictures, for screen readers and as the pictures' labels. Units are spelled out. */

export interface CurveFigures {
  /** Level at the first frequency, dB. */
  readonly lowDb: number;
  /** The highest point; `db` is the level itself. */
  readonly peak: { readonly frequency: number; readonly db: number };
  /** Where the level last falls through 3 dB below `lowDb`, Hz; null when it never does, or ends above. */
  readonly cutoff: number | null;
}

/**
 * «Neck: highest at 3.90 kilohertz, 4.1 decibels above the lows; 3 decibels down at 6.20 kilohertz.» With `before`,
 * what has changed is added.
 */
export function describeCurve(label: string, now: CurveFigures, before?: CurveFigures): string {
  const height = now.peak.db - now.lowDb;
  // A tenth of a decibel is the last digit spoken, so anything lower is not called a peak.
  const peak =
    height >= 0.05
      ? `highest at ${spokenFrequency(now.peak.frequency)}, ${spokenDecibels(height)} above the lows`
      : 'no peak';
  const cutoff =
    now.cutoff === null
      ? 'not 3 decibels down within the range'
      : `3 decibels down at ${spokenFrequency(now.cutoff)}`;
  const change = before ? `; ${describeChange(now, before)}` : '';
  return `${label}: ${peak}; ${cutoff}${change}.`;
}

/** What a listener to the words would miss: moves below a tenth of a decibel and half a per cent are left out. */
function describeChange(now: CurveFigures, before: CurveFigures): string {
  const parts: string[] = [];
  const ratio = now.peak.frequency / before.peak.frequency;
  const peaked = now.peak.db - now.lowDb >= 0.05 && before.peak.db - before.lowDb >= 0.05;
  if (peaked && Math.abs(ratio - 1) >= 0.005) {
    const amount = spokenFrequency(Math.abs(now.peak.frequency - before.peak.frequency));
    parts.push(`peak ${amount} ${ratio > 1 ? 'higher' : 'lower'}`);
  }
  const height = now.peak.db - now.lowDb - (before.peak.db - before.lowDb);
  if (Math.abs(height) >= 0.05)
    parts.push(`${spokenDecibels(Math.abs(height))} ${height > 0 ? 'more' : 'less'} pronounced`);
  const level = now.lowDb - before.lowDb;
  if (Math.abs(level) >= 0.05)
    parts.push(`lows ${spokenDecibels(Math.abs(level))} ${level > 0 ? 'louder' : 'softer'}`);
  return parts.length > 0 ? `than before: ${parts.join(', ')}` : 'as before';
}

/** «The reach is 11.2 millimetres wide, centred 162.0 millimetres from the saddle.» Metres in. */
export function describeReach(rows: readonly { readonly centre: number; readonly width: number }[]): string {
  if (rows.length === 0) return 'The coil hears nothing of this string.';
  const parts = rows.map(
    (row) => `${spokenMillimetres(row.width)} wide, centred ${spokenMillimetres(row.centre)} from the saddle`,
  );
  return `The reach is ${parts.join(', and ')}.`;
}

/** Three digits: «880 hertz», «3.90 kilohertz». */
export function spokenFrequency(hertz: number): string {
  // 999.5 already rounds to four digits of hertz.
  if (hertz >= 999.5) return `${threeDigits(hertz / 1000)} kilohertz`;
  return `${threeDigits(hertz)} hertz`;
}

/** One decimal. */
export function spokenDecibels(db: number): string {
  return `${signed(db, 1)} decibel${Math.abs(db).toFixed(1) === '1.0' ? '' : 's'}`;
}

/** One decimal; metres in. */
export function spokenMillimetres(metres: number): string {
  return `${signed(metres * 1000, 1)} millimetre${Math.abs(metres * 1000).toFixed(1) === '1.0' ? '' : 's'}`;
}

function threeDigits(value: number): string {
  return value >= 99.95 ? value.toFixed(0) : value >= 9.995 ? value.toFixed(1) : value.toFixed(2);
}

function signed(value: number, digits: number): string {
  const figure = Math.abs(value).toFixed(digits);
  return value < 0 && Number(figure) !== 0 ? `minus ${figure}` : figure;
}
