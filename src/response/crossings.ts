import { checkNumber, checkOptions } from "../errors/internal";
import type { Frequency } from "../quantity";
import type { FrequencyResponse } from "./sampled-function";
import { magnitudeCurve, refined, turnsOf } from "./magnitude-curve";

/** A place where a level is crossed. */
export interface Crossing {
  /** Hz. */
  readonly frequency: number;
  /** Whether the level of the response rises or falls there, going up in frequency. */
  readonly direction: "rising" | "falling";
}

/**
 * The frequencies (Hz) at which the level of a response crosses a level in dB, on the curve that `resample` and `valueAt` lay through
 * the samples. Where it only touches the level, or begins or ends on it, it doesn't cross.
 *
 * @param response any sampled response
 * @param levelDb the level to be crossed, dB re `reference`
 * @param options the band, `from` and `to` in Hz or text with its unit, default all samples above 0 Hz; `reference` in the unit of the
 * response, above 0, default 1
 * @returns each crossing in ascending order of frequency, with its direction
 * @throws DividingNetworkError `outside-band`, `phase-step` where no value between samples is known, `invalid-response`,
 * `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { butterworth, logGrid, lowPass, responseOf } from "dividing-network";
 * import { crossings } from "dividing-network/response";
 *
 * const way = responseOf(lowPass(butterworth(4), "2 kHz"), logGrid("20 Hz", "20 kHz", 481));
 * crossings(way, -3.0103)[0]?.frequency; // 2000.0
 * ```
 */
export function crossings(
  response: FrequencyResponse,
  levelDb: number,
  options: { readonly from?: Frequency | undefined; readonly to?: Frequency | undefined; readonly reference?: number | undefined } = {},
): readonly Crossing[] {
  const caller = "crossings";
  const { reference = 1, ...band } = checkOptions(caller, options, ["from", "to", "reference"]);
  const level =
    checkNumber(caller, "levelDb", levelDb, { unit: "dB" }) + 20 * Math.log10(checkNumber(caller, "reference", reference, { above: 0 }));
  const curve = magnitudeCurve(caller, response, band);
  // Between two neighbouring turns the curve runs one way, and meets a level once at most.
  const turns = turnsOf(curve.db, 1e-9).map(({ kind, index }) => refined(curve, index, kind === "minimum" ? 1 : -1));
  const places = [curve.frequencies[0]!, ...turns, curve.frequencies.at(-1)!];
  const side = (frequency: number): number => Math.sign(curve.dbAt(frequency) - level);
  const sides = places.map(side);
  const found: Crossing[] = [];
  for (let k = 0; k + 1 < places.length; k++) {
    if (sides[k]! * sides[k + 1]! >= 0) continue;
    const frequency = between(places[k]!, places[k + 1]!, sides[k]!, side);
    found.push(Object.freeze({ frequency, direction: sides[k]! < 0 ? "rising" : "falling" }));
  }
  return Object.freeze(found);
}

/** Hz: where the side changes, by halves of the interval's logarithm. */
function between(low: number, high: number, first: number, side: (frequency: number) => number): number {
  let [a, b] = [low, high];
  for (let step = 0; step < 200; step++) {
    const middle = Math.sqrt(a) * Math.sqrt(b);
    if (!(middle > a && middle < b)) break;
    if (side(middle) === first) a = middle;
    else b = middle;
  }
  return b;
}
