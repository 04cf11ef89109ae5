// What other floors use and nobody outside needs.
export { coilLaw, resistanceLaw } from "./basic-laws";
export {
  apartOf,
  blocksDirectCurrent,
  checkPart,
  describe,
  describePart,
  driverModel,
  expandPart,
  isCoil,
  isCoupling,
  isDriver,
  leavesResistanceOut,
  linkOf,
  mainOf,
  measuredImpedance,
  ratingOf,
  sameKind,
  SCATTERING,
} from "./describe";
export { jsonKinds, jsonValues, partFromValues, type JsonKind } from "./json-kinds";
export type { PartField, PartKind, PartSymbol } from "./kind";
export type { CircuitPiece, Evaluator, Expansion, IdealTransformer, Law, PartBranch, ValueLimit, WindingCoupling } from "./law";
export { combined } from "./stock/combination";
export { checkStock } from "./stock/stock";
export { isStockKind, lossAtOneKilohertz, mainValue, stockedKind } from "./stock/stock-part";
export { checkMotion } from "./driver-motion";
export { movingDriverLaw, type Motional } from "./moving-driver-law";
export type { DriverJSON, PartJSON } from "./part-json";
export { padSeries, padShunt } from "./pad-resistances";
export { coupled } from "./winding/least-coupling";
export { checkedWinding } from "./winding/winding";
