/** The curve of what the selector lets through, with the width of its reach; nothing else of a prediction. */
import type { HeardSheet } from './heard/resolved.ts';
import { toDb } from './levelDb.ts';
import { aperturesOf, circuitOf, listen } from './listening.ts';
import { stopString } from './string/note.ts';

/** `reachDb` of the voice that sounds (see voice.ts), of the chosen string and fret, dB. @param frequencies Hz, ascending */
export function reachCurve(sheet: HeardSheet, frequencies: Float64Array): Float64Array {
  const members = sheet.pickups.flatMap(({ sounds }, index) => (sounds ? [index] : []));
  const { string, fret } = sheet.listen;
  const listening = listen(sheet, stopString(sheet.instrument, string, fret), frequencies, {
    ...{ members, most: 1 },
  });
  const circuit = circuitOf(sheet, members);
  const apertures = aperturesOf(circuit, listening);
  const { re, im } = circuit.solver.transfer;
  return frequencies.map((f, i) => {
    circuit.solver.solve(0, 2 * Math.PI * f);
    let [cosRe, cosIm, sinRe, sinIm] = [0, 0, 0, 0];
    apertures.forEach(({ cosine, sine }, c) => {
      cosRe += re[c]! * cosine[i]!;
      cosIm += im[c]! * cosine[i]!;
      sinRe += re[c]! * sine[i]!;
      sinIm += im[c]! * sine[i]!;
    });
    return toDb((Math.hypot(cosRe - sinIm, cosIm + sinRe) + Math.hypot(cosRe + sinIm, cosIm - sinRe)) / 2);
  });
}
