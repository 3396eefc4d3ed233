/** A coil and the bodies in and around it: what it does to them, and what their charges do to its flux. */
import { isThreaded } from '../../../shape/steel.ts';
import type { Coupling } from '../charges/assemble.ts';
import type { Body, BoxBody, RingBody } from '../bodies/body.ts';
import type { FaceSlope } from '../bodies/boxMesh.ts';
import { rectanglePoints } from '../bodies/rectanglePoints.ts';
import { fieldLoad, ownImage } from '../charges/load.ts';
import { expanded, reduced } from '../bodies/mirror.ts';
import { panelPoints } from '../bodies/ringPoints.ts';
import { coilInAir } from './coilInAir.ts';
import type { CoilInAir } from './coilInAir.ts';
import { threads } from './currentSheets.ts';
import type { Filaments, WindingWindow } from './winding.ts';

/** Whether a bar or blade stands in the coil's opening, beside part of the winding. */
function isInside({ outer, x, y, ...winding }: WindingWindow, body: BoxBody): boolean {
  const centre = { x: body.x, y: body.y - y, z: body.z };
  return isThreaded({ size: body.mesh.size, centre }, { offset: x, winding: { ...winding, edge: outer } });
}

/**
 * Distance from the winding over a rectangle's longer edge, within which the coil's field is not that in the rectangle's middle. Twice as
 * far, more points leave two coils' flux in each other less alike from either side than 1e-3.
 */
const CLOSE = 0.25;

/** Whether rectangle j lies so close to the wire that one point does not tell what the coil does to it. */
function isClose(
  { x, y, straight, inner, outer, top, bottom }: WindingWindow,
  box: BoxBody,
  j: number,
): boolean {
  const { centre, halfU, halfV } = box.mesh;
  const beyond = Math.max(0, Math.abs(box.y + centre[3 * j + 1]! - y) - 0.5 * straight);
  const r = Math.hypot(box.x + centre[3 * j]! - x, beyond);
  const z = box.z + centre[3 * j + 2]!;
  const apart = Math.hypot(Math.max(0, inner - r, r - outer), Math.max(0, z - top, bottom - z));
  return apart < 2 * CLOSE * Math.max(halfU[j]!, halfV[j]!);
}

/** Points around a ring: the wire of its own coil is close, others are far. None of its own lies on the row's centre line. */
const AROUND_OWN = 12;
const AROUND_OTHER = 6;

/** Points around the rings of a body for what this coil does there. */
function pointsAround(coil: Filaments, body: Body): number {
  return threads(coil.window, body.x, body.y) ? AROUND_OWN : AROUND_OTHER;
}

/** n·H on every unknown for one ampere-turn, A/m. */
export function coilLoad(coupling: Coupling, coil: Filaments): Float64Array {
  return fieldLoad(
    coupling,
    (body) => coilInAir(coil, [body]).field,
    (body) => pointsAround(coil, body),
    coil.window.y === 0,
    (body, j) => (body.joins || isClose(coil.window, body, j) ? 2 : 1),
    (body) => isCentred(coil.window, body),
  );
}

/** Whether a pole stands in the middle of its coil, which is its own image across x: one side of the pole tells the other. */
const isCentred = (window: WindingWindow, { x, y }: Body): boolean => x === window.x && threads(window, x, y);

/**
 * Weights g with which charges make flux: the linkage per turn (Wb/turn², per ampere-turn when the charges are) is
 * µ0 g·σ. By reciprocity g is minus the coil's potential, integrated over every element.
 *
 * Source: reciprocity of coil and charge, [Brown1962] ch. 4; the surface form, since the volume form µ0 ∫ M·h dV
 * cancels badly in steel.
 */
export function linkageWeights(coupling: Coupling, coil: Filaments): Float64Array {
  const weights = new Float64Array(coupling.offsets[coupling.bodies.length]!);
  const { representatives } = coupling;
  const half = coil.window.y === 0 && representatives.symmetric;
  coupling.bodies.forEach((body, b) => {
    if (!half || representatives.body[b] === b)
      addBody(
        weights,
        coupling.offsets[b]!,
        body,
        coil.window,
        coilInAir(coil, [body]),
        half ? ownImage(coupling, b) : null,
      );
  });
  return half ? expanded(representatives, reduced(representatives, weights)) : weights;
}

