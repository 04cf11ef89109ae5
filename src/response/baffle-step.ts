import { checkNumber, checkOptions } from "../errors";
import { inSi, type Length } from "../quantity";
import { checkedGrid } from "./checked-grid";
import { freezeResponse, type FrequencyResponse } from "./frequency-response";

/**
 * The step from full to half space as a model, dimensionless: a first-order shelf from ½ (−6 dB, sound goes all around the
 * cabinet) to 1 (the baffle fills the half space), −3 dB at f₃ = 0.335 c / width.
 *
 * $$H = \frac12 \cdot \frac{1 + jf/f_z}{1 + jf/(2 f_z)}, \qquad f_z = f_3/\sqrt2$$
 *
 * The model has no ripple; the edges of a real baffle add some ±2 dB from f₃ on. It is marked as a model throughout.
 *
 * @param frequencies Hz, n of them, ascending
 * @param options `width` of the baffle in m or text with its unit; `speedOfSound` in m/s, default 343.2
 * @returns n dimensionless values: multiply a half-space (near-field) response by it to get what a free-standing cabinet radiates
 * @throws DividingNetworkError `invalid-argument`
 * Validity: level to about ±2 dB on the axis of a source in the middle of the baffle. The factor 0.335 (115 m/s over the width) is a
 * rule of thumb, from memory.
 * @example
 * ```ts
 * import { baffleStep, levelDb } from "dividing-network/response";
 *
 * levelDb(baffleStep([0, 547.5], { width: "210 mm" })); // [-6.0206, -3.01]
 * ```
 */
export function baffleStep(frequencies: ArrayLike<number>, options: { readonly width: Length; readonly speedOfSound?: number }): FrequencyResponse {
  const grid = checkedGrid("baffleStep", frequencies);
  const { width, speedOfSound = 343.2 } = checkOptions("baffleStep", options, ["width", "speedOfSound"]);
  const w = inSi("baffleStep", "width", width, "m", { above: 0, max: 100 });
  const zero = (0.335 * checkNumber("baffleStep", "speedOfSound", speedOfSound, { above: 0, unit: "m/s" })) / w / Math.SQRT2;
  // ½ (1 + jx)/(1 + jx/2) = ½ (1 + x²/2 + jx/2)/(1 + x²/4)
  const re = grid.map((f) => (0.5 + (f / zero) ** 2 / 4) / (1 + (f / zero) ** 2 / 4));
  const im = grid.map((f) => f / zero / 4 / (1 + (f / zero) ** 2 / 4));
  return freezeResponse(grid, re, im, [Object.freeze({ kind: "model", note: `baffle step of a ${w} m wide baffle: first-order shelf, no edge ripple` })]);
}
