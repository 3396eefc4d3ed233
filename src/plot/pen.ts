/** What follows the whole number, for 0 to 3 decimals: '', '.01', …, '.1', …, '.99'. */
const TABLES = [0, 1, 2, 3].map((digits) =>
  Array.from({ length: 10 ** digits }, (_, i) => (i === 0 ? '' : String(i / 10 ** digits).slice(1))),
);

/** Writes path text: one letter a run, coordinates rounded, points that coincide after rounding written once. */
export class Pen {
  /** What has been written. */
  text = '';
  /** Whether a line is being drawn that the next `line` continues. */
  down = false;
  private readonly unit: number;
  private readonly fractions: readonly string[];
  private lastX = '';
  private lastY = '';
  private letter = '';

  /** @param digits decimals of a coordinate, 0 to 3; the rest falls back on a slower way */
  constructor(digits: number) {
    this.unit = 10 ** digits;
    this.fractions = TABLES[digits] ?? [];
  }

  /** Put together from whole numbers, which is several times faster than writing a fraction out. */
  private figure(value: number): string {
    const scaled = Math.round(value * this.unit);
    const size = Math.abs(scaled);
    const whole = Math.floor(size / this.unit);
    const fraction = this.fractions[size - whole * this.unit];
    // More digits than the table has, or no finite figure at all.
    if (fraction === undefined) return String(scaled / this.unit);
    return scaled < 0 ? `-${whole}${fraction}` : `${whole}${fraction}`;
  }

  /** To a point without drawing; all coordinates in px. */
  move(x: number, y: number): void {
    this.lastX = this.figure(x);
    this.lastY = this.figure(y);
    this.text += `M${this.lastX} ${this.lastY}`;
    this.letter = 'M';
    this.down = true;
  }

  /** A line to a point. */
  line(x: number, y: number): void {
    const fx = this.figure(x);
    const fy = this.figure(y);
    if (fx === this.lastX && fy === this.lastY && this.letter === 'L') return;
    this.text += `${this.letter === 'L' ? ' ' : 'L'}${fx} ${fy}`;
    this.letter = 'L';
    this.lastX = fx;
    this.lastY = fy;
  }

  /** A cubic to (x, y) by two control points. */
  curve(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void {
    this.lastX = this.figure(x);
    this.lastY = this.figure(y);
    const controls = `${this.figure(x1)} ${this.figure(y1)} ${this.figure(x2)} ${this.figure(y2)}`;
    this.text += `${this.letter === 'C' ? ' ' : 'C'}${controls} ${this.lastX} ${this.lastY}`;
    this.letter = 'C';
  }

  /** A line back to where it began. */
  close(): void {
    this.text += 'Z';
    this.lift();
  }

  /** Ends the line as it is. */
  lift(): void {
    this.down = false;
    this.letter = '';
  }
}
