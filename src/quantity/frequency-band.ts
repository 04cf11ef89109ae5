import { DividingNetworkError } from "../errors";
import { checkOptions, type NumberRange } from "../errors/internal";
import { inSi } from "./in-si";
import type { Frequency } from "./quantity-types";

/** A band of frequencies, as it is given. */
export interface FrequencyBand {
  /** Lower edge, Hz. */
  readonly from: Frequency;
  /** Upper edge, Hz, above `from`. */
  readonly to: Frequency;
}

/**
 * Checks an argument that is a band, `{ from, to }` in Hz or text with its unit, and gives it in Hz.
 *
 * @param caller name of the public function, for the message
 * @param argument name of the argument, for the message
 * @param value what was given
 * @param range bounds of either edge, Hz; above 0 Hz unless stated
 * @returns both edges in Hz, the upper above the lower
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 */
export function bandInSi(
  caller: string,
  argument: string,
  value: unknown,
  range: NumberRange = { above: 0 },
): { readonly from: number; readonly to: number } {
  if (typeof value === "number" || typeof value === "string" || Array.isArray(value)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be a band { from, to } in Hz, got ${typeof value === "object" ? "an array" : JSON.stringify(value)}`,
      `Write { from: "300 Hz", to: "3 kHz" }`,
    );
  }
  const given = checkOptions(`${caller}: ${argument}`, value as FrequencyBand, ["from", "to"]);
  const from = inSi(caller, `${argument}.from`, given.from, "Hz", range);
  const to = inSi(caller, `${argument}.to`, given.to, "Hz", range);
  if (!(to > from))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}.to" must be above "${argument}.from" (${from} Hz), got ${to} Hz`,
    );
  return { from, to };
}
