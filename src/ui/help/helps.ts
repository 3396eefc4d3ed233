/** What the words of the sheet mean: what it is, how it is computed, from what. Loaded when the first of them is asked for. */

export type HelpKey =
  | 'reach'
  | 'widths'
  | 'dip'
  | 'gap'
  | 'sides'
  | 'field'
  | 'level'
  | 'phase'
  | 'keys'
  | 'coilOff'
  | 'coilSteel'
  | 'dropBuild'
  | 'afresh'
  | 'close'
  | 'heard'
  | 'spread'
  | 'matters'
  | 'balance'
  | 'search';

/** Two sentences or three, each to be read in a glance. */
export const HELPS: Readonly<Record<HelpKey, string>> = {
  reach:
    'Reach: how much of the string the pickup hears; its width is that of the middle part that hears three quarters (by hand: of the bell at half its height). Computed from coil and magnetised string by reciprocity (Brown 1962; Lotton et al. 2017). The focus is what you take hold of: the two edges of the bell.',
  widths:
    'Field: full width at half maximum of the upright part of B, along the string at its height, and through the middle of its pole 1 mm above the tip, where filings and film show it. From the same charges as everything else; within 1.5 % of finite elements. The reach is another thing: it comes from the field twice, from the magnet’s and from the coil’s.',
  dip: 'The dip: beside a pole the string is magnetised along its length, above the pole across it. A thin string takes up far more along than across, so right above the pole it is heard less. Computed with core and wrap (Lotton et al. 2017; wraps by finite elements).',
  gap: 'Gap: from the face of the pole to the underside of the open string above it, in every drawing. Moving it moves the whole pickup, bass and treble side together.',
  sides:
    'Gaps of the two sides: from the plane that pole heights are counted from to the underside of the outermost open string. A pole that stands 0.5 mm high has a gap 0.5 mm less.',
  field:
    'Field: flux density at the middle of the string above the pole, where it is strongest. Boundary elements; magnets vary by 10 % from piece to piece. A probe’s element sits 0.5 to 1 mm inside its tip.',
  level:
    'Level: what the open string gives with nothing connected when it moves to and fro by 1 mm (peak) above the whole reach. The size of the reach times the speed of that movement at the open note.',
  phase:
    'In phase: the two coils’ signals add, as they are wound and magnetised here. Out of phase: one of them is turned round; they subtract, and what both hear alike is lost.',
  keys: 'While they are on, a single press of 1 to 6 or a to f turns to that trial, also while it sounds. Turn them off if you type or dictate with single letters.',
  coilOff:
    'Coil, bobbin, cover and base plate come off; magnets and steel lie on the bench by themselves, with their field and pull, and nothing is heard of them. Put on again, the coil is wound as it was.',
  coilSteel:
    'What a coil finds in its steel at small alternating fields, apart from what the magnet finds: handbooks give one steel’s initial µ up to forty times apart, and it falls with frequency. Relaxing: cold-rolled 1018 goes from about 280 to about 90 between 1 Hz and 100 kHz, half of it by about 5 kHz (Bowler 2006). An inductance that was read tells which µ is yours: Expected and read.',
  dropBuild:
    'Magnets, poles and winding leave the sheet. The reach and the coil’s figures stay as they were last computed, as figures that you set by hand. Undo brings the build back.',
  afresh:
    'Takes poles and magnets from a common build. Gaps, polarity, pitch, cover and, where it has room, the winding stay as they are; what differs from before is said.',
  heard:
    'Of every note of the phrase, its first 0.2 s and the rest: how much more it excites the ear’s filters than the other does (rounded exponentials one ERB wide, Moore & Glasberg), at 70 dB SPL and equal loudness; the largest difference of all. A resonance that is just heard to have moved (Gagné & Zurek 1988) makes 1.1 to 1.6 dB.',
  spread:
    'Each trial is made two hundred times: every figure normally distributed, 19 in 20 within what stands here, the same chance every time, spread evenly (Latin hypercube). Coils, pots, capacitors, the magnets and the gap of a pickup, the cable and the place of the pluck vary each by itself. Two of your own: what is heard, at equal loudness, of one make beside another of the same trial.',
  matters:
    'Every dimension and part is moved by what you can’t hold of it, up and down, and what is drawn, ground or wound by 0.1 mm, the place by 1 mm; the bar is half of what lies between. Heard: the largest difference of the ear’s excitation of any note, at equal loudness. Balance: the string that gains or loses most against the mean. Pull: the open string that it shifts most.',
  balance:
    'Strum: all open strings plucked alike, by their loudness (K-weighted, first 0.4 s) through pots and cable with this pickup alone. Movement: the open circuit for the same movement. Each pole is moved by what it did to its own string the last time, each way solved anew, and the strings’ mean is kept where the poles reach. Of two rows the screws are turned.',
  search:
    'Every grade, diameter and length is solved once at a few gaps, and for each all wires are gone through, turns and gap by least squares; the six that come nearest are then solved as any sheet. One step of missing is 1 % of a resonance, 2 % of R and L, 5 % of Q, 3 % of reach, 0.5 dB or cents. Reached is what misses nothing by more. Off the guitar the resonance is that of the bench sheet, up to 100 kHz; all else is as it is in the guitar.',
  close:
    'Each note’s first partial is shifted by the magnet’s pull along and across the pickup (Rayleigh’s perturbation; Feinberg). Stopped, a string is shorter, moves more or less over the pickup, and lies lower: from the saddle straight to the fret, with 0.5 mm over the frets at the nut and the action given here; relief of the neck is left out.',
};
