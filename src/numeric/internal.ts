// What other floors use and nobody outside needs.
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
