/** The places further down on the sheet, in a file of their own. */
export { default as ToBench } from './benchSheet/ToBench.svelte';
export { blocksBelow } from './across/blocksBelow.ts';
export { BlockMeasures } from './section/blockMeasures.ts';
export { default as Close } from './close/Close.svelte';
export { default as Earlier } from './title/Earlier.svelte';
export { default as Files } from './files/Files.svelte';
export { default as FirstWalk } from './walk/FirstWalk.svelte';
export { default as Measured } from './measured/Measured.svelte';
export { default as MeasuredLine } from './measured/MeasuredLine.svelte';
export { default as Mods } from './mods/Mods.svelte';
export { default as Parts } from './parts/Parts.svelte';
export { default as Plan } from './plan/Plan.svelte';
export { default as Space } from './space/Space.svelte';
export { default as Strings } from './strings/Strings.svelte';
export { default as Trust } from './title/Trust.svelte';
export { default as Trials } from './trials/Trials.svelte';
