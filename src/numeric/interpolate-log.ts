import { DividingNetworkError } from "../errors";
import { checkNumbers, show } from "../errors/internal";
import { findInterval } from "./find-interval";
import { cubicValue, monotoneCubic } from "./monotone-cubic";

/**
 * Real values between samples, on a logarithmic frequency axis, in the unit of the samples: a monotone cubic in ln f,
 * exact at the samples, never outside them.
 *
 * @param frequencies Hz, above 0, strictly ascending, length n ≥ 2
 * @param values finite, any unit, length n
 * @param targets Hz, in any order, each within the samples' band; shape m
 * @returns m values
 * @throws DividingNetworkError `invalid-argument` for samples that are no such axis, `outside-band` for a target outside
 * @example
 * ```ts
 * import { interpolateLog } from "dividing-network/numeric";
 *
 * interpolateLog([100, 200, 400], [-6, -12, -18], [200, 282.84]); // [-12, -15.00]
 * ```
 */
export function interpolateLog(frequencies: ArrayLike<number>, values: ArrayLike<number>, targets: ArrayLike<number>): Float64Array {
  const caller = "interpolateLog";
  const n = checkNumbers(caller, "frequencies", frequencies, 2).length;
  checkNumbers(caller, "values", values, 2);
  const listed: unknown = targets;
  if (!Array.isArray(listed) && !ArrayBuffer.isView(listed))
    throw new DividingNetworkError("invalid-argument", `${caller}: "targets" must be an array of frequencies in Hz, got ${show(targets)}`);
  if (targets.length > 2 ** 27)
    throw new DividingNetworkError(
      "too-large",
      `${caller}: "targets" must have at most ${2 ** 27} frequencies, got ${targets.length}`,
      "Ask for fewer at a time",
    );
  if (!(n >= 2 && values.length === n)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `interpolateLog: "frequencies" and "values" must have one length of at least 2, got ${n} and ${values.length}`,
    );
  }
  const x = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const f = frequencies[i]!;
    x[i] = Math.log(f);
    if (!(Number.isFinite(f) && f > 0 && (i === 0 || x[i]! > x[i - 1]!) && Number.isFinite(values[i]))) {
      throw new DividingNetworkError(
        "invalid-argument",
        `interpolateLog: "frequencies" must be above 0 Hz and strictly ascending with finite values, got ${show(values[i])} at ${show(f)} Hz (index ${i})`,
      );
    }
  }
  const curve = monotoneCubic(x, values);
  const result = new Float64Array(targets.length);
  for (let k = 0; k < result.length; k++) {
    const f = targets[k]!;
    if (!(typeof f === "number" && f >= frequencies[0]! && f <= frequencies[n - 1]!)) {
      throw new DividingNetworkError(
        "outside-band",
        `interpolateLog: "targets" must lie between ${frequencies[0]} Hz and ${frequencies[n - 1]} Hz, got ${show(f)}`,
        "Ask within the band of the samples: nothing is extrapolated",
      );
    }
    const i = findInterval(frequencies, f);
    result[k] = f === frequencies[i] ? values[i]! : f === frequencies[i + 1] ? values[i + 1]! : cubicValue(curve, i, Math.log(f));
  }
  return result;
}
