import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import type { Frequency } from "../quantity";
import type { FrequencyResponse } from "./sampled-function";
import { magnitudeCurve, refined, turnsOf } from "./magnitude-curve";

/** A place where a magnitude is least or greatest. */
export interface Extreme {
  /** Hz. */
  readonly frequency: number;
  /** In the unit of the response. */
  readonly magnitude: number;
}

/** Where a magnitude turns in a band, and its bounds there. */
export interface Extremes {
  /** Where it turns upwards, in ascending order of frequency. */
  readonly minima: readonly Extreme[];
  /** Where it turns downwards, in ascending order of frequency. */
  readonly maxima: readonly Extreme[];
  /** The least value of the band, its edges included. */
  readonly lowest: Extreme;
  /** The greatest value of the band, its edges included. */
  readonly highest: Extreme;
}

/**
 * The minima and maxima of a magnitude in a band, in the unit of the response, each with its frequency: between samples too, on the
 * curve that `resample` and `valueAt` lay through them.
 *
 * An edge of the band is no minimum and no maximum, for what is beyond it isn't asked; `lowest` and `highest` take it in. A turn
 * counts when the curve leaves it by more than `prominenceDb` on both sides.
 *
 * Validity: magnitudes as exact as `resample`; frequencies to some 1e-8 of the curve's own. From |Z| at 48 points an octave a minimum's
 * frequency is right to about 1e-4.
 *
 * @param response any sampled response
 * @param options the band, `from` and `to` in Hz or text with its unit, default all samples above 0 Hz; `prominenceDb` in dB, default 1e-6
 * @returns minima and maxima, least and greatest value: Hz, and the unit of the response
 * @throws DividingNetworkError `outside-band`, `phase-step` where no value between samples is known, `invalid-response`,
 * `invalid-argument`, `invalid-quantity`, `unknown-option`, `overflow`
 * @example
 * ```ts
 * import { frequencyResponse } from "dividing-network";
 * import { extremes } from "dividing-network/response";
 *
 * const impedance = frequencyResponse([100, 200, 400, 800, 1600], [8, 6, 5, 6, 8], [0, 0, 0, 0, 0]);
 * extremes(impedance, { from: "150 Hz", to: "1 kHz" }).minima; // [{ frequency: 400, magnitude: 5 }]
 * ```
 */
export function extremes(
  response: FrequencyResponse,
  options: { readonly from?: Frequency | undefined; readonly to?: Frequency | undefined; readonly prominenceDb?: number | undefined } = {},
): Extremes {
  const caller = "extremes";
  const { prominenceDb = 1e-6, ...band } = checkOptions(caller, options, ["from", "to", "prominenceDb"]);
  checkNumber(caller, "prominenceDb", prominenceDb, { min: 1e-9, max: 1000, unit: "dB" });
  const curve = magnitudeCurve(caller, response, band);
  const at = (index: number, sign: 1 | -1): Extreme => {
    const frequency = refined(curve, index, sign);
    const magnitude = curve.magnitudeAt(frequency);
    if (!Number.isFinite(magnitude))
      throw new DividingNetworkError(
        "overflow",
        `${caller}: the magnitude must be within what a number can hold, got more at ${frequency} Hz`,
        "Scale the response",
      );
    return Object.freeze({ frequency, magnitude });
  };
  const turns = turnsOf(curve.db, prominenceDb);
  const { db } = curve;
  const best = (sign: 1 | -1): Extreme =>
    at(
      db.reduce((found, value, i) => (sign * value < sign * db[found]! ? i : found), 0),
      sign,
    );
  return Object.freeze({
    minima: Object.freeze(turns.filter(({ kind }) => kind === "minimum").map(({ index }) => at(index, 1))),
    maxima: Object.freeze(turns.filter(({ kind }) => kind === "maximum").map(({ index }) => at(index, -1))),
    lowest: best(1),
    highest: best(-1),
  });
}
