/**
 * Flux conservation. What enters a body leaves it, so the area-weighted column of the matrix sums to zero over any
 * body that does not contain the source. Quadrature breaks this a little, and a permeability of some hundred turns
 * the little into much: the rest is taken off every entry in proportion to its size.
 */
import type { BoxMesh } from '../bodies/boxMesh.ts';

/**
 * Takes the excess off one source's entries.
 *
 * @param block mean normal field on the targets, 1 (A/m for each A/m) or A/m: element i stands at start + i · stride
 * @param area of target element i, m²
 */
export function balanceFlux(block: Float64Array, start: number, stride: number, area: Float64Array): void {
  let sum = 0;
  let size = 0;
  for (let i = 0; i < area.length; i++) {
    const flux = area[i]! * block[start + i * stride]!;
    sum += flux;
    size += Math.abs(flux);
  }
  if (size === 0) return;
  const excess = sum / size;
  for (let i = 0; i < area.length; i++) {
    const at = start + i * stride;
    block[at] = block[at]! - excess * Math.abs(block[at]!);
  }
}

/** The same for a field (A/m) that many sources make, in one contiguous run. @param area m² */
export function balanceOffset(field: Float64Array, start: number, area: Float64Array): void {
  balanceFlux(field, start, 1, area);
}

/** Where a mirror has the image of every row and of every column of a block. */
export interface BlockMirror {
  readonly rows: Int32Array;
  readonly columns: Int32Array;
}

/**
 * The same for every column of a row-major block, 1 or A/m. @param columns of the block; @param area of its rows' elements, m²
 * @param mirror by which rows whose image is earlier follow from that one: they are not there, but count
 */
export function balanceColumns(
  block: Float64Array,
  columns: number,
  area: Float64Array,
  mirror: BlockMirror | null = null,
): void {
  const sum = new Float64Array(columns);
  const size = new Float64Array(columns);
  for (let i = 0; i < area.length; i++) {
    const image = mirror ? mirror.rows[i]! : i;
    if (image < i) continue;
    // With a mirror every column is summed with its image's: then a row that is its own image would count twice.
    const weight = mirror && image === i ? 0.5 * area[i]! : area[i]!;
    const row = i * columns;
    for (let j = 0; j < columns; j++) {
      const flux = weight * block[row + j]!;
      sum[j] = sum[j]! + flux;
      size[j] = size[j]! + Math.abs(flux);
    }
  }
  const excess = new Float64Array(columns);
  for (let j = 0; j < columns; j++) {
    const other = mirror ? mirror.columns[j]! : j;
    const whole = size[j]! + size[other]!;
    excess[j] = whole === 0 ? 0 : (sum[j]! + sum[other]!) / whole;
  }
  for (let i = 0; i < area.length; i++) {
    if (mirror && mirror.rows[i]! < i) continue;
    const row = i * columns;
    for (let j = 0; j < columns; j++)
      block[row + j] = block[row + j]! - excess[j]! * Math.abs(block[row + j]!);
  }
}

/**
 * As balanceColumns (1 or A/m), of a box. One in zones has what enters every zone leave it, through its part of the surface and the sheets; what is
 * to be taken off goes to the surface. A sheet's own charge sends half of its flux into either zone.
 *
 * @param itself whether the columns are the box's own rectangles, those of its surface just outside of it
 */
export function balanceBox(
  block: Float64Array,
  columns: number,
  mesh: BoxMesh,
  itself: boolean,
  mirror: BlockMirror | null = null,
): void {
  const { zones, area } = mesh;
  if (!zones) {
    balanceColumns(block, columns, area, mirror);
    return;
  }
  const { count, sheets, zone, beyond } = zones;
  const sum = new Float64Array(count * columns);
  const size = new Float64Array(count * columns);
  for (let i = 0; i < area.length; i++) {
    const image = mirror ? mirror.rows[i]! : i;
    if (image < i) continue;
    const weight = mirror && image === i ? 0.5 * area[i]! : area[i]!;
    const here = zone[i]! * columns;
    const there = beyond[i]! * columns;
    for (let j = 0; j < columns; j++) {
      const flux = weight * block[i * columns + j]!;
      sum[here + j] = sum[here + j]! + flux;
      if (there >= 0) sum[there + j] = sum[there + j]! - flux;
      else size[here + j] = size[here + j]! + Math.abs(flux);
    }
  }
  const excess = new Float64Array(count * columns);
  for (let k = 0; k < count; k++) {
    for (let j = 0; j < columns; j++) {
      const at = k * columns + j;
      const other = mirror ? k * columns + mirror.columns[j]! : -1;
      const own = itself && j >= sheets && (zone[j] === k || beyond[j] === k) ? 0.5 * area[j]! : 0;
      const all = sum[at]! + (mirror ? sum[other]! : 0) - own;
      const whole = size[at]! + (mirror ? size[other]! : 0);
      excess[at] = whole === 0 ? 0 : all / whole;
    }
  }
  for (let i = 0; i < sheets; i++) {
    if (mirror && mirror.rows[i]! < i) continue;
    const row = i * columns;
    const here = zone[i]! * columns;
    for (let j = 0; j < columns; j++)
      block[row + j] = block[row + j]! - excess[here + j]! * Math.abs(block[row + j]!);
  }
}
