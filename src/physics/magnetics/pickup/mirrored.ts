/** Whether magnets and steel let a mirror halve what is to be solved. */
import type { BodyMaterial } from '../materials/bodyMaterial.ts';
import type { MagnetMaterial } from '../materials/materials.ts';
import type { Representatives } from '../bodies/mirror.ts';

/**
 * Whether images are of one material, and all magnets' images are turned alike: then their charges are equal on images, or opposite on
 * all of them. Magnets of both kinds need both halves, and steel and rods on their curves the whole.
 */
export function mirrorsMaterials(
  { body: standsFor }: Representatives,
  materials: readonly BodyMaterial[],
): boolean {
  const senses = new Set<number>();
  const alike = materials.every((material, b) => {
    const image = materials[standsFor[b]!]!;
    if (material.kind === 'magnet' && image.kind === 'magnet') {
      senses.add((material.axis === 'y' ? -1 : 1) * material.sign * image.sign);
      return (
        material.axis === image.axis &&
        material.strength === image.strength &&
        isSame(material.material, image.material)
      );
    }
    return material.kind === 'linear' && image.kind === 'linear' && material.law.mu === image.law.mu;
  });
  return alike && senses.size < 2;
}

const isSame = (one: MagnetMaterial, other: MagnetMaterial): boolean =>
  one === other || JSON.stringify(one) === JSON.stringify(other);
