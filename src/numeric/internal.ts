// What other floors use and nobody outside needs.
export { addTo, product, withoutMinusZero, zeros } from "./complex-arrays";
export { halfWindow } from "./window";
export { nonnegativeFit } from "./nonnegative-fit";
export { findInterval } from "./find-interval";
export { localSlopes } from "./local-slopes";
export { log10Modulus } from "./log10-modulus";
export { neighbourProducts } from "./neighbour-products";
export { modulus } from "./modulus";
export { cubicValue, monotoneCubic, type CubicCurve } from "./monotone-cubic";
export { monotoneSlopes } from "./monotone-slopes";
export { reportProgress } from "./long-work";
export { agmSums, type AgmSums } from "./agm";
export { kelvinRatio } from "./kelvin-ratio";
export { symmetricEigen } from "./symmetric-eigen";
export { normalCdf } from "./normal-cdf";
export { choleskyFactor } from "./cholesky";
export { LinearSystem } from "./linear-system";
export { solveLinear } from "./solve-linear";
export { eliminateSmall } from "./eliminate-small";
export { percentile } from "./percentile";
export { seededRandom, type Random } from "./random";
export { unionFind, type Groups } from "./union-find";
export {
  fromPrecise,
  overComplex,
  overPrecise,
  preciseOne,
  rootComplex,
  timesComplex,
  timesPrecise,
  toPrecise,
  type Precise,
  type PreciseComplex,
} from "./precise/precise";
export {
  addPolynomials,
  multiplyPolynomials,
  polynomialFromRoots,
  preciseRoots,
  toPreciseRoots,
  type PrecisePolynomial,
} from "./precise/precise-polynomial";
export { expandAtInfinity, parityPart, type Quotient } from "./precise/continued-fraction";
export { wasm, type Code, type WasmFunction } from "./wasm-module";
export { WASM_PAGE, wasmInstance } from "./wasm-instance";
