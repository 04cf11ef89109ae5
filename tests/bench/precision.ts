// How exact the default path is, in words for the record; the test in tests/network/precision.test.ts bounds the same numbers.
import { median, preciseErrors, worst } from "../network/precise-set";

/** One line for each family of networks and each quantity: median and worst relative error against 50 digits. */
export async function precisionLines(): Promise<string[]> {
  return preciseErrors().map(
    ({ family, quantity, errors }) =>
      `${family}: ${quantity}, median ${median(errors).toExponential(1)}, worst ${worst(errors).toExponential(1)} (of ${errors.length})`,
  );
}
