/** How large what answers has to be, px: more under a finger than under a mouse (paper.css, `--touch`). */
import { MediaQuery } from 'svelte/reactivity';

const finger = new MediaQuery('(max-width: 700px), (pointer: coarse)');

export const touch = (): number => (finger.current ? 44 : 24);