function addBody(
  weights: Float64Array,
  at: number,
  body: Body,
  window: WindingWindow,
  air: CoilInAir,
  image: Int32Array | null,
): void {
  if (body.kind === 'box') {
    addRectangles(weights, at, body, window, air, image);
    return;
  }
  addRings(weights, at, body, window, air);
}

/** @param image of every rectangle, where half of them tell the rest */
function addRectangles(
  weights: Float64Array,
  at: number,
  body: BoxBody,
  window: WindingWindow,
  air: CoilInAir,
  image: Int32Array | null,
): void {
  const { n, area, slopeU, slopeV } = body.mesh;
  // A bar lies beside or under the coil as a rule; a blade may run through it, and so may a bar.
  const close = body.joins === true || isInside(window, body);
  const threaded = close && threads(window, body.x, body.y);
  for (let i = 0; i < n; i++) {
    if (image && image[i]! < i) continue;
    // What is its own image is met again below.
    const once = image?.[i] === i ? 0.5 : 1;
    const along = close || isClose(window, body, i) ? 2 : 1;
    rectanglePoints(body, i, along, (x, y, z, share, du, dv) => {
      const weight = -once * share * area[i]! * air.potential(x, y, z, threaded);
      weights[at + i] = weights[at + i]! + weight;
      if (along === 1) return;
      addLean(weights, at + i, slopeU, i, weight * du);
      addLean(weights, at + i, slopeV, i, weight * dv);
    });
  }
  image?.forEach((to, i) => {
    if (to < i) return;
    const both = weights[at + i]! + weights[at + to]!;
    weights[at + i] = both;
    weights[at + to] = both;
  });
}

/** What the slope of a density adds to the weights of a rectangle and its neighbours; lean in m³. */
function addLean(weights: Float64Array, to: number, slope: FaceSlope, i: number, lean: number): void {
  const { stride, before, here, after } = slope;
  weights[to] = weights[to]! + lean * here[i]!;
  if (before[i] !== 0) weights[to - stride[i]!] = weights[to - stride[i]!]! + lean * before[i]!;
  if (after[i] !== 0) weights[to + stride[i]!] = weights[to + stride[i]!]! + lean * after[i]!;
}

function addRings(
  weights: Float64Array,
  at: number,
  body: RingBody,
  window: WindingWindow,
  air: CoilInAir,
): void {
  const threaded = threads(window, body.x, body.y);
  const centred = isCentred(window, body);
  const { mesh } = body;
  const { before, here, after } = mesh.slope;
  const n = mesh.n;
  const around = threaded ? AROUND_OWN : AROUND_OTHER;
  for (let i = 0; i < n; i++) {
    const points = panelPoints(mesh, i, 2, false);
    for (let p = 0; p < 2; p++) {
      const even = [0, 0, 0];
      const weight = (centred ? -2 : -1) * points.weight[p]!;
      for (let k = 0; k < around; k++) {
        const angle = (2 * Math.PI * (k + 0.5)) / around;
        const c = Math.cos(angle);
        const s = Math.sin(angle);
        if (centred && c < 0) continue;
        const x = body.x + points.r[p]! * c;
        const y = body.y + points.r[p]! * s;
        const share = (weight * air.potential(x, y, body.z + points.z[p]!, threaded)) / around;
        even[0] = even[0]! + share;
        if (!centred) even[1] = even[1]! + share * c;
        even[2] = even[2]! + share * s;
      }
      for (let mode = 0; mode < 3; mode++) {
        const to = at + mode * n + i;
        const lean = even[mode]! * points.along[p]!;
        weights[to] = weights[to]! + even[mode]! + lean * here[i]!;
        if (before[i] !== 0) weights[to - 1] = weights[to - 1]! + lean * before[i]!;
        if (after[i] !== 0) weights[to + 1] = weights[to + 1]! + lean * after[i]!;
      }
    }
  }
}
