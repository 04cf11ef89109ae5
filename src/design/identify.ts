import { DividingNetworkError } from "../errors";
import type { Loudspeaker } from "../loudspeaker";
import { network as networkOf, type Entries } from "../network";
import { alikeDirections } from "./alike-directions";
import type { Identified } from "./identified";
import { coarser } from "./identify-coarser";
import { deviationsOf, type Budget } from "./identify-deviations";
import { fitsOf, othersThan } from "./identify-fits";
import type { IdentifyOptions } from "./identify-options";
import { identifyRequest } from "./identify-request";
import { scatterOf } from "./identify-scatter";
import { withValues } from "./moving-value";

const CALLER = "identify";
/** Solutions of the network, each at one frequency: some seconds, or half a minute by the general solver. */
const MOST_SOLVES = 2_000_000;
/** Sets of values for which long measurements may be solved on all points. */
const SETS = 200;

/**
 * The values of a network of known topology from its measured impedance, voltages within it, sound pressures of the whole loudspeaker, or several of these: least squares on the logarithms of values
 * and of the measurements, with exact derivatives (see `sensitivities`), from several starts. The factor of a coupling moves on the scale of its area tangent, and so stays between −1 and 1;
 * factors by which several coils would store negative energy are never tried; a ratio keeps its sign. Standard errors hold for independent errors of
 * normal distribution, small enough that the network is linear in them. Where what is left is no chance (another topology than that drawn, say) they
 * are widened, and `doubts` says so: they are then a hint, and no bound.
 *
 * @param system a network, or a loudspeaker (then its network), values as drawn or guessed, within a factor of ten or so
 * @param options `impedance` in Ω; `transfers` in V/V by part or node; `pressures` in Pa (m, degrees, V); `pressurePhase`; `mostSolves` (dimensionless); `vary`; `parasitics`; `repeatability` as a part of the value (dimensionless)
 * @returns the network, its values in SI with standard errors, and what the data can't tell apart
 * @throws DividingNetworkError `not-measured` when none is given, or pressures where a driver wasn't measured, `undetermined` with fewer points than unknowns or when nothing fits, `unknown-part`,
 *   `unknown-name`, `invalid-argument`, and what `solve` throws
 * @example
 * ```ts
 * import { capacitor, inductor, logGrid, network, resistor, solve } from "dividing-network";
 * import { identify } from "dividing-network/design";
 *
 * const lowPass = (l: number, c: number) => network({ L1: [inductor(l, { dcr: 0.3 }), "in", "w"], C1: [capacitor(c), "w", "gnd"], woofer: [resistor(6), "w", "gnd"] });
 * const { impedance } = solve(lowPass(0.82e-3, 12e-6), logGrid(50, 10_000, 60));
 * const { values } = identify(lowPass(1e-3, 10e-6), { impedance, vary: ["L1", "C1"] });
 * values[0]?.value; // 0.00082
 * values[1]?.value; // 0.000012
 * ```
 */
export function identify<T extends Entries>(system: T | Loudspeaker<T>, options: IdentifyOptions): Identified {
  const { network, source, unknowns, seen, points, sigma, known, mostSolves: most } = identifyRequest(CALLER, system, options);
  const frequencies = seen.reduce((sum, one) => sum + one.frequencies.length, 0);
  const mostSolves = most ?? Math.max(MOST_SOLVES, SETS * frequencies);
  // Half of what may be solved is kept for the fits on all points.
  const [first, second]: [Budget, Budget] = [
    { left: mostSolves / 2, used: 0 },
    { left: mostSolves / 2, used: 0 },
  ];
  const fine = deviationsOf(network, unknowns, seen, sigma, source, second);
  const ranked = fitsOf(fine, deviationsOf(network, unknowns, seen.map(coarser), sigma, source, first), unknowns);
  const best = ranked[0];
  if (best === undefined)
    throw new DividingNetworkError(
      "undetermined",
      `${CALLER}: from no start did the network's values come to a fit`,
      "Draw the values nearer to what they are, or look whether the drawing is that of what was measured",
    );
  const left = deviationsOf(network, unknowns, seen, { impedance: 1, transfer: 1, pressure: 1 }, source, second).residualsAt(
    best.parameters,
  );
  const ended = [first, second].some((budget) => budget.left < frequencies);
  const misfit = Math.sqrt(left.reduce((sum, value) => sum + value * value, 0) / points);
  const { scatter, correlation, doubts } = scatterOf(fine.residualsAt(best.parameters), seen, points - unknowns.length, known, misfit);
  const { alike, errors } = alikeDirections(unknowns, fine.normalAt(best.parameters), scatter);
  const values = unknowns.map(({ part, parameter, scale }, index) => {
    const at = best.parameters[index]!;
    const error = points > unknowns.length || known ? errors[index] : undefined;
    return Object.freeze({
      part,
      parameter,
      value: scale.value(at),
      standardError: error === undefined ? undefined : Math.abs(scale.slope(at)) * error,
    });
  });
  return Object.freeze({
    network: networkOf<Entries>(withValues(network, unknowns, best.parameters)),
    values: Object.freeze(values),
    misfit,
    correlation,
    alike,
    alternatives: Object.freeze(alike.length > 0 ? [] : othersThan(best, ranked, unknowns, scatter)),
    solves: first.used + second.used,
    doubts: ended
      ? Object.freeze([
          ...doubts,
          `the network may be solved ${mostSolves} times: the search ended before its end, and a better fit may be left`,
        ])
      : doubts,
  });
}
