// What other floors use and nobody outside needs.
export { describePart } from "./describe-part";
export { coilLaw, resistanceLaw } from "./basic-laws";
export type { Evaluator, Expansion, IdealTransformer, Law, PartBranch, WindingCoupling } from "./law";
export { expandPart } from "./part";
export { checkStock } from "./stock/stock";
export { mainValue } from "./stock/stock-part";
export { checkMotion } from "./driver-motion";
export { movingDriverLaw, type Motional } from "./moving-driver-law";
