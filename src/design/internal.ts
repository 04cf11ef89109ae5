export { chosenInPieces, pieceLooker, type LookedPiece } from "./values-in-pieces";
export { CHOOSE_VALUES_OPTIONS, valuesPlan, type ValuesPlan } from "./values-plan";
export { carriedOut, type Hands } from "./redesign-course";
export { redesignPlan, type Looked, type RedesignPlan } from "./redesign-plan";
export { REDESIGN_OPTIONS, valuesOfCoils, type PlainOptions } from "./redesign-request";
export type { CoilLaw } from "./series-parts";
export type { Sketch } from "./combinations";
