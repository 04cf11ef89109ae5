import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions, show } from "../errors/internal";
import { cosDegrees } from "../physics/internal";

/**
 * Exact zonal weights: the share of the sphere that each angle off the axis stands for, dimensionless. Each angle's zone reaches half way
 * to its neighbours, $w = (\cos\theta_{lo} - \cos\theta_{hi})/2$; the first zone begins on the axis and the last ends at the limit.
 *
 * @param angles degrees off the axis, ascending, from 0 to the limit
 * @param options `limit`, degrees: 180 (default) for the whole sphere, 90 for the half before a baffle
 * @returns one weight per angle, dimensionless; their sum is 1 for 180°, 0.5 for 90°
 * @throws DividingNetworkError when angles are missing, out of range or not ascending
 */
export function zonalWeights(angles: ArrayLike<number>, options: { readonly limit?: number | undefined } = {}): Float64Array {
  const { limit = 180 } = checkOptions("zonalWeights", options, ["limit"]);
  checkNumber("zonalWeights", "limit", limit, { above: 0, max: 180, unit: "degrees" });
  const n = (Array.isArray(angles) || ArrayBuffer.isView(angles) ? angles : []).length;
  if (n === 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `zonalWeights: "angles" must be an array of at least one angle in degrees, got ${show(angles)}`,
    );
  for (let i = 0; i < n; i++) checkNumber("zonalWeights", `angles[${i}]`, angles[i], { min: 0, max: limit, unit: "degrees" });
  const weights = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    if (i > 0 && angles[i]! <= angles[i - 1]!)
      throw new DividingNetworkError(
        "invalid-argument",
        `zonalWeights: "angles" must be strictly ascending, got ${angles[i]}° after ${angles[i - 1]}°`,
      );
    const low = i === 0 ? 0 : (angles[i - 1]! + angles[i]!) / 2;
    const high = i === n - 1 ? limit : (angles[i]! + angles[i + 1]!) / 2;
    weights[i] = (cosDegrees(low) - cosDegrees(high)) / 2;
  }
  return weights;
}
