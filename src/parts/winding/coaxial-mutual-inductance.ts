import { DividingNetworkError } from "../../errors";
import { checkOptions } from "../../errors/internal";
import { VACUUM_PERMEABILITY } from "../../physics";
import type { Length } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { positiveResults } from "../positive-results";
import { loopMutual } from "./loop";

/**
 * Mutual inductance of two coaxial circles of thin wire, H, after Maxwell (1873):
 * $M = \mu_0\sqrt{ab}\left[\left(\frac{2}{k} - k\right)K(k) - \frac{2}{k}E(k)\right]$ with $k^2 = \frac{4ab}{(a+b)^2 + d^2}$. Computed without its
 * cancellation, so that it is right to about 1e-15 from touching circles to $\mu_0\pi a^2b^2/(2d^3)$ far apart.
 *
 * @param options `radiusA` and `radiusB` in m, above 0 m; `distance` of their planes in m, of either sign
 * @returns mutual inductance in H, positive for currents in the same sense
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `overflow` when the result leaves what a number can hold
 * @example
 * ```ts
 * import { coaxialMutualInductance } from "dividing-network/parts";
 *
 * coaxialMutualInductance({ radiusA: "25 cm", radiusB: "25 cm", distance: "10 cm" }); // 3.376847e-7 H
 * ```
 */
export function coaxialMutualInductance(options: {
  readonly radiusA: Length;
  readonly radiusB: Length;
  readonly distance: Length;
}): number {
  const caller = "coaxialMutualInductance";
  checkOptions(caller, options, ["radiusA", "radiusB", "distance"]);
  const a = inSi(caller, "radiusA", options?.radiusA, "m", { above: 0 });
  const b = inSi(caller, "radiusB", options.radiusB, "m", { above: 0 });
  const d = Math.abs(inSi(caller, "distance", options.distance, "m"));
  const scale = Math.max(a, b, d);
  const gap = Math.max(Math.abs(a - b), d) / scale;
  if (gap < 1e-150) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "distance" must not be 0 m for equal radii, got ${d}`,
      "Two circles in one place have no finite mutual inductance; windingInductance takes the section of a winding into account",
    );
  }
  return positiveResults(caller, { inductance: VACUUM_PERMEABILITY * scale * loopMutual(a / scale, b / scale, d / scale) }).inductance;
}
