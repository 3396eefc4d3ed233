/** CSS px of a metre at 1 : 1: a reference pixel of the open web standards, of which 96 make an inch. */
export const PX_PER_METRE = 96 / 0.0254;
