import { checkNumber, checkOptions } from "../../errors/internal";
import { VACUUM_PERMEABILITY } from "../../physics";
import type { Length } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { positiveResults } from "../positive-results";
import type { Section } from "./gap";
import { discMean, sectionMean } from "./section-mean";
import { sheetMean } from "./solenoid";
import { checkedWinding, type Winding } from "./winding";

/** Self-inductance of one turn spread over a section, divided by µ₀, in the unit of its lengths. */
export function selfMean({ meanRadius, length, depth }: Section): number {
  const [l, w] = [length / meanRadius, Math.min(depth / meanRadius, 2)];
  // What is thinner than 1e-12 of the other changes nothing that shows.
  if (w <= 1e-12 * Math.min(l, 1)) return meanRadius * sheetMean(l);
  if (l <= 1e-12 * w) return meanRadius * discMean(w);
  // An endless coil's field is all that is left of a length of 1e10 mean radii.
  return l > 1e10 ? meanRadius * sectionMean(1e10, w) * (1e10 / l) : meanRadius * sectionMean(l, w);
}

/**
 * Self-inductance of a winding with uniform current density over its rectangular section, H, in air: the mean mutual inductance of all pairs of its
 * filaments (Maxwell's formula) times N². By Gauss rules graded towards the logarithm where the two filaments meet; right to better than 1e-10. A winding
 * without depth is a current sheet (`solenoidInductance`), one without length a disc.
 *
 * Round wire isn't spread evenly over the section: see `windCoil`.
 *
 * @param winding `turns`, and `meanRadius`, `length`, `depth` in m; length or depth may be 0 m, not both
 * @returns inductance in H
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `overflow` when the result leaves what a number can hold
 * @example
 * ```ts
 * import { windingInductance } from "dividing-network/parts";
 *
 * windingInductance({ turns: 160, meanRadius: "22 mm", length: "20 mm", depth: "14 mm" }); // 8.673e-4 H
 * ```
 */
export function windingInductance(winding: Winding): number {
  const { turns, ...section } = checkedWinding("windingInductance", winding);
  return positiveResults("windingInductance", { inductance: VACUUM_PERMEABILITY * (turns * turns) * selfMean(section) }).inductance;
}

/**
 * Inductance of a Brooks coil, H, after Brooks (1931): square section, its side equal to the inner radius, so that length and depth are 2/3 of the mean
 * radius. Next to the shape that has the largest inductance for a length of wire, and a round number. From `windingInductance`, to better than 1e-10.
 *
 * @param options `turns` (above 0), `meanRadius` in m
 * @returns inductance in H, 1.6994·10⁻⁶ times mean radius times turns squared
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `overflow` when the result leaves what a number can hold
 * @example
 * ```ts
 * import { brooksCoilInductance } from "dividing-network/parts";
 *
 * brooksCoilInductance({ turns: 100, meanRadius: 0.03 }); // 5.0981e-4 H
 * ```
 */
export function brooksCoilInductance(options: { readonly turns: number; readonly meanRadius: Length }): number {
  checkOptions("brooksCoilInductance", options, ["turns", "meanRadius"]);
  const turns = checkNumber("brooksCoilInductance", "turns", options?.turns, { above: 0 });
  const meanRadius = inSi("brooksCoilInductance", "meanRadius", options.meanRadius, "m", { above: 0 });
  return positiveResults("brooksCoilInductance", {
    inductance: VACUUM_PERMEABILITY * (turns * turns) * meanRadius * sectionMean(2 / 3, 2 / 3),
  }).inductance;
}
