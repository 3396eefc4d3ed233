/** From the many ways in which makers write a figure to the one way in which mathjs reads it. */
import type { UnitKey } from './unitTable.ts';
import { gaugeDiameter } from '../shape/gauges.ts';

/** Letters that stand for a whole unit in a parts list (7.2k, 22n), by what is being read. */
const SHORT: Partial<Record<UnitKey, { readonly letters: string; readonly unit: string }>> = {
  ohm: { letters: 'RkKM', unit: 'ohm' },
  henry: { letters: 'mu', unit: 'H' },
  farad: { letters: 'pnu', unit: 'F' },
  hertz: { letters: 'k', unit: 'Hz' },
};

const prefixOf = (letter: string): string => (letter === 'R' ? '' : letter === 'K' ? 'k' : letter);

/**
 * Inch and foot marks, degree and ohm signs, mu in both code points, vulgar and mixed fractions, the letter code
 * of IEC 60062 (4k7), a decimal comma, a wire gauge; null where a comma could be either a decimal sign or a thousands mark.
 */
export function respell(text: string, unit: UnitKey): string | null {
  let s = text
    .replace(/(\d)\s*([¼-¾⅐-⅞])/g, '$1 $2')
    .replace(/["″”]|''|′′/g, ' inch ')
    .replace(/['′’]/g, ' ft ')
    .replace(/°/g, ' deg ')
    .normalize('NFKC')
    .replace(/[−–]/g, '-')
    .replace(/[·×⋅]/g, '*')
    .replace(/[⁄÷]/g, '/')
    .replace(/\s+/g, ' ')
    .trim();
  if (/(^|[^\d.])[1-9]\d{0,2},\d{3}(?!\d)/.test(s)) return null;
  s = s
    .replace(/(\d),(\d)/g, '$1.$2')
    .replace(/μ/g, 'u')
    .replace(/(\d+) (\d+) ?\/ ?(\d+)/g, '($1+$2/$3)')
    .replace(/([kKM]?) ?(?:Ω|[oO][hH][mM]s?\b)/g, (_, p: string) => `${prefixOf(p)}ohm`)
    .replace(/(\d)(in|inches)\b/g, '$1 inch')
    .replace(/\bin\b/g, 'inch')
    .replace(/\bthou\b/g, 'mil')
    .replace(/(\d) ?([pnu])f\b/g, '$1 $2F');
  if (unit === 'henry') s = s.replace(/(\d) ?([mu]?)h\b/g, '$1 $2H');
  if (unit === 'wire')
    s = s
      // What is shown behind the figure says it again, and no longer once the figure is changed.
      .replace(/\s*\(\s*AWG ?\d+\s*\)$/i, '')
      .replace(
        /\bAWG ?(\d+)\b|\b(\d+) ?AWG\b/gi,
        (_, after?: string, before?: string) => `(${gaugeDiameter(Number(after ?? before)) * 1e3} mm)`,
      );
  if (unit === 'hertz')
    s = s.replace(/(\d) ?([kK]?)hz\b/gi, (_, d: string, k: string) => `${d} ${k.toLowerCase()}Hz`);
  // As the older meters are marked; 1 G is 1e-4 T.
  if (unit === 'tesla') s = s.replace(/(\d) ?(?:gauss|G)\b/gi, '$1*0.1 mT');
  // As older data sheets give them: 1 Oe is 1000/4π A/m, 1 MGOe 100/4π kJ/m³.
  if (unit === 'remanence')
    s = s.replace(
      /(\d) ?(k?)(?:gauss|G)\b/gi,
      (_, d: string, k: string) => `${d}*${k === '' ? '0.1' : '100'} mT`,
    );
  if (unit === 'coercivity')
    s = s.replace(
      /(\d) ?(k?)Oe\b/gi,
      (_, d: string, k: string) => `${d}*${(k === '' ? 1e3 : 1e6) / (4 * Math.PI)} A/m`,
    );
  if (unit === 'energy')
    s = s.replace(/(\d) ?MGOe\b/gi, `$1*${100 / (4 * Math.PI)} kJ/m^3`).replace(/\bm3\b/g, 'm^3');
  if (unit === 'celsius') s = s.replace(/\s*(?:\bdeg\s*C?|(?<=\d)\s*C|\bcelsius)\b/gi, '');
  if (unit === 'share') s = s.replace(/(?:%|\bper ?cent\b)/g, '');
  if (unit === 'cent') s = s.replace(/(?:¢|\bcents?\b)/gi, '');
  if (unit === 'decibel') s = s.replace(/(?<=\d|\.)\s*dB\b/gi, '');
  if (unit === 'bpm') s = s.replace(/\bbpm\b/gi, '');
  if (unit === 'beat') s = s.replace(/\bbeats?\b/gi, '');
  if (unit === 'knob') s = s.replace(/%/g, '* 0.1');
  const short = SHORT[unit];
  if (short) {
    s = s
      .replace(
        new RegExp(`(^|[^\\w.])(\\d+)([${short.letters}])(\\d+)(?![\\w.])`, 'g'),
        (_, before: string, whole: string, letter: string, part: string) =>
          `${before}${whole}.${part} ${prefixOf(letter)}${short.unit}`,
      )
      .replace(
        new RegExp(`(\\d\\.?) ?([${short.letters}])(?![\\w])`, 'g'),
        (_, digit: string, letter: string) => `${digit} ${prefixOf(letter)}${short.unit}`,
      );
  }
  return s;
}
