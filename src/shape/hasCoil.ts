/** Magnets and steel on the bench without a coil. */

/** 'off': no coil, no bobbin, no cover and no base plate; absent: they are there. */
interface Coiled {
  readonly coils?: 'on' | 'off';
}

/** Whether there is a coil about a pickup's poles; one without a build has one. */
export const hasCoil = (build: Coiled | null | undefined): boolean => build?.coils !== 'off';

/** Whether the selector lets a pickup through that has a coil to be heard. */
export const isHeard = ({
  sounds,
  build,
}: {
  readonly sounds: boolean;
  readonly build: Coiled | null;
}): boolean => sounds && hasCoil(build);
