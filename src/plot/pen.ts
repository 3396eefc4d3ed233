/** Writes path text: one letter a run, coordinates rounded, points that coincide after rounding written once. */
export class Pen {
  text = '';
  /** Whether a line is being drawn that the next `line` continues. */
  down = false;
  private readonly unit: number;
  private lastX = '';
  private lastY = '';
  private letter = '';

  constructor(digits: number) {
    this.unit = 10 ** digits;
  }

  private figure(value: number): string {
    // `+ 0` turns −0 into 0.
    return String(Math.round(value * this.unit) / this.unit + 0);
  }

  move(x: number, y: number): void {
    this.lastX = this.figure(x);
    this.lastY = this.figure(y);
    this.text += `M${this.lastX} ${this.lastY}`;
    this.letter = 'M';
    this.down = true;
  }

  line(x: number, y: number): void {
    const fx = this.figure(x);
    const fy = this.figure(y);
    if (fx === this.lastX && fy === this.lastY && this.letter === 'L') return;
    this.text += `${this.letter === 'L' ? ' ' : 'L'}${fx} ${fy}`;
    this.letter = 'L';
    this.lastX = fx;
    this.lastY = fy;
  }

  curve(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void {
    this.lastX = this.figure(x);
    this.lastY = this.figure(y);
    const controls = `${this.figure(x1)} ${this.figure(y1)} ${this.figure(x2)} ${this.figure(y2)}`;
    this.text += `${this.letter === 'C' ? ' ' : 'C'}${controls} ${this.lastX} ${this.lastY}`;
    this.letter = 'C';
  }

  close(): void {
    this.text += 'Z';
    this.lift();
  }

  lift(): void {
    this.down = false;
    this.letter = '';
  }
}
