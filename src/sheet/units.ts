/** The door to units: their table, how a figure is shown, and how a typed one is read. */
export { formatFigure, sayFigure } from './format.ts';
export { loadReader, readFigure, type Reading } from './reading.ts';
export { UNITS, type ShownUnit, type Unit, type UnitKey } from './unitTable.ts';
