/** Magnetic constant µ0, H/m. Source: CODATA 2018 recommended value [CODATA2018]. */
export const MU0 = 1.25663706212e-6;
