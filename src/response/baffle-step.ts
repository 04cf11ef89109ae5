import { checkOptions } from "../errors/internal";
import type { Air } from "../physics";
import { checkAir } from "../physics/internal";
import type { Length } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkedGrid } from "./checked-grid";
import { freezeResponse } from "./frequency-response";
import type { FrequencyResponse } from "./sampled-function";

/**
 * The step from full to half space as a model, dimensionless: a first-order shelf from ½ (−6 dB, sound goes all around the
 * cabinet) to 1 (the baffle fills the half space), −3 dB at f₃ = 0.335 c / width.
 *
 * $$H = \frac12 \cdot \frac{1 + jf/f_z}{1 + jf/(2 f_z)}, \qquad f_z = f_3/\sqrt2$$
 *
 * The model has no ripple; the edges of a real baffle add some ±2 dB from f₃ on. It is marked as a model throughout.
 *
 * @param frequencies Hz, n of them, ascending
 * @param options `width` of the baffle in m or text with its unit; `air`, default dry at 20 °C: °C, % and Pa, or m/s and kg/m³
 * @returns n dimensionless values: multiply a half-space (near-field) response by it to get what a free-standing cabinet radiates
 * @throws DividingNetworkError `invalid-argument`
 * Validity: level to about ±2 dB on the axis of a source in the middle of the baffle. The factor 0.335 (115 m/s over the width) is a
 * rule of thumb, from memory.
 * @example
 * ```ts
 * import { baffleStepResponse, levelDb } from "dividing-network/response";
 *
 * levelDb(baffleStepResponse([0, 547.5], { width: "210 mm" })); // [-6.0206, -3.01]
 * ```
 */
export function baffleStepResponse(
  frequencies: ArrayLike<number>,
  options: { readonly width: Length; readonly air?: Air | undefined },
): FrequencyResponse {
  const grid = checkedGrid("baffleStepResponse", frequencies);
  const { width, air } = checkOptions("baffleStepResponse", options, ["width", "air"]);
  const w = inSi("baffleStepResponse", "width", width, "m", { above: 0, max: 100 });
  const zero = (0.335 * checkAir("baffleStepResponse", air).speedOfSound) / w / Math.SQRT2;
  // ½ (1 + jx)/(1 + jx/2) = ½ (1 + x²/2 + jx/2)/(1 + x²/4)
  // With y = 1/(1 + x²/4) that is 1 − y/2 and xy/4, finite for every x.
  const share = grid.map((f) => 1 / (1 + Math.min(f / zero, 1e150) ** 2 / 4));
  const re = share.map((y) => 1 - y / 2);
  const im = share.map((y, i) => (Math.min(grid[i]! / zero, 1e150) * y) / 4);
  return freezeResponse(grid, re, im, [
    Object.freeze({ kind: "model", note: `baffle step of a ${w} m wide baffle: first-order shelf, no edge ripple` }),
  ]);
}
