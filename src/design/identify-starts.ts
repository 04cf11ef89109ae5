import type { Unknown } from "./identify-unknowns";

/** Starts beside the drawing. */
const MANY = 12;
/** On each value's scale: the logarithm of a factor of 6; the factor of a coupling goes anywhere. */
const SPREAD = 1.8;

/** Places on the scales of values to begin from: as drawn, and spread around that by a fixed rule, the same at every call. */
export function startsAround(unknowns: readonly Unknown[]): readonly Float64Array[] {
  let seed = 12345;
  const next = () => {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    return (seed / 2 ** 32) * 2 - 1;
  };
  const drawn = Float64Array.from(unknowns, (unknown) => unknown.scale.of(unknown.drawn));
  return [drawn, ...Array.from({ length: MANY }, () => drawn.map((value) => value + SPREAD * next()))];
}
