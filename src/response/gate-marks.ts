import { fewDigits, hertz, inSi } from "../quantity/internal";
import type { Time } from "../quantity";
import type { Mark } from "./mark";

/**
 * The two marks that a gate of T seconds leaves on a frequency response: below 1/T Hz no data, from 1/T to 3/T Hz coarse.
 *
 * A time window of length T cannot tell frequencies apart that are closer than 1/T.
 *
 * @param duration gate T in s or text with its unit, above 0
 * @returns two marks, limits in Hz
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { gateMarks } from "dividing-network/response";
 *
 * gateMarks("4 ms")[0].to; // 250
 * ```
 */
export function gateMarks(duration: Time): readonly [Mark, Mark] {
  const t = inSi("gateMarks", "duration", duration, "s", { above: 1e-9, max: 1e6 });
  const ms = `${fewDigits(t * 1000)} ms`;
  return Object.freeze([
    Object.freeze({ kind: "no-data", to: 1 / t, note: `no data below ${hertz(1 / t)}: the gate is ${ms} long` } as const),
    Object.freeze({
      kind: "coarse",
      from: 1 / t,
      to: 3 / t,
      note: `coarse from ${hertz(1 / t)} to ${hertz(3 / t)}: the gate is ${ms} long`,
    } as const),
  ]);
}
