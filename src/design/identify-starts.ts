import type { Unknown } from "./identify-unknowns";

/** Starts beside the drawing. */
const MANY = 12;
/** ln of the factor, 6, within which values are drawn. */
const SPREAD = 1.8;

/** Logarithms of values to begin from: as drawn, and spread around that by a fixed rule, the same at every call. */
export function startsAround(unknowns: readonly Unknown[]): readonly Float64Array[] {
  let seed = 12345;
  const next = () => {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    return (seed / 2 ** 32) * 2 - 1;
  };
  const drawn = Float64Array.from(unknowns, (unknown) => Math.log(unknown.drawn));
  return [drawn, ...Array.from({ length: MANY }, () => drawn.map((value) => value + SPREAD * next()))];
}
