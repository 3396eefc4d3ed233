/** What to take care of at the bench, on the page and on the sheet alike. */

export interface Caution {
  readonly what: string;
  readonly says: string;
  /** Whether it concerns who builds a pickup, and not only who listens to one. */
  readonly atBench: boolean;
}

export const CAUTIONS: readonly Caution[] = [
  {
    what: 'Strong magnets',
    says: 'keep them away from pacemakers and other implants, cards and watches, and from each other: they chip and pinch.',
    atBench: true,
  },
  { what: 'Soldering', says: 'ventilate, protect eyes and hands, wash after handling lead.', atBench: true },
  {
    what: 'Hot wax',
    says: 'burns and can catch fire: water bath, lid and thermometer, never an open flame, never unattended.',
    atBench: true,
  },
  { what: 'Loud monitoring', says: 'harms hearing for good: start quiet.', atBench: false },
  {
    what: 'Mains-powered amplifiers',
    says: 'hold lethal voltages, also when unplugged: leave them to licensed people.',
    atBench: false,
  },
  {
    what: 'Always',
    says: 'local codes and licensed practice come before anything said here.',
    atBench: true,
  },
];
