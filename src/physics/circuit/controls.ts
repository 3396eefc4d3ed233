import type { Controls, TrebleBleed } from '../../sheet/sheet.ts';
import { NetworkBuilder } from './builder.ts';
import { potLegs } from './taper.ts';

/**
 * One set of controls between a hot end and a wiper: the volume pot from hot to ground with the wiper as its outlet,
 * the tone pot as a variable resistor with its capacitor from hot to ground, the treble bleed from hot to wiper.
 * `suffix` keeps the names of several sets apart.
 *
 * @param hot wiper nodes, by index
 */
export function addControls(
  builder: NetworkBuilder,
  controls: Controls,
  hot: number,
  wiper: number,
  suffix: string,
): void {
  const { ground } = NetworkBuilder;
  const { volume, tone, bleed } = controls;
  const legs = potLegs(volume);
  builder.resistor(`volume_upper${suffix}`, hot, wiper, legs.upper);
  builder.resistor(`volume_lower${suffix}`, wiper, ground, legs.lower);
  if (tone) {
    const joint = builder.node(`tone${suffix}`);
    builder.resistor(`tone${suffix}`, hot, joint, potLegs(tone).lower);
    builder.capacitor(`tone${suffix}`, joint, ground, tone.capacitance);
  }
  if (bleed) addBleed(builder, bleed, hot, wiper, suffix);
}

function addBleed(
  builder: NetworkBuilder,
  bleed: TrebleBleed,
  hot: number,
  wiper: number,
  suffix: string,
): void {
  const { capacitance, resistance, arrangement } = bleed;
  const name = `bleed${suffix}`;
  if (resistance === null) {
    builder.capacitor(name, hot, wiper, capacitance);
  } else if (arrangement === 'parallel') {
    builder.capacitor(name, hot, wiper, capacitance);
    builder.resistor(name, hot, wiper, resistance);
  } else if (capacitance > 0) {
    const joint = builder.node(name);
    builder.capacitor(name, hot, joint, capacitance);
    builder.resistor(name, joint, wiper, resistance);
  }
}
