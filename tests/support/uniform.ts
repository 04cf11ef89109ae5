import fc from "fast-check";

/**
 * Numbers spread evenly over an interval. `fc.double` draws evenly over the representations of floating-point numbers instead,
 * so that an interval that holds 0 is almost always sampled next to 0.
 */
export function uniform(min: number, max: number): fc.Arbitrary<number> {
  const steps = 2 ** 30;
  return fc.integer({ min: 0, max: steps }).map((step) => min + ((max - min) * step) / steps);
}
