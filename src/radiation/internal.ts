// What other floors use and nobody outside needs.
export { zonalWeights } from "./zonal-weights";
