import { DividingNetworkError } from "../errors";
import { checkNumber, type NumberRange } from "../errors/internal";
import type { Frequency } from "../quantity";
import { inSi } from "../quantity/internal";

/** The checked arguments of a grid: lowest and highest frequency in Hz, number of points. */
export function gridEnds(
  caller: string,
  from: Frequency,
  to: Frequency,
  points: number,
  lowest: NumberRange,
): [from: number, to: number, points: number] {
  const f0 = inSi(caller, "from", from, "Hz", lowest);
  const f1 = inSi(caller, "to", to, "Hz", { min: 0 });
  if (!(f1 > f0)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "to" must be above "from" (${f0} Hz), got ${f1} Hz`,
      "Give the lower frequency first",
    );
  }
  return [f0, f1, checkNumber(caller, "points", points, { integer: true, min: 2, max: 10_000_000 })];
}
